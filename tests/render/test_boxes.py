"""Pages filled with boxes: in order, inside the page, never over each other."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.render.boxes import Box, Overfull, Placed, pages_of, paginate
from claimkit.render.pen import Pen

ROOM = 100.0


def nothing(pen: Pen, x: float, top: float) -> None:
    """Draw nothing."""


def box(height: float, **more: object) -> Box:
    """Give a box that draws nothing."""
    return Box(height, nothing, **more)  # type: ignore[arg-type]


HEAD = box(8)
random_boxes = st.lists(
    st.builds(
        box,
        st.floats(1, 60),
        above=st.sampled_from([0.0, 3.0, 24.0]),
        stays=st.booleans(),
        head=st.sampled_from([None, HEAD]),
        new_page=st.booleans(),
    ),
    max_size=40,
)


@given(random_boxes)
def test_boxes_stand_in_order_inside_the_page_and_apart(boxes: list[Box]) -> None:
    pages = paginate(boxes, ROOM)
    placed = [p.box for page in pages for p in page if p.box is not HEAD]
    assert [id(b) for b in placed] == [id(b) for b in boxes]
    for page in pages:
        ends = 0.0
        for p in page:
            assert p.down >= ends - 0.001
            ends = p.down + p.box.height
            assert ends <= ROOM + 0.02


@given(random_boxes)
def test_a_page_that_continues_begins_with_the_head(boxes: list[Box]) -> None:
    for page in paginate(boxes, ROOM):
        for i, p in enumerate(page):
            first = i == 0 or (i == 1 and page[0].box is HEAD)
            if p.box.head and first:
                assert page[0].box is HEAD
            if p.box is HEAD:
                assert i == 0


def heights(pages: tuple[tuple[Placed, ...], ...]) -> list[list[float]]:
    """Give the heights on each page."""
    return [[p.box.height for p in page] for page in pages]


def test_a_heading_goes_with_what_follows() -> None:
    boxes = [box(70), box(10, stays=True), box(25)]
    assert heights(paginate(boxes, ROOM)) == [[70], [10, 25]]


def test_a_chain_longer_than_a_page_is_broken() -> None:
    boxes = [box(40, stays=True), box(40, stays=True), box(40)]
    assert heights(paginate(boxes, ROOM)) == [[40, 40], [40]]


def test_space_above_is_dropped_at_the_head_of_a_page() -> None:
    pages = paginate([box(90), box(20, above=15)], ROOM)
    assert pages[1][0].down == 0


def test_a_new_page_where_asked_but_no_empty_one() -> None:
    boxes = [box(10, new_page=True), box(10, new_page=True), box(10)]
    assert heights(paginate(boxes, ROOM)) == [[10], [10, 10]]


def test_a_box_higher_than_the_page_is_a_defect() -> None:
    with pytest.raises(Overfull):
        paginate([box(101)], ROOM)


def test_pages_of_sections() -> None:
    boxes = [box(60, opens="a"), box(60, opens="b"), box(10), box(60, opens="c")]
    assert pages_of(paginate(boxes, ROOM)) == {"a": 1, "b": 2, "c": 3}
