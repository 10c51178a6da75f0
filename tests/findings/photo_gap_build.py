"""Short builders for gaps read in photos, used by the tests of this part only."""

from __future__ import annotations

from dataclasses import replace

from claimkit.model.card import CardReading, LooseTag, Refusal, Why, Window
from claimkit.model.card_photo import PhotoCards
from claimkit.model.case import Case
from claimkit.model.facts import Facts
from claimkit.model.job import Station
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import BenchCheck, CardSheet, Instrument, Spacer
from claimkit.model.stages import Event
from tests.build import case, facts, job, mm, moment, photo, record, seam, sha
from tests.findings.gap_build import milestone

CARD = 3
STATIONS = (Station(id="top", card=CARD), Station(id="bottom"))
DRY, LATER = "photos/dry-fit.jpg", "photos/later.jpg"
WHEN = {DRY: "2026-05-04 10:00:00", LATER: "2026-05-08 10:00:00"}
SHEET = record(
    "sheet",
    CardSheet(paper="a4", along=mm(250), across=mm(170), instrument=Instrument.RULE_MM),
)
STAGES = (
    milestone(Event.DRY_FIT, "2026-05-04 09:00", "m-dry", ended=moment("2026-05-04 11:00")),
    milestone(Event.HANDOVER, "2026-05-08 09:00", "m-over", ended=moment("2026-05-08 11:00")),
)


def measured(gap: float, path: str = DRY, card: int = CARD, u: float = 0.08) -> CardReading:
    """A card's reading of both windows, with the causes that measuring gives it."""
    shot = f"card {card} in photo {sha(path)[:12]}"
    parts = {
        f"card scale: card {card}": 0.004 * gap,
        f"card lip: card {card}": 0.1,
        f"edges: {shot}": u,
    }
    return CardReading(sha(path), card, Window.BOTH, Measurement.of(gap, parts), None)


def not_measured(path: str = DRY, card: int = CARD, why: Why = Why.CUT_OFF) -> CardReading:
    """A card's reading that was refused."""
    told = Refusal.of(why, places="top left", card=card)
    return CardReading(sha(path), card, Window.BOTH, None, told)


def shows(path: str, *readings: CardReading, tag: str | None = None) -> PhotoCards:
    """What a photo shows, with a loose tag's words where one is in view."""
    loose = (LooseTag(sha(path), 584, tag),) if tag else ()
    return PhotoCards(sha(path), readings, loose)


def known(*seen: PhotoCards, records=(), photos=None, benched=True, **of_seam) -> Facts:
    """Facts with the two photos, what was seen in them, and a bench check that passes."""
    of_seam.setdefault("station", STATIONS)
    taken = photos if photos is not None else [photo(path, WHEN[path]) for path in (DRY, LATER)]
    bench, bench_photos, bench_seen = bench_check() if benched else ((), [], ())
    found = facts(
        job_=job(seam=(seam(**of_seam),)),
        records=(SHEET, *STAGES, *bench, *records),
        photos=[*taken, *bench_photos],
    )
    return replace(found, cards=(*seen, *bench_seen))


def bench_check(errors=(0.05, -0.08, 0.02, 0.1, -0.04), folder="bench", **of_photo):
    """A bench check of 2 and 4 mm spacers whose photos are off by these errors."""
    paths = [f"photos/{folder}/{n}.jpg" for n in range(len(errors))]
    gaps = [2 if n % 2 else 4 for n in range(len(errors))]
    body = BenchCheck(
        taken=moment("2026-05-03"),
        spacer=tuple(Spacer(photo=p, gap=mm(g)) for p, g in zip(paths, gaps, strict=True)),
    )
    photos = [photo(p, "2026-05-03 16:00:00", **of_photo) for p in paths]
    seen = tuple(shows(p, measured(g + e, p)) for p, g, e in zip(paths, gaps, errors, strict=True))
    return (record("bench", body),), photos, seen


def full(*seen: PhotoCards, **more) -> Case:
    """The whole case of these photos."""
    return case(known(*seen, **more))


def both(dry: float = 3.0, later: float = 3.0, **more) -> Case:
    """A dry fit and a handover, each seen in one photo."""
    return full(shows(DRY, measured(dry)), shows(LATER, measured(later, LATER)), **more)
