"""No flipped byte of a cache or of the calendar's state comes back as a fact or ends a run.

Every byte in turn is the script tests/bench/index_bytes.py; here are some sixty of each.
"""

from __future__ import annotations

import json
import random
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from claimkit.intake.briefs import seal_of
from claimkit.intake.calendar_state import kept
from tests.bench.index_bytes import CACHES, damage


@pytest.mark.parametrize("make", CACHES, ids=lambda make: make.__name__)
def test_no_flipped_byte_of_a_cache_is_believed(
    make: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    case = make(tmp_path)
    stride = max(1, case[0].stat().st_size // 60)
    assert list(damage(case, stride, random.Random(5))) == []


def test_a_flipped_byte_in_the_name_of_a_column_is_damage(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite then complains in bytes that are no text, and Python raises on its complaint."""
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    file, again = CACHES[0](tmp_path)
    right, whole = again(), file.read_bytes()
    at = whole.index(b"CREATE TABLE")
    for place in range(at, at + 500, 11):
        raw = bytearray(whole)
        raw[place] ^= 0xD7
        file.write_bytes(raw)
        assert again() == right


def test_a_seal_covers_where_one_value_ends_and_the_next_begins() -> None:
    assert len({seal_of("ab", "c"), seal_of("a", "bc"), seal_of("abc", ""), seal_of("abc")}) == 4


ENTRY = {
    "uid": "u",
    "digest": "d",
    "sequence": 3,
    "modified": "2026-05-20T18:00:00+00:00",
    "day": "2026-06-01",
    "summary": "s",
    "gone": False,
}


@pytest.mark.parametrize(
    "change",
    [
        {"sequence": "3"},  # a text cannot be counted on
        {"sequence": None},
        {"day": "2026-02-30"},
        {"modified": "2026-05-20T18:00:00"},  # without its zone
        {"modified": 5},
        {"gone": "no"},
        {"uid": ["u"]},
    ],
)
def test_a_calendar_of_wrong_kinds_is_damaged_and_begun_anew(
    tmp_path: Path, change: dict[str, object]
) -> None:
    file = tmp_path / "out" / "calendar.json"
    file.parent.mkdir()
    file.write_text(json.dumps({"entries": {"k": ENTRY}}), encoding="utf-8")
    found = kept(tmp_path)
    assert found is not None
    assert datetime.fromisoformat(found["k"].modified) == datetime(2026, 5, 20, 18, tzinfo=UTC)
    file.write_text(json.dumps({"entries": {"k": ENTRY | change}}), encoding="utf-8")
    assert kept(tmp_path) is None


@pytest.mark.parametrize("data", [b"", b"[]", b'{"entries": []}', b"[" * 100_000, b"\xff"])
def test_a_calendar_that_is_none_is_damaged(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "calendar.json").write_bytes(data)
    assert kept(tmp_path) is None
