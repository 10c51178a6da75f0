"""Make the sample jobs from nothing, with `python sample_jobs/make.py`.

People, firms, goods and numbers are invented. The pictures are drawn by draw.py and carry real
Exif blocks; the papers are small PDFs. Running it again gives the same bytes.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path

from cold_garage import cold_garage
from draw import Shot, gap, jpeg, panel, paper, room, skid, truck
from out_of_plumb import opened_and_out_of_plumb
from reportlab import rl_config
from reportlab.lib.pagesizes import LETTER
from reportlab.pdfgen.canvas import Canvas

HERE = Path(__file__).resolve().parent


def pdf(title: str, lines: list[str]) -> bytes:
    """A one-page paper with a title and lines."""
    rl_config.invariant = 1
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=LETTER, invariant=1)
    canvas.setTitle(title)
    canvas.setFont("Helvetica-Bold", 16)
    canvas.drawString(72, 720, title)
    canvas.setFont("Helvetica", 11)
    for n, line in enumerate(lines):
        canvas.drawString(72, 690 - 18 * n, line)
    canvas.save()
    return out.getvalue()


def write(folder: Path, files: dict[str, bytes | str]) -> None:
    """Write the files of a job, text as UTF-8 with line feeds."""
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        data = content.encode() if isinstance(content, str) else content
        path.write_bytes(data)


def ready_to_file() -> dict[str, bytes | str]:
    """A cold room for a bakery: damage written on the receipt, photographed, reported in time."""
    crush = skid("skid 2 of 2", crushed=True)
    place = (39.8400, -88.9500)
    files: dict[str, bytes | str] = {
        "job.toml": '''\
title = "Harrow Mill Bakery, cold room"
reference = "CF-2026-118"

[site]
address = "212 Canal Street, Decatur, IL 62521"
zone = "America/Chicago"

[[party]]
id = "us"
name = "Coldspring Fitters"
roles = ["owner", "installer", "consignee"]
email = "office@coldspring.example"
phone = "+1 217 555 0114"

[[party]]
id = "hauler"
name = "Prairie Arc Freight"
roles = ["delivering carrier", "origin carrier"]
email = "claims@prairiearc.example"

[[party]]
id = "maker"
name = "Brightwater Panel Works"
roles = ["seller", "maker", "shipper"]
email = "service@brightwater.example"

[[party]]
id = "bakery"
name = "Harrow Mill Bakery"
roles = ["customer"]

[[person]]
id = "inez"
name = "Inez Calloway"
task = "receives and photographs"
cameras = ["Fairlight F2"]

[[person]]
id = "tobias"
name = "Tobias Lund"
task = "office"

[[shipment]]
id = "panels"
carrier = "hauler"
shipper = "maker"
consignee = "us"
bill_number = "BW-20714"
bill_date = 2026-10-05
pro_number = "558-20931"
origin = "Muncie, IN"
destination = "Decatur, IL"
shipped = 2026-10-05
terms = "us interstate motor"
bill_text = "from 2016, suit two years and one day"
classification_applies = true
handling_units = 2
handling_unit = "skid"
cartons = 9
weight = "1,184 lb"
freight_charges = "486.20 USD"
freight_paid = "in the price"
clean_at_origin = true
packing_evidence = "the maker's packing photos and load sheet of 2026-10-05, in documents/"

[[item]]
id = "wall-panel"
description = "Insulated wall panel 46 x 90 in, white"
quantity = 6
part_number = "BW-W46"
size = ["46 in", "90 in"]
size_tolerance = "1/8 in"
colour = "white"
invoice_price = "412.50 USD"

[[item]]
id = "floor-deck"
description = "Floor deck, half"
quantity = 2
part_number = "BW-F2"
invoice_price = "388.00 USD"

[[item]]
id = "door-frame"
description = "Door frame, left hand"
quantity = 1
part_number = "BW-D1L"
hand = "left"
invoice_price = "640.00 USD"

[[item]]
id = "hardware"
description = "Cam locks and gasket"
quantity = 1
accessory = true
invoice_price = "85.00 USD"

[[paper]]
file = "documents/bill-of-lading.pdf"
what = "bill of lading"
shipment = "panels"

[[paper]]
file = "documents/invoice.pdf"
what = "invoice"
shipment = "panels"

[[paper]]
file = "documents/freight-bill.pdf"
what = "freight bill"
shipment = "panels"

[[paper]]
file = "documents/packing-photos-sheet.pdf"
what = "packing list"
shipment = "panels"
''',
        "records/2026-10-08-delivery.toml": '''\
kind = "delivery"
said_by = "inez"
written = 2026-10-08T09:50:00
shipment = "panels"
arrived = 2026-10-08T09:05:00
driver_left = 2026-10-08T09:41:00
receipt = "paper"
inspected = true
wrap = "intact"
units_expected = 2
units_received = 2
words = """Skid 2 of 2: lower left corner crushed 6 in,
carton 7 torn open, door frame inside bent.
Subject to further inspection. Driver signed."""
words_by = "Inez Calloway"
driver = "R. Okafor"
signed = true
driver_signed = true
signed_at = 2026-10-08T09:36:00
receipt_photos = ["photos/at the curb/F2_0148.jpg"]
photos = [
    "photos/at the curb/F2_0144.jpg",
    "photos/at the curb/F2_0145.jpg",
    "photos/at the curb/F2_0146.jpg",
    "photos/at the curb/F2_0147.jpg",
]
''',
        "records/2026-10-08-door-frame.toml": '''\
kind = "damage"
said_by = "inez"
item = "door-frame"
found_at = "at the curb"
found = 2026-10-08T09:20:00
part = "lower hinge side"
what = "bent"
extent = "about 3/4 in out of line over 12 in"
photos = ["photos/at the curb/F2_0147.jpg"]
''',
        "records/2026-10-08-unpacking.toml": '''\
kind = "unpacking"
said_by = "inez"
shipment = "panels"
began = 2026-10-08T13:10:00
ended = 2026-10-08T15:30:00
packing_kept = "dry store at the site, until the carrier has answered"
photos = ["photos/unpacking/F2_0151.jpg", "photos/unpacking/F2_0152.jpg"]

[[counted]]
item = "wall-panel"
quantity = 6
size = ["46 in", "90 in"]
colour = "white"
condition = "one panel dented, the others good"

[[counted]]
item = "floor-deck"
quantity = 2
condition = "good"

[[counted]]
item = "door-frame"
quantity = 1
hand = "left"
condition = "bent"

[[counted]]
item = "hardware"
quantity = 1
condition = "good"
''',
        "records/2026-10-08-wall-panel.toml": '''\
kind = "damage"
said_by = "inez"
item = "wall-panel"
found_at = "unpacking"
found = 2026-10-08T14:05:00
part = "middle of the outer face"
what = "dented"
extent = "dent 3 in across, 1/4 in deep"
photos = ["photos/unpacking/F2_0152.jpg"]
''',
        "records/2026-10-09-report-to-carrier.toml": '''\
kind = "notice"
said_by = "tobias"
about = "concealed damage report"
shipment = "panels"
sender = "us"
to = "hauler"
how = "e-mail"
sent = 2026-10-09T08:30:00
received = 2026-10-09T08:47:00
reference = "reply of 2026-10-09, ticket 77120"
text = "One wall panel found dented inside its carton on 2026-10-08. Please inspect; everything is kept as found."
''',
        "records/2026-10-12-inspection-waived.toml": '''\
kind = "notice"
said_by = "tobias"
about = "inspection waived"
shipment = "panels"
sender = "hauler"
to = "us"
how = "e-mail"
sent = 2026-10-12T15:20:00
received = 2026-10-12T15:20:00
reference = "ticket 77120"
text = "We will not inspect. Send your own report and keep the packing until the claim is settled."
''',
        "records/2026-10-14-own-inspection-report.toml": '''\
kind = "notice"
said_by = "tobias"
about = "own inspection report"
shipment = "panels"
sender = "us"
to = "hauler"
how = "e-mail"
sent = 2026-10-14T11:10:00
received = 2026-10-14T11:12:00
reference = "ticket 77120"
file = "documents/own-inspection-report.pdf"
''',
        "records/2026-10-09-notice-to-maker.toml": '''\
kind = "notice"
said_by = "tobias"
about = "notice of loss or damage"
shipment = "panels"
sender = "us"
to = "maker"
how = "e-mail"
sent = 2026-10-09T09:05:00
received = 2026-10-09T09:31:00
text = "Door frame bent and one wall panel dented on arrival; photos follow."
''',
        "photos/at the curb/F2_0144.jpg": jpeg(truck(), Shot("2026-10-08T09:07:12", gps=(*place, "2026-10-08T14:07:04"))),
        "photos/at the curb/F2_0145.jpg": jpeg(skid("skid 1 of 2"), Shot("2026-10-08T09:11:40")),
        "photos/at the curb/F2_0146.jpg": jpeg(crush, Shot("2026-10-08T09:13:05", orientation=6)),
        "photos/at the curb/F2_0147.jpg": jpeg(skid("carton 7", torn=True), Shot("2026-10-08T09:19:30")),
        "photos/at the curb/F2_0148.jpg": jpeg(
            paper(
                "PRAIRIE ARC FREIGHT  PRO 558-20931",
                ["Skid 2 of 2: lower left corner", "crushed 6 in, carton 7 torn open,", "door frame inside bent. Subject to", "further inspection. Driver signed."],
            ),
            Shot("2026-10-08T09:37:21"),
        ),
        "photos/unpacking/F2_0151.jpg": jpeg(panel("door frame", "crack"), Shot("2026-10-08T13:42:00")),
        "photos/unpacking/F2_0152.jpg": jpeg(panel("wall panel 4", "dent"), Shot("2026-10-08T14:06:10")),
        "documents/bill-of-lading.pdf": pdf(
            "Straight bill of lading BW-20714",
            ["Brightwater Panel Works, Muncie IN, to Coldspring Fitters, Decatur IL", "2026-10-05", "2 skids STC 9 ctns, insulated panels, 1,184 lb", "Received in apparent good order except as noted: no exceptions noted"],
        ),
        "documents/invoice.pdf": pdf(
            "Invoice 9-3312 of 2026-10-05",
            ["6 wall panels at 412.50", "2 floor decks at 388.00", "1 door frame at 640.00", "1 hardware set at 85.00", "Total 3,976.00 USD"],
        ),
        "documents/freight-bill.pdf": pdf(
            "Prairie Arc Freight, freight bill 558-20931",
            ["2 skids, 1,184 lb, Muncie IN to Decatur IL", "Charges 486.20 USD, prepaid by the shipper"],
        ),
        "documents/own-inspection-report.pdf": pdf(
            "Own inspection report, PRO 558-20931",
            [
                "Inspected by Tobias Lund on 2026-10-13 at the site; the carrier waived on 2026-10-12",
                "Skid 2, carton 7: lower left corner crushed 6 in, carton torn open",
                "Description of damage: door frame bent at the lower hinge side; one wall panel dented",
                "Packing: corner posts and foam in place, two bands on each skid",
                "Photographs: F2_0146, F2_0147, F2_0151, F2_0152",
            ],
        ),
        "documents/packing-photos-sheet.pdf": pdf(
            "Load sheet of 2026-10-05",
            ["Cartons 1 to 9 packed, corner posts and foam fitted, two bands each skid", "Checked: M. Arden"],
        ),
    }  # fmt: skip
    return files


def wording_and_dates_wrong() -> dict[str, bytes | str]:
    """A stone surround for a hotel: signed clear, found late, and a camera that lost its clock."""
    old = Shot("2000-01-01T00:03:11", offset=None, make="Orbix", model="D40")
    return {
        "job.toml": '''\
title = "Larkfield Hotel, stone surround"
reference = "VS-77"

[site]
address = "5 Station Road, Albany, NY 12207"
zone = "America/New_York"

[[party]]
id = "us"
name = "Vell & Sarto Stonework"
roles = ["owner", "installer", "consignee"]
email = "desk@vellsarto.example"

[[party]]
id = "carrier"
name = "Tidewater Lines"
roles = ["delivering carrier"]
email = "claims@tidewater.example"

[[party]]
id = "agent"
name = "Loadmark Logistics"
roles = ["broker"]

[[party]]
id = "quarry"
name = "Granary Hill Stone"
roles = ["seller", "maker", "shipper"]

[[party]]
id = "hotel"
name = "Larkfield Hotel"
roles = ["customer"]

[[person]]
id = "mina"
name = "Mina Sarto"
task = "site"

[[shipment]]
id = "stone"
carrier = "carrier"
broker = "agent"
shipper = "quarry"
consignee = "us"
bill_number = "GH-4410"
bill_date = 2026-09-01
pro_number = "TL 90 4471 2"
origin = "Barre, VT"
destination = "Albany, NY"
terms = "us interstate motor"
bill_text = "not known"
handling_units = 1
handling_unit = "crate"
cartons = 5
weight = "640 lb"

[[item]]
id = "hearth"
description = "Hearth slab, honed"
quantity = 1
size = ["60 in", "18 in"]
size_tolerance = "1/16 in"
invoice_price = "1,150.00 USD"

[[item]]
id = "leg"
description = "Leg, left and right"
quantity = 2
invoice_price = "420.00 USD"

[[item]]
id = "mantel"
description = "Mantel shelf"
quantity = 1

[[item]]
id = "header"
description = "Header piece"
quantity = 1
colour = "grey"
invoice_price = "510.00 USD"
''',
        "records/delivery.toml": '''\
kind = "delivery"
said_by = "mina"
shipment = "stone"
arrived = 2026-09-08T11:20:00
driver_left = 2026-09-08T11:34:00
receipt = "driver's device"
inspected = false
not_inspected_because = "the driver was in a hurry"
wrap = "not recorded"
units_expected = 1
units_received = 1
words = "Received in good order"
words_on_our_copy = "Rec'd 1 crate, corner broken, subject to inspection"
words_by = "Mina Sarto"
signed = true
signed_at = 2026-09-08T11:30:00
''',
        "records/old-surround-out.toml": '''\
kind = "milestone"
said_by = "mina"
event = "old fixture removed"
began = 2026-09-14T08:00:00
''',
        "records/unpacking.toml": '''\
kind = "unpacking"
said_by = "mina"
shipment = "stone"
began = 2026-09-17T09:00:00
ended = 2026-09-17T11:00:00
packing_kept = "no"
photos = ["photos/D40_0031.jpg"]

[[counted]]
item = "hearth"
quantity = 1
size = ["60 in", "17 7/8 in"]
condition = "cracked"

[[counted]]
item = "leg"
quantity = 1
condition = "good"

[[counted]]
item = "header"
quantity = 1
colour = "buff"
condition = "good"
''',
        "records/hearth-first.toml": '''\
kind = "damage"
said_by = "mina"
item = "hearth"
found_at = "at the curb"
what = "cracked"
photos = ["photos/at the curb/D40_0032.jpg"]
''',
        "records/hearth.toml": '''\
kind = "damage"
said_by = "mina"
replaces = "hearth-first"
reason = "it was found when the crate was opened, not at the curb"
item = "hearth"
found_at = "unpacking"
found = 2026-09-17T09:40:00
part = "front edge to middle"
what = "cracked"
extent = "crack 14 in long"
photos = ["photos/at the curb/D40_0032.jpg"]
''',
        "records/claim-to-broker.toml": '''\
kind = "notice"
said_by = "mina"
about = "claim"
shipment = "stone"
sender = "us"
to = "agent"
how = "e-mail"
sent = 2026-09-28T10:00:00
received = 2026-09-28T10:05:00
amount = "1,150.00 USD"
''',
        "records/started.toml": '''\
kind = "milestone"
said_by = "mina"
event = "installation started"
began = 2026-09-18T08:00:00
''',
        "photos/D40_0031.jpg": jpeg(panel("crate opened", "none"), old),
        "photos/at the curb/D40_0032.jpg": jpeg(panel("hearth slab", "crack"), Shot("2026-09-17T09:41:00", offset=None, make="Orbix", model="D40")),
        "photos/IMG-20260920-WA0003.jpg": jpeg(panel("hearth slab", "crack"), Shot(None, make=None)),
        "photos/F2_0911.jpg": jpeg(room("old surround out", (198, 190, 182)), Shot("2027-09-14T08:40:00", offset="-04:00")),
        "documents/invoice.pdf": pdf("Invoice GH-4410", ["Hearth 1,150.00", "Legs 2 at 420.00", "Header 510.00"]),
    }  # fmt: skip


def disputed_gap() -> dict[str, bytes | str]:
    """A reception counter in three sections: one seam was wide at the dry fit, another opened later."""

    def readings(
        seam: str,
        stage: str,
        taken: str,
        front: list[str],
        back: list[str],
        photo: str,
        warmth: int = 20,
    ) -> str:
        state = 'place = "in the opening"\nset_level = true\nclamped = true\n'
        return (
            f'kind = "readings"\nsaid_by = "ruth"\nseam = "{seam}"\nstage = "{stage}"\n'
            f'taken = {taken}\ninstrument = "taper gauge 0.1 mm"\ninstrument_id = "gauge 7"\n'
            f'temperature = "{warmth} C"\n{state}\n'
            f'[[at]]\nstation = "front"\ngap = {front}\nwitness = ["{photo}"]\n\n'
            f'[[at]]\nstation = "back"\ngap = {back}\n'
        ).replace("'", '"')

    shots = {
        "photos/dry fit/F2_0301.jpg": (4.5, "seam A-B, front", "2026-08-11T10:32:00"),
        "photos/dry fit/F2_0302.jpg": (1.8, "seam B-C, front", "2026-08-11T10:47:00"),
        "photos/fastened/F2_0310.jpg": (4.4, "seam A-B, front", "2026-08-12T15:21:00"),
        "photos/fastened/F2_0311.jpg": (1.9, "seam B-C, front", "2026-08-12T15:33:00"),
        "photos/handover/F2_0322.jpg": (4.5, "seam A-B, front", "2026-08-20T11:06:00"),
        "photos/handover/F2_0323.jpg": (4.6, "seam B-C, front", "2026-08-20T11:14:00"),
    }
    files: dict[str, bytes | str] = {
        name: jpeg(gap(width, label), Shot(taken, "-07:00"))
        for name, (width, label, taken) in shots.items()
    }
    files |= {
        "photos/unpacking/F2_0290.jpg": jpeg(panel("counter section B", "none"), Shot("2026-08-10T13:20:00", "-07:00")),
        "job.toml": '''\
title = "Veldt Dental, reception counter"
reference = "RA-31"

[site]
address = "88 Alder Way, Eugene, OR 97401"
zone = "America/Los_Angeles"

[[party]]
id = "us"
name = "Rowan Adair Joinery"
roles = ["owner", "installer", "consignee"]
phone = "+1 541 555 0177"

[[party]]
id = "hauler"
name = "Cascade Short Haul"
roles = ["delivering carrier"]

[[party]]
id = "maker"
name = "Solanum Surfaces"
roles = ["maker", "seller", "shipper"]

[[party]]
id = "clinic"
name = "Veldt Dental"
roles = ["customer"]

[[person]]
id = "ruth"
name = "Ruth Adair"
task = "installs and measures"
cameras = ["Fairlight F2"]

[[shipment]]
id = "counter"
carrier = "hauler"
shipper = "maker"
consignee = "us"
terms = "us intrastate"
handling_units = 3
handling_unit = "crate"

[[item]]
id = "section-a"
description = "Counter section A, acrylic solid surface"
material = "acrylic"
invoice_price = "960.00 USD"

[[item]]
id = "section-b"
description = "Counter section B, acrylic solid surface"
material = "acrylic"
invoice_price = "910.00 USD"

[[item]]
id = "section-c"
description = "Counter section C, acrylic solid surface"
material = "acrylic"
invoice_price = "960.00 USD"

[[seam]]
id = "A-B"
between = ["section-a", "section-b"]
joint = "butt"
material = "acrylic"
panel_width = "900 mm"
design_gap_min = "1.0 mm"
design_gap_max = "3.0 mm"
design_source = "maker's instructions, sheet 3"
tolerance = "1.2 mm"

[[seam.station]]
id = "front"
at = "50 mm"

[[seam.station]]
id = "back"
at = "550 mm"

[[seam]]
id = "B-C"
between = ["section-b", "section-c"]
joint = "butt"
material = "acrylic"
panel_width = "900 mm"
design_gap_min = "1.0 mm"
design_gap_max = "3.0 mm"
design_source = "maker's instructions, sheet 3"
tolerance = "1.2 mm"

[[seam.station]]
id = "front"
at = "50 mm"

[[seam.station]]
id = "back"
at = "550 mm"
''',
        "records/01-delivery.toml": '''\
kind = "delivery"
said_by = "ruth"
shipment = "counter"
arrived = 2026-08-10T10:02:00
driver_left = 2026-08-10T10:31:00
receipt = "paper"
inspected = true
wrap = "intact"
units_expected = 3
units_received = 3
words = "3 of 3 crates, no visible damage"
words_by = "Ruth Adair"
signed = true
signed_at = 2026-08-10T10:28:00
''',
        "records/02-unpacking.toml": '''\
kind = "unpacking"
said_by = "ruth"
shipment = "counter"
began = 2026-08-10T13:00:00
ended = 2026-08-10T14:10:00
packing_kept = "workshop rack 4"
photos = ["photos/unpacking/F2_0290.jpg"]

[[counted]]
item = "section-a"
quantity = 1
condition = "good"

[[counted]]
item = "section-b"
quantity = 1
condition = "good"

[[counted]]
item = "section-c"
quantity = 1
condition = "good"
''',
        "records/03-dry-fit.toml": '''\
kind = "milestone"
said_by = "ruth"
event = "dry fit"
began = 2026-08-11T09:30:00
ended = 2026-08-11T12:00:00
''',
        "records/04-dry-fit-A-B.toml": readings("A-B", "dry fit", "2026-08-11T10:30:00", ["4.5 mm", "4.4 mm", "4.5 mm"], ["4.3 mm", "4.4 mm", "4.3 mm"], "photos/dry fit/F2_0301.jpg"),
        "records/05-dry-fit-B-C.toml": readings("B-C", "dry fit", "2026-08-11T10:45:00", ["1.8 mm", "1.8 mm", "1.9 mm"], ["1.9 mm", "1.9 mm", "1.8 mm"], "photos/dry fit/F2_0302.jpg"),
        "records/06-fastened.toml": '''\
kind = "milestone"
said_by = "ruth"
event = "fastened"
began = 2026-08-12T13:00:00
ended = 2026-08-12T16:30:00
''',
        "records/07-fastened-A-B.toml": readings("A-B", "fastened", "2026-08-12T15:20:00", ["4.4 mm", "4.5 mm", "4.4 mm"], ["4.3 mm", "4.3 mm", "4.4 mm"], "photos/fastened/F2_0310.jpg", 21),
        "records/08-fastened-B-C.toml": readings("B-C", "fastened", "2026-08-12T15:32:00", ["1.9 mm", "1.9 mm", "1.8 mm"], ["1.9 mm", "1.8 mm", "1.9 mm"], "photos/fastened/F2_0311.jpg", 21),
        "records/09-handover.toml": '''\
kind = "milestone"
said_by = "ruth"
event = "handover"
began = 2026-08-20T11:00:00
ended = 2026-08-20T12:00:00
''',
        "records/10-handover-A-B.toml": readings("A-B", "handover", "2026-08-20T11:05:00", ["4.5 mm", "4.5 mm", "4.4 mm"], ["4.4 mm", "4.3 mm", "4.4 mm"], "photos/handover/F2_0322.jpg", 22),
        "records/11-handover-B-C.toml": readings("B-C", "handover", "2026-08-20T11:12:00", ["4.6 mm", "4.7 mm", "4.6 mm"], ["4.2 mm", "4.3 mm", "4.2 mm"], "photos/handover/F2_0323.jpg", 22),
        "documents/instructions.pdf": pdf("Solanum Surfaces, sheet 3", ["Butt seam: 1.0 to 3.0 mm, filled after fastening.", "Set on a level base; clamp before fastening."]),
    }  # fmt: skip
    return files


JOBS = {
    "ready-to-file": ready_to_file,
    "wording-and-dates-wrong": wording_and_dates_wrong,
    "disputed-gap": disputed_gap,
    "opened-and-out-of-plumb": opened_and_out_of_plumb,
    "cold-garage": cold_garage,
}


def main(target: Path) -> None:
    """Write every sample job below the target folder."""
    for name, make in JOBS.items():
        write(target / name, make())
        sys.stdout.write(f"{target / name}\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE)
