"""What cannot be read becomes a sentence: what stands there, and what to write instead.

Whoever typed the file is at a desk with an editor, not at a screen of code. So a problem names the
place as a person counts, shows what was found and gives words that can be typed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date, datetime, time
from decimal import Decimal

_SHOWN = 60  # characters of a found text that a problem repeats
_REPEATED = 400  # characters of what to write, which may hold the text that was found
_BITS_SHOWN = 100  # of a whole number; Python refuses to print one of thousands of digits
_COMPARED = 200  # characters of a text that are compared with known words
# Below this a suggestion misleads more than it helps: "qty" is 72 like "quantity", "foo" 60 like
# "photos" (tried on the keys of job.toml and fifty misspellings of them).
_LIKE = 70


class Unreadable(Exception):
    """A value that cannot be used: `found` says what stands there, `write` what to write.

    `needs_zone` is True where nothing is wrong with the value, but the site's zone is not known.
    """

    def __init__(self, found: str, write: str, *, needs_zone: bool = False) -> None:
        super().__init__(found)
        self.found = found
        self.write = write
        self.needs_zone = needs_zone


def quoted(text: str) -> str:
    """Show a text in double quotes on one line, shortened, with control characters visible."""
    cut = text if len(text) <= _SHOWN else text[: _SHOWN - 1] + "…"
    visible = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in cut)
    return f'"{visible}"'


def in_short(text: str) -> str:
    """Cut what to write where it repeats a text that is longer than a person reads."""
    return text if len(text) <= _REPEATED else text[: _REPEATED - 1] + "…"


def said(value: object) -> str:
    """Say what kind of value stands there, as a TOML file shows it."""
    if isinstance(value, bool):
        return f"{str(value).lower()} (a yes or no)"
    if isinstance(value, str):
        return f"the text {quoted(value)}"
    if isinstance(value, int) and value.bit_length() > _BITS_SHOWN:
        return "a very large number"
    if isinstance(value, list | tuple):
        return "a list of tables" if value and isinstance(value[0], dict) else "a list"
    shown = str(value)[:_SHOWN] if isinstance(value, _SHOWN_AS_THEY_ARE) else ""
    kind = next((words for of, words in _KINDS if isinstance(value, of)), "something else")
    return f"{kind} {shown}".rstrip()


_SHOWN_AS_THEY_ARE = (int, Decimal, float, date, time)
_KINDS: tuple[tuple[type, str], ...] = (
    (int, "the number"),
    (Decimal, "the number"),
    (float, "the number"),
    (datetime, "the date and time"),
    (date, "the date"),
    (time, "the time of day"),
    (dict, "a table"),
)


def by_likeness(word: str, known: Iterable[str]) -> tuple[tuple[str, float], ...]:
    """Give the known words with their likeness to a word, 0 to 100, the likest first.

    Letter case, spaces, hyphens and underscores do not count; a word that is part of the other
    counts as like it (RapidFuzz, weighted ratio).
    """
    from rapidfuzz import fuzz, process, utils  # needed only where something is wrong

    def plain(text: str) -> str:
        return utils.default_process(text).replace("_", " ")

    found = process.extract(
        word[:_COMPARED], sorted(set(known)), scorer=fuzz.WRatio, processor=plain, limit=None
    )
    return tuple((text, likeness) for text, likeness, _ in found)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Give the known word that is most like a word, or None where none is like it."""
    ranked = by_likeness(word, known)
    return ranked[0][0] if ranked and ranked[0][1] >= _LIKE else None


def likest(word: str, known: Collection[str], at_least: int = 80) -> str | None:
    """Give the known word with the fewest letters changed, or None under `at_least` of 100.

    Unlike `nearest` a part is not like its whole: for names that differ in their digits.
    """
    from rapidfuzz import fuzz, process  # needed only where something is wrong

    if word in known:
        return word
    found = process.extractOne(
        word[:_COMPARED], list(known), scorer=fuzz.ratio, score_cutoff=at_least
    )
    return found[0] if found else None


def listed(words: Iterable[str], last: str = "or") -> str:
    """Join words for print: 'a, b or c'."""
    all_words = list(words)
    if len(all_words) < 2:
        return "".join(all_words)
    return f"{', '.join(all_words[:-1])} {last} {all_words[-1]}"
