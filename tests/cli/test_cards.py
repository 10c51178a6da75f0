"""The command that prints scale cards, as a person runs it, with its own lines pasted back."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from claimkit.cli import app
from claimkit.model.stop import DONE, NOT_READ, OPEN_MATTERS, STOPPED
from tests.compose.jobs import copy_of

DAY = ("--as-of", "2026-10-20")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A fresh copy of the sample job with two seams of two stations, none with a card."""
    folder = tmp_path / "job"
    copy_of("disputed-gap", folder)
    return folder


def run(job: Path, *options: str) -> Result:
    result = CliRunner().invoke(app, ["cards", str(job), *DAY, *options])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def block(output: str, head: str) -> str:
    """The lines to copy under a head."""
    after = output.partition(f"\n{head}\n")[2]
    return "\n".join(line.removeprefix("  ") for line in after.partition("\n\n")[0].splitlines())


def test_the_printed_lines_pasted_back_are_taken(job: Path) -> None:
    """First run proposes; with its lines added the cards are named; with its record all is well."""
    first = run(job)
    assert first.exit_code == DONE, first.output
    assert all(len(line) <= 80 for line in first.output.splitlines() if "/" not in line)

    text = (job / "job.toml").read_text("utf-8")
    lines = block(first.output, "Add to job.toml").splitlines()
    start = 0
    for line in lines:
        if line.startswith("# Seam"):  # each station's lines go below that seam's own table
            start = text.index(f'id = "{line.split(":")[0].removeprefix("# Seam ")}"')
        elif line.startswith("id ="):
            start = text.index(line, start) + len(line)
        else:
            text = text[:start] + "\n" + line + text[start:]
    (job / "job.toml").write_text(text, "utf-8")
    stations = [s for seam in tomllib.loads(text)["seam"] for s in seam["station"]]
    assert [s["card"] for s in stations] == [0, 1, 2, 3]

    second = run(job)
    assert second.exit_code == OPEN_MATTERS
    assert "card-sheet-not-measured" in second.output
    assert "Add to job.toml" not in second.output

    record = block(second.output, "Write records/card-sheet.toml")
    for blank, measured in (("along", "10"), ("across", "6 31/32")):
        assert f'{blank} = "______ in"' in record
        record = record.replace(f'{blank} = "______', f'{blank} = "{measured}')
    (job / "records" / "card-sheet.toml").write_text(record, "utf-8")
    third = run(job)
    assert third.exit_code == DONE, third.output
    assert "card-sheet" not in third.output.partition("Print check")[2]
    assert 'replaces = "card-sheet"' in third.output  # for a print that is made anew


def test_a_blank_left_in_a_record_is_a_problem(job: Path) -> None:
    record = block(run(job).output, "Write records/card-sheet.toml")
    (job / "records" / "card-sheet.toml").write_text(record, "utf-8")
    assert run(job).exit_code == NOT_READ


def test_a_print_is_numbered_logged_and_never_overwritten(job: Path) -> None:
    untouched = (job / "job.toml").read_bytes()
    first = run(job)
    path = job / "out" / "cards-letter.pdf"
    assert first.output.rstrip().endswith(str(path))
    kept = path.read_bytes()
    assert "the same bytes were there already" in run(job).output
    assert (job / "job.toml").read_bytes() == untouched
    text = untouched.decode("utf-8").replace("reception counter", "kitchen counter", 1)
    (job / "job.toml").write_text(text, "utf-8")
    assert run(job).output.rstrip().endswith("cards-letter-2.pdf")
    assert path.read_bytes() == kept
    logged = [
        json.loads(line)
        for log in (job / "custody").glob("*.jsonl")
        for line in log.read_text("utf-8").splitlines()
    ]
    written = [line["path"] for line in logged if line["event"] == "packet written"]
    assert written.count("out/cards-letter.pdf") == 2
    assert written[-1] == "out/cards-letter-2.pdf"


def test_paper_place_and_all(job: Path, tmp_path: Path) -> None:
    assert "cards-all-a4.pdf" in run(job, "--all", "--paper", "a4").output
    out = tmp_path / "elsewhere.pdf"
    assert str(out) in run(job, "--out", str(out)).output
    assert out.read_bytes().startswith(b"%PDF")


def test_a_job_that_cannot_be_read_is_said_with_its_problems(job: Path) -> None:
    text = (job / "job.toml").read_text("utf-8")
    (job / "job.toml").write_text(text.replace('joint = "butt"', 'joint = "but"', 1), "utf-8")
    from claimkit.model.stop import CannotGoOn

    with pytest.raises(CannotGoOn, match=r"cannot be used as it stands(?s:.*)joint"):
        run(job)
    assert STOPPED == 5
