"""The pages a newcomer reads are true: README's examples run, every command and rule is named."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from claimkit.cli import app
from claimkit.findings.register import CHECKS
from claimkit.rules.carriage import CLAUSES
from tests.compose.jobs import JOBS, ROOT, copy_of, sample_folder

PAGES = sorted([ROOT / "README.md", *(ROOT / "docs").glob("*.md")])
GENERATORS = ("make.py", "job_folder.py")
HOMES = {"harrow-mill": "ready-to-file", "larkfield": "wording-and-dates-wrong"} | {
    "veldt": "disputed-gap"
}


def examples(text: str) -> list[tuple[str, list[str]]]:
    """Give each command of the console blocks with the output lines shown beneath it."""
    found: list[tuple[str, list[str]]] = []
    for block in re.findall(r"```console\n(.*?)```", text, re.S):
        for line in block.splitlines():
            if line.startswith("$ "):
                found.append((line[2:], []))
            elif line.strip() and found:
                found[-1][1].append(line)
    return found


CASES = [
    (page.name, command, shown)
    for page in PAGES
    for command, shown in examples(page.read_text(encoding="utf-8"))
]


def test_the_readme_has_examples() -> None:
    assert len([name for name, _, _ in CASES if name == "README.md"]) >= 5


@pytest.mark.parametrize("page, command, shown", CASES, ids=[f"{p}: {c}" for p, c, _ in CASES])
def test_examples_run_and_print_what_is_shown(
    page: str, command: str, shown: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "office")
    monkeypatch.setenv("COLUMNS", "80")
    for home, job in HOMES.items():
        copy_of(job, tmp_path / home)
    words = shlex.split(command)
    assert words[0] == "claimkit"
    arguments = [w.replace("~/", f"{tmp_path}/") for w in words[1:]]
    result = CliRunner().invoke(app, arguments)
    assert result.exit_code in (0, 1), result.output
    output = result.output.replace(f"{tmp_path}/", "~/").replace("\N{NO-BREAK SPACE}", " ")
    printed = iter(output.splitlines())
    for line in shown:
        if line.strip() == "…":
            continue
        assert any(line.rstrip() == real.rstrip() for real in printed), line


def test_every_command_is_documented() -> None:
    text = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    for name in app.commands:
        assert f"## claimkit {name}\n" in text


def test_every_rule_and_clause_is_documented() -> None:
    text = (ROOT / "docs" / "rules.md").read_text(encoding="utf-8")
    for rule in (*(c.id for c in CHECKS), *(c.id for c in CLAUSES)):
        assert f"`{rule}`" in text


@pytest.mark.parametrize("generator", GENERATORS)
def test_generated_pages_are_current(generator: str) -> None:
    result = subprocess.run(
        [sys.executable, str(ROOT / "docs" / generator), "--check"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert result.returncode == 0, result.stderr


def test_links_lead_somewhere() -> None:
    for page in PAGES:
        for target in re.findall(r"\]\(([^)#]+)[^)]*\)", page.read_text(encoding="utf-8")):
            if "://" not in target:
                assert (page.parent / target).exists(), f"{page.name}: {target}"


def test_sample_jobs_are_what_the_script_makes() -> None:
    """The committed jobs are the script's own output, byte for byte."""
    for job in (*JOBS, "cold-garage"):
        made = sample_folder(job)
        names = {p.relative_to(made) for p in made.rglob("*") if p.is_file()}
        names = {n for n in names if n.parts[0] not in ("out", "custody")}
        kept = ROOT / "sample_jobs" / job
        assert names == {p.relative_to(kept) for p in kept.rglob("*") if p.is_file()}
        for name in names:
            if name.suffix == ".jpg":  # the encoder's version may differ; the Exif must not
                continue
            assert (made / name).read_bytes() == (kept / name).read_bytes(), name
