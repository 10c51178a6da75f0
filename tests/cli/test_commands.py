"""The commands as a person runs them: exit codes, 80 columns, JSON against its schema, packets."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from claimkit.cli import SECTIONS, app, main
from claimkit.model.stop import DONE, NOT_READ, OPEN_MATTERS
from claimkit.pixels.opencv import available
from tests.compose.jobs import JOBS, ROOT, copy_of, sample_folder

PARTS = ("status", "timeline", "exceptions", "deadlines", "gaps")
DAY = ("--as-of", "2026-10-20")
SCHEMA = json.loads((ROOT / "docs" / "json.schema.json").read_text(encoding="utf-8"))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A fresh copy of the sample job that is ready to file."""
    folder = tmp_path / "job"
    copy_of("ready-to-file", folder)
    return folder


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("name", JOBS)
def test_json_keeps_its_contract(name: str, part: str) -> None:
    folder = sample_folder(name)
    result = CliRunner().invoke(app, [part, str(folder), "--json", *DAY])
    assert result.exit_code in (DONE, OPEN_MATTERS), result.output
    value = json.loads(result.stdout)
    jsonschema.Draft202012Validator(SCHEMA).validate(value)
    assert value["command"] == part
    assert value["as_of"] == "2026-10-20"


def test_the_schema_can_refuse() -> None:
    """The contract would notice a renamed key: it is no empty schema."""
    folder = sample_folder("ready-to-file")
    result = CliRunner().invoke(app, ["deadlines", str(folder), "--json", *DAY])
    value = json.loads(result.stdout)
    value["time_limits"][0]["due"] = value["time_limits"][0].pop("act_by")
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(SCHEMA).validate(value)


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("name", JOBS)
def test_text_fits_80_columns_and_has_no_colour(name: str, part: str) -> None:
    result = CliRunner().invoke(app, [part, str(sample_folder(name)), *DAY])
    assert "\x1b" not in result.stdout
    too_wide = [line for line in result.stdout.splitlines() if len(line) > 80]
    assert not too_wide


def test_an_open_matter_changes_the_exit_code(job: Path) -> None:
    assert CliRunner().invoke(app, ["exceptions", str(job), *DAY]).exit_code == DONE
    record = job / "records" / "2026-10-08-delivery.toml"
    text = record.read_text(encoding="utf-8")
    start, end = text.index('words = """'), text.index("words_by")
    record.write_text(text[:start] + 'words = "good order"\n' + text[end:], encoding="utf-8")
    assert CliRunner().invoke(app, ["exceptions", str(job), *DAY]).exit_code == OPEN_MATTERS


def test_a_problem_in_a_file_outranks_open_matters(job: Path) -> None:
    bad = 'kind = "milestone"\nsaid_by = "inez"\nevnt = "sealed"\n'
    (job / "records" / "bad.toml").write_text(bad, encoding="utf-8")
    result = CliRunner().invoke(app, ["status", str(job), *DAY])
    assert result.exit_code == NOT_READ
    assert "evnt" in result.stdout
    assert "event" in result.stdout


def run(*arguments: str, **env: str) -> subprocess.CompletedProcess[str]:
    """Run claimkit as another program does."""
    command = [sys.executable, "-m", "claimkit", *arguments]
    return subprocess.run(
        command, env=os.environ | env, capture_output=True, text=True, encoding="utf-8", check=False
    )


@pytest.mark.parametrize(
    "arguments, code, says",
    [
        (("status", "no-such-folder"), 5, "no-such-folder"),  # a typed-wrong path
        (("packet", str(ROOT / "docs"), "--for", "own"), 5, "no job.toml"),  # not a job folder
        (("packet", ".", "--for", "everyone"), 2, "everyone"),  # not a reader
        (("status", ".", "--as-of", "05/04/2026"), 2, "05/04/2026"),  # not a date
    ],
)
def test_errors_are_one_sentence_without_a_traceback(
    arguments: tuple[str, ...], code: int, says: str
) -> None:
    result = run(*arguments)
    assert result.returncode == code
    assert says in result.stderr
    assert "Traceback" not in result.stderr
    assert result.stdout == ""


