"""What stands before and after a packet's sections: title, contents, and the list of sources."""

from __future__ import annotations

from dataclasses import replace

from claimkit.model.document import Document
from claimkit.render.boxes import Box
from claimkit.render.pen import Pen
from claimkit.render.setting import Room, draw_lines, heading, line_boxes
from claimkit.render.sources import KINDS, Entry
from claimkit.render.style import (
    BLUE,
    BODY,
    CELL_SMALL,
    GREY,
    HAIR,
    HEADING,
    MINOR,
    NOTE,
    SUBTITLE,
    TITLE,
    strong,
)
from claimkit.render.text import Span, lines, one_line

SOURCES = "sources-list"
_NUMBER_WIDE = 30.0


def title_block(document: Document, room: Room) -> list[Box]:
    """Set the title, what the packet is, and how sources are named."""
    rule = Box(3.0, lambda pen, x, top: pen.fill(x, top - 2.2, room.wide, 2.2, BLUE), stays=True)
    told = " · ".join(text for text in (document.subtitle, document.made) if text)
    note = "Each statement ends with its sources: " + ", ".join(
        f"{letter} {name}" for letter, name in KINDS if _used(letter, room)
    )
    title = line_boxes(lines([Span(document.title, TITLE)], room.wide), TITLE, above=8.0)
    boxes = [
        rule,
        *(replace(box, role="H1") for box in title),
        *line_boxes(lines([Span(told, SUBTITLE)], room.wide), SUBTITLE, above=2.0),
    ]
    if room.numbers.by_source:
        text = f"{note}. The list at the end says which file or text each one is."
        boxes += line_boxes(lines([Span(text, NOTE)], room.wide), NOTE, above=4.0)
    return boxes


def _used(letter: str, room: Room) -> bool:
    return any(entry.number[0] == letter for entry in room.numbers.entries)


def contents(document: Document, room: Room) -> list[Box]:
    """Set the table of contents in two columns, page numbers filled in when drawn."""
    rest = [(section.id, section.title) for section in document.sections[1:]]
    if room.numbers.entries:
        rest.append((SOURCES, "Sources"))
    if not rest:
        return []
    columns = 2 if len(rest) > 3 else 1
    deep = -(-len(rest) // columns)
    wide = (room.wide - 24 * (columns - 1)) / columns

    def draw(pen: Pen, x: float, top: float) -> None:
        for i, (section, title) in enumerate(rest):
            left = x + (i // deep) * (wide + 24)
            _contents_line(pen, section, title, (left, top - (i % deep) * BODY.leading), wide)

    head = heading("Contents", MINOR, room.wide, above=16.0)
    return [*head, Box(deep * BODY.leading, draw, above=2.0)]


def _contents_line(
    pen: Pen, section: str, title: str, at: tuple[float, float], wide: float
) -> None:
    look = BODY.to(f"section-{section}")
    number = lines([Span(str(pen.pages.get(section, "")), look)], 1e9)
    text = one_line([Span(title, look)], wide - 30)
    draw_lines(pen, (text,), BODY, *at)
    draw_lines(pen, number, BODY, at[0] + wide - number[0].width, at[1])
    y = at[1] - BODY.leading * 0.75
    pen.rule(at[0] + text.width + 5, y, at[0] + wide - number[0].width - 5, y, ink=HAIR, thick=0.3)


def source_list(room: Room) -> list[Box]:
    """Set the numbered list of sources: path and keys, or the text; first 12 of the hash."""
    entries = [e for e in room.numbers.entries if e.number not in room.numbers.plates]
    plated = [e for e in room.numbers.entries if e.number in room.numbers.plates]
    if not room.numbers.entries:
        return []
    head = heading("Sources", HEADING, room.wide, above=24.0)
    drawn = head[0].draw

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.mark(f"section-{SOURCES}", top + 6)
        drawn(pen, x, top)

    boxes = [replace(head[0], draw=draw, opens=SOURCES), *head[1:]]
    note = "Hashes are the first 12 digits of the SHA-256 of the whole file."
    if plated:
        note += " Photos with a number P stand at their plates, with file and hash."
    noted = line_boxes(lines([Span(note, NOTE)], room.wide), NOTE, above=4.0)
    boxes += [replace(box, stays=True) for box in noted]
    for i, entry in enumerate(entries):
        boxes += _source(entry, room, above=6.0 if i == 0 else 1.2)
    return boxes


def _source(entry: Entry, room: Room, above: float) -> list[Box]:
    told = lines(_told(entry), room.wide - _NUMBER_WIDE)
    number = lines([Span(entry.number, strong(CELL_SMALL))], _NUMBER_WIDE)
    boxes = line_boxes(told, CELL_SMALL, indent=_NUMBER_WIDE, above=above)
    first = boxes[0]

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.mark(entry.place, top + 4)
        draw_lines(pen, number, CELL_SMALL, x, top)
        first.draw(pen, x, top)

    boxes[0] = replace(first, draw=draw)
    return boxes


def _told(entry: Entry) -> list[Span]:
    if entry.citation:
        return [Span(entry.citation, CELL_SMALL)]
    text = " and ".join(entry.paths) or "file"
    if entry.keys:
        text += f": {', '.join(entry.keys)}"
    if entry.pages:
        text += f", page {', '.join(str(page) for page in sorted(entry.pages))}"
    grey = replace(CELL_SMALL, ink=GREY)
    code = [Span(f" · sha256 {entry.sha256[:12]}", grey)] if entry.sha256 else []
    return [Span(text, CELL_SMALL), *code]
