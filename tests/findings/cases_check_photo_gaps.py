"""For each rule about gaps in photos a case that fires and one that differs by one fact."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from claimkit.model.card import Refusal, Why
from claimkit.model.card_photo import MarkedGap, PhotoCards
from claimkit.model.case import Case
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import MarkedPhoto
from claimkit.model.stages import Stage
from tests.build import case, mm, photo, record, sha
from tests.findings.gap_build import dry
from tests.findings.photo_gap_build import (
    DRY,
    LATER,
    WHEN,
    bench_check,
    both,
    full,
    known,
    measured,
    not_measured,
    shows,
)


def benched(errors) -> Case:
    records, photos, seen = bench_check(errors)
    return full(*seen, records=records, photos=photos, benched=False)


def by_hand(gap: float) -> Case:
    return both(records=[dry(gap)])


def two(second: float) -> Case:
    other = "photos/dry-fit-2.jpg"
    taken = [photo(DRY, WHEN[DRY]), photo(other, "2026-05-04 10:02:00")]
    return full(shows(DRY, measured(3)), shows(other, measured(second, other)), photos=taken)


def marked(gap: Measurement | Refusal) -> Case:
    body = MarkedPhoto(
        photo=DRY,
        seam="s1",
        station="top",
        stage=Stage.DRY_FIT,
        rectangle=(mm("85.6"), mm("53.98")),
        corners=(0, 0, 856, 0, 856, 540, 0, 540),
        left=(400, 600),
        right=(440, 600),
    )
    found = known(records=[record("marked", body)])
    return case(replace(found, marked=(MarkedGap("marked", gap),)))


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "photo-gap-not-looked-at": (
        lambda: full(shows(DRY, measured(3))),
        lambda: full(shows(DRY, measured(3)), PhotoCards(sha(LATER))),
    ),
    "photo-gap-refused": (
        lambda: full(shows(DRY, not_measured())),
        lambda: full(shows(DRY, measured(3))),
    ),
    "photo-gap-no-stage": (
        lambda: full(shows(DRY, measured(3), tag="FASTENED")),
        lambda: full(shows(DRY, measured(3), tag="DRY FIT")),
    ),
    "photo-gap-only-witnesses": (lambda: both(benched=False), both),
    "bench-check-failed": (
        lambda: benched((0.4, 0.5, 0.45, 0.4, 0.5)),
        lambda: benched((0.05, -0.08, 0.02, 0.1, -0.04)),
    ),
    "bench-check-passed": (
        lambda: benched((0.05, -0.08, 0.02, 0.1, -0.04)),
        lambda: benched((0.05, -0.08, 0.02, 0.1)),
    ),
    "photo-and-hand-differ": (lambda: by_hand(4), lambda: by_hand(3)),
    "photo-and-hand-agree": (lambda: by_hand(3), lambda: by_hand(4)),
    "photo-gaps-disagree": (lambda: two(3.6), lambda: two(3.1)),
    "marked-photo-refused": (
        lambda: marked(Refusal.of(Why.SIDES)),
        lambda: marked(Measurement.of(4.0, {"by hand": 0.5})),
    ),
}
