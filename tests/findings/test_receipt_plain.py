"""640 ordinary notes by two writers who had not seen the rules; the rules were tuned on them."""

from __future__ import annotations

import tomllib
from pathlib import Path

from claimkit.findings.receipt.grade import grade
from claimkit.model.receipt import Grade

NOTES = tomllib.loads(
    (Path(__file__).parent / "notes_plain.toml").read_text(encoding="utf-8")
)["note"]  # fmt: skip
PROTECTED = (Grade.SPECIFIC, Grade.RESERVATION_ONLY)
UNPROTECTED = ("clear", "not-stated")


def read(note: dict[str, object]) -> Grade:
    """Grade a note with the counts that its writer gave."""
    return grade(
        str(note["text"]),
        units_expected=note.get("expected_units"),  # type: ignore[arg-type]
        units_received=note.get("received_units"),  # type: ignore[arg-type]
    ).grade


def test_ordinary_notes_keep_their_grades() -> None:
    wrong = [n["text"] for n in NOTES if read(n).value.replace(" ", "-") != n["grade"]]
    assert len(NOTES) == 640
    assert len(wrong) <= 0.02 * len(NOTES), wrong


def test_nothing_that_preserves_no_claim_is_called_protected() -> None:
    bare = [n for n in NOTES if n["grade"] in UNPROTECTED]
    assert len(bare) > 200
    assert [n["text"] for n in bare if read(n) in PROTECTED] == []
