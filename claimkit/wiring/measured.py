"""The wiring of gaps read in photos: looked for where the job has cards or a bench check.

Measuring a photo takes a few tenths of a second, so it is done by the commands that speak of gaps
and kept for all others.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from claimkit.model.card import Point, Refusal
from claimkit.model.card_photo import MarkedGap
from claimkit.model.facts import Facts
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import BenchCheck, MarkedPhoto

NAME = "cards.json"


def has_cards(facts: Facts) -> bool:
    """Tell whether photos may show scale cards that matter: the job has seams or a bench check."""
    return bool(facts.job and facts.job.seam) or bool(facts.in_force(BenchCheck))


def with_kept_cards(facts: Facts) -> Facts:
    """Give the facts with the cards that were seen before, and the gaps marked by hand."""
    facts = replace(facts, marked=_marked(facts))
    if not has_cards(facts):
        return facts
    from claimkit.intake.places import cache_folder
    from claimkit.pixels.card_photos import kept_cards
    from claimkit.pixels.opencv import available

    seen = kept_cards(facts.photos, cache_folder() / NAME)
    return replace(facts, cards=seen, no_cards=available() or "")


def with_all_cards(
    facts: Facts, folder: Path, progress: Callable[[int, int], None] | None = None
) -> Facts:
    """Give the facts with every photo looked at for cards, where the job has any."""
    if not has_cards(facts) or len(facts.cards) == len(facts.photos):
        return facts
    from claimkit.intake.paths import on_disk
    from claimkit.intake.places import cache_folder
    from claimkit.pixels.card_photos import all_cards

    seen = all_cards(
        facts.photos,
        lambda photo: on_disk(folder, photo.places[0]).read_bytes(),
        cache_folder() / NAME,
        workers=os.cpu_count() or 1,
        progress=progress,
    )
    return replace(facts, cards=seen)


def _marked(facts: Facts) -> tuple[MarkedGap, ...]:
    """Work out every gap marked by hand; arithmetic only, no picture is opened."""
    found = []
    for record in facts.in_force(MarkedPhoto):
        body = record.body
        photo = facts.photo_at(body.photo) if isinstance(body, MarkedPhoto) else None
        if isinstance(body, MarkedPhoto) and photo is not None:
            found.append(MarkedGap(record.id, _gap(body, photo.sha256)))
    return tuple(found)


def _gap(body: MarkedPhoto, sha256: str) -> Measurement | Refusal:
    from claimkit.pixels.by_hand import Marked, gap_by_hand

    first, second, third, fourth = _points(body.corners)
    wide, high = (float(length.mm) for length in body.rectangle)
    marked = Marked(
        (first, second, third, fourth), (wide, high), _points(body.left), _points(body.right)
    )
    return gap_by_hand(marked, photo_sha=sha256)


def _points(flat: tuple[int, ...]) -> tuple[Point, ...]:
    """Pair x and y; a last number without its partner is left out."""
    return tuple((float(x), float(y)) for x, y in zip(flat[::2], flat[1::2], strict=False))
