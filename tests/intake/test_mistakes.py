"""One mistake at a time: told once, at its place, with what was found and what to write.

The folder of examples (tests/intake/example_folder.py) has no problem. Each row changes one thing
in it, so the row shows that this thing alone is told, and told there. The mistakes are those that
people make; their list is our own.
"""

from __future__ import annotations

import pytest

from claimkit.model.facts import Problem
from tests.intake.example_folder import JOB, RECORDS, changed, read

# One change in job.toml, where it is told, and words of what is told.
JOB_MISTAKES = [
    # two of one name
    ("card = 3", 'card = 3\n[[seam.station]]\nid = "top"', "seam[1].station[2].id", "station[1]"),
    (
        'length = "15 calendar days"',
        'length = "15 calendar days"\nsource = "a"\n[[shipment.override]]\n'
        'clause = "us-motor-concealed-report"\nlength = "5 business days"',
        "shipment[1].override[2].clause",
        "override[1]",
    ),
    (
        'what = "bill of lading"',
        'what = "other"\n[[paper]]\nfile = "documents/bill-of-lading.pdf"\nwhat = "invoice"',
        "paper[2].file",
        "paper[1]",
    ),
    (
        'what = "bill of lading"',
        'what = "bill of ladding"',
        "paper[1].what",
        'Write "bill of lading"',
    ),
    ('what = "bill of lading"', "what = 3", "paper[1].what", "Write one of"),
    # kinds of values: nothing is converted silently
    ('title = "Orchard Lane 4"', "title = 3", "title", 'Put it in quotes: "3"'),
    ('title = "Orchard Lane 4"', "title = true", "title", "true (a yes or no)"),
    ('title = "Orchard Lane 4"', 'title = "  "', "title", "is empty"),
    ('reference = "2026-017"', 'reference = ""', "reference", "take the line out"),
    ('reference = "2026-017"', "reference = 2026-05-04", "reference", '"2026-05-04"'),
    (
        "handling_units = 2",
        'handling_units = "2"',
        "shipment[1].handling_units",
        "Write 2, without",
    ),
    ("handling_units = 2", "handling_units = true", "shipment[1].handling_units", "whole number"),
    ("handling_units = 2", "handling_units = 2.0", "shipment[1].handling_units", "2.0"),
    ("handling_units = 2", "handling_units = -2", "shipment[1].handling_units", "less than zero"),
    (
        "handling_units = 2",
        "handling_units = 99999999999999999999",
        "shipment[1].handling_units",
        "",
    ),
    ("cartons = 7", "cartons = [7]", "shipment[1].cartons", "a list"),
    ("quantity = 3", "quantity = 0", "item[1].quantity", "not more than zero"),
    ("card = 3", "card = 146", "seam[1].station[1].card", "more than 145"),
    (
        "clean_at_origin = true",
        'clean_at_origin = "yes"',
        "shipment[1].clean_at_origin",
        "Write true",
    ),
    (
        "clean_at_origin = true",
        "clean_at_origin = 1",
        "shipment[1].clean_at_origin",
        "true or false",
    ),
    (
        "installation_accepts = true",
        'installation_accepts = "maybe"',
        "sale.installation_accepts",
        "",
    ),
    # quantities
    ('weight = "412 lb"', "weight = 412", "shipment[1].weight", "has no unit"),
    ('weight = "412 lb"', "weight = 412.5", "shipment[1].weight", "412.5"),
    ('weight = "412 lb"', 'weight = "0 lb"', "shipment[1].weight", "not more than zero"),
    ('weight = "412 lb"', 'weight = "-1 lb"', "shipment[1].weight", "less than zero"),
    ('panel_width = "36 in"', 'panel_width = "36"', "seam[1].panel_width", "'36 in' or '36 mm'"),
    ('panel_width = "36 in"', 'panel_width = "0 in"', "seam[1].panel_width", "not more than zero"),
    ('size = ["36 in", "90 in"]', "size = [3.2]", "item[1].size[1]", "3.2 has no unit"),
    ('size = ["36 in", "90 in"]', 'size = ["36 in", "0 in"]', "item[1].size[2]", "more than zero"),
    ('size = ["36 in", "90 in"]', 'size = "36 in"', "item[1].size", 'Write size = ["36 in"]'),
    ('tolerance = "1/32 in"', 'tolerance = "1 m"', "seam[1].tolerance", "more than 300 mm"),
    (
        'freight_charges = "386.40 USD"',
        'freight_charges = "$386.40"',
        "shipment[1].freight_charges",
        "USD",
    ),
    (
        'invoice_price = "418.00 USD"',
        'invoice_price = "-1.00 USD"',
        "item[1].invoice_price",
        "less than",
    ),
    (
        'report_within = "3 business days"',
        'report_within = "3 days"',
        "sale.report_within",
        "which days",
    ),
    # times
    ('shipped = "2026-04-27"', 'shipped = "04/27/2026"', "shipment[1].shipped", "'2026-04-27'"),
    ('shipped = "2026-04-27"', "shipped = 09:10:00", "shipment[1].shipped", "without its day"),
    ('shipped = "2026-04-27"', "shipped = 20260427", "shipment[1].shipped", "in quotes"),
    (
        'bill_date = "2026-04-27"',
        'bill_date = "2026-03-08 02:30"',
        "shipment[1].bill_date",
        "exist",
    ),
    (
        'shipped = "2026-04-27"',
        "shipped = 2026-05-07",
        "shipment[1].reasonable_delivery",
        "lies before",
    ),
    (
        'bill_date = "2026-04-27"',
        "bill_date = 2026-05-07",
        "shipment[1].reasonable_delivery",
        "bill_date",
    ),
    # words of a closed set: the likest first
    (
        'roles = ["delivering carrier"]',
        'roles = ["delivering carier"]',
        "party[2].roles[1]",
        'Write "delivering',
    ),
    ('roles = ["delivering carrier"]', "roles = []", "party[2].roles", "at least 1"),
    (
        'terms = "us interstate motor"',
        'terms = "US Interstate Motor"',
        "shipment[1].terms",
        'Write "us inter',
    ),
    ('joint = "butt"', 'joint = "mitre"', "seam[1].joint", "interlocking"),
    ('joint = "butt"', "joint = 3", "seam[1].joint", "interlocking"),
    # names
    ('id = "northway"', 'id = "north way"', "party[2].id", '"north-way"'),
    ('zone = "America/Chicago"', 'zone = "America/Chigaco"', "site.zone", "America/Chicago"),
    ('zone = "America/Chicago"', 'zone = "CST"', "site.zone", "America/Chicago"),
    ('country = "US"', 'country = "XX"', "site.country", "two-letter"),
    ('subdivision = "IL"', 'subdivision = "Illinoy"', "site.subdivision", "US"),
    # keys
    ("\ntolerance = ", "\ntolerence = ", "seam[1].tolerence", "Did you mean tolerance?"),
    ("colour = ", "color = ", "item[1].color", "Did you mean colour?"),
    ("pro_number = ", "pro = ", "shipment[1].pro", "Did you mean pro_number?"),
    ('reference = "2026-017"', "[colours]", "colours", "Take the line out"),
    (
        "source = \"seller's",
        'title = "x"\nsource = "seller\'s',
        "sale.title",
        "at the top of the file",
    ),
    ('reference = "2026-017"', "cartons = 7", "cartons", "It belongs in [[shipment]]"),
    ('address = "4 Orchard Lane, Galena, IL"\n', "", "site.address", 'Write such as address = "4'),
    ("[sale]\n", "[[sale]]\n", "sale", "Write [sale]."),
    ("[[paper]]\n", "[paper]\n", "paper", "Write [[paper]]."),
    ("[site]\n", "[siet]\n", "site", "Write a table [site] with address and zone."),
    # what leads nowhere
    (
        'origin_carrier = "ridge-lines"',
        'origin_carrier = "ridge"',
        "shipment[1].origin_carrier",
        "ridge-lines",
    ),
    ('broker = "harbor-desk"', 'broker = "tarn-works"', "shipment[1].broker", "no broker"),
    (
        'carrier = "northway"',
        'carrier = "harbor-desk"',
        "shipment[1].carrier",
        "a broker is no carrier",
    ),
    ('carrier = "northway"', 'carrier = "us"', "shipment[1].carrier", "no carrier"),
    (
        'carrier = "northway"',
        'carrier = "Northway Motor Freight"',
        "shipment[1].carrier",
        '"northway"',
    ),
    ('between = ["panel", "tray"]', 'between = ["panel", "trey"]', "seam[1].between[2]", '"tray"'),
    ('between = ["panel", "tray"]', 'between = ["panel"]', "seam[1].between", "2 must be"),
    ('between = ["panel", "tray"]', 'between = ["tray", "tray"]', "seam[1].between", "two pieces"),
    (
        'file = "documents/bill-of-lading.pdf"',
        'file = "documents/bol.pdf"',
        "paper[1].file",
        "Put the file there",
    ),
    (
        'file = "documents/bill-of-lading.pdf"',
        'file = "Bill of lading.pdf"',
        "paper[1].file",
        "bill-of-lading",
    ),
    (
        'file = "documents/bill-of-lading.pdf"',
        'file = "../bill.pdf"',
        "paper[1].file",
        "leads outside",
    ),
    (
        'file = "documents/bill-of-lading.pdf"',
        'file = "/srv/bill.pdf"',
        "paper[1].file",
        "leads outside",
    ),
    (
        'file = "documents/bill-of-lading.pdf"',
        "file = 'documents\\bill-of-lading.pdf'",
        "paper[1].file",
        '"documents/bill-of-lading.pdf"',
    ),
    # what does not fit together
    ('id = "ridge-lines"', 'id = "northway"', "party[3].id", "party[2]"),
    (
        'design_gap_min = "1/16 in"',
        'design_gap_min = "1/4 in"',
        "seam[1].design_gap_min",
        "larger than",
    ),
]


