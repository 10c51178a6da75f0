"""A sample job: a corner that opened upwards after fastening, beside a wall that was out of plumb."""

from __future__ import annotations

from draw import Shot, gap, jpeg, plumb_line, truck

JOB = """\
title = "Ember Street, sauna cabin"
reference = "TH-52"

[site]
address = "17 Ember Street, Duluth, MN 55802"
zone = "America/Chicago"

[[party]]
id = "us"
name = "Thistle & Hobb Saunas"
roles = ["owner", "installer", "consignee"]
phone = "+1 218 555 0126"

[[party]]
id = "hauler"
name = "Iron Range Cartage"
roles = ["delivering carrier"]

[[party]]
id = "maker"
name = "Loftmark Cabins"
roles = ["maker", "seller", "shipper"]

[[party]]
id = "house"
name = "M. Vantongeren"
roles = ["customer"]

[[person]]
id = "piet"
name = "Piet Hobb"
task = "installs and measures"
cameras = ["Fairlight F2"]

[[shipment]]
id = "cabin"
carrier = "hauler"
shipper = "maker"
consignee = "us"
terms = "us intrastate"
handling_units = 2
handling_unit = "crate"

[[item]]
id = "side"
description = "Side panel, stands against the left wall"
material = "acrylic"
invoice_price = "540.00 USD"

[[item]]
id = "front"
description = "Front panel, stands on the base"
material = "acrylic"
invoice_price = "620.00 USD"

[[seam]]
id = "front-corner"
between = ["side", "front"]
joint = "corner"
material = "acrylic"
panel_width = "900 mm"
design_gap_min = "1.5 mm"
design_gap_max = "3.5 mm"
design_source = "maker's instructions, sheet 2"
tolerance = "0.8 mm"

[[seam.station]]
id = "foot"
at = "100 mm"

[[seam.station]]
id = "middle"
at = "1000 mm"

[[seam.station]]
id = "top"
at = "1900 mm"

[[opening]]
name = "left wall"
plumb_tolerance = "2 mm"
plumb_over = "2 m"
square_tolerance = "5 mm"
tolerance_source = "maker's instructions, sheet 1"

[[opening]]
name = "base"
level_tolerance = "2 mm"
level_over = "1 m"
tolerance_source = "maker's instructions, sheet 1"
"""

DELIVERY = """\
kind = "delivery"
said_by = "piet"
shipment = "cabin"
arrived = 2026-09-14T09:10:00
driver_left = 2026-09-14T09:44:00
receipt = "paper"
inspected = true
wrap = "intact"
units_expected = 2
units_received = 2
words = "2 of 2 crates, no visible damage"
words_by = "Piet Hobb"
signed = true
signed_at = 2026-09-14T09:40:00
photos = ["photos/at the curb/F2_0402.jpg"]
"""

OPENING = """\
kind = "opening_check"
said_by = "piet"
opening = "left wall"
taken = 2026-09-15T08:40:00
instrument = "rule 0.5 mm"
line = "plumb line"
tape = "tape 1 mm"
diagonals = ["2192 mm", "2195 mm"]
width = "900 mm"
height = "2000 mm"
seams = ["front-corner"]
photos = ["photos/opening/F2_0418.jpg"]

[[plumb]]
at = "100 mm"
offset = "40 mm"

[[plumb]]
at = "1000 mm"
offset = "42 mm"

[[plumb]]
at = "1900 mm"
offset = "43.5 mm"
"""

BASE = """\
kind = "opening_check"
said_by = "piet"
opening = "base"
taken = 2026-09-15T08:55:00
instrument = "level"
instrument_id = "level 1200"
resolution = "0.5 mm"
level_turned = true
seams = ["front-corner"]

[[level]]
at = "50 mm"
offset = "3 mm"

[[level]]
at = "450 mm"
offset = "3 mm"

[[level]]
at = "850 mm"
offset = "3 mm"
"""


UNPACKING = """\
kind = "unpacking"
said_by = "piet"
shipment = "cabin"
began = 2026-09-14T13:00:00
ended = 2026-09-14T14:30:00
packing_kept = "in the porch, until the cabin is handed over"

[[counted]]
item = "side"
quantity = 1
condition = "good"

[[counted]]
item = "front"
quantity = 1
condition = "good"
"""


def opened_and_out_of_plumb() -> dict[str, bytes | str]:
    """A corner even at the dry fit that opened upwards, and the wall that it stands against."""

    def readings(stage: str, taken: str, gaps: list[tuple[str, str]], photo: str) -> str:
        tables = "".join(
            f'[[at]]\nstation = "{station}"\ngap = ["{one} mm", "{two} mm", "{one} mm"]\n'
            + (f'witness = ["{photo}"]\n' if station == "top" else "")
            + "\n"
            for station, (one, two) in zip(("foot", "middle", "top"), gaps, strict=True)
        )
        return (
            f'kind = "readings"\nsaid_by = "piet"\nseam = "front-corner"\nstage = "{stage}"\n'
            f'taken = {taken}\ninstrument = "taper gauge 0.1 mm"\ninstrument_id = "gauge 3"\n'
            'temperature = "20 C"\nplace = "in the opening"\nset_level = true\nclamped = true\n\n'
            f"{tables}"
        )

    def milestone(event: str, began: str, ended: str) -> str:
        return (
            f'kind = "milestone"\nsaid_by = "piet"\nevent = "{event}"\n'
            f"began = {began}\nended = {ended}\n"
        )

    wall, dry, late = (
        "photos/opening/F2_0418.jpg",
        "photos/dry fit/F2_0421.jpg",
        "photos/handover/F2_0455.jpg",
    )
    return {
        "job.toml": JOB,
        "records/01-delivery.toml": DELIVERY,
        "records/02-unpacking.toml": UNPACKING,
        "records/03-left-wall.toml": OPENING,
        "records/04-base.toml": BASE,
        "records/05-dry-fit.toml": milestone(
            "dry fit", "2026-09-15T09:30:00", "2026-09-15T11:30:00"
        ),
        "records/06-dry-fit-gaps.toml": readings(
            "dry fit", "2026-09-15T10:30:00", [("2.4", "2.5"), ("2.5", "2.4"), ("2.4", "2.5")], dry
        ),
        "records/07-fastened.toml": milestone(
            "fastened", "2026-09-15T13:00:00", "2026-09-15T16:00:00"
        ),
        "records/08-handover.toml": milestone(
            "handover", "2026-09-22T10:00:00", "2026-09-22T11:00:00"
        ),
        "records/09-handover-gaps.toml": readings(
            "handover",
            "2026-09-22T10:20:00",
            [("2.5", "2.6"), ("4.1", "4.2"), ("5.8", "5.9")],
            late,
        ),
        "photos/at the curb/F2_0402.jpg": jpeg(truck(), Shot("2026-09-14T09:12:30")),
        wall: jpeg(plumb_line("left wall, top", 43.5), Shot("2026-09-15T08:42:10")),
        dry: jpeg(gap(2.4, "front corner, top"), Shot("2026-09-15T10:31:00")),
        late: jpeg(gap(5.8, "front corner, top"), Shot("2026-09-22T10:21:00")),
    }
