"""Files as people's editors leave them: what keeps one from being read is named with its line.

What TOML allows is TOML 1.0.0 (toml.io/en/v1.0.0); `tomllib` says whether a line is TOML.
"""

from __future__ import annotations

import time
import tomllib
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.intake.entries.toml_file import LARGEST_RECORD, TomlFile, read_toml


def read(data: bytes | str) -> TomlFile:
    return read_toml(data.encode() if isinstance(data, str) else data, "x.toml", LARGEST_RECORD)


@pytest.mark.parametrize(
    "line, says",
    [
        # values without quotes: the line to write is given
        ("gap = 3/16 in", 'Write gap = "3/16 in".'),
        ("weight = 412 lb  # on the bill", 'Write weight = "412 lb".'),
        ("title = Orchard Lane", 'Write title = "Orchard Lane".'),
        ("arrived = 2026-05-04 09:10", 'Write arrived = "2026-05-04 09:10".'),  # wants seconds
        ("arrived = 2026-05-04T09:10", 'Write arrived = "2026-05-04T09:10".'),
        ("arrived = 09:10", 'Write arrived = "09:10".'),
        ("price = 1,250.00 USD", 'Write price = "1,250.00 USD".'),
        ("price = $5", 'Write price = "$5".'),
        ("signed = True", "Write signed = true."),
        ("signed = yes", "Write signed = true."),
        ("signed = No", "Write signed = false."),
        ("cartons = 05", "Write cartons = 5."),
        ('title = "x",', 'Write title = "x".'),  # a comma as in JSON
        ("title =", "has no value"),
        ("title = # later", "has no value"),
        # quotes
        ('size = "1 1/8""', "Write size = '1 1/8\"'."),  # the inch mark closes the text
        ("words = 'driver's copy'", 'Write words = "driver\'s copy".'),
        ("title = “Orchard Lane”", 'Write title = "Orchard Lane".'),  # curly, from a phone
        ('title = "Orchard Lane', "not closed"),
        ('words = """first', "not closed"),
        # paths from Windows
        ('photo = "photos\\IMG_1.jpg"', 'Write photo = "photos/IMG_1.jpg".'),
        ('photo = "photos\\unpacking\\1.jpg"', 'Write photo = "photos/unpacking/1.jpg".'),
        # keys and tables
        ("pro number = 5", "Write pro_number"),
        ('title: "x"', 'Write title = "x".'),
        ("just a line", "no line of the form"),
        ("// a note", "Begin notes with #."),
        ("[[shipment]", "Write [shipment] or [[shipment]]."),
        ("[site", "Write [site] or [[site]]."),
        ('photos = ["a.jpg" "b.jpg"]', "a comma between two entries"),
        ("day = 2026-02-30", "no calendar"),
        ('title = "a\x01b"', "control character"),
        ("title\u00a0= 3", "hard space"),
    ],
)
def test_one_mistake_is_told_with_its_line(line: str, says: str) -> None:
    with pytest.raises(tomllib.TOMLDecodeError):  # it is a mistake at all
        tomllib.loads(line)
    (problem,) = read(f'kind = "x"\n\n{line}\n').problems
    assert problem.key_path.startswith("line 3, column ")
    assert says in f"{problem.found} {problem.write}"


@pytest.mark.parametrize(
    "line",
    [
        "gap = 3/16 in",
        "signed = Yes",
        'size = "1 1/8""',
        "title = “Orchard”",
        'photo = "photos\\IMG_1.jpg"',
        "cartons = 05",
    ],
)
def test_the_line_to_write_is_toml(line: str) -> None:
    (problem,) = read(line).problems
    told = problem.write.removeprefix("Write ").removesuffix(".")
    assert list(tomllib.loads(told)) == [line.split(" ", maxsplit=1)[0]]


@pytest.mark.parametrize(
    "text, key, says",
    [
        ("a = 1\na = 2\n", "line 2", "the key a stands twice"),
        ("[site]\na = 1\n[site]\nb = 1\n", "line 3", "the table site stands twice"),
        ("[item]\na = 1\n[item]\na = 1\n", "line 3", "[[item]] with two brackets"),
        ("[[p]]\na = 1\n[p]\nb = 1\n", "line 3", "[[p]] with two brackets"),
    ],
)
def test_what_stands_twice(text: str, key: str, says: str) -> None:
    problem = read(text).problems[0]
    assert problem.key_path.startswith(key)
    assert says in f"{problem.found} {problem.write}"


def test_all_broken_lines_are_told_at_once_and_the_others_are_read() -> None:
    file = read("a = 3/16 in\nb = 2\nc = yes\n[d]\ne = Chicago\nf = 6\n")
    assert [p.key_path.split(",")[0] for p in file.problems] == ["line 1", "line 3", "line 5"]
    assert file.values == {"b": 2, "d": {"f": 6}}
    assert file.left_out == {"a", "c", "e"}


