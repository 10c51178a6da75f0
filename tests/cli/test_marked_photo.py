"""A gap marked by hand in a photo, from its record to its answer: ± 1 mm at best, and said so."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from claimkit.cli import app
from tests.compose.jobs import copy_of

# A bank card (ISO/IEC 7810 ID-1: 85.60 mm by 53.98 mm) seen square at 10 pixels a millimetre, and
# two edges 60 pixels apart: 6 mm by proportion.
RECORD = """\
kind = "marked_photo"
said_by = "ruth"
photo = "photos/dry fit/F2_0301.jpg"
seam = "A-B"
station = "front"
stage = "dry fit"
rectangle = ["85.6 mm", "53.98 mm"]
corners = [40, 40, 896, 40, 896, 579.8, 40, 579.8]
left = [400, 600, 400, 700]
right = [460, 600, 460, 700]
"""


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "test")
    copy_of("disputed-gap", tmp_path / "job")
    return tmp_path / "job"


def gaps(job: Path, record: str) -> dict[str, Any]:
    (job / "records" / "12-marked.toml").write_text(record, encoding="utf-8")
    result = CliRunner().invoke(app, ["gaps", str(job), "--json", "--as-of", "2026-10-20"])
    value: dict[str, Any] = json.loads(result.stdout)
    return value


def test_a_marked_gap_is_a_reading_of_one_millimetre_at_best(job: Path) -> None:
    value = gaps(job, RECORD.replace("579.8", "580"))
    (marked,) = [r for r in value["readings"] if r["instrument"].startswith("marked")]
    assert marked["gap"]["value_mm"] == pytest.approx(6.0, abs=0.02)
    assert 2.0 * marked["gap"]["u_mm"] >= 1.0
    assert marked["meaning"] == "visible opening"


def test_marks_that_make_no_rectangle_are_refused_with_what_to_do(job: Path) -> None:
    value = gaps(
        job, RECORD.replace("896, 40, 896, 579.8", "896, 580, 896, 40").replace("579.8", "580")
    )
    told = [n for n in value["not_checked"] if n["rule"] == "marked-photo-refused"]
    assert "top left, top right, bottom right, bottom left" in told[0]["reason"]


def test_pixels_are_whole_numbers(job: Path) -> None:
    value = gaps(job, RECORD)
    assert any("corners" in problem["key_path"] for problem in value["problems"])
