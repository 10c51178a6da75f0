"""Paragraphs, lists and the first page's answer, set as boxes.

A statement's emphasis is printed as a word in front of it, so that it survives a grey print.
"""

from __future__ import annotations

from dataclasses import replace

from claimkit.model.document import Answers, Paragraphs, Statement
from claimkit.render.boxes import Box
from claimkit.render.pen import Pen
from claimkit.render.setting import Room, baseline, draw_lines, line_boxes, spans
from claimkit.render.style import ANSWER, ANSWER_LABEL, BLACK, BODY, HAIR, WORD
from claimkit.render.text import Line, Span, lines

_WORD_WIDE = 76.0
_BULLET_WIDE = 11.0
_LABEL_PART = 0.25


def paragraphs(block: Paragraphs, room: Room) -> list[Box]:
    """Set statements one below the other."""
    marked = any(statement.emphasis for statement in block.statements)
    boxes: list[Box] = []
    for i, statement in enumerate(block.statements):
        above = 8.0 if i == 0 else 3.2
        boxes += _paragraph(statement, room, above, block.bulleted, marked)
    return [replace(box, stays=True) for box in boxes] if block.heads else boxes


def _paragraph(
    statement: Statement, room: Room, above: float, bulleted: bool, marked: bool
) -> list[Box]:
    indent = _WORD_WIDE if marked else _BULLET_WIDE if bulleted else 0.0
    text = lines(spans(statement, BODY, room.numbers), room.wide - indent)
    boxes = line_boxes(text, BODY, indent=indent, above=above)
    if indent:
        boxes[0] = _with_mark(boxes[0], statement.emphasis, indent)
    return boxes


def _with_mark(box: Box, emphasis: str, indent: float) -> Box:
    """Put the emphasis in front of the first line: its word and sign, or a plain dot."""
    word = lines([Span(emphasis, WORD)], 1e9)[0]

    def draw(pen: Pen, x: float, top: float) -> None:
        middle = top - BODY.leading * 0.5
        if emphasis:
            sign(pen, emphasis, x + 3, middle)
            pen.line(word, x + 9.5, top - baseline(BODY))
        else:
            pen.disc(x + indent - 6.5, middle, 1.3, BLACK)
        box.draw(pen, x, top)

    return replace(box, draw=draw)


def sign(pen: Pen, emphasis: str, x: float, y: float) -> None:
    """Draw the sign of an emphasis around (x, y): plus, minus, open square, triangle."""
    if emphasis == "supports":
        pen.rule(x - 2.6, y, x + 2.6, y, ink=BLACK, thick=1.3)
        pen.rule(x, y - 2.6, x, y + 2.6, ink=BLACK, thick=1.3)
    elif emphasis == "does not support":
        pen.rule(x - 2.6, y, x + 2.6, y, ink=BLACK, thick=1.3)
    elif emphasis == "missing":
        pen.frame(x - 2.4, y - 2.4, 4.8, 4.8, ink=BLACK, thick=0.9)
    elif emphasis == "caution":
        pen.shape([(x - 3, y - 2.5), (x + 3, y - 2.5), (x, y + 2.9)], BLACK)


def answers(block: Answers, room: Room) -> list[Box]:
    """Set the answer: label on the left, statement in large type on the right, thin rules."""
    boxes: list[Box] = []
    for i, (label, statement) in enumerate(block.rows):
        boxes += _answer(label, statement, room, above=10.0 if i == 0 else 0.0)
    boxes.append(Box(1.0, lambda pen, x, top: pen.rule(x, top, x + room.wide, top)))
    return boxes


def _answer(label: str, statement: Statement, room: Room, above: float) -> list[Box]:
    left = room.wide * _LABEL_PART
    said = lines(spans(statement, ANSWER, room.numbers), room.wide - left)
    named = lines([Span(label, ANSWER_LABEL)], left - 10)
    word = lines([Span(statement.emphasis, WORD)], left - 20)
    rows = max(len(said), len(named) + bool(statement.emphasis))
    boxes: list[Box] = []
    for i in range(rows):
        parts = (said[i : i + 1], named[i : i + 1], word if i == len(named) else ())
        boxes.append(
            _answer_row(parts, statement.emphasis, room.wide, left, (i == 0, i == rows - 1))
        )
    boxes[0] = replace(boxes[0], above=above)
    return boxes


def _answer_row(
    parts: tuple[tuple[Line, ...], tuple[Line, ...], tuple[Line, ...]],
    emphasis: str,
    wide: float,
    left: float,
    ends: tuple[bool, bool],
) -> Box:
    said, named, word = parts
    first, last = ends
    pad = 5.0

    def draw(pen: Pen, x: float, top: float) -> None:
        if first:
            pen.rule(x, top, x + wide, top, ink=HAIR)
        top -= pad if first else 0.0
        draw_lines(pen, said, ANSWER, x + left, top)
        draw_lines(pen, named, ANSWER_LABEL, x, top)
        if word and emphasis:
            sign(pen, emphasis, x + 3, top - ANSWER.leading * 0.5)
            draw_lines(pen, word, ANSWER, x + 9.5, top)

    high = ANSWER.leading + pad * first + pad * last
    return Box(high, draw, stays=not last)
