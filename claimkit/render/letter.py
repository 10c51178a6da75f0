"""A letter: who writes, to whom, the day, the subject and its numbers, the text, lines to sign.

The text is set as in a packet. A draft that may not be sent as it stands says so in a frame at its
head. The list of sources closes it, so that each sentence can be followed to a file.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from claimkit.model.document import Block, Document, LetterHead, Paragraphs, Statement
from claimkit.render.boxes import Box
from claimkit.render.ends import source_list
from claimkit.render.pen import Pen
from claimkit.render.setting import Room, draw_lines, heading, line_boxes, spans
from claimkit.render.style import BLACK, BODY, GREY, MINOR, NOTE, Look, strong
from claimkit.render.text import Line, Span, lines

OWN_WORDS = "claimkit method: letters"
SUBJECT = Look(12.2, 16, strong=True)
_LABEL_WIDE = 128.0
_SIGN_HIGH = 34.0
_SIGN_WIDE = 250.0
_PAD = 6.0


def letter_boxes(
    document: Document, room: Room, block: Callable[[Block, Room], list[Box]]
) -> list[Box]:
    """Set a letter. `block` sets one block of its text."""
    head = document.letter
    if head is None:
        raise ValueError("a letter has a head")
    boxes = [*_warning(head, room), *_sender(head, room), *_addressed(head, room)]
    boxes += _references(head, room)
    if head.greeting:
        boxes += _lines(head.greeting, room, BODY, above=12.0)
    for section in document.sections:
        if section.title:
            boxes += heading(section.title, MINOR, room.wide, above=12.0)
        for one in section.blocks:
            boxes += block(_without_own_words(one), room)
    boxes += [_sign(label, last=i == len(head.sign)) for i, label in enumerate(head.sign, 1)]
    boxes += _enclosures(head, room)
    return boxes + source_list(room)


def _without_own_words(block: Block) -> Block:
    """Leave out the tag of what the writer asks or offers: it rests on nothing but the letter."""
    if isinstance(block, Paragraphs):
        return replace(block, statements=tuple(_bare(s) for s in block.statements))
    return block


def _bare(statement: Statement) -> Statement:
    kept = tuple(s for s in statement.sources if s.citation != OWN_WORDS)
    return replace(statement, sources=kept)


def _lines(
    statement: Statement, room: Room, look: Look, *, above: float = 0.0, tags: bool = True
) -> list[Box]:
    said = spans(_bare(statement), look, room.numbers) if tags else [Span(statement.text, look)]
    return line_boxes(lines(said, room.wide), look, above=above)


def _warning(head: LetterHead, room: Room) -> list[Box]:
    """Set what keeps a draft back in a frame."""
    if head.warning is None:
        return []
    look = strong(BODY)
    said = lines([Span(head.warning.text, look)], room.wide - 2 * _PAD)
    high = len(said) * look.leading + 2 * _PAD

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.frame(x, top - high, room.wide, high, ink=BLACK, thick=1.2)
        draw_lines(pen, said, look, x + _PAD, top - _PAD)

    return [Box(high, draw)]


def _sender(head: LetterHead, room: Room) -> list[Box]:
    boxes: list[Box] = []
    for i, statement in enumerate(head.sender):
        look = strong(BODY) if i == 0 else BODY
        boxes += _lines(statement, room, look, above=12.0 if i == 0 else 0.0, tags=False)
    return [*boxes, *_lines(head.day, room, BODY, above=12.0, tags=False)]


def _addressed(head: LetterHead, room: Room) -> list[Box]:
    boxes: list[Box] = []
    for i, statement in enumerate(head.to):
        boxes += _lines(statement, room, BODY, above=12.0 if i == 0 else 0.0, tags=False)
    boxes += _lines(head.how, room, NOTE, above=4.0, tags=False)
    subject = _lines(head.subject, room, SUBJECT, above=16.0, tags=False)
    return [*boxes, *(replace(box, role="H1", stays=True) for box in subject)]


def _references(head: LetterHead, room: Room) -> list[Box]:
    boxes: list[Box] = []
    for i, (label, statement) in enumerate(head.references):
        named = lines([Span(label, replace(BODY, ink=GREY))], _LABEL_WIDE - 8)
        said = spans(statement, BODY, room.numbers)
        value = line_boxes(lines(said, room.wide - _LABEL_WIDE), BODY, indent=_LABEL_WIDE)
        first = value[0]
        boxes.append(
            replace(first, draw=_beside(named, first), above=6.0 if i == 0 else 0.0),
        )
        boxes += value[1:]
    return boxes


def _beside(named: Sequence[Line], first: Box) -> Callable[[Pen, float, float], None]:
    def draw(pen: Pen, x: float, top: float) -> None:
        draw_lines(pen, named[:1], BODY, x, top)
        first.draw(pen, x, top)

    return draw


def _sign(label: str, *, last: bool) -> Box:
    """Leave a line to be filled in by hand, its label beneath."""
    named = lines([Span(label, NOTE)], _SIGN_WIDE)

    def draw(pen: Pen, x: float, top: float) -> None:
        y = top - _SIGN_HIGH + NOTE.leading + 2
        pen.rule(x, y, x + _SIGN_WIDE, y, ink=BLACK, thick=0.6)
        draw_lines(pen, named, NOTE, x, y - 1)

    return Box(_SIGN_HIGH, draw, stays=not last)


def _enclosures(head: LetterHead, room: Room) -> list[Box]:
    if not head.enclosures:
        return []
    boxes = heading("Enclosed", MINOR, room.wide, above=14.0)
    for statement in head.enclosures:
        boxes += _lines(statement, room, BODY)
    return boxes
