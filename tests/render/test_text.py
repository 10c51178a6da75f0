"""Lines: nothing wider than its room, nothing lost, breaks where a reader expects them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.render.glyphs import width
from claimkit.render.style import BODY, strong
from claimkit.render.text import Line, Span, lines, one_line


def text_of(line: Line) -> str:
    """Give a line's text without the spaces at its end."""
    return "".join(piece.text for piece in line.pieces).rstrip(" ")


def broken(text: str, limit: float) -> list[str]:
    """Break a text of one look."""
    return [text_of(line) for line in lines([Span(text, BODY)], limit)]


words = st.text(st.sampled_from("abcdefgh -/WMi.,汉字纸箱。（）é⟩\n"), max_size=120)


@given(words, words, st.floats(20, 300))
def test_no_line_is_wider_than_its_room(one: str, two: str, limit: float) -> None:
    for line in lines([Span(one, BODY), Span(two, strong(BODY))], limit):
        assert line.width <= limit + 0.01
        for piece in line.pieces:
            measured = width(piece.text, piece.font, piece.look.size)
            assert piece.width == pytest.approx(measured, abs=0.01)


@given(words, st.floats(20, 300))
def test_pieces_follow_each_other(text: str, limit: float) -> None:
    for line in lines([Span(text, BODY), Span(text, strong(BODY))], limit):
        ends = 0.0
        for piece in line.pieces:
            assert piece.x == pytest.approx(ends, abs=0.01)
            ends = piece.x + piece.width


@given(words, st.floats(20, 300))
def test_nothing_but_spaces_is_lost(text: str, limit: float) -> None:
    kept = "".join(broken(text, limit)).replace(" ", "")
    assert kept == text.replace(" ", "").replace("\n", "").replace("⟩", "⟨U+27E9⟩")


@given(words)
def test_line_ends_are_kept(text: str) -> None:
    assert len(broken(text, 10_000)) == text.count("\n") + 1


@pytest.mark.parametrize(
    "text, limit, expected",
    [
        ("one two three", 45, ["one two", "three"]),
        ("photos/curb/IMG_1.jpg", 62, ["photos/curb/", "IMG_1.jpg"]),  # after a slash
        ("half-opened", 35, ["half-", "opened"]),  # after a hyphen in a word
        ("UTC−05:00 -05:00", 46, ["UTC−05:00", "-05:00"]),  # a sign stays with its number
        ("纸箱四件。破损", 50, ["纸箱四件。", "破损"]),  # no full stop begins a line
        ("纸箱（四件）", 30, ["纸箱", "（四", "件）"]),  # no opening bracket ends one
        ("abcdefghij" * 2, 60, ["abcdefghij"] * 2),  # a long word in even parts
        ("", 50, [""]),
        ("  led by spaces", 200, ["  led by spaces"]),
        ("two\n\nlines", 200, ["two", "", "lines"]),
    ],
)
def test_where_lines_break(text: str, limit: float, expected: list[str]) -> None:
    assert broken(text, limit) == expected


@pytest.mark.parametrize("count", range(1, 60))
def test_a_word_of_any_length_fits(count: int) -> None:
    for letter in "MWi":
        for limit in (30.0, 50.0, 77.7):
            made = lines([Span(letter * count, BODY)], limit)
            assert all(line.width <= limit for line in made)
            assert sum(len(text_of(line)) for line in made) == count


def test_a_tag_stays_whole() -> None:
    """The text of a link is one word even where its look differs from its neighbours'."""
    spans = [Span("word word ", BODY), Span("[", BODY), Span("R12", strong(BODY)), Span("]", BODY)]
    assert [text_of(line) for line in lines(spans, 60)] == ["word word", "[R12]"]


@given(words, st.floats(30, 200))
def test_one_line_ends_in_dots_where_it_is_cut(text: str, limit: float) -> None:
    line = one_line([Span(text, BODY)], limit)
    flat = text_of(line)
    assert line.width <= limit + 0.01
    whole = text.replace("\n", " ").replace("⟩", "⟨U+27E9⟩").rstrip(" ")
    assert flat == whole or (flat.endswith("…") and whole.startswith(flat[:-1].rstrip(" ")))
