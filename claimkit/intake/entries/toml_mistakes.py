"""What people mean when a TOML file cannot be parsed, from the line and the parser's message.

The parser names the place where it gave up; the cause is usually a value that wants quotes, an
inch mark inside quotes, a Windows path or a key that stands twice. Each is told with the line to
write.
"""

from __future__ import annotations

import re

from claimkit.intake.entries.problems import quoted
from claimkit.intake.entries.tomltext import toml_string

_LONGEST_LINE = 2000  # characters of a line that are looked at
_CURLY = "“”‘’„«»"
_ASSIGNMENT = re.compile(r"\s*(\"[^\"]*\"|'[^']*'|[\w.-]+)\s*=\s*(.*?)\s*$")
_COLON = re.compile(r"\s*([\w.-]+)\s*:\s*(.*?)\s*$")
_WIDE_KEY = re.compile(r"\s*([\w-]+(?: [\w-]+)+)\s*=")
_HEADER = re.compile(r"\s*(\[\[?)\s*([^\]\s]*)")
_YES = {"true": "true", "yes": "true", "y": "true", "on": "true"}
_NO = {"false": "false", "no": "false", "n": "false", "off": "false"}


def cause(message: str, line: str, column: int) -> tuple[str, str]:
    """Give what is wrong with a line and what to write.

    `message` is that of tomllib without the place, `column` counts from 1. What is not one of the
    usual mistakes is told in the parser's words.
    """
    line = line[:_LONGEST_LINE]
    for known in (_twice, _quotes, _backslash, _key, _value):
        if told := known(message, line, column):
            return told
    return f"{quoted(line.strip())} is not TOML: {message}.", "Compare with docs/job-folder.md."


def _twice(message: str, line: str, column: int) -> tuple[str, str] | None:
    del column
    if not message.startswith(("Cannot overwrite", "Cannot declare", "Cannot mutate", "Duplicate")):
        return None
    if header := _HEADER.match(line):
        name = header[2]
        return (
            f"the table {name} stands twice.",
            f"Where there may be several, write each as [[{name}]] with two brackets; "
            "else put the two together.",
        )
    key = _ASSIGNMENT.match(line)
    name = key[1] if key else line.strip()
    return f"the key {name} stands twice in one table.", "Keep one of the two lines."


def _quotes(message: str, line: str, column: int) -> tuple[str, str] | None:
    """Tell of curly quotes, of quotes that do not close, and of lists that do not."""
    del column
    value = _ASSIGNMENT.match(line)
    if any(c in line for c in _CURLY) and not ('"' in line or "'" in line):
        write = "Write straight quotes."
        if value:
            write = f"Write {value[1]} = {toml_string(value[2].strip(_CURLY + ','))}."
        return "curly quotes stand around a text.", write
    if "nterminated string" in message or message.startswith('Expected "\'"'):
        return (
            "a text is opened with quotes and not closed.",
            "Close it on the same line, or put three quotes before and after several lines.",
        )
    if message.startswith("Illegal character '\\n'"):
        return (
            "a text is opened with quotes and not closed on its line.",
            'Close it on the same line, or put three quotes (""") before and after several lines.',
        )
    if message.startswith("Unclosed"):
        return (
            "a list or table in brackets is not closed, or a comma between two entries is missing.",
            "Write it as [ first, second ].",
        )
    if message.startswith("Illegal character"):
        return (
            "the text holds an invisible control character.",
            "Delete the line and type it again.",
        )
    return None


def _backslash(message: str, line: str, column: int) -> tuple[str, str] | None:
    del column
    if "'\\'" not in message and "hex value" not in message and "escape" not in message.lower():
        return None
    value = _ASSIGNMENT.match(line)
    write = "Write paths with forward slashes; put other texts with a backslash in single quotes."
    if value and re.fullmatch(r'"[^"]*[.]\w{2,4}"', value[2]):
        write = f"Write {value[1]} = {value[2].replace(chr(92) * 2, '/').replace(chr(92), '/')}."
    return "a backslash in a text means something else in TOML.", write


def _key(message: str, line: str, column: int) -> tuple[str, str] | None:
    """Tell of lines that are no 'key = value' and no header."""
    del column
    if line.lstrip().startswith("//"):
        return "a note begins with //.", "Begin notes with #."
    if "table declaration" in message or "array declaration" in message:
        header = _HEADER.match(line)
        name = header[2] if header else "name"
        return "the brackets of a table's name do not match.", f"Write [{name}] or [[{name}]]."
    if "\u00a0" in line and not message.startswith("Expected newline"):
        return "a hard space stands in the line.", "Delete it and type a plain space."
    if "after a key" in message or message == "Invalid statement":
        return _no_assignment(line)
    return None


def _no_assignment(line: str) -> tuple[str, str]:
    if wide := _WIDE_KEY.match(line):
        return "a key holds spaces.", f"Write {wide[1].replace(' ', '_').lower()} = …"
    if colon := _COLON.match(line):
        return "a colon stands after the key.", f"Write {colon[1]} = {_meant(colon[2])}."
    return (
        f"{quoted(line.strip())} is no line of the form key = value.",
        "Write a key, an equals sign and a value; begin notes with #.",
    )


def _value(message: str, line: str, column: int) -> tuple[str, str] | None:
    """Tell of values that want quotes."""
    found = _ASSIGNMENT.match(line)
    if message.startswith("Invalid date"):
        return "a date or time stands here that no calendar or clock has.", "Look again at it."
    if message == "Invalid value" and not line[: max(column - 1, 0)].strip():
        return (
            "a list that begins above this line is not closed, or a text in it has no quotes.",
            "Close the list with ] and put its texts in quotes.",
        )
    if not found:
        if message == "Invalid value":
            return (
                f"{quoted(line[max(column - 1, 0) :].strip())} stands where a value is needed.",
                "Put texts in quotes; close a list that begins above it with ].",
            )
        return None
    key, value = found[1], found[2]
    if not value or value.startswith("#"):
        return f"the key {key} has no value.", "Write one, or take the line out."
    return f"the value of {key} is not written as TOML wants it.", f"Write {key} = {_meant(value)}."


def _meant(value: str) -> str:
    """Give the value as TOML that was probably meant."""
    bare = re.sub(r"\s+#.*$", "", value).rstrip(", ")
    if bare.lower() in _YES or bare.lower() in _NO:
        return (_YES | _NO)[bare.lower()]
    if re.fullmatch(r"[+-]?0*\d{1,9}", bare, re.ASCII):
        return str(int(bare))
    if len(bare) >= 2 and bare[0] == bare[-1] and bare[0] in "\"'":
        bare = bare[1:-1]
    elif bare[:1] in ("[", "{"):
        return bare
    return toml_string(bare)
