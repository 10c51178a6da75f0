"""The card's layout against the figures it was agreed on, and its tags against their standard."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from claimkit.rules import card_layout as layout
from claimkit.rules.tag_codes import LEAST_DISTANCE, WORDS
from tests.seams.photos import needs_opencv

# The first ten words of tag36h11 in the AprilTag library (tag36h11.c), as widely copied.
PUBLISHED = (
    0xD5D628584,
    0xD97F18B49,
    0xDD280910E,
    0xE479E9C98,
    0xEBCBCA822,
    0xF31DAB3AC,
    0x056A5D085,
    0x10652E1D4,
    0x22B1DFEAD,
    0x265AD0472,
)


def test_words_are_the_published_ones():
    assert WORDS[:10] == PUBLISHED
    assert len(WORDS) == 587  # the family's size


def test_every_two_tags_differ_in_eleven_cells_in_any_turn():
    # What "h11" in the family's name promises (Olson 2011).
    cells = np.array([layout.cells(tag) for tag in range(587)])[:, 1:7, 1:7]
    flat = cells.reshape(587, 36)
    for turn in range(4):
        turned = np.rot90(cells, turn, axes=(1, 2)).reshape(587, 36)
        apart = (flat[:, None, :] != turned[None, :, :]).sum(axis=2)
        if turn == 0:
            np.fill_diagonal(apart, 36)
        assert apart.min() >= LEAST_DISTANCE


@needs_opencv
def test_a_tag_is_printed_as_opencv_draws_it():
    import cv2

    family = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_APRILTAG_36h11)
    for tag in (0, 1, 47, 583, 586):
        drawn = cv2.aruco.generateImageMarker(family, tag, 8) > 0
        assert np.array_equal(drawn, np.array(layout.cells(tag)))


def test_the_lengths_agreed_on():
    assert (layout.CARD.wide, layout.CARD.high) == (92.0, 80.0)
    assert layout.TAG == 24.0
    assert layout.CELL == 3.0
    assert [(box.x, box.y) for _, box in layout.TAG_PLACES] == [
        (3.0, 3.0),
        (65.0, 3.0),
        (3.0, 53.0),
        (65.0, 53.0),
    ]
    assert [(n.x, n.y, n.wide, n.high) for n in layout.NOTCHES] == [
        (33.0, 0.0, 26.0, 28.0),
        (33.0, 52.0, 26.0, 28.0),
    ]


def test_nothing_on_the_card_overlaps():
    boxes = [box for _, box in layout.TAG_PLACES] + [*layout.NOTCHES, layout.BAR]
    for a, b in combinations(boxes, 2):
        apart_x = a.x + a.wide <= b.x or b.x + b.wide <= a.x
        apart_y = a.y + a.high <= b.y or b.y + b.high <= a.y
        assert apart_x or apart_y, (a, b)
    for box in boxes:
        assert 0.0 <= box.x <= box.x + box.wide <= 92.0
        assert 0.0 <= box.y <= box.y + box.high <= 80.0


def test_a_white_cell_stands_around_every_tag():
    # Detectors need the quiet zone; one cell is the family's own border.
    for _, tag in layout.TAG_PLACES:
        for notch in layout.NOTCHES:
            beside = max(notch.x - (tag.x + tag.wide), tag.x - (notch.x + notch.wide))
            assert beside >= layout.CELL
        assert min(tag.x, 92.0 - tag.x - tag.wide) >= layout.CELL


@pytest.mark.parametrize(
    "card,tags",
    [(0, (0, 1, 2, 3)), (12, (48, 49, 50, 51)), (145, (580, 581, 582, 583))],
)
def test_tags_of_a_card(card, tags):
    assert layout.tags_of(card) == tags
    assert {layout.card_of(tag) for tag in tags} == {card}


@pytest.mark.parametrize("card", [-1, 146])
def test_there_is_no_such_card(card):
    with pytest.raises(ValueError, match="0 to 145"):
        layout.tags_of(card)


def test_loose_tags_belong_to_no_card():
    assert dict(layout.LOOSE_TAGS) == {584: "DRY FIT", 585: "FASTENED", 586: "CHECK"}
    assert [layout.card_of(tag) for tag, _ in layout.LOOSE_TAGS] == [None, None, None]
    assert layout.card_of(587) is None


@pytest.mark.parametrize("paper,wide,high", [("letter", 215.9, 279.4), ("a4", 210.0, 297.0)])
def test_six_cards_and_both_check_lines_fit_a_sheet(paper, wide, high):
    # 6.35 mm (1/4 in) is what common printers leave white: common practice, no source.
    places = layout.card_places(paper)
    assert len(set(places)) == 6
    for x, y in places:
        assert x >= 6.35
        assert x + 92.0 <= wide - 6.35
        assert y >= 6.35
        assert y + 80.0 <= high - 6.35
    lines = {line.way: line.length for line in dict(layout.CHECK_LINES)[paper]}
    assert lines["along"] <= high - 2 * 6.35
    assert lines["across"] <= wide - 2 * 6.35


def test_check_lines_are_whole_inches_or_centimetres():
    lines = {paper: [line.length for line in pair] for paper, pair in layout.CHECK_LINES}
    assert lines == {"letter": [10 * 25.4, pytest.approx(7 * 25.4)], "a4": [250.0, 170.0]}
    assert pytest.approx(25.4 / 32.0) == layout.CHECK_WITHIN  # 1/32 in
