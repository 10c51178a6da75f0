"""Damaged and swollen pictures are drawn and measured by the same rule: whole, or not at all.

The long runs, each batch in a process with a limit of memory and time, are in
tests/bench/mutate_pictures.py.
"""

from __future__ import annotations

import random
import sys

import pytest

from claimkit.pixels.grey import decoded_grey
from claimkit.pixels.scale import PictureNotDrawn, scaled_jpeg
from tests.bench.mutate_photos import damaged
from tests.bench.mutate_pictures import apart, batch, bombs, one, pictures

PICTURES = pictures()


def drawn(data: bytes) -> bool:
    try:
        scaled_jpeg(data, long_side_px=64, quality=80, orientation=1, upright_when_decoded=False)
    except PictureNotDrawn:
        return False
    return True


def measured(data: bytes) -> bool:
    try:
        decoded_grey(data, orientation=1, upright_when_decoded=False)
    except PictureNotDrawn:
        return False
    return True


@pytest.mark.parametrize("name", PICTURES)
def test_what_is_too_damaged_to_draw_is_not_measured(name: str) -> None:
    """A PNG whose data broke off was refused as a picture and still measured, half of it grey."""
    rng = random.Random(name)
    whole = PICTURES[name]
    assert drawn(whole)
    assert measured(whole)
    tried = [whole[: len(whole) * part // 8] for part in range(1, 8)]
    tried += [damaged(whole, rng) for _ in range(40)]
    assert [data for data in tried if measured(data) and not drawn(data)] == []


@pytest.mark.skipif(sys.platform == "win32", reason="forks a process with limits")
@pytest.mark.parametrize("name", [name for name in bombs() if name != "8000 wide.png"])
def test_a_picture_that_swells_stays_within_memory_and_time(name: str) -> None:
    drawn(PICTURES["plain.jpg"])  # loads the libraries before the limit is set
    data = bombs()[name]
    tally = apart(lambda told: one(name, data, told, 5.0), name, 600)
    assert tally.wrong == []
    assert tally.done == 1


@pytest.mark.skipif(sys.platform == "win32", reason="forks a process with limits")
def test_a_few_mutants_end_no_process() -> None:
    tally = apart(batch(list(PICTURES.items()), 11, 25, 5.0), "a batch", 1500)
    assert tally.wrong == []
    assert tally.done == 25
