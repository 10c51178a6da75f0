"""The notes written by somebody who had not seen the rules, frozen before the rules were written.

The hash pins the file: tuning may change the rules, never the labels.
"""

from __future__ import annotations

import hashlib
import tomllib
from pathlib import Path

BLIND = Path(__file__).with_name("notes_blind.toml")
FROZEN_SHA256 = "456133dca821ea8edec5f0ddd66a44a28d0a3c058ab8a51907bf2f8b44fccc44"


def test_the_blind_notes_are_the_frozen_ones() -> None:
    # A checkout on Windows may have changed the line ends; nothing else may differ.
    raw = BLIND.read_bytes().replace(b"\r\n", b"\n")
    assert hashlib.sha256(raw).hexdigest() == FROZEN_SHA256


def test_there_are_72_blind_notes_of_every_grade() -> None:
    notes = tomllib.loads(BLIND.read_text(encoding="utf-8"))["note"]
    assert len(notes) == 72
    assert {note["grade"] for note in notes} == {
        "contradictory",
        "specific",
        "reservation-only",
        "too-vague",
        "clear",
        "not-stated",
    }
