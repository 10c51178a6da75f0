"""Filling pages: everything a packet shows becomes boxes of known height, stacked on pages.

A box is never split; text gives one box a line, a table one a row. The page of every box is
known before anything is drawn, so "page 3 of 9" and the table of contents need no second run.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from claimkit.render.pen import Pen

Draw = Callable[[Pen, float, float], None]  # pen, left end, upper edge; y grows upwards


@dataclass(frozen=True, slots=True)
class Box:
    """A piece of a page.

    `height` and `above` (the space over it, dropped at the head of a page) in points. `stays`
    keeps it on one page with the box after it. `head` is drawn again above it where it begins a
    page. `opens` is the section that begins here. `new_page` starts a page. `role` is what it is to
    a screen reader (P, H1, H2, H3); `joins` that it goes on with the box before it.
    """

    height: float
    draw: Draw
    above: float = 0.0
    stays: bool = False
    head: Box | None = None
    opens: str | None = None
    new_page: bool = False
    role: str = "P"
    joins: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """A box and the distance of its upper edge from the head of the page, in points."""

    box: Box
    down: float


class Overfull(Exception):
    """A box is higher than the page: a text is longer than any page, or its maker has a defect."""

    def __init__(self, height: float) -> None:
        super().__init__(height)
        self.height = height


def paginate(boxes: Iterable[Box], room: float) -> tuple[tuple[Placed, ...], ...]:
    """Stack boxes on pages `room` points high. Raises Overfull for a box that fits on none."""
    pages: list[list[Placed]] = [[]]
    down = 0.0
    for unit in _units(boxes):
        if unit[0].new_page and pages[-1]:
            pages.append([])
            down = 0.0
        if pages[-1] and down + _tall(unit) > room and _tall(unit, at_head=True) <= room:
            pages.append([])
            down = 0.0
        for box in unit:
            if pages[-1] and down + box.above + box.height > room:
                pages.append([])
                down = 0.0
            down = _place(pages[-1], box, down, room)
    return tuple(tuple(page) for page in pages)


def _place(page: list[Placed], box: Box, down: float, room: float) -> float:
    if not page and box.head is not None:
        page.append(Placed(box.head, 0.0))
        down = box.head.height
    elif page:
        down += box.above
    if down + box.height > room + 0.01:
        raise Overfull(box.height)
    page.append(Placed(box, down))
    return down + box.height


def _units(boxes: Iterable[Box]) -> Iterator[list[Box]]:
    unit: list[Box] = []
    for box in boxes:
        unit.append(box)
        if not box.stays:
            yield unit
            unit = []
    if unit:
        yield unit


def _tall(unit: list[Box], at_head: bool = False) -> float:
    total = sum(box.height + box.above for box in unit)
    if at_head:
        total -= unit[0].above
        total += unit[0].head.height if unit[0].head else 0.0
    return total


def pages_of(pages: tuple[tuple[Placed, ...], ...]) -> dict[str, int]:
    """Tell on which page (from 1) each section begins."""
    return {
        placed.box.opens: number
        for number, page in enumerate(pages, 1)
        for placed in page
        if placed.box.opens is not None
    }
