"""What is written as TOML reads back equal; the standard library's `tomllib` is the oracle."""

from __future__ import annotations

import tomllib
from datetime import UTC, date, datetime, timedelta, timezone
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.intake.entries.record_text import record_text
from claimkit.intake.entries.records import read_record
from claimkit.intake.entries.tomltext import (
    toml_document,
    toml_key,
    toml_string,
    toml_text,
    toml_value,
)
from claimkit.model.measuring import Reading, Readings
from claimkit.model.records import KINDS, CameraClock, Damage, Delivery, FoundAt, Milestone
from tests.intake import example_folder

ZONE = "America/Chicago"
# Every character but lone surrogates, which no TOML file can hold; the nasty ones often.
characters = st.one_of(
    st.characters(exclude_categories=["Cs"]), st.sampled_from("\"'\\\n\r\t\0\x7f\u0085\u2028#=[]")
)
texts = st.text(characters, max_size=40)


@given(texts)
def test_any_text_on_one_line(text: str) -> None:
    written = toml_string(text)
    assert tomllib.loads(f"x = {written}")["x"] == text
    assert len(written.splitlines()) == 1


@given(texts)
def test_any_text_over_lines(text: str) -> None:
    assert tomllib.loads(f"x = {toml_text(text)}")["x"] == text


@pytest.mark.parametrize(
    "text, written",
    [
        ("plain", '"plain"'),
        ('1 1/8"', "'1 1/8\"'"),  # an inch mark stays legible
        ("it's", '"it\'s"'),
        ("5' 3\"", '"5\' 3\\""'),  # both quotes: one is escaped
        ("a\\b", "'a\\b'"),
        ("tab\there", '"tab\\there"'),
        ("\0", '"\\u0000"'),
        ("", '""'),
    ],
)
def test_texts_stay_legible(text: str, written: str) -> None:
    assert toml_string(text) == written


def test_lines_stay_lines() -> None:
    assert toml_text('one\ntwo "2"') == '"""\none\ntwo \\"2\\""""'


def test_a_lone_surrogate_is_refused() -> None:
    with pytest.raises(ValueError, match="half a character"):
        toml_string("a\ud800")


@given(texts)
def test_any_key(key: str) -> None:
    assert tomllib.loads(f"{toml_key(key)} = 1") == {key: 1}


scalars = st.one_of(
    texts,
    st.booleans(),
    st.integers(-(2**63), 2**63 - 1),
    st.decimals(allow_nan=False, allow_infinity=False, places=3, min_value=-1000, max_value=1000),
    st.dates(),
    st.datetimes(),
    st.datetimes(timezones=st.sampled_from([UTC, timezone(timedelta(hours=-5))])),
)
tables: Any = st.recursive(
    st.dictionaries(texts, scalars | st.lists(scalars, max_size=3), max_size=4),
    lambda inner: st.dictionaries(
        texts, scalars | inner | st.lists(inner, min_size=1, max_size=3), max_size=4
    ),
    max_leaves=8,
)


@given(tables)
def test_any_document(document: dict[str, Any]) -> None:
    assert tomllib.loads(toml_document(document), parse_float=Decimal) == document


@pytest.mark.parametrize("value", [None, object(), 1.5, Decimal("NaN"), {"a": 1}, [None]])
def test_what_has_no_form_is_refused(value: object) -> None:
    with pytest.raises(TypeError):
        toml_value(value)


def _back(text: str) -> Any:
    record, problems = read_record(text.encode(), "records/x.toml", ZONE)
    assert problems == ()
    return record


@pytest.mark.parametrize("kind", KINDS)
def test_a_record_of_each_kind_reads_back_equal(kind: str) -> None:
    """The examples hold every key of every table, so every key is written."""
    first = _back(example_folder.RECORDS[f"records/{kind}.toml"])
    again = _back(
        record_text(
            kind,
            first.said_by,
            first.body,
            first.written,
            (first.replaces, first.reason) if first.replaces else None,
        )
    )
    assert again.body == first.body
    assert (again.said_by, again.written) == (first.said_by, first.written)
    assert (again.replaces, again.reason) == (first.replaces, first.reason)


def test_the_examples_hold_every_key() -> None:
    """Else the test above would pass without writing some of them."""
    record = _back(example_folder.RECORDS["records/delivery.toml"])
    defaults = Delivery()
    same = [n for n in vars(defaults) if getattr(record.body, n) == getattr(defaults, n)]
    assert same == []


when = st.sampled_from(
    [
        "2026-05-04",
        '"2026-05-04"',
        '"2026-05-04 09:10"',
        '"2026-05-04 09:10:00"',  # stated to the second
        "2026-05-04T09:10:00",  # TOML's own: to the minute
        "2026-05-04 09:10:30",
        "2026-05-04t09:10:00.5",
        "2026-05-04T14:10:00Z",
        '"2026-11-01 01:30-06:00"',
        '" 2026-05-04 09:10 "',
    ]
)


@given(when, texts.filter(str.strip))
def test_times_and_hostile_words_read_back_equal(time: str, words: str) -> None:
    first = _back(
        f'kind = "delivery"\nsaid_by = "dana"\narrived = {time}\nwords = {toml_string(words)}\n'
    )
    again = _back(record_text("delivery", "dana", first.body))
    assert again.body == first.body
    assert again.body.words == words


@given(
    st.lists(
        st.tuples(st.sampled_from(["3/16 in", "5 mm", '1 1/8"', "4,8 mm"]), texts),
        min_size=1,
        max_size=4,
    )
)
def test_nested_tables_read_back_equal(at: list[tuple[str, str]]) -> None:
    stations = "".join(
        f'[[at]]\nstation = "s{n}"\ngap = [{toml_string(gap)}]\n' for n, (gap, _) in enumerate(at)
    )
    first = _back(
        'kind = "readings"\nsaid_by = "d"\nseam = "a"\nstage = "dry fit"\ntaken = 2026-05-04\n'
        f'instrument = "rule 1 mm"\nset_level = false\n{stations}'
    )
    assert isinstance(first.body, Readings)
    assert all(isinstance(reading, Reading) for reading in first.body.at)
    assert _back(record_text("readings", "d", first.body)).body == first.body


def test_defaults_are_left_out() -> None:
    body = Damage(item="panel", found_at=FoundAt.CURB, what="cracked")
    assert tomllib.loads(record_text("damage", "dana", body)) == {
        "kind": "damage",
        "said_by": "dana",
        "item": "panel",
        "found_at": "at the curb",
        "what": "cracked",
    }


def test_no_words_are_not_unknown_words() -> None:
    assert "words" not in tomllib.loads(record_text("delivery", "dana", Delivery()))
    assert tomllib.loads(record_text("delivery", "dana", Delivery(words="")))["words"] == ""


def test_a_body_of_another_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="not the body"):
        record_text("milestone", "dana", Delivery())
    with pytest.raises(ValueError, match="not the body"):
        record_text("curb", "dana", Delivery())


def test_types_are_those_of_the_model() -> None:
    assert {CameraClock, Milestone} <= set(KINDS.values())
    assert toml_value(date(2026, 5, 4)) == "2026-05-04"
    assert toml_value(datetime(2026, 5, 4, 9, 10, tzinfo=UTC)) == "2026-05-04T09:10:00+00:00"
