"""The timeline drawn to scale in local time: shaded windows, records above, photos below.

A mark whose time is uncertain is a bar as wide as the uncertainty. Strips that enlarge a part say
how many times, and the strip they belong to shows their letter in place.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from claimkit.model.document import Timeline, TimelineMark
from claimkit.render.boxes import Box
from claimkit.render.clockface import (
    division,
    offsets_in_words,
    stretch_in_words,
    ticks,
)
from claimkit.render.lanes import DOT, Set, Spot, in_lanes, joined
from claimkit.render.pen import Pen
from claimkit.render.setting import Room, draw_lines, heading, line_boxes, spans, tag_spans
from claimkit.render.style import BLACK, BLUE, CHART, FAINT, GREY, HAIR, MINOR, NOTE, WASH, strong
from claimkit.render.text import Line, Span, lines, shortened
from claimkit.render.timeplan import Enlarged, Item, Strip, items_of, plan

_MOST_TICKS = 9
_LABEL = 90  # characters; the whole sentence stands in the table of events
_AXIS = 13.0
_SAME_SPOT = 3.0
_BETWEEN = 3.0
_BARELY = 2.0  # seconds; less is drawn as a point at every scale


def timeline(block: Timeline, room: Room) -> list[Box]:
    """Set a timeline: title, legend, a box for each strip, and what has no time."""
    zone = _zone(block.zone)
    boxes = heading(block.title, MINOR, room.wide, above=10.0)
    items = items_of(block.marks, block.bands, zone)
    if items:
        boxes.append(_legend(items))
        for i, strip in enumerate(plan(items)):
            drawing = _Drawing(strip, zone, room)
            alt = f"Strip {strip.letter}, an enlarged part of the timeline" if i else block.alt
            boxes.append(_strip_box(drawing, alt or "Timeline", room))
    undated = [mark for mark in block.marks if mark.kind == "undated"]
    if undated:
        boxes += _undated(undated, room)
    return boxes


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return ZoneInfo("UTC")


@dataclass(frozen=True, slots=True)
class _Drawing:
    """A strip with what its marks need to be placed."""

    strip: Strip
    zone: ZoneInfo
    room: Room

    def x(self, at: float) -> float:
        """Give the place of an instant, within the strip."""
        strip = self.strip
        inside = min(max(at, strip.begins), strip.ends)
        return (inside - strip.begins) / (strip.ends - strip.begins) * self.room.wide

    def bands(self) -> list[Spot]:
        """Give the labels of shaded stretches."""
        return [self._spot(i, "band", self._label(i)) for i in self.strip.items if i.is_band]

    def records(self, near: float) -> list[Spot]:
        """Give the marks of records; those nearer than `near` points become one."""
        own = [i for i in self.strip.items if not i.is_band and _kind(i) != "photo"]
        single = [self._spot(i, "record", self._label(i)) for i in own]

        def together(group: Sequence[int]) -> tuple[Span, ...]:
            sources = [s for n in group for s in own[n].what.statement.sources]
            tags = tag_spans(self.room.numbers, self.room.numbers.tags(sources), CHART)
            return (Span(f"{len(group)} records ", CHART), *tags)

        return joined(single, near, together) if near > 0 else single

    def photos(self, near: float) -> list[Spot]:
        """Give the marks of photos; those nearer than `near` points become one."""
        own = [i for i in self.strip.items if not i.is_band and _kind(i) == "photo"]
        single = [self._spot(i, "photo", self._label(i)) for i in own]

        def together(group: Sequence[int]) -> tuple[Span, ...]:
            sources = [s for n in group for s in own[n].what.statement.sources]
            told = self._photo_tags([own[n].what for n in group], sources)
            return (*told, Span(f" ({len(group)})", CHART)) if len(group) > 2 else told

        return joined(single, near, together)

    def enlarged(self) -> list[Spot]:
        """Give the places that another strip enlarges."""
        return [
            Spot(self.x(e.begins), self.x(e.ends), "enlarged", (Span(_counted(e), strong(CHART)),))
            for e in self.strip.enlarged
        ]

    def _spot(self, item: Item, kind: str, label: tuple[Span, ...]) -> Spot:
        return Spot(self.x(item.begins), self.x(item.ends), kind, label)

    def _label(self, item: Item) -> tuple[Span, ...]:
        what = item.what
        if isinstance(what, TimelineMark) and what.photo_no is not None:
            return self._photo_tags([what], what.statement.sources)
        tags = spans(what.statement, CHART, self.room.numbers)[1:]
        return (Span(shortened(what.label, _LABEL), CHART), *tags)

    def _photo_tags(self, marks: Sequence[object], sources: Sequence[object]) -> tuple[Span, ...]:
        """Give P3–P7 in plain type: the numbers are the labels here."""
        numbers = sorted(
            {m.photo_no for m in marks if isinstance(m, TimelineMark) and m.photo_no is not None}
        )
        told: list[Span] = []
        for text, number in _in_runs(numbers):
            if told and not told[-1].text.endswith("–"):
                told.append(Span(", ", CHART))
            told.append(Span(text, CHART.to(self.room.numbers.place(number))))
        if not told:
            told = [Span(f"{len(sources)} photos", CHART)]
        return tuple(told)


def _in_runs(numbers: Sequence[int]) -> list[tuple[str, str]]:
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = []
    for run in runs:
        if len(run) > 2:
            told += [(f"P{run[0]}–", f"P{run[0]}"), (f"P{run[-1]}", f"P{run[-1]}")]
        else:
            told += [(f"P{n}", f"P{n}") for n in run]
    return told


def _kind(item: Item) -> str:
    return item.what.kind if isinstance(item.what, TimelineMark) else "band"


def _counted(e: Enlarged) -> str:
    parts = []
    if e.photos:
        parts.append(f"{e.photos} photo{'s' if e.photos > 1 else ''}")
    if e.others:
        parts.append(f"{e.others} record{'s' if e.others > 1 else ''}")
    return f"{e.letter}: {', '.join(parts)}, enlarged below"


def _strip_box(drawing: _Drawing, alt: str, room: Room) -> Box:
    """Place a strip's marks in lanes and give one box; joins marks until it fits half a page."""
    limit = room.high * 0.55
    near = _SAME_SPOT
    while True:
        groups = (
            drawing.bands(),
            drawing.records(0.0 if near == _SAME_SPOT else near),
            drawing.enlarged(),
            drawing.photos(near),
        )
        placed = [in_lanes(spots, room.wide, CHART) for spots in groups if spots]
        high = sum(tall for _, tall in placed) + _BETWEEN * len(placed)
        if high <= limit or near > room.wide:
            break
        near *= 2
    title = lines([Span(_title(drawing), CHART)], room.wide)
    above = len(title) * CHART.leading + 3

    def draw(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, title, CHART, x, top)
        with pen.described(alt):
            _draw_strip(pen, drawing, placed, (x, top - above), high)

    return Box(above + high + _AXIS, draw, above=9.0)


