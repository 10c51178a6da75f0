"""The bytes of a TOML file become its values, or sentences about what keeps it from being read.

People write these files in whatever editor opens: with byte order marks, in another encoding, with
curly quotes, with values that want quotes. Each such mistake is named with its line and its usual
cause, and reading goes on past a broken line where that is safe, so that all are told at once.
"""

from __future__ import annotations

import codecs
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from claimkit.intake.entries.problems import Unreadable, in_short
from claimkit.intake.entries.toml_mistakes import cause
from claimkit.model.facts import Problem
from claimkit.rules.receiving import RECORD_BEGINS, RECORD_ENDS

LARGEST_RECORD, LARGEST_JOB = 256 * 1024, 1024 * 1024  # bytes; a day's record has under 10 KB
_MOST_BROKEN = 20  # lines told one by one; after that the file is another kind of file
_DEEPEST = 100  # dots in one key: tomllib's time grows with their square

_PLACE = re.compile(r"\(at (?:line (\d+), column (\d+)|end of document)\)$")
_ONE_VALUE = re.compile(r"\s*(?:\"[^\"]*\"|'[^']*'|[\w.-]+)[^\S\n]*[=:]|\s*//|\s*\w+ \w+[^\S\n]*=")
# Texts over several lines; one that is not closed goes on to the end, so that time stays linear.
_BLOCKS = re.compile(
    r'"""(?:[^\\]|\\.?)*?(?:"""|\Z)' + r"|'''.*?(?:'''|\Z)",
    re.DOTALL,
)
_KEY = re.compile(r"\s*[\"']?([\w-]+)")
_DATE = re.compile(
    r"(?<=[=\[,\s])\d{4}-\d{2}-\d{2}"
    r"(?:[Tt ]\d{2}:\d{2}(?::\d{2}(?:[.]\d+)?)?(?:[Zz]|[+-]\d{2}:\d{2})?)?"
)


@dataclass(frozen=True, slots=True)
class TomlFile:
    """What a file holds.

    `values` is None where nothing could be read. `left_out` are the keys of lines that could not
    be read and were passed over. `spelled` maps type and ISO form of each date to its spelling.
    """

    values: dict[str, Any] | None
    problems: tuple[Problem, ...]
    left_out: frozenset[str]
    spelled: Mapping[tuple[type, str], str]


def read_toml(data: bytes, path: str, largest: int) -> TomlFile:
    """Read the bytes of one TOML file; numbers with a fraction become Decimal.

    Never raises for what a file holds: a file that is too large, in another encoding, or broken
    gives problems, all of its broken lines at once.
    """
    problems: list[Problem] = []
    try:
        text = _text(data, path, largest, problems)
    except Unreadable as no:
        return TomlFile(None, (Problem(path, "", no.found, no.write),), frozenset(), {})
    text, lost = _whole_lines(text, path, problems)
    values, broken, left_out = _values(text, path)
    return TomlFile(values, (*problems, *broken), left_out | lost, _spelled(text))


def _whole_lines(text: str, path: str, problems: list[Problem]) -> tuple[str, frozenset[str]]:
    """Take the half line off a record of the receiving page that was cut short on its way.

    What is left of it would be TOML, and a count of 12 be read as 1. Gives the text and the key
    that was lost; a whole record, or one that somebody typed, is given as it is.
    """
    lines = text.split("\n")
    if lines[0].strip() != f"# {RECORD_BEGINS}" or f"# {RECORD_ENDS}" in map(str.strip, lines):
        return text, frozenset()
    problems.append(
        Problem(
            path,
            f"line {len(lines)}",
            "the record was made with the receiving page and was cut short on its way: its last "
            "line is missing, and what stood before it may be too.",
            "Save it again from the telephone; where you know that all of it is here, write "
            f'"# {RECORD_ENDS}" as its last line.',
        )
    )
    key = _KEY.match(lines[-1])
    return "\n".join((*lines[:-1], "")), frozenset({key[1]} if key else ())


def _text(data: bytes, path: str, largest: int, problems: list[Problem]) -> str:
    """Decode; a wrong encoding is a problem, and the text goes on as it was probably meant."""
    if len(data) > largest:
        raise Unreadable(
            f"the file has {len(data):,} bytes; such a file may have {largest:,}.",
            "Keep photos and documents in their own folders, and write here only what is said.",
        )
    for mark, name in (
        (codecs.BOM_UTF8, "utf-8-sig"),
        (codecs.BOM_UTF16_LE, "utf-16"),
        (codecs.BOM_UTF16_BE, "utf-16"),
    ):
        if data.startswith(mark) and not data.startswith(codecs.BOM_UTF32_LE):
            return _decoded(data, name)
    if b"\0" in data:
        raise Unreadable(
            "the file holds NUL bytes: it is not plain text, or is in an encoding such as UTF-16.",
            "Open it in a text editor and save it with the encoding UTF-8.",
        )
    try:
        return _lines(data.decode("utf-8"))
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"the byte 0x{data[error.start]:02X} is not UTF-8: the file has another encoding."
        write = "Save it with the encoding UTF-8 (in the editor: Save as, Encoding)."
        problems.append(Problem(path, f"line {line}", found, write))
        return _lines(data.decode("cp1252", errors="replace"))


