"""A record of the receiving page that was damaged on its way is read rightly, or it is told.

Mail, messages and half-finished copies drop, double and change bytes, end a file early, or save it
with other line ends and marks. What a damaged file states is told by `tomllib` (TOML 1.0,
toml.io/en/v1.0.0), which claimkit must never contradict without a word.
"""

from __future__ import annotations

import codecs
import time
import tomllib
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.intake.entries.records import Written, read_all
from claimkit.model.moment import Moment
from claimkit.model.records import Delivery, Record
from claimkit.rules.receiving import RECORD_BEGINS, RECORD_ENDS
from tests.browser.phone import JOB_TOML

# As the page writes them; tests/browser/test_round_trip.py holds the page to it.
PLAIN = f"""\
# {RECORD_BEGINS}
# Photos said to be taken: Truck, its number and plate; Every label and piece number.
kind = "delivery"
said_by = "dana"
written = "2026-05-04 09:30:00-05:00"
shipment = "main"
arrived = "2026-05-04 09:10:00-05:00"
driver_left = "2026-05-04 09:30:00-05:00"
receipt = "driver's device"
inspected = false
not_inspected_because = "outside only; the contents were packed"
wrap = "intact"
units_expected = 2
units_received = 2
cartons_expected = 14
cartons_received = 12
words = "CTN 2/4 LOWER LEFT CORNER CRUSHED 4IN. CONTENTS SUBJ TO FURTHER INSP."
words_by = "Dana Voss"
driver = "R. Ode"
signed = true
driver_signed = false
signed_at = "2026-05-04 09:22:00-05:00"
photos = ["records/delivery-main-signature.pdf"]
# {RECORD_ENDS}
"""
NASTY = f"""\
# {RECORD_BEGINS}
kind = "delivery"
said_by = "dana"
written = "2026-05-04 09:30:00-05:00"
wrap = "broken"
cartons_received = 12
words = 'He wrote "corner 4\\" and \\u0041 = 1 # no'
words_by = "Zoë 中面 \\"Z\\" \\u202e\\u0000"
driver = "O'Ode\\n\\"\\"\\""
refused = "Carton 1: ''' 😀"
# {RECORD_ENDS}
"""
FILES = frozenset({"records/x.toml", "records/delivery-main-signature.pdf"})


def read(data: bytes) -> tuple[Written, Record | None, list[str]]:
    """Read a job with this one record; give its record and the sentences about its file."""
    written = read_all(("job.toml", JOB_TOML.encode()), [("records/x.toml", data)], FILES)
    record = next((r for r in written.records if r.path == "records/x.toml"), None)
    return written, record, [p.sentence() for p in written.problems if p.file == "records/x.toml"]


def stated(data: bytes) -> dict[str, object] | None:
    """Tell what a file states, where it is TOML in an encoding with its mark, or in UTF-8."""
    marks = {codecs.BOM_UTF16_LE: "utf-16", codecs.BOM_UTF16_BE: "utf-16"}
    form = next((f for mark, f in marks.items() if data.startswith(mark)), "utf-8-sig")
    try:
        text = data.decode(form).replace("\r\n", "\n").replace("\r", "\n")
        return tomllib.loads(text)
    except (UnicodeDecodeError, tomllib.TOMLDecodeError):
        return None


def check(data: bytes) -> list[str]:
    """Hold a reading to what the file states; give what was said of it."""
    began = time.process_time()
    written, record, said = read(data)
    assert time.process_time() - began < 1
    assert written.job is not None
    for problem in written.problems:
        assert problem.file
        assert problem.found.endswith((".", "…"))
        assert problem.write.endswith((".", "?", "…"))
        assert len(problem.sentence()) < 1500
    if said:
        return said
    states = stated(data)
    assert states is not None, "what is no TOML was read without a word"
    assert record is not None, "a record was left out without a word"
    held = {**states, "kind": record.kind, "said_by": record.said_by}
    assert states == held
    if isinstance(record.body, Delivery):
        for key in states.keys() - {"kind", "said_by", "written", "replaces", "reason"}:
            value = getattr(record.body, key)
            value = value.written if isinstance(value, Moment) else value
            value = list(value) if isinstance(value, tuple) else value
            assert value == states[key], key
    return said