def _title(drawing: _Drawing) -> str:
    strip, zone = drawing.strip, drawing.zone
    step = division(strip.ends - strip.begins, _MOST_TICKS)
    period = stretch_in_words(strip.begins, strip.ends, zone)
    where = f" ({zone.key}, {offsets_in_words(strip.begins, strip.ends, zone)})"
    what = "Whole period to scale"
    if strip.letter:
        what = f"{strip.letter}, enlarged {strip.times:,.0f} times"
        where = ""
    return f"{what}: {period}{where}. One division is {step.words()}."


def _draw_strip(
    pen: Pen,
    drawing: _Drawing,
    placed: Sequence[tuple[tuple[Set, ...], float]],
    at: tuple[float, float],
    high: float,
) -> None:
    x, top = at
    foot = top - high
    for item in drawing.strip.items:
        if item.is_band:
            left, right = drawing.x(item.begins), drawing.x(item.ends)
            pen.fill(x + left, foot, max(right - left, 1.2), high, WASH)
    _draw_axis(pen, drawing, x, (top, foot))
    down = 0.0
    for sets, tall in placed:
        for one in sets:
            _draw_set(pen, one, x, top - down - one.down)
        down += tall + _BETWEEN


def _draw_axis(pen: Pen, drawing: _Drawing, x: float, ends: tuple[float, float]) -> None:
    top, foot = ends
    strip = drawing.strip
    step = division(strip.ends - strip.begins, _MOST_TICKS)
    for at, label in ticks(strip.begins, strip.ends, step, drawing.zone):
        place = drawing.x(at)
        pen.rule(x + place, top, x + place, foot, ink=FAINT, thick=0.4)
        pen.rule(x + place, foot, x + place, foot - 3, ink=GREY)
        text = lines([Span(label, CHART)], 1e9)
        left = min(max(place - text[0].width / 2, 0.0), drawing.room.wide - text[0].width)
        draw_lines(pen, text, CHART, x + left, foot - 3)
    pen.rule(x, foot, x + drawing.room.wide, foot, ink=GREY, thick=0.8)