def test_a_run_ends_with_its_exit_code(job: Path, tmp_path: Path) -> None:
    """click's own test runner does not go through `main`, which once gave 0 for everything."""
    env = {"CLAIMKIT_CACHE": str(tmp_path / "cache"), "CLAIMKIT_WRITER": "test"}
    assert run("exceptions", str(job), *DAY, **env).returncode == DONE
    record = job / "records" / "2026-10-08-delivery.toml"
    text = record.read_text(encoding="utf-8")
    start, end = text.index('words = """'), text.index("words_by")
    record.write_text(text[:start] + 'words = "good order"\n' + text[end:], encoding="utf-8")
    assert run("exceptions", str(job), *DAY, **env).returncode == OPEN_MATTERS
    (job / "records" / "bad.toml").write_text('kind = "milestone"\n', encoding="utf-8")
    assert run("exceptions", str(job), *DAY, **env).returncode == NOT_READ


def test_help_loads_nothing_heavy() -> None:
    heavy = "PIL reportlab pydantic exifread pi_heif sqlite_utils numpy holidays rapidfuzz cv2"
    code = (
        "import sys, claimkit.cli; from click.testing import CliRunner;"
        "r = CliRunner().invoke(claimkit.cli.app, ['--help']); assert r.exit_code == 0;"
        f"print([m for m in {heavy.split()} if m in sys.modules])"
    )
    result = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert result.stdout.strip() == "[]"


def test_status_of_an_indexed_job_loads_nothing_that_reads_or_draws(
    job: Path, tmp_path: Path
) -> None:
    heavy = "PIL reportlab pikepdf exifread pi_heif pypdf cv2 importlib.metadata email.message"
    place = {"CLAIMKIT_CACHE": str(tmp_path / "cache"), "CLAIMKIT_WRITER": "test"}
    code = (
        "import sys; from claimkit.cli import app\n"
        f"try: app.main(['status', {str(job)!r}], standalone_mode=False)\n"
        f"finally: print([m for m in {heavy.split()} if m in sys.modules])"
    )

    def loaded() -> str:
        command = [sys.executable, "-c", code]
        done = subprocess.run(
            command, capture_output=True, encoding="utf-8", env=os.environ | place, check=False
        )
        return done.stdout.splitlines()[-1]

    assert "exifread" in loaded(), "the first run reads the photos"
    assert loaded() == "[]"


def test_packet_bytes_do_not_depend_on_where_they_are_made(job: Path, tmp_path: Path) -> None:
    """Time zone, hash seed, cores and cache: the bytes stay; the log gains no intake line."""
    first = tmp_path / "first.pdf"
    common = {"CLAIMKIT_WRITER": "test"}
    made = run("packet", str(job), "--for", "carrier", "--out", str(first), *DAY, **common)
    assert made.returncode == 0, made.stderr
    settings = [
        {"TZ": "Asia/Tokyo", "PYTHONHASHSEED": "1", "CLAIMKIT_CACHE": str(tmp_path / "cold")},
        {"TZ": "America/Anchorage", "PYTHONHASHSEED": "2"},
        {"PYTHON_CPU_COUNT": "1", "CLAIMKIT_CACHE": str(tmp_path / "cold2")},
    ]
    for number, env in enumerate(settings):
        out = tmp_path / f"again-{number}.pdf"
        result = run(
            "packet", str(job), "--for", "carrier", "--out", str(out), *DAY, **common, **env
        )
        assert result.returncode == 0, result.stderr
        assert out.read_bytes() == first.read_bytes(), env


def test_a_packet_that_was_sent_is_never_overwritten(job: Path) -> None:
    arguments = ["packet", str(job), "--for", "own", *DAY]
    assert CliRunner().invoke(app, arguments).exit_code == DONE
    sent = job / "out" / "own-2026-10-20.pdf"
    before = sent.read_bytes()
    note = 'kind = "milestone"\nsaid_by = "inez"\nevent = "dry fit"\nbegan = 2026-10-12\n'
    (job / "records" / "dry-fit.toml").write_text(note, encoding="utf-8")
    assert CliRunner().invoke(app, arguments).exit_code == DONE
    assert sent.read_bytes() == before
    assert (job / "out" / "own-2026-10-20-2.pdf").read_bytes() != before