@pytest.mark.parametrize("old, new, key_path, says", JOB_MISTAKES)
def test_one_mistake_in_job_toml(old: str, new: str, key_path: str, says: str) -> None:
    problems = [p for p in read(changed(JOB, old, new)).problems if p.key_path == key_path]
    assert [p.file for p in problems] == ["job.toml"]
    assert says in f"{problems[0].found} {problems[0].write}"


# Mistakes above that make others: a name that is gone is missed where it is used.
ALSO = {
    'id = "northway"': {"shipment[1].carrier", "to"},
    "[siet]\n": {"siet"},
    'id = "ridge-lines"': {"shipment[1].origin_carrier"},
}


@pytest.mark.parametrize("old, new, key_path, says", JOB_MISTAKES)
def test_one_mistake_is_told_once(old: str, new: str, key_path: str, says: str) -> None:
    others = {p.key_path for p in read(changed(JOB, old, new)).problems} - {key_path}
    assert others == (ALSO.get(old) or ALSO.get(new) or set())


def record_mistake(kind: str, old: str, new: str) -> tuple[Problem, ...]:
    path = f"records/{kind}.toml"
    return read(records=RECORDS | {path: changed(RECORDS[path], old, new)}).problems


RECORD_MISTAKES = [
    ("damage", 'kind = "damage"', 'kind = "damaged"', "kind", 'Write "damage"'),
    ("damage", 'kind = "damage"\n', "", "kind", "missing"),
    ("damage", 'kind = "damage"', "kind = 3", "kind", "text"),
    ("damage", 'said_by = "dana"', 'said_by = "dan"', "said_by", '"dana"'),
    ("damage", 'said_by = "dana"', 'said_by = "Dana Voss"', "said_by", '"dana"'),
    ("damage", 'said_by = "dana"\n', "", "said_by", "missing"),
    ("damage", 'item = "panel"', 'item = "panle"', "item", '"panel"'),
    ("damage", 'item = "panel"', 'item = "Floor tray, white"', "item", '"tray"'),  # its description
    ("damage", 'shipment = "panels"', 'shipment = "panel"', "shipment", '"panels"'),
    ("damage", 'found_at = "unpacking"', 'found_at = "unpacked"', "found_at", 'Write "unpacking"'),
    ("damage", "photos = [", "fotos = [", "fotos", "Did you mean photos?"),
    ("damage", "IMG_0033.jpg", "IMG_0033.JPG", "photos[1]", '"photos/unpacking/IMG_0033.jpg"'),
    ("damage", "photos/unpacking/IMG_0033.jpg", "photos/IMG_0033.jpg", "photos[1]", "unpacking/"),
    (
        "damage",
        "photos/unpacking/IMG_0033.jpg",
        "photos/a/b.jpg",
        "photos[1]",
        "Put the file there",
    ),
    ("damage", "quantity = 1", "quantity = 0", "quantity", "more than zero"),
    (
        "delivery",
        'driver_left = "2026-05-04 09:48"',
        'driver_left = "2026-05-04 08:48"',
        "driver_left",
        "arrived",
    ),
    (
        "delivery",
        'signed_at = "2026-05-04 09:41"',
        'signed_at = "2026-05-04 09:55"',
        "driver_left",
        "signed_at",
    ),
    (
        "delivery",
        "inspected = false",
        "inspected = true",
        "not_inspected_because",
        "Take the line out",
    ),
    (
        "delivery",
        'written = "2026-05-04 10:05"',
        'written = "2026-05-04 09:45"',
        "driver_left",
        "after the record",
    ),
    (
        "delivery",
        "cartons_received = 6",
        "cartons_received = -1",
        "cartons_received",
        "less than zero",
    ),
    ("delivery", 'arrived = "2026-05-04 09:10"', 'arrived = "9:10"', "arrived", "without its day"),
    ("unpacking", 'ended = "2026-05-04 14:45"', 'ended = "2026-05-04 12:45"', "ended", "began"),
    ("unpacking", "quantity = 3", 'quantity = "three"', "counted[1].quantity", "in figures"),
    ("unpacking", 'item = "panel"', 'item = "door"', "counted[1].item", "no item"),
    ("notice", 'received = "2026-05-05 08:31"', 'received = "2026-05-04"', "received", "sent"),
    ("notice", 'to = "northway"', 'to = "southway"', "to", '"northway"'),
    (
        "notice",
        'about = "concealed damage report"',
        'about = "concealed damage"',
        "about",
        "concealed damage report",
    ),
    ("notice", 'amount = "418.00 USD"', "amount = 418.00", "amount", "418.00 has no currency"),
    ("readings", 'seam = "corner-left"', 'seam = "left"', "seam", '"corner-left"'),
    ("readings", 'station = "top"', 'station = "topp"', "at[1].station", '"top"'),
    ("readings", 'gap = ["3/16 in", "3/16 in", "11/64 in"]', "gap = []", "at[1].gap", "at least 1"),
    (
        "readings",
        'gap = ["3/16 in", "3/16 in", "11/64 in"]',
        'gap = ["3/16 in", "3/16"]',
        "at[1].gap[2]",
        "no unit",
    ),
    (
        "readings",
        'gap = ["3/16 in", "3/16 in", "11/64 in"]',
        'gap = ["5 m"]',
        "at[1].gap[1]",
        "more than 300 mm",
    ),
    (
        "readings",
        'gap = ["3/16 in", "3/16 in", "11/64 in"]',
        'gap = ["-5 mm"]',
        "at[1].gap[1]",
        "less than zero",
    ),
    (
        "readings",
        "witness = [",
        "clamped_now = 1\nwitness = [",
        "at[1].clamped_now",
        "Take the line",
    ),
    (
        "readings",
        "witness = [",
        'temperature = "68 F"\nwitness = [',
        "at[1].temperature",
        "at the top of the file",
    ),
    ("readings", 'temperature = "68 F"', 'temperature = "68"', "temperature", "scale"),
    (
        "readings",
        "[[at]]",
        '[[at]]\nstation = "top"\ngap = ["1 mm"]\n[[at]]',
        "at[1].station",
        "more than one [[at]]",
    ),
    (
        "opening_check",
        'diagonals = ["97 1/8 in", "96 7/8 in"]',
        'diagonals = ["97 in"]',
        "diagonals",
        "2 must be",
    ),
    ("milestone", 'ended = "2026-05-06 11:30"', 'ended = "2026-05-05"', "ended", "began"),
    ("milestone", 'seams = ["corner-left"]', 'seams = ["corner-left", "x"]', "seams[2]", "no seam"),
    (
        "camera_clock",
        "within_seconds = 30",
        "within_seconds = 0",
        "within_seconds",
        "more than zero",
    ),
    ("bench_check", 'gap = "2 mm"', 'gap = "0 mm"', "spacer[1].gap", "more than zero"),
    (
        "delivery",
        'replaces = "2026-05-04-delivery"',
        'replaces = "2026-05-04-delivry"',
        "replaces",
        "2026-05-04-delivery",
    ),
    (
        "delivery",
        'replaces = "2026-05-04-delivery"',
        'replaces = "records/2026-05-04-delivery.toml"',
        "replaces",
        'mean "2026-05-04-delivery"',
    ),
    (
        "delivery",
        'replaces = "2026-05-04-delivery"',
        'replaces = "delivery"',
        "replaces",
        "replaces itself",
    ),
    (
        "delivery",
        'replaces = "2026-05-04-delivery"',
        'replaces = "damage"',
        "replaces",
        "of the kind damage",
    ),
]