@pytest.mark.parametrize("text", [PLAIN, NASTY])
def test_a_whole_record_is_read_in_every_form_that_programs_save(text: str) -> None:
    lines = text.replace("\n", "\r\n")
    for data in (
        text.encode(),
        lines.encode(),
        text.replace("\n", "\r").encode(),
        text.encode("utf-8-sig"),
        lines.encode("utf-8-sig"),
        lines.encode("utf-16"),
        text.rstrip("\n").encode(),
        text.replace("\n", "  \n").encode(),
        b"\n" + text.encode() + b"\n\n",
    ):
        assert check(data) == [], data[:40]
        record = read(data)[1]
        assert record is not None
        assert isinstance(record.body, Delivery)
        assert record.body.words == tomllib.loads(text)["words"]


@pytest.mark.parametrize("text", [PLAIN, NASTY])
def test_a_record_cut_short_anywhere_is_told(text: str) -> None:
    data = text.encode()
    whole = len(data) - 1  # without the last line's end nothing is lost
    for end in range(0, whole, 5):
        assert check(data[:end]), end
    cut = data.index(b"cartons_received = 1") + len(b"cartons_received = 1")
    assert stated(data[:cut]) is not None  # TOML all the same, with 1 carton of 12
    record, said = read(data[:cut])[1:]
    assert ["cut short" in sentence for sentence in said] == [True]
    assert record is None


def test_what_somebody_typed_has_no_last_line_to_miss() -> None:
    typed = PLAIN.replace(f"# {RECORD_BEGINS}\n", "").replace(f"# {RECORD_ENDS}\n", "")
    assert check(typed.encode()) == []
    added = PLAIN.replace('driver = "R. Ode"\n', "") + 'driver = "R. Ode"\n'
    assert check(added.encode()) == []  # put in after the last line


Change = Callable[[bytes], bytes]


@st.composite
def changes(draw: st.DrawFn) -> Change:
    """Make one change of a file: bytes lost, doubled, put in, replaced; or all of its form."""
    at, width = draw(st.integers(0, 2_000)), draw(st.sampled_from((1, 1, 2, 7, 64, 500)))
    put = draw(st.binary(max_size=4) | st.sampled_from(PUT))
    forms: list[Change] = [
        lambda d: d[: at % len(d)] + d[at % len(d) + width :],
        lambda d: d[: at % len(d) + width] + d[at % len(d) :],
        lambda d: d[: at % len(d)] + put + d[at % len(d) :],
        lambda d: d[: at % len(d)] + put + d[at % len(d) + len(put) :],
        lambda d: d[: at % len(d)],
        lambda d: d + d,
        lambda d: d.replace(b"\n", b"\r\n"),
        lambda d: d.replace(b"\n", b"\r"),
        lambda d: codecs.BOM_UTF8 + d,
        lambda d: d.decode("utf-8", "replace").encode("utf-16"),
        lambda d: d.decode("utf-8", "replace").encode("cp1252", "replace"),
        lambda d: b"".join(reversed(d.splitlines(keepends=True))),
        lambda d: b"\n".join(line[:76] for line in d.split(b"\n")),  # as mail once folded
        lambda d: d.replace(b'"', "“".encode()),
    ]
    return draw(st.sampled_from(forms))


PUT = (
    b'"', b"'", b"\\", b"\n", b"\r", b"\0", b"[", b"]", b"=", b"#", b"\xff", b"\xe2\x80\xae",
    b'"""', b"[[a]]", b".", b"{", b"\x1b[31m", b"9" * 20, b"a." * 60, b"-", b"\xef\xbb\xbf", b"e9",
    b"true",
)  # fmt: skip


def test_damaged_records_are_read_rightly_or_told() -> None:
    told = {"read": 0, "said": 0}

    @settings(max_examples=350, deadline=None, database=None)
    @given(st.sampled_from((PLAIN, NASTY)), st.lists(changes(), min_size=1, max_size=3))
    def read_or_told(text: str, done: list[Change]) -> None:
        data = text.encode()
        for change in done:
            data = change(data or b"\n")
        told["said" if check(data) else "read"] += 1

    read_or_told()
    assert min(told.values()) > 50
