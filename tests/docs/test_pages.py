"""The pages a newcomer reads are true: README's examples run, every command and rule is named."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from claimkit.cli import app
from claimkit.findings.register import CHECKS
from claimkit.rules.carriage import CLAUSES
from docs.console import examples, not_printed, run
from tests.compose.jobs import JOBS, ROOT, sample_folder

PAGES = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").glob("*.md")])
GENERATORS = ("make.py", "job_folder.py")
HOMES = {
    "harrow-mill": "ready-to-file",
    "larkfield": "wording-and-dates-wrong",
    "veldt": "disputed-gap",
    "ember-street": "opened-and-out-of-plumb",
    "tollgate": "cold-garage",
    "jobs/harrow-mill": "ready-to-file",
    "jobs/larkfield": "wording-and-dates-wrong",
    "jobs/veldt": "disputed-gap",
}
IN_ORDER = ("walk.md", "installer.md")
"""Pages whose commands build on each other; on the others each starts from fresh sample jobs."""


@pytest.fixture(autouse=True)
def reader(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A reader with a cache and a log of their own, and a window of 80 columns."""
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "office")
    monkeypatch.setenv("COLUMNS", "80")


CASES = [
    (page.name, example.command, example.shown)
    for page in PAGES
    for example in examples(page.read_text(encoding="utf-8"))
    if page.name not in IN_ORDER
]


STARTED = next(command for _, command, _ in CASES if command.startswith("claimkit new"))
"""README's start of a job, which other pages go on with."""


def test_the_pages_have_examples() -> None:
    named = [name for name, _, _ in CASES]
    for page in ("README.md", "receiver.md", "office.md"):
        assert named.count(page) >= 3, page


def sample(name: str, target: Path) -> None:
    """Copy a sample job as it lies in the clone, without what a run would have left there."""
    left = shutil.ignore_patterns("custody", "out")
    shutil.copytree(ROOT / "sample_jobs" / name, target, ignore=left)


def samples_in(text: str, home: Path) -> None:
    """Copy the sample jobs whose folders a command or a page names."""
    for folder, job in HOMES.items():
        if f"~/{folder.split('/')[0]}" in text:
            sample(job, home / folder)


@pytest.mark.parametrize("page, command, shown", CASES, ids=[f"{p}: {c}" for p, c, _ in CASES])
def test_examples_run_and_print_what_is_shown(
    page: str, command: str, shown: tuple[str, ...], tmp_path: Path
) -> None:
    home = tmp_path / "home"
    home.mkdir()
    if "~/birch-lane" in command and not command.startswith("claimkit new"):
        run(STARTED, home)
    samples_in(command, home)
    code, printed = run(command, home)
    assert code in (0, 1), printed
    assert not_printed(shown, printed) is None, f"{not_printed(shown, printed)}\n{printed}"


@pytest.mark.parametrize("page", IN_ORDER)
def test_a_page_runs_from_top_to_bottom(page: str, tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    found = examples((ROOT / "docs" / page).read_text(encoding="utf-8"))
    samples_in("\n".join(example.command for example in found), home)
    assert len(found) > 8
    for example in found:
        code, printed = run(example.command, home)
        assert code in (0, 1), f"{example.command}\n{printed}"
        missing = not_printed(example.shown, printed)
        assert missing is None, f"{example.command}\n{missing}\n{printed}"


def test_the_walk_puts_the_sample_jobs_where_the_pages_look() -> None:
    text = (ROOT / "README.md").read_text("utf-8") + (ROOT / "docs" / "walk.md").read_text("utf-8")
    copied = {at: job for job, at in re.findall(r"cp -R sample_jobs/([a-z-]+) ~/([a-z-]+)", text)}
    assert copied == {at: job for at, job in HOMES.items() if "/" not in at}
    for at in HOMES:
        if "/" in at:
            assert re.search(rf"cp -R .*~/{at.split('/')[1]}\b.* ~/jobs/", text), at


@pytest.mark.parametrize(
    "shown, printed, found",
    [
        ("one\ntwo", "one\ntwo\n", True),
        ("one\n…\nthree", "one\ntwo\nthree\n", True),
        ("…\ntwo\n…", "one\ntwo\nthree\n", True),
        ("one\nthree", "one\ntwo\nthree\n", False),  # a line left out unmarked
        ("one", "one\ntwo\n", False),  # the rest left out unmarked
        ("two\none\n…", "one\ntwo\n", False),  # another order
        ("", "one\n", True),  # the page shows the command only
    ],
)
def test_what_a_page_shows_is_held_against_what_is_printed(
    shown: str, printed: str, found: bool
) -> None:
    assert (not_printed(tuple(shown.splitlines()), printed) is None) is found


def test_pictures_are_there_small_and_used() -> None:
    pictures = sorted((ROOT / "docs" / "pictures").glob("*.png"))
    text = "".join(page.read_text(encoding="utf-8") for page in PAGES)
    sizes = [picture.stat().st_size for picture in pictures]
    assert max(sizes) < 120_000
    assert sum(sizes) < 1_200_000
    for picture in pictures:
        assert f"pictures/{picture.name}" in text, picture.name


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


def anchors(page: Path) -> set[str]:
    """Give the anchors of a page's headings: lower case, no marks, hyphens for spaces."""
    heads = re.findall(r"^#+ (.*)$", page.read_text(encoding="utf-8"), re.M)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


def test_links_lead_somewhere() -> None:
    for page in PAGES:
        for target in re.findall(r"\]\(([^)\s]+)\)", page.read_text(encoding="utf-8")):
            if "://" in target:
                continue
            path, _, anchor = target.partition("#")
            there = page.parent / path if path else page
            assert there.exists(), f"{page.name}: {target}"
            assert not anchor or anchor in anchors(there), f"{page.name}: {target}"


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
