"""For each rule about a seam along its length a case that fires and one that does not."""

from __future__ import annotations

from collections.abc import Callable

from claimkit.model.case import Case
from claimkit.model.job import Joint, Station
from claimkit.model.measuring import Instrument, MarkedPhoto
from claimkit.model.stages import Stage
from tests.build import case, mm, record
from tests.findings.gap_build import dry, known_facts
from tests.findings.line_build import at_places, dry_fit, handed_over

# A metre with a tolerance of 0.8 mm: a taper of over 0.8 mm/m matters. Feeler gauge: u 0.10 mm.
METRE = at_places(0, 500, 1000)
TWO = at_places(0, 1000)


def full(*records, **of_seam) -> Case:
    return case(known_facts(*records, **({"station": METRE} | of_seam)))


def marked(**of_seam) -> Case:
    body = MarkedPhoto(
        photo="photos/a.jpg",
        seam="s1",
        station="top",
        stage=Stage.DRY_FIT,
        rectangle=(mm("85.6"), mm("53.98")),
        corners=(0, 0, 100, 0, 100, 63, 0, 63),
        left=(10, 70, 10, 80),
        right=(20, 70, 20, 80),
    )
    return case(known_facts(record("m-marked", body), **of_seam))


CARD = (Station(id="top", card=3), Station(id="bottom"))

CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "seam-taper-at-dry-fit": (
        lambda: full(dry_fit(2, 3, 4)),
        lambda: full(dry_fit(3, 3, 3)),
    ),
    "seam-taper-changed": (
        lambda: full(dry_fit(3, 3, 3), handed_over(3, 4, 5)),
        lambda: full(dry_fit(3, 4, 5), handed_over(3, 4, 5)),
    ),
    "seam-taper-unchanged": (
        # Both ends opened alike: the taper is as it was.
        lambda: full(dry_fit(3, 3, 3), handed_over(5, 5, 5)),
        lambda: full(dry_fit(3, 3, 3), handed_over(3, 4, 5)),
    ),
    "seam-taper-cannot-tell": (
        lambda: full(dry_fit(3, 3, 3), handed_over(3, 3, 3, instrument=Instrument.TAPE_16TH)),
        lambda: full(dry_fit(3, 3, 3), handed_over(3, 3, 3, instrument=Instrument.FEELER)),
    ),
    "seam-line-two-points": (
        lambda: full(dry_fit(3, 3), station=TWO),
        lambda: full(dry_fit(3, 3, 3)),
    ),
    "seam-not-straight": (
        lambda: full(dry_fit(3, 4, 3)),
        lambda: full(dry_fit(3, 3, 3)),
    ),
    "seam-station-without-place": (
        lambda: full(dry_fit(3, 3, 3), station=at_places(0, None, 1000)),
        lambda: full(dry_fit(3, 3, 3)),
    ),
    "seam-stations-same-place": (
        lambda: full(dry_fit(3, 3, 3), station=at_places(0, 0, 1000)),
        lambda: full(dry_fit(3, 3, 3)),
    ),
    "seam-card-at-corner": (
        lambda: case(known_facts(station=CARD, joint=Joint.CORNER)),
        lambda: case(known_facts(station=CARD, joint=Joint.BUTT)),
    ),
    "seam-marked-at-corner": (
        lambda: marked(joint=Joint.CORNER),
        lambda: marked(joint=Joint.BUTT),
    ),
    "seam-corner-instrument": (
        lambda: case(known_facts(dry(3, instrument=Instrument.TAPE_32ND), joint=Joint.CORNER)),
        lambda: case(known_facts(dry(3, instrument=Instrument.FEELER), joint=Joint.CORNER)),
    ),
}
