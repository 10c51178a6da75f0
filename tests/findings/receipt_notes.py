"""The labelled notes, read once: those frozen before the rules were written, and our own."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from claimkit.findings.receipt.grade import grade
from claimkit.model.receipt import Grade, ReceiptReading

HERE = Path(__file__).parent
PROTECTED = {Grade.SPECIFIC, Grade.RESERVATION_ONLY}
UNPROTECTED = {Grade.CLEAR, Grade.NOT_STATED}


@dataclass(frozen=True)
class Note:
    """One note with the grade that a person gave it."""

    text: str
    grade: Grade
    reservation: str
    expected: int | None = None
    received: int | None = None

    def read(self, text: str | None = None) -> ReceiptReading:
        """Grade the note, or a changed text against the same counts."""
        return grade(
            self.text if text is None else text,
            units_expected=self.expected,
            units_received=self.received,
        )


@cache
def notes(name: str) -> tuple[Note, ...]:
    """Read notes_NAME.toml."""
    rows = tomllib.loads((HERE / f"notes_{name}.toml").read_text(encoding="utf-8"))["note"]
    return tuple(
        Note(
            row["text"],
            Grade(row["grade"].replace("-", " ")),
            row["reservation"],
            row.get("expected_units"),
            row.get("received_units"),
        )
        for row in rows
    )


@cache
def every_note() -> tuple[tuple[Note, ReceiptReading], ...]:
    """Give all notes with their readings."""
    return tuple((note, note.read()) for name in ("blind", "own") for note in notes(name))
