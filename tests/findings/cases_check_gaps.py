"""For each rule about gaps a case that fires and one that differs by the one fact that matters."""

from __future__ import annotations

from collections.abc import Callable

from claimkit.model.case import Case
from claimkit.model.job import Joint, Material
from claimkit.model.measuring import Instrument
from claimkit.model.stages import Event
from tests.build import case, celsius, mm, photo
from tests.findings.gap_build import (
    dry,
    fastened,
    fastening,
    handover,
    known_facts,
    milestone,
)

WIDE = {"material": Material.ACRYLIC, "panel_width": mm(900)}
SHOT = "photos/dry-fit.jpg"


def full(*records, photos=(), **of_seam) -> Case:
    return case(known_facts(*records, photos=photos, **of_seam))


def pair(**of_seam) -> Case:
    return full(dry(3), handover(3), **of_seam)


def witnessed(taken: str | None, **more) -> Case:
    """A dry fit at 10:00 with a photo, in a dry fit that ran from 09:00 to 11:00."""
    from tests.build import moment

    ran = milestone(Event.DRY_FIT, "2026-05-04 09:00", "m-dry", ended=moment("2026-05-04 11:00"))
    return full(ran, dry(3, witness=[SHOT]), photos=[photo(SHOT, taken, **more)])


def two_stations(first: float, second: float) -> Case:
    return full(
        dry(3, record_id="r1"),
        handover(first, record_id="r2"),
        dry(3, record_id="r3", station="bottom"),
        handover(second, record_id="r4", station="bottom"),
    )


def handed_over():
    return milestone(Event.HANDOVER, "2026-05-08 09:00")


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "gap-out-at-dry-fit": (lambda: full(dry(5)), lambda: full(dry(3))),
    "gap-in-at-dry-fit": (lambda: full(dry(3)), lambda: full(dry(5))),
    "gap-opened": (
        lambda: full(dry(3), fastened(3), handover(5)),
        lambda: full(dry(3), fastened(3), handover(3)),
    ),
    "gap-closed": (lambda: full(dry(5), handover(3)), lambda: full(dry(5), handover(5))),
    "gap-unchanged": (lambda: full(dry(3), handover(3)), lambda: full(dry(3), handover(5))),
    "gap-out-now": (lambda: full(dry(3), handover(5)), lambda: full(dry(3), handover(3))),
    "gap-in-now": (lambda: full(dry(5), handover(3)), lambda: full(dry(5), handover(5))),
    "gap-cannot-tell": (
        lambda: full(dry(3), handover(3, instrument=Instrument.TAPE_16TH)),
        lambda: full(dry(3), handover(3, instrument=Instrument.FEELER)),
    ),
    "gap-seam-together": (
        lambda: two_stations(3, 5),
        lambda: full(dry(3, record_id="r1"), handover(3, record_id="r2")),
    ),
    "gap-no-dry-fit": (
        lambda: full(handover(3), station=()),
        lambda: full(dry(3), handover(3), station=()),
    ),
    "gap-no-later-reading": (lambda: full(dry(3)), lambda: full(dry(3), fastened(3))),
    "gap-states-differ": (
        lambda: full(dry(3, clamped=False), handover(3)),
        lambda: full(dry(3, clamped=True), handover(3)),
    ),
    # The joint was filled on the 6th: the handover of the 8th reads the sealant.
    "gap-over-sealant": (
        lambda: full(dry(3), fastening(), milestone(Event.SEALED, "2026-05-06 09:00"), handover(3)),
        lambda: full(dry(3), fastening(), milestone(Event.SEALED, "2026-05-09 09:00"), handover(3)),
    ),
    "gap-state-not-recorded": (
        lambda: full(dry(3, set_level=None)),
        lambda: full(dry(3, set_level=True)),
    ),
    "gap-stage-and-time-differ": (
        lambda: full(fastening("2026-05-05 09:00"), dry(3, taken="2026-05-06 10:00")),
        lambda: full(fastening("2026-05-05 09:00"), dry(3, taken="2026-05-04 10:00")),
    ),
    "gap-stage-far-from-step": (
        lambda: full(handed_over(), handover(3, taken="2026-05-16 10:00")),
        lambda: full(handed_over(), handover(3, taken="2026-05-08 10:00")),
    ),
    "gap-reading-not-usable": (
        lambda: full(dry(3, instrument=Instrument.OTHER)),
        lambda: full(dry(3, instrument=Instrument.OTHER, resolution=mm("0.5"))),
    ),
    "gap-no-design": (
        lambda: pair(joint=Joint.INTERLOCKING),
        lambda: pair(joint=Joint.BUTT),
    ),
    "gap-no-tolerance": (lambda: pair(tolerance=None), lambda: pair(tolerance=mm("0.8"))),
    "gap-temperature-not-recorded": (
        lambda: full(dry(3, temperature=celsius(20)), handover(3), **WIDE),
        lambda: full(dry(3, temperature=celsius(20)), handover(3, temperature=celsius(20)), **WIDE),
    ),
    "gap-temperature-left-out": (
        lambda: full(
            dry(3, temperature=celsius(20)),
            handover(3, temperature=celsius(10)),
            material=Material.ACRYLIC,
        ),
        lambda: full(dry(3, temperature=celsius(20)), handover(3, temperature=celsius(10)), **WIDE),
    ),
    "gap-witness-elsewhere": (
        lambda: witnessed("2026-05-06 10:01:00"),
        lambda: witnessed("2026-05-04 10:01:00"),
    ),
    "gap-witness-not-dated": (
        lambda: witnessed(None),
        lambda: witnessed("2026-05-04 10:01:00"),
    ),
    "gap-no-witness": (
        lambda: full(dry(3)),
        lambda: full(dry(3, witness=[SHOT]), photos=[photo(SHOT, "2026-05-04 10:01:00")]),
    ),
    "gap-readings-disagree": (
        lambda: full(dry(3), dry(4, record_id="r1-again", taken="2026-05-04 10:05")),
        lambda: full(dry(3), dry("3.1", record_id="r1-again", taken="2026-05-04 10:05")),
    ),
    "gap-finer-than-instrument": (
        lambda: full(dry("3.3", instrument=Instrument.RULE_HALF_MM)),
        lambda: full(dry("3.5", instrument=Instrument.RULE_HALF_MM)),
    ),
    "gap-below-thinnest-leaf": (
        lambda: full(dry(0, instrument=Instrument.FEELER)),
        lambda: full(dry(0, instrument=Instrument.CALIPER)),
    ),
    "gap-repeat-stands-apart": (
        lambda: full(dry(20, "2.0", "1.95")),
        lambda: full(dry(2, "2.0", "1.95")),
    ),
}
