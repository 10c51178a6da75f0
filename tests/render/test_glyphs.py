"""Every character is drawn by a font that holds it, or printed as a visible code."""

from __future__ import annotations

import unicodedata

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from claimkit.render.glyphs import FALLBACKS, _file, font, has_code, runs, shown, width

# The alphabets promised, by Unicode block (Blocks.txt, Unicode 15.1). Letters only; what a block
# leaves unassigned is left out by its category.
PROMISED = {
    "Basic Latin": (0x20, 0x7E),
    "Latin-1 Supplement": (0xA0, 0xFF),
    "Latin Extended-A": (0x100, 0x17F),
    "Latin Extended-B": (0x180, 0x24F),
    "Latin Extended Additional, without medieval Welsh": (0x1E00, 0x1EF9),
    "Greek and Coptic, letters": (0x370, 0x3E1),
    "Greek Extended": (0x1F00, 0x1FFF),
    "Cyrillic": (0x400, 0x4FF),
    "CJK Unified Ideographs, as of Unicode 1.1": (0x4E00, 0x9FA5),
    "CJK Unified Ideographs Extension A, as of Unicode 3.0": (0x3400, 0x4DA0),
    "Hiragana, as of Unicode 1.1": (0x3041, 0x3094),
    "Katakana, without Ainu letters": (0x30A1, 0x30F6),
}


@pytest.mark.parametrize("block", PROMISED)
def test_promised_alphabets_are_printed_as_they_are(block: str) -> None:
    first, last = PROMISED[block]
    letters = [chr(c) for c in range(first, last + 1) if unicodedata.category(chr(c))[0] in "LNPS"]
    coded = [char for char in letters if has_code(shown(char))]
    assert not coded


@pytest.mark.parametrize("name", FALLBACKS)
def test_a_shipped_font_holds_only_characters_with_an_outline(name: str) -> None:
    """Oracle: fontTools' reading of the file; a glyph without contours prints nothing."""
    whole = TTFont(_file(name))
    cmap = whole.getBestCmap()
    empty = [
        hex(code) for code, glyph in cmap.items() if whole["glyf"][glyph].numberOfContours == 0
    ]
    assert not empty
    assert _file(name).stat().st_size < 2_000_000


@pytest.mark.parametrize("name", FALLBACKS)
def test_widths_are_those_of_the_font(name: str) -> None:
    whole = TTFont(_file(name))
    cmap = whole.getBestCmap()
    code = sorted(cmap)[len(cmap) // 2]
    expected = whole["hmtx"][cmap[code]][0] * 1000 / whole["head"].unitsPerEm
    assert width(chr(code), name, 10) == pytest.approx(expected / 100, abs=0.02)


@pytest.mark.parametrize(
    "text, expected",
    [
        ("plain", "plain"),
        ("a\r\nb\rc\nd", "a\nb\nc\nd"),
        ("tab\there", "tab here"),
        ("\u0627", "⟨U+0627⟩"),  # Arabic needs shaping
        ("\u0928\u092e", "⟨U+0928⟩⟨U+092E⟩"),  # so does Devanagari
        ("\ud55c", "⟨U+D55C⟩"),  # Hangul is in no font
        ("\U0001f69a", "⟨U+1F69A⟩"),  # emoji
        ("\U00020000", "⟨U+20000⟩"),  # Han outside the promised blocks
        ("a\u202eb", "a⟨U+202E⟩b"),  # turns the direction of text
        ("a\u2066b\u2069", "a⟨U+2066⟩b⟨U+2069⟩"),
        ("a\u200bb\u200d\ufeff", "a⟨U+200B⟩b⟨U+200D⟩⟨U+FEFF⟩"),  # invisible
        ("soft\u00adhyphen", "soft⟨U+00AD⟩hyphen"),
        ("\u2764\ufe0f", "\u2764⟨U+FE0F⟩"),  # a variation selector prints nothing
        ("\x00\x1b[31m\x7f\x85", "⟨U+0000⟩⟨U+001B⟩[31m⟨U+007F⟩⟨U+0085⟩"),
        ("a\u2028b", "a⟨U+2028⟩b"),
        ("\ud800", "⟨U+D800⟩"),  # an unpaired surrogate cannot be written in UTF-8
        ("\ue000", "⟨U+E000⟩"),  # private use means nothing here
        ("\u3164", "⟨U+3164⟩"),  # a letter that prints nothing
        ("⟨U+0627⟩", "⟨U+27E8⟩U+0627⟨U+27E9⟩"),  # a typed code cannot pass for one
        ("e\u0301", "é"),  # as file names on some systems have it
        ("\u0438\u0306", "й"),
        ("x\u0302", "x\u0302"),  # no composed letter: the mark is drawn after it
        ("a" + "\u0301" * 9, "á\u0301\u0301" + "⟨U+0301⟩" * 6),  # piled marks hide the next line
        ("a\u2003b\u3000c", "a b c"),  # rare spaces
        ("", ""),
    ],
)
def test_what_is_printed(text: str, expected: str) -> None:
    assert shown(text) == expected


@given(st.text(st.characters(codec=None), max_size=40))
def test_everything_shown_is_held_by_the_font_of_its_run(text: str) -> None:
    made = shown(text)
    for strong in (False, True):
        for line in made.split("\n"):
            parts = list(runs(line, strong))
            assert "".join(part for _, part in parts) == line
            assert all(ord(char) in font(name).held for name, part in parts for char in part)


@given(st.text(st.characters(codec=None), max_size=40))
def test_nothing_shown_is_hidden(text: str) -> None:
    """Oracle: the general categories of unicodedata."""
    assert not [c for c in shown(text) if c != "\n" and unicodedata.category(c)[0] == "C"]


@given(st.text(st.characters(categories=("L", "N", "P", "S")), max_size=30))
def test_nothing_typed_is_lost(text: str) -> None:
    """Each character comes back as itself, as its code, or composed with its accent."""
    made = shown(text)
    whole = set(unicodedata.normalize("NFD", made))
    for char in text:
        coded = f"U+{ord(char):04X}" in made
        assert coded or set(unicodedata.normalize("NFD", char)) <= whole
