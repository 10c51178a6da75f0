"""A station's gap readings drawn one below the other, with error bars against the design's limits.

The scale runs across the page in mm; the design's limits are a shaded band, and every value is
printed beside its point, so that the plot can be read without measuring it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from claimkit.model.document import GapPlot, GapPoint
from claimkit.render.boxes import Box, Draw
from claimkit.render.pen import Pen
from claimkit.render.setting import Room, baseline, draw_lines, heading, line_boxes, spans
from claimkit.render.style import BLACK, BLUE, CHART, FAINT, GREY, HAIR, MINOR, WASH, strong
from claimkit.render.text import Line, Span, lines

_TEXT_PART, _VALUE_WIDE, _GAP = 0.40, 66.0, 12.0
_STEPS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_MOST_TICKS = 7
_MOST_LINES = 12  # of a sentence beside its point; the rest follows below
_HEAD, _ROW_PAD = 24.0, 4.0


@dataclass(frozen=True, slots=True)
class _Scale:
    """The stretch of mm drawn and where it lies in the row, in points from the left margin."""

    low: float
    high: float
    step: float
    left: float
    wide: float

    def x(self, mm: float) -> float:
        """Give the place of a gap."""
        inside = min(max(mm, self.low), self.high)
        return self.left + (inside - self.low) / (self.high - self.low) * self.wide

    def ticks(self) -> list[float]:
        """Give the marks of the scale, in mm."""
        first = math.ceil(self.low / self.step - 1e-9)
        last = math.floor(self.high / self.step + 1e-9)
        return [n * self.step for n in range(first, last + 1)]


def gap_plot(block: GapPlot, room: Room) -> list[Box]:
    """Set a plot: a head with the scale, a row for each reading, the head again on a new page."""
    scale = _scale(block, room)
    title = heading(block.title, MINOR, room.wide, above=10.0)
    head = Box(_HEAD, lambda pen, x, top: _draw_head(pen, block, scale, x, top), stays=True)
    boxes = [*title, replace(head, draw=_as_figure(head, block.alt))]
    for i, point in enumerate(block.points):
        texts = _told(point, room, room.wide * _TEXT_PART)
        row = _row(block, point, texts[:_MOST_LINES], scale, room)
        last = i == len(block.points) - 1
        boxes.append(Box(row.height, row.draw, head=head, stays=not last and i < 3))
        boxes += line_boxes(texts[_MOST_LINES:], CHART)
    return boxes


def _as_figure(head: Box, alt: str) -> Draw:
    """Draw the first head as the figure that it opens; again on a new page it is a line of text."""

    def draw(pen: Pen, x: float, top: float) -> None:
        with pen.described(alt or "Gap readings, drawn"):
            head.draw(pen, x, top)

    return draw


def _scale(block: GapPlot, room: Room) -> _Scale:
    ends = [limit for limit in (block.design_min_mm, block.design_max_mm) if limit is not None]
    for point in block.points:
        if math.isfinite(point.value_mm) and math.isfinite(point.expanded_mm):
            ends += [point.value_mm - point.expanded_mm, point.value_mm + point.expanded_mm]
    low, high = (min(ends), max(ends)) if ends else (0.0, 1.0)
    pad = max((high - low) * 0.08, 0.1)
    low, high = low - pad, high + pad
    step = next((s for s in _STEPS if (high - low) / s <= _MOST_TICKS), (high - low) / _MOST_TICKS)
    left = room.wide * _TEXT_PART + _GAP
    return _Scale(low, high, step, left, room.wide - left - _VALUE_WIDE - _GAP)


def _draw_head(pen: Pen, block: GapPlot, scale: _Scale, x: float, top: float) -> None:
    label = lines([Span(_design(block), CHART)], scale.left - _GAP)[:1]
    draw_lines(pen, label, CHART, x + 10, top - 13)
    pen.fill(x, top - 20.5, 7, 6, WASH)
    pen.frame(x, top - 20.5, 7, 6, ink=HAIR)
    value = lines([Span("mm, ± U", strong(CHART))], 1e9)
    draw_lines(pen, value, CHART, x + scale.left + scale.wide + _GAP, top - 13)
    places = max(0, -math.floor(math.log10(scale.step) + 1e-9))
    for tick in scale.ticks():
        text = lines([Span(f"{round(tick, places) + 0.0:.{places}f}", CHART)], 1e9)
        draw_lines(pen, text, CHART, x + scale.x(tick) - text[0].width / 2, top - 11)
        pen.rule(x + scale.x(tick), top - _HEAD, x + scale.x(tick), top - _HEAD + 3, ink=GREY)
    right = x + scale.left + scale.wide + _GAP + _VALUE_WIDE
    pen.rule(x, top - _HEAD, right, top - _HEAD, ink=GREY, thick=0.8)


def _design(block: GapPlot) -> str:
    low, high = block.design_min_mm, block.design_max_mm
    if low is None and high is None:
        return "no design limits known"
    if low is None:
        return f"design: at most {high:g} mm"
    if high is None:
        return f"design: at least {low:g} mm"
    return f"design: {low:g} to {high:g} mm"


def _row(
    block: GapPlot, point: GapPoint, texts: tuple[Line, ...], scale: _Scale, room: Room
) -> Box:
    high = len(texts) * CHART.leading + _ROW_PAD * 2
    value = lines([Span(printed(point.value_mm, point.expanded_mm), strong(CHART))], _VALUE_WIDE)

    def draw(pen: Pen, x: float, top: float) -> None:
        _draw_ground(pen, block, scale, x, (top, high))
        draw_lines(pen, texts, CHART, x, top - _ROW_PAD)
        middle = top - high / 2
        _draw_point(pen, point, scale, x, middle)
        _draw_value(pen, value, x + scale.left + scale.wide + _GAP, middle)
        pen.rule(x, top - high, x + room.wide, top - high, ink=FAINT)

    return Box(high, draw)


def _told(point: GapPoint, room: Room, wide: float) -> tuple[Line, ...]:
    """Set label and statement; a statement that begins with the label does not repeat it."""
    label = Span(point.label, strong(CHART))
    told = spans(point.statement, CHART, room.numbers)
    if point.label and point.statement.text.startswith(point.label):
        return lines([label, Span(told[0].text[len(point.label) :], CHART), *told[1:]], wide)
    return (*lines([label], wide), *(lines(told, wide) if point.statement.text else ()))


def _draw_value(pen: Pen, value: tuple[Line, ...], x: float, middle: float) -> None:
    top = middle + len(value) * CHART.leading / 2
    for i, line in enumerate(value):
        pen.line(line, x, top - i * CHART.leading - baseline(CHART))


def _draw_ground(
    pen: Pen, block: GapPlot, scale: _Scale, x: float, across: tuple[float, float]
) -> None:
    """Shade the design's limits behind a row and continue the scale's marks."""
    top, high = across
    low, most = block.design_min_mm, block.design_max_mm
    if low is not None or most is not None:
        left = scale.x(low) if low is not None else scale.left
        right = scale.x(most) if most is not None else scale.left + scale.wide
        pen.fill(x + left, top - high, right - left, high, WASH)
    for tick in scale.ticks():
        pen.rule(x + scale.x(tick), top, x + scale.x(tick), top - high, ink=FAINT, thick=0.3)
    for limit in (low, most):
        if limit is not None:
            place = x + scale.x(limit)
            pen.rule(place, top, place, top - high, ink=BLUE, thick=0.7)


def _draw_point(pen: Pen, point: GapPoint, scale: _Scale, x: float, y: float) -> None:
    if not math.isfinite(point.value_mm):
        return
    if math.isfinite(point.expanded_mm):
        ends = [x + scale.x(point.value_mm + sign * point.expanded_mm) for sign in (-1, 1)]
        pen.rule(ends[0], y, ends[1], y, ink=BLACK, thick=1.1)
        for end in ends:
            pen.rule(end, y - 3, end, y + 3, ink=BLACK, thick=1.1)
    pen.disc(x + scale.x(point.value_mm), y, 2.6, BLACK)


def printed(value_mm: float, expanded_mm: float) -> str:
    """Print a value with its uncertainty: the uncertainty to two digits, rounded up.

    The value is rounded to the same place (JCGM 100:2008, 7.2.6).
    """
    if not math.isfinite(value_mm):
        return "no value"
    if not math.isfinite(expanded_mm) or expanded_mm <= 0:
        return f"{value_mm:.2f}"
    places = min(max(1 - math.floor(math.log10(expanded_mm)), 0), 4)
    step = 10.0**-places
    return f"{value_mm:.{places}f} ± {math.ceil(expanded_mm / step - 1e-9) * step:.{places}f}"
