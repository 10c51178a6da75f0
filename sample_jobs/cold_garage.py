"""A sample job: panels fitted dry in a cold garage, and read again in a heated room."""

from __future__ import annotations

from card_photo import Wall, seam_photo
from draw import Shot, jpeg

JOB = """\
title = "Tollgate Rowing Club, changing room lining"
reference = "MQ-2026-009"

[site]
address = "4 Weir Path, Hexley, ON"
zone = "America/Toronto"

[[party]]
id = "us"
name = "Quill & Marten Interiors"
roles = ["owner", "installer", "consignee"]
phone = "+1 519 555 0142"

[[party]]
id = "hauler"
name = "Grand Bend Cartage"
roles = ["delivering carrier"]

[[party]]
id = "maker"
name = "Ferrous Lake Linings"
roles = ["maker", "seller", "shipper"]

[[party]]
id = "club"
name = "Tollgate Rowing Club"
roles = ["customer"]

[[person]]
id = "odile"
name = "Odile Marten"
task = "installs and measures"
cameras = ["Fairlight F2"]

[[shipment]]
id = "lining"
carrier = "hauler"
shipper = "maker"
consignee = "us"
terms = "canada uniform conditions"
handling_units = 1
handling_unit = "crate"

[[item]]
id = "panel-left"
description = "Wall lining, left panel, acrylic"
material = "acrylic"
invoice_price = "610.00 CAD"

[[item]]
id = "panel-middle"
description = "Wall lining, middle panel, acrylic"
material = "acrylic"
invoice_price = "585.00 CAD"

[[item]]
id = "panel-right"
description = "Wall lining, right panel, acrylic"
material = "acrylic"
invoice_price = "610.00 CAD"

[[seam]]
id = "left-middle"
between = ["panel-left", "panel-middle"]
joint = "butt"
material = "acrylic"
panel_width = "900 mm"
design_gap_min = "1.5 mm"
design_gap_max = "4.0 mm"
design_source = "maker's instructions, page 6"
tolerance = "1.0 mm"
edge_radius = "0.2 mm"

[[seam.station]]
id = "top"
at = "1900 mm"
card = 0

[[seam.station]]
id = "foot"
at = "100 mm"
card = 1

[[seam]]
id = "middle-right"
between = ["panel-middle", "panel-right"]
joint = "butt"
material = "acrylic"
panel_width = "900 mm"
design_gap_min = "1.5 mm"
design_gap_max = "4.0 mm"
design_source = "maker's instructions, page 6"
tolerance = "1.0 mm"

[[seam.station]]
id = "top"
at = "1900 mm"
"""

SPACERS = (2.0, 3.0, 4.0, 2.0, 3.0)
"""Thickness in mm of the spacers photographed for the bench check."""
BENCH = tuple(f"photos/bench/F2_00{n}.jpg" for n in range(11, 16))
TOP, FOOT = "left-middle top", "left-middle foot"
PLACES = ((4.0, 2.0), (-5.0, 3.0), (3.0, -4.0), (6.0, 1.0), (-2.0, -3.0))

SEAMS = {
    "photos/dry fit/F2_0041.jpg": (3.05, 0, TOP, "2026-01-14T09:41:00"),
    "photos/dry fit/F2_0042.jpg": (3.05, 0, TOP, "2026-01-14T09:43:00"),
    "photos/dry fit/F2_0045.jpg": (3.15, 1, FOOT, "2026-01-14T09:50:00"),
    "photos/handover/F2_0088.jpg": (2.0, 0, TOP, "2026-02-03T14:12:00"),
    "photos/handover/F2_0089.jpg": (2.1, 1, FOOT, "2026-02-03T14:16:00"),
}
"""Gap in mm, card, its label and when the photo was taken."""