@pytest.mark.parametrize(
    "text, count",
    [
        ('a = ["x",\nb = 2\nc = 3\nd = 4\n', 1),  # a list left open: the lines below are innocent
        ('a = [\n  "x"\n  "y"\n]\nb = 1\n', 1),
        ('words = "first line\nand a second\nand a third"\nb = 1\n', 1),  # lines in one quote
        ('words = """first line\nb = 1\n', 1),
        ("\n".join(f"k{n} = 1 in" for n in range(100)), 20),  # another kind of file
    ],
)
def test_one_mistake_is_not_told_as_many(text: str, count: int) -> None:
    assert len(read(text).problems) == count


@pytest.mark.parametrize(
    "data",
    [
        b'\xef\xbb\xbftitle = "\xc3\xa9"\r\nb = 1\r\n',  # UTF-8 with a mark, Windows line ends
        'title = "é"\nb = 1\n'.encode("utf-16"),  # as an old Notepad saves "Unicode"
        b"\xfe\xff" + 'title = "é"\nb = 1\n'.encode("utf-16-be"),
        'title = "é"\rb = 1\r'.encode(),  # line ends of an old Mac
    ],
)
def test_encodings_and_line_ends_that_are_read(data: bytes) -> None:
    file = read(data)
    assert file.problems == ()
    assert file.values == {"title": "é", "b": 1}


@pytest.mark.parametrize(
    "data, says",
    [
        (b'a = 1\nb = "it\x92s"\n', "the byte 0x92 is not UTF-8"),  # Windows-1252
        ('title = "é"\n'.encode("utf-16-le"), "NUL bytes"),  # UTF-16 without its mark
        ('title = "é"\n'.encode("utf-32"), "NUL bytes"),
        (b"\xff\xfea\x00\n", "goes on as something else"),  # an odd number of bytes
        (b'a = "\x00"\n', "NUL bytes"),
        ("a = '\0'".encode("utf-16"), "NUL characters"),
        (b"#" * (LARGEST_RECORD + 1), "bytes"),
        (b"a = " + b"[" * 5000, "nested too deeply"),
        (b"a = " + b"{a=" * 5000, "nested too deeply"),
        (b"a = " + b"9" * 5000, "thousands of digits"),  # Python refuses to convert it
        (b"a." * 5000 + b"b = 1", "over 100 parts"),
        (b"[" + b"a." * 5000 + b"b]", "over 100 parts"),
    ],
)
def test_files_that_are_refused(data: bytes, says: str) -> None:
    problems = read(data).problems
    assert len(problems) == 1
    assert says in problems[0].found


def test_a_wrong_encoding_hides_no_other_mistake() -> None:
    file = read(b'a = "it\x92s"\nb = 3 mm\n')
    assert [p.key_path.split(",")[0] for p in file.problems] == ["line 1", "line 2"]


def test_an_empty_file_and_one_of_notes_are_empty() -> None:
    assert (read("").values, read("# nothing yet\n").values) == ({}, {})


def test_fractions_are_decimals() -> None:
    assert read("a = 3.20").values == {"a": Decimal("3.20")}


def test_dates_keep_their_spelling() -> None:
    spelled = read("a = 2026-05-04t09:10:00\nb = 2026-05-04\nc = 2026-05-04 14:10:00Z").spelled
    assert sorted(spelled.values()) == ["2026-05-04", "2026-05-04 14:10:00Z", "2026-05-04t09:10:00"]


hostile = st.sampled_from(
    ["[", "]", "[[", "]]", "{", "}", "=", '"', "'", '"""', "'''", "\\", "\n", "\r", ".", ",", "#",
     "a", "site", "1", "-", ":", "2026-05-04", "\0", "é", " ", "true", "inf", "nan", "0x", "1e9"]
)  # fmt: skip


@given(st.lists(hostile, max_size=60).map("".join) | st.binary(max_size=200))
def test_no_bytes_stop_the_reading(data: Any) -> None:
    file = read(data)
    assert file.problems or file.values is not None


@pytest.mark.parametrize(
    "data",
    [
        b"\n".join(b".".join([b"a"] * 100) + b".b%d = 1" % n for n in range(1200)),
        b"\n".join(b"[" + b".".join([b"a"] * 90) + b".b%d]" % n for n in range(1300)),
        b"a = [" + b"1," * 120_000 + b"]",
        b"a = [" + b"[]," * 80_000 + b"]",
        b'a = """' + b'"" ' * 80_000 + b'"""',
        b"\n".join(b"k%d = 1 in" % n for n in range(15_000)),
        b"=" * 250_000,
        b"a=" + b" " * 250_000 + b"x",
        b"a = y" + b" " * 250_000 + b"x",
        b"a" * 250_000,
        b"a: " * 80_000,
        b"a = " + b'"""\\' * 60_000,
        b"a = " + b"'''a\n" * 50_000,
        b"[" * 250_000,
        b'a = "' + b"\\" * 250_000,
        b"'" * 250_000,
        b"." * 250_000,
        b"a = 2026-05-04" * 15_000,
    ],
)
def test_no_file_takes_long(data: bytes) -> None:
    """Sizes up to the limit; tomllib alone takes up to 0.2 s for the worst of them."""
    assert len(data) <= LARGEST_RECORD
    began = time.process_time()
    read(data)
    assert time.process_time() - began < 5
