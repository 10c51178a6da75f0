"""Setting plain text in lines: no markup is read anywhere, so none can be injected.

A text is a row of spans, each with its look. Lines break at spaces, after slashes and hyphens in
words, between Han characters, and anywhere in a word that is wider than the line.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from claimkit.render.glyphs import runs, shown, width
from claimkit.render.style import Look

# Punctuation that may not begin or end a line (from JIS X 4051 and GB/T 15834, from memory).
_NOT_FIRST = set("、。，．：；？！）」』】〕〉》’”…‥ーぁぃぅぇぉっゃゅょァィゥェォッャュョ・％")
_NOT_LAST = set("（「『【〔〈《‘“￥＄")
_STRETCHES = re.compile(r"\n| +|[^ \n]+")
_PLAIN_WORD = re.compile(r"[ \n]+|[!-,.0-\[\]-~]+")  # in ASCII, without a slash or a hyphen


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of plain text of one look."""

    text: str
    look: Look


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of one font within a line, `x` points from the line's left end."""

    x: float
    text: str
    font: str
    look: Look
    width: float


@dataclass(frozen=True, slots=True)
class Line:
    """One set line. `width` leaves out spaces at its end."""

    pieces: tuple[Piece, ...]
    width: float


@dataclass(slots=True)
class _Setter:
    """The line being filled and the lines already full."""

    limit: float
    lines: list[Line] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)
    x: float = 0.0
    inked: float = 0.0

    def close(self) -> None:
        self.lines.append(Line(tuple(self.pieces), self.inked))
        self.pieces, self.x, self.inked = [], 0.0, 0.0

    def put(self, text: str, font: str, look: Look, wide: float) -> None:
        last = self.pieces[-1] if self.pieces else None
        if last and last.font == font and last.look == look:
            self.pieces[-1] = Piece(last.x, last.text + text, font, look, last.width + wide)
        else:
            self.pieces.append(Piece(self.x, text, font, look, wide))
        self.x += wide
        if text.strip(" "):
            self.inked = self.x


_Bit = tuple[str, str, Look, float]  # text, font, look, width


def lines(spans: Iterable[Span], limit: float) -> tuple[Line, ...]:
    """Set spans in lines no wider than `limit` points. At least one line, maybe empty."""
    limit = max(limit, 1.0)
    setter = _Setter(limit)
    for word in _words(spans):
        if word is None:
            setter.close()
            continue
        wide = sum(bit[3] for bit in word)
        blank = all(not bit[0].strip(" ") for bit in word)
        if blank:
            if setter.x + wide <= limit or not setter.pieces:
                _put(setter, word)
            continue
        if setter.x + wide > limit and setter.inked:
            setter.close()
        if setter.x + wide <= limit:
            _put(setter, word)
        else:
            _put_broken(setter, word)
    setter.close()
    return tuple(setter.lines)


def _put(setter: _Setter, word: list[_Bit]) -> None:
    for text, font, look, wide in word:
        setter.put(text, font, look, wide)


def _put_broken(setter: _Setter, word: list[_Bit]) -> None:
    """Put a word that is wider than a whole line, broken into parts of about the same width."""
    whole = sum(bit[3] for bit in word)
    even = whole / math.ceil(whole / setter.limit)
    for text, font, look, _ in word:
        for char in text:
            wide = width(char, font, look.size)
            full = setter.x + wide > setter.limit or setter.x >= even
            if full and setter.pieces:
                setter.close()
            setter.put(char, font, look, wide)


def _words(spans: Iterable[Span]) -> Iterator[list[_Bit] | None]:
    """Yield words and stretches of spaces in order; None where the text ends a line.

    Spans that follow each other without a place to break form one word.
    """
    word: list[_Bit] = []
    before = ""
    for span in spans:
        for i, part in enumerate(_parts(shown(span.text))):
            if word and (i > 0 or part == "\n" or _may_break(before, part[0])):
                yield word
                word = []
            before = part[-1]
            if part == "\n":
                yield None
                continue
            for font, text in runs(part, span.look.strong):
                wide = width(text, font, span.look.size)
                word.append((text, font, span.look, wide))
    if word:
        yield word


def _parts(text: str) -> Iterator[str]:
    for stretch in _STRETCHES.findall(text):
        if _PLAIN_WORD.fullmatch(stretch):
            yield stretch
        else:
            yield from _broken(stretch)


def _broken(stretch: str) -> Iterator[str]:
    start = 0
    for i in range(1, len(stretch)):
        if _may_break(stretch[i - 1], stretch[i], stretch[i - 2 : i - 1]):
            yield stretch[start:i]
            start = i
    yield stretch[start:]


def _may_break(left: str, right: str, further_left: str = "") -> bool:
    if not left or left == "\n":
        return True
    if (left == " ") != (right == " "):
        return True
    if left in _NOT_LAST or right in _NOT_FIRST:
        return False
    if _wide(left) or _wide(right) or (left == "⟩" and right == "⟨"):
        return True
    if left in "/\\":
        return right not in "/\\"
    return left in "-–—" and right.isalpha() and further_left.isalnum()


def _wide(char: str) -> bool:
    return (
        "\u2e80" <= char <= "\ua4cf" or "\uf900" <= char <= "\ufaff" or "\uff00" <= char <= "\uffef"
    )


def shortened(text: str, most: int) -> str:
    """Give a label of at most `most` characters, ending in … where it is cut."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


def one_line(spans: Iterable[Span], limit: float) -> Line:
    """Set spans in one line, ending in … where they are too long."""
    spans = tuple(spans)
    whole = lines((Span(s.text.replace("\n", " "), s.look) for s in spans), 1e9)[0]
    if whole.width <= limit:
        return whole
    look = spans[-1].look
    font, dots = next(iter(runs("…", look.strong)))
    ends = width(dots, font, look.size)
    setter = _Setter(limit)
    for piece in whole.pieces:
        for char in piece.text:
            wide = width(char, piece.font, piece.look.size)
            if setter.x + wide > limit - ends:
                setter.put(dots, font, look, ends)
                setter.close()
                return setter.lines[0]
            setter.put(char, piece.font, piece.look, wide)
    return whole
