"""A reading of a station that job.toml does not have: told once, used nowhere, mended anew."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from claimkit.cli import app
from claimkit.model.stop import NOT_READ
from tests.compose.jobs import copy_of

DAY = ("--as-of", "2026-10-20")
RECORD = "04-dry-fit-A-B"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """The sample job with a dry-fit reading at “frnt”, for front."""
    folder = tmp_path / "job"
    copy_of("disputed-gap", folder)
    path = folder / "records" / f"{RECORD}.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('station = "front"', 'station = "frnt"'), encoding="utf-8")
    return folder


def ran(part: str, job: Path) -> tuple[int, str]:
    result = CliRunner().invoke(app, [part, str(job), *DAY])
    return result.exit_code, " ".join(result.stdout.split())


@pytest.mark.parametrize("part", ["status", "gaps", "timeline", "deadlines"])
def test_it_stands_nowhere_but_in_its_problem(job: Path, part: str) -> None:
    code, out = ran(part, job)
    assert code == NOT_READ
    problem = '"frnt" is no station of the seam "A-B". Did you mean "front"?'
    assert (problem in out) is (part == "status")
    assert "frnt" not in out.replace(problem, "")


def test_the_station_that_was_meant_is_unread(job: Path) -> None:
    _, out = ran("gaps", job)
    assert "seam A-B, station front: fastened with no usable reading at the dry fit" in out


def test_it_is_mended_by_a_new_record_and_then_nothing_is_told(job: Path) -> None:
    _, out = ran("status", job)
    assert f'in a new record that replaces this one (replaces = "{RECORD}")' in out
    path = job / "records" / f"{RECORD}.toml"
    text = path.read_text(encoding="utf-8").replace('station = "frnt"', 'station = "front"')
    kind, rest = text.split("\n", 1)
    (job / "records" / "zz-fix.toml").write_text(
        f'{kind}\nreplaces = "{RECORD}"\nreason = "front"\n{rest}', encoding="utf-8"
    )
    code, out = ran("status", job)
    assert code != NOT_READ
    assert "frnt" not in out
    assert "edited" not in out