def _decoded(data: bytes, name: str) -> str:
    try:
        text = data.decode(name)
    except UnicodeDecodeError:
        raise Unreadable(
            f"the file begins as {name[:6].upper()} and goes on as something else.",
            "Open it in a text editor and save it with the encoding UTF-8.",
        ) from None
    if "\0" in text:
        raise Unreadable("the file holds NUL characters.", "Write it anew in a text editor.")
    return _lines(text)


def _lines(text: str) -> str:
    """Give every line the same end, whichever system wrote it."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _values(
    text: str, path: str
) -> tuple[dict[str, Any] | None, tuple[Problem, ...], frozenset[str]]:
    """Parse, passing over broken lines that hold one key each."""
    if too_deep := _too_deep(text):
        return (
            None,
            (Problem(path, too_deep, "a key has over 100 parts.", "Write short keys."),),
            frozenset(),
        )
    lines = text.split("\n")
    problems: list[Problem] = []
    left_out: set[str] = set()
    while True:
        try:
            return (
                tomllib.loads("\n".join(lines), parse_float=Decimal),
                tuple(problems),
                frozenset(left_out),
            )
        except tomllib.TOMLDecodeError as error:
            number, column, message = _where(error, lines)
            found, write = cause(message, lines[number - 1], column)
            where = f"line {number}, column {column}"
            problems.append(Problem(path, where, found, in_short(write)))
            if len(problems) >= _MOST_BROKEN or not _stands_alone(message, lines, number, column):
                return None, tuple(problems), frozenset(left_out)
            if key := _KEY.match(lines[number - 1]):
                left_out.add(key[1])
            lines[number - 1] = ""
        except RecursionError:
            found, write = "brackets are nested too deeply.", "Write plain lists and tables."
            return None, (*problems, Problem(path, "", found, write)), frozenset(left_out)
        except ValueError:  # int() refuses a number of thousands of digits
            found, write = "a number has thousands of digits.", "Look again."
            return None, (*problems, Problem(path, "", found, write)), frozenset(left_out)


def _too_deep(text: str) -> str:
    """Give the place of a key with more parts than any file needs, or an empty text."""
    plain = _BLOCKS.sub(lambda block: "\n" * block[0].count("\n"), text)
    for number, line in enumerate(plain.split("\n"), start=1):
        if line.count(".") > _DEEPEST and line.split("=", 1)[0].count(".") > _DEEPEST:
            return f"line {number}"
    return ""


def _where(error: tomllib.TOMLDecodeError, lines: list[str]) -> tuple[int, int, str]:
    """Give line and column, both from 1, and the message without them."""
    message = str(error)
    found = _PLACE.search(message)
    if found and found[1]:
        number, column = int(found[1]), int(found[2])
        return min(number, len(lines)), column, message[: found.start()].strip()
    message = message[: found.start()].strip() if found else message
    last = max((n for n, line in enumerate(lines, 1) if line.strip()), default=1)
    if "nterminated string" in message or message.startswith('Expected "\'"'):
        quotes = ('"""', "'''")
        last = next((n for n in range(last, 0, -1) if any(q in lines[n - 1] for q in quotes)), last)
    return last, len(lines[last - 1]) + 1, message


def _stands_alone(message: str, lines: list[str], number: int, column: int) -> bool:
    """Tell whether a broken line can be passed over without changing what the others mean."""
    line = lines[number - 1]
    if not _ONE_VALUE.match(line) or message.startswith("Unclosed"):
        return False
    if message.startswith("Illegal character '\\n'"):  # the text may go on in the next lines
        following = next((n for n in lines[number:] if n.strip()), "#")
        return following.lstrip().startswith(("#", "[")) or bool(_ONE_VALUE.match(following))
    inside_open_list = message == "Invalid value" and not line[: max(column - 1, 0)].strip()
    return not inside_open_list


def _spelled(text: str) -> dict[tuple[type, str], str]:
    """Find how dates and date-times are spelled in the text, by their type and ISO form."""
    found: dict[tuple[type, str], str] = {}
    for token in _DATE.findall(text):
        try:
            value = datetime.fromisoformat(token) if len(token) > 10 else date.fromisoformat(token)
        except ValueError:
            continue
        found.setdefault((type(value), value.isoformat()), token)
    return found
