"""Which font holds a character, and what is printed for one that no font holds.

A missing glyph prints nothing at all, so every character is looked up before it is drawn.
Characters that are invisible, turn the direction of text or are in no font print as codes.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from pathlib import Path

REGULAR = "claimkit-regular"
STRONG = "claimkit-strong"
FALLBACKS = ("claimkit-more", "claimkit-han-1", "claimkit-han-2", "claimkit-han-3")

# Unicode 15, property Default_Ignorable_Code_Point, as far as the categories Cc, Cf, Cs and Co
# do not hold them already; with the braille blank, which prints nothing either.
_UNSEEN = (
    (0x034F, 0x034F), (0x115F, 0x1160), (0x17B4, 0x17B5), (0x180B, 0x180F), (0x2800, 0x2800),
    (0x3164, 0x3164), (0xFE00, 0xFE0F), (0xFFA0, 0xFFA0), (0xFFF0, 0xFFF8), (0xE0000, 0xE0FFF),
)  # fmt: skip
_CODED = {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}
_MARKS_KEPT = 2  # more marks than this on one letter would print over the lines beside it
_OPEN, _CLOSE = "⟨⟩"  # typed ones become codes too, so that no text can imitate a code
_PLAIN = re.compile(r"[ -~]*\Z")


@dataclass(frozen=True, slots=True)
class Font:
    """A loaded font: its registered name, the characters it holds and their widths in 1/1000."""

    name: str
    held: frozenset[int]
    widths: dict[int, float]


@cache
def font(name: str) -> Font:
    """Load a font once and register it with the PDF library under its name."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    loaded = TTFont(name, str(_file(name)), asciiReadable=False, shapable=False)
    pdfmetrics.registerFont(loaded)
    face = loaded.face
    held = frozenset(face.charToGlyph)
    return Font(name, held, {code: float(face.charWidths[code]) for code in held})


def _file(name: str) -> Path:
    if name in FALLBACKS:
        return Path(str(resources.files("claimkit.render") / "fonts" / f"{name}.ttf"))
    import font_source_sans_pro

    key = {REGULAR: "SourceSansPro", STRONG: "SourceSansProSemibold"}[name]
    return Path(font_source_sans_pro.font_files_ttf[key])


@cache
def _holder(code: int, strong: bool) -> str | None:
    for name in (STRONG if strong else REGULAR, *FALLBACKS):
        if code in font(name).held:
            return name
    return None


def has_code(text: str) -> bool:
    """Tell whether a text, as shown, holds a character's code in place of the character."""
    return _OPEN in text


def shown(text: str) -> str:
    """Give what is printed for a text: every character drawable, every hidden one visible.

    Line ends become LF, tabs and rare spaces a space. Characters that no font holds, controls,
    joiners, direction marks and unpaired surrogates become codes such as ⟨U+0627⟩.
    """
    if _PLAIN.match(text):
        return text
    text = re.sub(r"\r\n?", "\n", text).replace("\t", " ")
    return "".join(_shown_cluster(cluster) for cluster in _clusters(text))


def _clusters(text: str) -> Iterator[str]:
    """Split into characters, each with the combining marks that follow it."""
    start = 0
    for i in range(1, len(text) + 1):
        if i == len(text) or not unicodedata.category(text[i]).startswith("M"):
            yield text[start:i]
            start = i


def _shown_cluster(cluster: str) -> str:
    if len(cluster) == 1:
        return _shown_char(cluster)
    composed = unicodedata.normalize("NFC", cluster)
    if len(composed) < len(cluster) and _drawable(composed[0]):
        cluster = composed
    kept = cluster[: 1 + _MARKS_KEPT]
    rest = cluster[1 + _MARKS_KEPT :]
    return "".join(_shown_char(char) for char in kept) + "".join(_code(char) for char in rest)


@cache
def _shown_char(char: str) -> str:
    if char == "\n" or _drawable(char):
        return char
    return " " if unicodedata.category(char) == "Zs" else _code(char)


def _code(char: str) -> str:
    return f"{_OPEN}U+{ord(char):04X}{_CLOSE}"


def _drawable(char: str) -> bool:
    code = ord(char)
    if char in (_OPEN, _CLOSE) or unicodedata.category(char) in _CODED:
        return False
    unseen = any(first <= code <= last for first, last in _UNSEEN)
    return not unseen and _holder(code, False) is not None


def runs(text: str, strong: bool) -> Iterator[tuple[str, str]]:
    """Split a shown text into runs of one font: (registered name, text)."""
    base = STRONG if strong else REGULAR
    if _PLAIN.match(text):
        if text:
            yield base, text
        return
    start, now = 0, None
    for i, char in enumerate(text):
        name = _holder(ord(char), strong) or base
        if name != now:
            if now is not None:
                yield now, text[start:i]
            start, now = i, name
    if now is not None:
        yield now, text[start:]


@lru_cache(maxsize=8192)  # the same words return on every page
def width(text: str, name: str, size: float) -> float:
    """Measure a text in one font, in points."""
    widths = font(name).widths
    return sum(widths.get(ord(char), 0.0) for char in text) * size / 1000