def test_originals_are_not_touched(job: Path) -> None:
    def state() -> dict[str, tuple[bytes, int]]:
        return {
            str(p): (p.read_bytes(), p.stat().st_mtime_ns)
            for p in job.rglob("*")
            if p.is_file() and p.relative_to(job).parts[0] not in ("out", "custody")
        }

    before = state()
    for reader in ("carrier", "seller", "customer", "own"):
        assert CliRunner().invoke(app, ["packet", str(job), "--for", reader, *DAY]).exit_code == 0
    assert state() == before


def test_main_reports_a_defect_with_its_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    """A user's error is a sentence; our own defect keeps its traceback."""

    def broken(**_: object) -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setattr(app, "main", broken)
    with pytest.raises(ZeroDivisionError):
        main()


def test_new_makes_a_job_that_validates(tmp_path: Path) -> None:
    folder = tmp_path / "birch"
    options = [
        "--title",
        "Birch “Lane” 3",
        "--address",
        "3 Birch Lane",
        "--zone",
        "America/Chicago",
    ]
    more = ["--carrier", "Polar Freight", "--handling-units", "2", "--us", 'Quay & "Sons"']
    assert CliRunner().invoke(app, ["new", str(folder), *options, *more]).exit_code == DONE
    result = CliRunner().invoke(app, ["status", str(folder), "--json", *DAY])
    assert json.loads(result.stdout)["problems"] == []
    before = (folder / "job.toml").read_bytes()
    again = run("new", str(folder), *options)
    assert again.returncode == 5
    assert "left as it is" in again.stderr
    assert (folder / "job.toml").read_bytes() == before


def test_new_says_all_that_is_missing_at_once(tmp_path: Path) -> None:
    result = run("new", str(tmp_path / "x"), "--title", "only this")
    assert result.returncode == 2
    assert "--address, --zone" in result.stderr
    assert not (tmp_path / "x").exists()


def test_help_lists_every_command_in_its_section_and_in_full() -> None:
    listed = CliRunner().invoke(app, ["--help"], terminal_width=80).stdout
    placed = [name for _, names in SECTIONS for name in names]
    assert len(placed) == len(set(placed))
    for name, command in app.commands.items():
        assert name in placed, "name it in SECTIONS"
        first = (command.help or "").split("\n\n")[0].split(". ")[0].rstrip(".")
        assert first in listed, f"{name}: the first sentence is too long for the list"


@pytest.mark.skipif(available() is not None, reason="OpenCV is not installed")
def test_gaps_are_read_off_the_photos_of_a_job(tmp_path: Path) -> None:
    """The drawn gaps are known: each photo's reading holds the truth within its U."""
    folder = tmp_path / "job"
    copy_of("cold-garage", folder)
    result = CliRunner().invoke(app, ["gaps", str(folder), "--json", "--as-of", "2026-02-10"])
    value = json.loads(result.stdout)
    jsonschema.Draft202012Validator(SCHEMA).validate(value)
    drawn = {"41": 3.05, "42": 3.05, "45": 3.15, "88": 2.0, "89": 2.1}
    found = {gap["photo"][-6:-4]: gap for gap in value["photo_gaps"]}
    assert found.keys() == drawn.keys()
    for name, truth in drawn.items():
        assert abs(found[name]["gap_mm"] - truth) <= found[name]["expanded_mm"], name
        assert found[name]["decides"], found[name]["because"]
    (bench,) = value["bench_checks"]
    assert bench["passed"]
    again = CliRunner().invoke(app, ["gaps", str(folder), "--as-of", "2026-02-10"])
    assert max(map(len, again.stdout.splitlines())) <= 80
    assert "UNCHANGED between the dry fit" in again.stdout
    assert "To settle the change: Read it with a rule" in again.stdout
    assert "To settle the fit now: Read it at least five times" in again.stdout
