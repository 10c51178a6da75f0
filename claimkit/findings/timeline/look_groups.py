"""Which photos look alike, which of them is the best original, and which are one burst.

Two pictures look alike where a difference hash and the mean grey level both say so; that they are
copies is for people to see. The best original is the one that states camera and time, names no
editor, and has the most pixels.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise

from claimkit.findings.timeline.file_told import as_written, changed_later, editor_of, taken_tag
from claimkit.model.case import DatedPhoto
from claimkit.model.facts import Facts
from claimkit.model.photo import Look, Photo
from claimkit.rules.file_marks import ALIKE_BITS, ALIKE_GREY, BURST_FEWEST, BURST_STEP

Tiny = tuple[str, int, bytes]


def alike(facts: Facts) -> tuple[tuple[Photo, ...], ...]:
    """Give the groups of photos that look alike, each ordered with its best original first."""
    photos = {photo.sha256: photo for photo in facts.photos}
    rows = [tiny for look in facts.looks if look.sha256 in photos and (tiny := _tiny(look))]
    home = {row[0]: row[0] for row in rows}

    def top(name: str) -> str:
        while home[name] != name:
            name = home[name]
        return name

    for one, other in combinations(rows, 2):
        if _look_alike(one, other):
            home[top(one[0])] = top(other[0])
    groups: dict[str, list[Photo]] = {}
    for row in rows:
        groups.setdefault(top(row[0]), []).append(photos[row[0]])
    found = [tuple(sorted(group, key=_rank)) for group in groups.values() if len(group) > 1]
    return tuple(sorted(found, key=lambda group: group[0].places))


def _tiny(look: Look) -> Tiny | None:
    if look.hash_bits is None or look.grey is None:
        return None
    return look.sha256, int(look.hash_bits, 16), bytes.fromhex(look.grey)


def _look_alike(one: Tiny, other: Tiny) -> bool:
    if (one[1] ^ other[1]).bit_count() > ALIKE_BITS:
        return False
    apart = sum(abs(a - b) for a, b in zip(one[2], other[2], strict=True))
    return apart <= ALIKE_GREY * len(one[2])


def _rank(photo: Photo) -> tuple[object, ...]:
    """Order by what makes a file the better original, best first."""
    pixels = (photo.width_px or 0) * (photo.height_px or 0)
    return (
        not as_written(photo),
        taken_tag(photo) is None,
        editor_of(photo) is not None,
        changed_later(photo) is not None,
        -pixels,
        -photo.size_bytes,
        photo.places,
    )


def poorer(group: Sequence[Photo]) -> tuple[Photo, ...]:
    """Give those of a group that lack a date or pixels that its best original has.

    Two pictures that a camera wrote seconds apart look alike too, and neither is a copy.
    """
    best = group[0]
    if taken_tag(best) is None:
        return ()
    return tuple(
        photo
        for photo in group[1:]
        if taken_tag(photo) is None or (_same_face(photo, best) and not as_written(photo))
    )


def _same_face(one: Photo, other: Photo) -> bool:
    a, b = taken_tag(one), taken_tag(other)
    return a is not None and b is not None and a.local == b.local


def bursts(photos: Sequence[DatedPhoto], facts: Facts) -> tuple[tuple[DatedPhoto, ...], ...]:
    """Give the runs of at least three photos that one camera took within seconds of each other."""
    cameras: dict[str, list[DatedPhoto]] = {}
    for dated in photos:
        photo = facts.photo_of(dated.sha256)
        name = photo.camera.name() if photo else None
        if name and dated.taken.known:
            cameras.setdefault(name, []).append(dated)
    found = []
    for rows in cameras.values():
        run = rows[:1]
        for before, after in pairwise(rows):
            if not _follows(before, after):
                found.append(run)
                run = []
            run.append(after)
        found.append(run)
    return tuple(tuple(run) for run in found if len(run) >= BURST_FEWEST)


def _follows(before: DatedPhoto, after: DatedPhoto) -> bool:
    first, second = before.taken.latest, after.taken.latest
    return first is not None and second is not None and second - first <= BURST_STEP