def cold_garage() -> dict[str, bytes | str]:
    """Give the files: a change that the cold explains, and one that one reading would settle."""
    files: dict[str, bytes | str] = {"job.toml": JOB}
    for n, (path, spacer) in enumerate(zip(BENCH, SPACERS, strict=True)):
        wall = Wall(spacer, n % 2, (TOP, FOOT)[n % 2], askew=PLACES[n], grain=n, note="bench")
        files[path] = jpeg(seam_photo(wall), Shot(f"2026-01-13T16:0{n}:00"))
    for n, (path, (gap, card, label, taken)) in enumerate(SEAMS.items()):
        wall = Wall(gap, card, label, askew=PLACES[n], grain=10 + n)
        files[path] = jpeg(seam_photo(wall), Shot(taken))
    return files | _records()


def _readings(
    seam: str, stage: str, taken: str, instrument: str, gaps: dict[str, list[str]], warmth: str
) -> str:
    at = "".join(f'\n[[at]]\nstation = "{s}"\ngap = {g}\n' for s, g in gaps.items())
    heat = f'temperature = "{warmth}"\n' if warmth else ""
    return (
        f'kind = "readings"\nsaid_by = "odile"\nseam = "{seam}"\nstage = "{stage}"\n'
        f'taken = {taken}\ninstrument = "{instrument}"\ninstrument_id = "no. 3"\n{heat}'
        f'place = "in the opening"\nset_level = true\nclamped = true\n{at}'
    ).replace("'", '"')


def _milestone(event: str, began: str, ended: str) -> str:
    return (
        f'kind = "milestone"\nsaid_by = "odile"\nevent = "{event}"\n'
        f"began = {began}\nended = {ended}\n"
    )


def _records() -> dict[str, bytes | str]:
    spacers = "".join(
        f'\n[[spacer]]\nphoto = "{path}"\ngap = "{thick:g} mm"\n'
        for path, thick in zip(BENCH, SPACERS, strict=True)
    )
    return {
        "records/01-card-sheet.toml": (
            'kind = "card_sheet"\nsaid_by = "odile"\npaper = "letter"\nalong = "10 in"\n'
            'across = "7 in"\ninstrument = "tape 1/32 in"\nmeasured = 2026-01-13T15:40:00\n'
        ),
        "records/02-bench-check.toml": (
            'kind = "bench_check"\nsaid_by = "odile"\ntaken = 2026-01-13T16:00:00\n'
            f'material = "acrylic"\n{spacers}'
        ),
        "records/03-dry-fit.toml": _milestone(
            "dry fit", "2026-01-14T09:00:00", "2026-01-14T11:30:00"
        ),
        "records/04-dry-fit-left-middle.toml": _readings(
            "left-middle",
            "dry fit",
            "2026-01-14T09:46:00",
            "feeler gauge 0.05 mm",
            {"top": ["3.05 mm", "3.0 mm", "3.05 mm"], "foot": ["3.15 mm", "3.1 mm", "3.15 mm"]},
            "4 C",
        ),
        "records/05-dry-fit-middle-right.toml": _readings(
            "middle-right",
            "dry fit",
            "2026-01-14T10:20:00",
            "feeler gauge 0.05 mm",
            {"top": ["2.9 mm"]},
            "4 C",
        ),
        "records/06-fastened.toml": _milestone(
            "fastened", "2026-01-20T08:30:00", "2026-01-20T15:00:00"
        ),
        "records/07-handover.toml": _milestone(
            "handover", "2026-02-03T14:00:00", "2026-02-03T15:00:00"
        ),
        "records/08-handover-left-middle.toml": _readings(
            "left-middle",
            "handover",
            "2026-02-03T14:20:00",
            "feeler gauge 0.05 mm",
            {"top": ["2.0 mm", "2.0 mm", "1.95 mm"], "foot": ["2.1 mm", "2.1 mm", "2.05 mm"]},
            "21 C",
        ),
        "records/09-handover-middle-right.toml": _readings(
            "middle-right",
            "handover",
            "2026-02-03T14:30:00",
            "tape 1/16 in",
            {"top": ["1/16 in"]},
            "21 C",
        ),
    }
