"""For each rule about openings a case that fires and one that differs by the fact that matters."""

from __future__ import annotations

from collections.abc import Callable

from claimkit.model.case import Case
from claimkit.model.measuring import Instrument
from tests.build import case, mm
from tests.findings.gap_build import fastening
from tests.findings.opening_build import (
    AFTER,
    check,
    fitted,
    handed_over,
    opening_facts,
)

# A plumb wall and one that leans 4 mm per m into the opening (offsets get smaller upwards).
UPRIGHT = {100: 50, 1000: 50, 1900: 50}
LEANING = {100: 50, 1000: "46.4", 1900: "42.8"}
FLAT = {100: 30, 500: 30, 900: 30}
EVEN = (3, 3, 3)


def full(*records, **more) -> Case:
    return case(opening_facts(*records, **more))


# 4 mm per m over 1.8 m is 7.2 mm: 3 at the foot and all but closed at the top would be too much,
# so the dry fit is even at 8 mm.
def followed(plumb, level=FLAT, gaps=(8, "4.4", "0.8")) -> Case:
    return full(check(plumb=plumb, level=level), fitted(8, 8, 8), fastening(), handed_over(*gaps))


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "opening-not-checked": (
        lambda: full(fitted(*EVEN), fastening()),
        lambda: full(check(plumb=UPRIGHT), fitted(*EVEN), fastening()),
    ),
    "opening-reading-not-usable": (
        lambda: full(check(plumb=UPRIGHT, instrument=Instrument.LEVEL)),
        lambda: full(check(plumb=UPRIGHT, instrument=Instrument.LEVEL, resolution=mm("0.5"))),
    ),
    "opening-no-tolerance": (
        lambda: full(check(plumb=UPRIGHT), openings=()),
        lambda: full(check(plumb=UPRIGHT)),
    ),
    "opening-out-of-tolerance": (
        lambda: full(check(plumb=LEANING)),
        lambda: full(check(plumb=UPRIGHT)),
    ),
    "opening-within": (
        lambda: full(check(plumb=UPRIGHT)),
        lambda: full(check(plumb=LEANING)),
    ),
    "opening-cannot-tell": (
        lambda: full(check(plumb={100: 50, 1900: "47.3"})),
        lambda: full(check(plumb={100: 50, 1900: 50})),
    ),
    "opening-mend-first": (
        lambda: full(check(plumb=LEANING)),
        lambda: full(check(plumb=LEANING), fastening()),
    ),
    "opening-not-straight": (
        lambda: full(check(plumb={100: 50, 1000: 55, 1900: 50})),
        lambda: full(check(plumb={100: 50, 1000: 50, 1900: 50})),
    ),
    "opening-after-fastening": (
        lambda: full(fastening(), check(plumb=UPRIGHT, taken=AFTER)),
        lambda: full(fastening(), check(plumb=UPRIGHT)),
    ),
    "opening-consistent": (lambda: followed(LEANING), lambda: followed(UPRIGHT)),
    "opening-explains-part": (
        lambda: followed({100: 50, 1000: "48.2", 1900: "46.4"}),
        lambda: followed(LEANING),
    ),
    "opening-does-not-explain": (lambda: followed(UPRIGHT), lambda: followed(LEANING)),
    "opening-taper-cannot-tell": (
        lambda: followed(LEANING, level=None),
        lambda: followed(LEANING, level=FLAT),
    ),
    "opening-readings-disagree": (
        # 3 mm of 900 by 2100 is 1.8 mm per m; plumb and level say that nothing leans.
        lambda: full(squared("2286.2", "2283.2")),
        lambda: full(squared("2284.7", "2284.7")),
    ),
}


def squared(first: str, second: str):
    return check(
        plumb=UPRIGHT,
        level=FLAT,
        diagonals=(mm(first), mm(second)),
        width=mm(900),
        height=mm(2100),
    )