def _draw_set(pen: Pen, one: Set, x: float, top: float) -> None:
    spot = one.spot
    y = top - CHART.leading / 2
    left, right = x + spot.left, x + spot.right
    if spot.kind == "band":
        pen.rule(left, y, right, y, ink=BLUE, thick=1.6)
    elif spot.kind == "enlarged":
        pen.fill(left - 1, y - 3, max(right - left, 1.0) + 2, 6, BLUE)
    elif right - left <= 2 * DOT:
        _draw_point(pen, spot.kind, (left + right) / 2, y)
    else:
        pen.rule(left, y, right, y, ink=BLACK, thick=1.0)
        for end in (left, right):
            pen.rule(end, y - 2.4, end, y + 2.4, ink=BLACK, thick=1.0)
    drop = CHART.leading if one.label_below else 0.0
    draw_lines(pen, one.lines, CHART, x + one.label_x, top - drop)


def _draw_point(pen: Pen, kind: str, x: float, y: float) -> None:
    if kind == "photo":
        pen.disc(x, y, DOT - 0.4, BLACK)
    else:
        pen.shape([(x - DOT, y), (x, y - DOT), (x + DOT, y), (x, y + DOT)], BLACK)


def _legend(items: Sequence[Item]) -> Box:
    """Explain the signs that this timeline uses."""
    kinds = {_kind(item) for item in items}
    signs = [("photo", "photo")] if "photo" in kinds else []
    if kinds - {"photo", "band"}:
        signs.insert(0, ("record", "record"))
    if any(item.ends - item.begins > _BARELY for item in items if not item.is_band):
        signs.append(("bar", "at some time within the bar"))
    if "band" in kinds:
        signs.append(("band", "shaded window"))
    texts = [lines([Span(text, NOTE)], 1e9) for _, text in signs]

    def draw(pen: Pen, x: float, top: float) -> None:
        y = top - NOTE.leading / 2
        for (kind, _), text in zip(signs, texts, strict=True):
            x = _draw_sign(pen, kind, x, y)
            draw_lines(pen, text, NOTE, x + 4, top)
            x += 4 + text[0].width + 14

    return Box(NOTE.leading, draw, above=2.0, stays=True)


def _draw_sign(pen: Pen, kind: str, x: float, y: float) -> float:
    """Draw a sign of the legend; give where it ends."""
    if kind in ("record", "photo"):
        _draw_point(pen, kind, x + DOT, y)
        return x + 2 * DOT
    if kind == "band":
        pen.fill(x, y - 3.5, 14, 7, WASH)
        pen.frame(x, y - 3.5, 14, 7, ink=HAIR)
        return x + 14
    pen.rule(x, y, x + 16, y, ink=BLACK, thick=1.0)
    for end in (x, x + 16):
        pen.rule(end, y - 2.4, end, y + 2.4, ink=BLACK, thick=1.0)
    return x + 16


def _undated(marks: Sequence[TimelineMark], room: Room) -> list[Box]:
    told: list[Span] = [Span("Not dated, so not drawn: ", strong(CHART))]
    for i, mark in enumerate(marks):
        if i:
            told.append(Span("; ", CHART))
        if mark.photo_no is not None:
            told.append(
                Span(f"P{mark.photo_no}", CHART.to(room.numbers.place(f"P{mark.photo_no}")))
            )
        else:
            told += [Span(mark.label, CHART), *spans(mark.statement, CHART, room.numbers)[1:]]
    set_lines: tuple[Line, ...] = lines(told, room.wide)
    return line_boxes(set_lines, CHART, above=6.0)
