"""Photos and records that come late, twice, moved, from several telephones and computers."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner

from claimkit.cli import app
from claimkit.compose.terminal.news_lines import news_lines
from claimkit.findings.news import Run, What, runs, summary
from claimkit.findings.reason import reason
from claimkit.intake.read import read
from claimkit.model.case import Case
from tests.browser.phone import JOB_TOML
from tests.intake.photo_writer import camera_block, exif_segment, jpeg

START = datetime(2026, 5, 4, 18, 0, tzinfo=UTC)
RECORD = (
    'kind = "delivery"\nsaid_by = "dana"\narrived = "2026-05-04 09:10"\n'
    'driver_left = "2026-05-04 09:40"\nunits_received = 2\n'
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    root = tmp_path / "kiln-road"
    for name in ("photos", "records"):
        (root / name).mkdir(parents=True)
    (root / "job.toml").write_text(JOB_TOML, encoding="utf-8")
    return root


def dated(taken: str) -> bytes:
    """Give a photo taken then, by its camera's clock at UTC-05:00."""
    return jpeg(exif_segment(camera_block(taken, offset="-05:00")))


def photo(folder: Path, name: str, taken: str = "2026:05:04 09:20:00") -> Path:
    """Write a photo with a date and its offset."""
    path = folder / "photos" / name
    path.write_bytes(dated(taken))
    return path


def look(folder: Path, hours: int, writer: str = "office") -> Case:
    """Run over the folder so many hours after the start."""
    now = START + timedelta(hours=hours)
    return reason(read(folder, now=now, writer=writer), now.date(), now)


def told(run: Run) -> dict[str, What]:
    return {piece.path: piece.what for piece in run.pieces}


def test_what_comes_in_is_new_once(folder: Path) -> None:
    (folder / "records" / "delivery.toml").write_text(RECORD, encoding="utf-8")
    photo(folder, "a.jpg")
    first = runs(look(folder, 0))
    assert [run.this for run in first] == [True]
    assert told(first[0]) == {
        "job.toml": What.PAPER,
        "photos/a.jpg": What.PHOTO,
        "records/delivery.toml": What.RECORD,
    }
    second = look(folder, 1)
    assert [run.this for run in runs(second)] == [False]
    assert summary(second) is None
    assert "Nothing new in this run." in news_lines(second)
    # 18:00 UTC is 13:00 in Chicago, which keeps summer time in May (IANA: America/Chicago).
    assert "Last new at 2026-05-04 13:00:00 UTC−05:00" in news_lines(second)


def test_a_photo_is_placed_in_the_work_and_said_to_be_late(folder: Path) -> None:
    (folder / "records" / "delivery.toml").write_text(RECORD, encoding="utf-8")
    look(folder, 0)
    photo(folder, "b.jpg")
    case = look(folder, 24 * 9)
    assert summary(case) == "1 new photo"
    lines = " ".join(" ".join(news_lines(case)).split())
    assert "photos/b.jpg: taken 2026-05-04 09:20:00 UTC−05:00, at the curb, 9 days before" in lines


def test_the_same_bytes_again_and_a_file_that_moved(folder: Path) -> None:
    first = photo(folder, "a.jpg")
    second = photo(folder, "b.jpg", "2026:05:04 09:25:00")
    look(folder, 0)
    shutil.copy(first, folder / "photos" / "a copy.jpg")
    (folder / "photos" / "from Sam").mkdir()
    second.rename(folder / "photos" / "from Sam" / "IMG_1.jpg")
    run = runs(look(folder, 1))[0]
    assert told(run) == {
        "photos/a copy.jpg": What.AGAIN,
        "photos/from Sam/IMG_1.jpg": What.MOVED,
    }
    other = {piece.path: piece.other for piece in run.pieces}
    assert other["photos/a copy.jpg"] == "photos/a.jpg"
    assert other["photos/from Sam/IMG_1.jpg"] == "photos/b.jpg"


def test_the_same_photo_from_two_phones_in_one_run_is_new_once(folder: Path) -> None:
    look(folder, 0)
    first = photo(folder, "a.jpg")
    shutil.copy(first, folder / "photos" / "z.jpg")
    run = runs(look(folder, 1))[0]
    assert told(run) == {"photos/a.jpg": What.PHOTO, "photos/z.jpg": What.AGAIN}


def test_changed_gone_and_back(folder: Path) -> None:
    first, second = photo(folder, "a.jpg"), photo(folder, "b.jpg", "2026:05:04 09:25:00")
    kept = second.read_bytes()
    look(folder, 0)
    first.write_bytes(dated("2026:05:04 09:21:00"))
    second.unlink()
    assert told(runs(look(folder, 1))[0]) == {
        "photos/a.jpg": What.CHANGED,
        "photos/b.jpg": What.GONE,
    }
    second.write_bytes(kept)
    assert told(runs(look(folder, 2))[0]) == {"photos/b.jpg": What.BACK}


def test_another_computers_run_is_news_here(folder: Path) -> None:
    """A synced folder brings the photo and the log line of the computer that saw it first."""
    look(folder, 0, "office")
    photo(folder, "a.jpg")
    look(folder, 1, "van")
    here = look(folder, 2, "office")
    assert summary(here) is None  # this run found nothing that no log had
    latest = runs(here)[0]
    assert (latest.writer, told(latest)) == ("van", {"photos/a.jpg": What.PHOTO})


def test_a_record_saved_twice_counts_once_and_is_told(folder: Path) -> None:
    """Two skids came, not four: a browser's second download, and the ending of a mail program."""
    (folder / "records" / "delivery.toml").write_text(RECORD, encoding="utf-8")
    (folder / "records" / "delivery (1).toml").write_text(RECORD, encoding="utf-8")
    (folder / "records" / "delivery.toml.txt").write_text(RECORD, encoding="utf-8")
    case = look(folder, 0)
    assert case.facts.problems == ()
    units = [row for row in case.differences if row.what == "handling units"]
    assert [(row.ordered, row.found) for row in units] == [("2", "2")]
    twice = [found.where for found in case.findings if found.rule == "record-told-twice"]
    assert sorted(twice) == ["records/delivery (1).toml", "records/delivery.toml.txt"]


def test_records_and_photos_come_in_any_order(folder: Path) -> None:
    """A photo that came before the record that bounds its time lands at the curb all the same."""
    photo(folder, "a.jpg")
    before = look(folder, 0)
    assert before.photos[0].stage is None
    (folder / "records" / "delivery.toml").write_text(RECORD, encoding="utf-8")
    after = look(folder, 1)
    assert str(after.photos[0].stage) == "at the curb"
    assert told(runs(after)[0]) == {"records/delivery.toml": What.RECORD}


def test_the_command_shows_the_last_run_that_found_something(
    folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "office")
    photo(folder, "a.jpg")
    first = CliRunner().invoke(app, ["news", str(folder)])
    assert "New in this run" in first.output
    status = CliRunner().invoke(app, ["status", str(folder)])
    assert "New since last time" not in status.output
    photo(folder, "b.jpg", "2026:05:04 09:25:00")
    status = CliRunner().invoke(app, ["status", str(folder)])
    assert "New since last time" in status.output
    assert "1 new photo" in status.output
    second = CliRunner().invoke(app, ["news", str(folder)])
    assert "Nothing new in this run." in second.output
    assert "photos/b.jpg" in second.output
    assert "photos/a.jpg" not in second.output
    everything = CliRunner().invoke(app, ["news", str(folder), "--all"])
    assert "photos/a.jpg" in everything.output
    assert all(len(line) <= 80 for line in everything.output.splitlines())
