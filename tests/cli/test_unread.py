"""Files that cannot be used: nothing that rests on them is stated, and nothing is called absent."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

from claimkit.cli import app
from claimkit.model.stop import NOT_READ, CannotGoOn
from tests.compose.jobs import copy_of

DAY = ("--as-of", "2026-10-20")
PARTS = ("status", "timeline", "exceptions", "deadlines", "gaps", "news")


def unknown_key(text: str) -> str:
    """Plant a key that job.toml does not know."""
    return text.replace("[site]", "[site]\nzonne = 1", 1)


def open_quote(text: str) -> str:
    """Take away the closing quotes of the first text."""
    start = text.index('"')
    end = text.index('"', start + 1)
    return text[:end] + text[end + 1 :]


MISTAKES = pytest.mark.parametrize("mistake", [unknown_key, open_quote])


def spoilt(folder: Path, mistake: Callable[[str], str]) -> Path:
    """Give a copy of a sample job with readings, its job.toml spoilt."""
    copy_of("disputed-gap", folder)
    path = folder / "job.toml"
    path.write_text(mistake(path.read_text(encoding="utf-8")), encoding="utf-8")
    return folder


@MISTAKES
@pytest.mark.parametrize("part", PARTS)
def test_nothing_is_said_without_job_toml(
    tmp_path: Path, mistake: Callable[[str], str], part: str
) -> None:
    folder = spoilt(tmp_path / "job", mistake)
    day = () if part == "news" else DAY
    result = CliRunner().invoke(app, [part, str(folder), *day])
    assert result.exit_code == NOT_READ, result.output
    assert result.stdout.startswith("job.toml cannot be read: ")
    assert "job.toml, " in result.stdout  # the problem itself
    for untrue in ("UTC", "+00:00", "recorded", "No ", "fastened", " mm", "dry fit"):
        assert untrue not in result.stdout, untrue


@MISTAKES
def test_json_says_nothing_without_job_toml(tmp_path: Path, mistake: Callable[[str], str]) -> None:
    folder = spoilt(tmp_path / "job", mistake)
    told = json.loads(CliRunner().invoke(app, ["status", str(folder), "--json", *DAY]).stdout)
    assert told["problems"]
    assert [n["rule"] for n in told["not_checked"]] == ["stage-job"]
    for part in ("findings", "episodes", "photos", "readings", "comparisons", "openings"):
        assert told[part] == []


@MISTAKES
@pytest.mark.parametrize(
    "words",
    [
        ("packet", "--for", "customer"),
        ("packet", "--for", "own"),
        ("bundle", "--for", "customer"),
        ("letter", "--about", "claim"),
        ("statement", "--of", "rosa"),
        ("annex", "--for", "own"),
        ("table", "--of", "photos"),
        ("calendar",),
        ("ask",),
    ],
)
def test_nothing_is_written_without_job_toml(
    tmp_path: Path, mistake: Callable[[str], str], words: tuple[str, ...]
) -> None:
    folder = spoilt(tmp_path / "job", mistake)
    before = sorted((folder / "out").glob("*")) if (folder / "out").exists() else []
    result = CliRunner().invoke(app, [words[0], str(folder), *words[1:], *DAY])
    assert isinstance(result.exception, CannotGoOn)  # main() makes exit code 5 of it
    assert "job.toml cannot be read" in str(result.exception)
    assert "job.toml, " in str(result.exception)
    assert (sorted((folder / "out").glob("*")) if (folder / "out").exists() else []) == before


def test_a_list_of_jobs_says_which_could_not_be_read(tmp_path: Path) -> None:
    spoilt(tmp_path / "spoilt", unknown_key)
    copy_of("disputed-gap", tmp_path / "whole")
    result = CliRunner().invoke(app, ["status", str(tmp_path), *DAY])
    assert result.exit_code == NOT_READ
    assert "spoilt: job.toml cannot be read." in result.stdout


@pytest.mark.parametrize("part", ["status", "timeline", "exceptions", "deadlines", "gaps"])
def test_files_that_could_not_be_used_are_named_at_the_top(tmp_path: Path, part: str) -> None:
    folder = tmp_path / "job"
    copy_of("disputed-gap", folder)
    (folder / "records" / "bad.toml").write_text('kind = "delivery"\narrived = 1\n', "utf-8")
    result = CliRunner().invoke(app, [part, str(folder), *DAY])
    assert result.exit_code == NOT_READ
    top = " ".join(result.stdout.split("\n\n")[1].split())
    assert top.startswith("1 file could not be used")
    assert "records/bad.toml" in top


def test_what_is_called_absent_may_stand_in_a_file_that_could_not_be_used(tmp_path: Path) -> None:
    folder = tmp_path / "job"
    copy_of("disputed-gap", folder)
    for path in (folder / "records").glob("*.toml"):
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace("said_by", "sayd_by"), encoding="utf-8")
    out = " ".join(CliRunner().invoke(app, ["gaps", str(folder), *DAY]).stdout.split())
    assert "No gap readings are recorded. It may stand in what could not be used: records/" in out
    out = " ".join(CliRunner().invoke(app, ["exceptions", str(folder), *DAY]).stdout.split())
    assert "on the receipt. It may stand in what could not be used: records/" in out


def test_problems_stand_right_under_next(tmp_path: Path) -> None:
    folder = tmp_path / "job"
    copy_of("disputed-gap", folder)
    (folder / "records" / "bad.toml").write_text('kind = "milestone"\nevnt = "sealed"\n', "utf-8")
    blocks = CliRunner().invoke(app, ["status", str(folder), *DAY]).stdout.split("\n\n")
    titles = [block.split("\n")[0] for block in blocks]
    assert titles[titles.index("Next") + 1] == "Files with problems"