@pytest.mark.parametrize("kind, old, new, key_path, says", RECORD_MISTAKES)
def test_one_mistake_in_a_record(kind: str, old: str, new: str, key_path: str, says: str) -> None:
    (problem,) = record_mistake(kind, old, new)
    assert (problem.file, problem.key_path) == (f"records/{kind}.toml", key_path)
    assert says in f"{problem.found} {problem.write}"


@pytest.mark.parametrize(
    "kind, old, new",
    [
        # a closed gap, an offset to the other side, a station at the seam's start
        ("readings", 'gap = ["3/16 in", "3/16 in", "11/64 in"]', 'gap = ["0 mm"]'),
        ("opening_check", 'width = "36 1/4 in"', 'width = "921 mm"'),
        # ends on the day it began: a date and a time on it may be in order
        ("milestone", 'ended = "2026-05-06 11:30"', 'ended = "2026-05-06"'),
        ("delivery", 'arrived = "2026-05-04 09:10"', 'arrived = "2026-05-04"'),
        # in the same minute
        ("notice", 'received = "2026-05-05 08:31"', 'received = "2026-05-05 08:30"'),
        # nothing was written on the receipt
        (
            "delivery",
            'words_on_our_copy = "6 of 7 cartons. Carton 3: corner crushed 4 in."',
            'words_on_our_copy = ""',
        ),
    ],
)
def test_what_is_right_is_not_told(kind: str, old: str, new: str) -> None:
    assert record_mistake(kind, old, new) == ()
