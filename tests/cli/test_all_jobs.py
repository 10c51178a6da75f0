"""All jobs at once: order, filters, broken jobs, the kept briefs against a fresh run.

The days that are expected come from law.md's worked counts, typed here; the kept state of a limit
is held against a whole run of the rules on that day, which is a second route.
"""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
import sqlite3
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from claimkit.cli import app
from claimkit.findings.reason import reason
from claimkit.findings.summary import in_brief
from claimkit.intake.briefs import Briefs, job_folders
from claimkit.intake.mark import mark_of
from claimkit.model.limit import LimitState, Whose
from claimkit.model.summary import LimitBrief
from claimkit.wiring.alljobs import all_jobs
from tests.compose.jobs import AS_OF, JOBS, NOW, ROOT, copy_of, sample_case

DAY = ("--as-of", "2026-10-20")


THREE = ("ready-to-file", "wording-and-dates-wrong", "disputed-gap")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Three sample jobs, one of them a folder deeper, beside what is no job."""
    root = tmp_path / "jobs"
    root.mkdir()
    for name in THREE:
        home = root / "older" if name == "disputed-gap" else root
        home.mkdir(exist_ok=True)
        copy_of(name, home / name)
    (root / "notes").mkdir()
    (root / ".hidden").mkdir()
    (root / ".hidden" / "job.toml").write_text("", encoding="utf-8")
    return root


def ran(*arguments: str | Path) -> tuple[int, str]:
    result = CliRunner().invoke(app, [str(a) for a in arguments])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.stdout


def test_job_folders_are_found_below_and_nothing_hidden(folder: Path) -> None:
    found = [p.relative_to(folder).as_posix() for p in job_folders(folder)]
    assert found == ["older/disputed-gap", "ready-to-file", "wording-and-dates-wrong"]


def test_limits_come_by_their_day_to_act(folder: Path) -> None:
    code, out = ran("deadlines", folder, *DAY)
    assert code == 0
    days = [line[4:14] for line in out.splitlines() if line[4:6] == "20"]
    assert days == sorted(days)
    # Delivered Thu 2026-10-08: nine months end on Thu 2027-07-08, act by the working day before.
    assert "Wed 2027-07-07 running           ready-to-file, panels: Claim for loss" in out
    assert max(map(len, out.splitlines())) <= 80


@pytest.mark.parametrize(
    "filters, there, absent",
    [
        (("--carrier", "prairie"), {"panels"}, {"stone"}),
        (("--next", "230"), {"stone"}, {"panels"}),  # to Mon 2027-06-07 inclusive
        (("--open",), {"panels", "stone"}, set()),
    ],
)
def test_filters(folder: Path, filters: tuple[str, ...], there: set[str], absent: set[str]) -> None:
    code, out = ran("deadlines", folder, *DAY, *filters, "--json")
    shipments = {t["shipment"] for t in json.loads(out)["time_limits"]}
    assert code == 0
    assert shipments >= there
    assert not shipments & absent


def test_overdue_is_what_is_past_its_day_and_not_met(folder: Path) -> None:
    code, out = ran("deadlines", folder, "--as-of", "2027-07-08", "--overdue", "--json")
    limits = json.loads(out)["time_limits"]
    assert code == 1
    assert {t["state"] for t in limits} <= {"act-by day passed", "passed"}
    late = [(t["shipment"], t["act_by"], t["state"]) for t in limits]
    assert ("panels", "2027-07-07", "act-by day passed") in late
    assert not [t for t in limits if t["met_on"]]


def test_one_broken_job_hides_no_other(folder: Path) -> None:
    broken = folder / "broken"
    broken.mkdir()
    (broken / "job.toml").write_bytes(b"\xff\xfe\x00 title = [")
    odd = folder / "odd"
    odd.mkdir()
    (odd / "job.toml").mkdir()
    code, out = ran("status", folder, *DAY)
    assert code == 3
    for name in ("ready-to-file", "wording-and-dates-wrong", "disputed-gap", "broken", "odd"):
        assert name in out


def test_a_defect_in_one_job_is_said_and_the_rest_goes_on(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import claimkit.wiring.workspace

    whole = claimkit.wiring.workspace.work_out

    def fails(job: Path, **more: object) -> object:
        if job.name == "ready-to-file":
            raise KeyError("planted")
        return whole(job, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(claimkit.wiring.workspace, "work_out", fails)
    code, out = ran("deadlines", folder, *DAY)
    assert code == 3
    assert "ready-to-file: claimkit failed on it (KeyError: 'planted')" in out
    assert "stone" in out


def test_kept_briefs_equal_those_worked_out_afresh(folder: Path, monkeypatch: object) -> None:
    now = datetime(2026, 10, 20, 15, 0, tzinfo=UTC)
    first = all_jobs(folder, now=now, as_of=AS_OF)
    kept = all_jobs(folder, now=now, as_of=AS_OF, scan=False)
    assert kept.jobs == first.jobs
    assert kept.looked_at == now
    record = folder / "ready-to-file" / "records" / "claim.toml"
    record.write_text(
        'kind = "notice"\nsaid_by = "tobias"\nabout = "claim"\nsender = "us"\nto = "hauler"\n'
        'sent = "2026-10-12"\nreceived = "2026-10-12"\namount = "1052.50 USD"\n',
        encoding="utf-8",
    )
    stale = all_jobs(folder, now=now, as_of=AS_OF, scan=False)
    assert stale.jobs == first.jobs  # nothing was looked at
    again = all_jobs(folder, now=now, as_of=AS_OF, scan=True)
    shutil.rmtree(os.environ["CLAIMKIT_CACHE"])
    assert again.jobs == all_jobs(folder, now=now, as_of=AS_OF).jobs
    assert again.jobs != first.jobs
    (claim,) = (x for x in again.jobs[1].limits if x.clause == "us-motor-claim-damage")
    assert claim.state_on(AS_OF) is LimitState.MET


def test_an_unchanged_job_is_not_worked_out_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    all_jobs(folder, now=NOW, as_of=AS_OF)
    monkeypatch.setattr(
        "claimkit.wiring.workspace.work_out", lambda *_, **__: pytest.fail("worked out")
    )
    again = all_jobs(folder, now=NOW, as_of=AS_OF, scan=True)
    assert len(again.jobs) == 3
    assert not [job for job in again.jobs if job.error]


@pytest.mark.parametrize("change", ["edit", "add", "remove", "move", "touch"])
def test_a_change_of_any_file_changes_the_mark(tmp_path: Path, change: str) -> None:
    job = tmp_path / "job"
    (job / "records").mkdir(parents=True)
    file = job / "records" / "a.toml"
    file.write_text("a", encoding="utf-8")
    before = mark_of(job)
    if change == "edit":
        file.write_text("bb", encoding="utf-8")
    elif change == "add":
        (job / "b").write_text("", encoding="utf-8")
    elif change == "remove":
        file.unlink()
    elif change == "move":
        file.rename(job / "a.toml")
    else:
        os.utime(file, ns=(1, 1))
    assert mark_of(job) != before
    (job / "out").mkdir()
    (job / "out" / "packet.pdf").write_text("", encoding="utf-8")
    after = mark_of(job)
    (job / "out" / "packet.pdf").write_text("more", encoding="utf-8")
    assert mark_of(job) == after  # what claimkit writes changes no answer


def test_a_removed_job_goes_and_a_damaged_cache_is_made_anew(folder: Path) -> None:
    assert len(all_jobs(folder, now=NOW, as_of=AS_OF).jobs) == 3
    shutil.rmtree(folder / "ready-to-file")
    assert len(all_jobs(folder, now=NOW, as_of=AS_OF).jobs) == 2
    Briefs().file.write_bytes(b"not a database, but long enough to be looked at as one" * 40)
    assert len(all_jobs(folder, now=NOW, as_of=AS_OF).jobs) == 2
    assert len(all_jobs(folder, now=NOW, as_of=AS_OF, scan=False).jobs) == 2
    with sqlite3.connect(Briefs().file) as db:
        db.execute("PRAGMA user_version = 99")
    assert len(all_jobs(folder, now=NOW, as_of=AS_OF).jobs) == 2


@pytest.mark.parametrize("name", JOBS)
def test_a_limit_stands_on_any_day_as_a_whole_run_would_say(name: str) -> None:
    """Second route: the rules run anew on each day. Repeating limits are counted to the day."""
    facts = sample_case(name).facts
    brief = in_brief(sample_case(name), "x", NOW)
    for step in range(0, 500, 23):
        day = AS_OF + timedelta(days=step)
        whole = reason(facts, day, NOW)
        run = {(t.clause.id, t.nominal): t.state for t in whole.limits if not t.clause.repeats}
        kept = {(x.clause, x.nominal): x.state_on(day) for x in brief.limits if not x.repeats}
        assert kept == run, day


def test_the_next_move_holds_as_long_as_it_says() -> None:
    facts = sample_case("ready-to-file").facts
    brief = in_brief(sample_case("ready-to-file"), "x", NOW)
    assert brief.holds_until
    last = in_brief(reason(facts, brief.holds_until, NOW), "x", NOW)
    assert (last.urgent, last.missing, last.next_text) == (
        brief.urgent,
        brief.missing,
        brief.next_text,
    )


def test_rows_open_in_a_spreadsheet(folder: Path) -> None:
    for part in ("deadlines", "status"):
        _, out = ran(part, folder, *DAY, "--csv", "--bom")
        assert out.startswith("\N{ZERO WIDTH NO-BREAK SPACE}")
        rows = list(csv.reader(io.StringIO(out[1:], newline="")))
        assert len({len(row) for row in rows}) == 1
        assert len(rows) > 3


def test_filters_are_refused_for_one_job(folder: Path) -> None:
    result = CliRunner().invoke(app, ["deadlines", str(folder / "ready-to-file"), "--overdue"])
    assert "is one job" in str(result.exception)


def test_an_empty_folder_is_no_folder_of_jobs(tmp_path: Path) -> None:
    result = CliRunner().invoke(app, ["deadlines", str(tmp_path)])
    assert "no job.toml" in str(result.exception)


def test_very_many_are_not_looked_at_unasked(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    all_jobs(folder, now=NOW, as_of=AS_OF)
    monkeypatch.setattr("claimkit.wiring.alljobs.FEW", 2)
    later = datetime(2026, 10, 25, 9, 0, tzinfo=UTC)
    kept = all_jobs(folder, now=later, as_of=date(2027, 8, 1))
    assert not kept.scanned
    assert kept.looked_at == NOW
    assert len(kept.outlived) >= 2


@pytest.mark.parametrize("part", ["status", "deadlines"])
def test_json_keeps_its_contract(folder: Path, part: str) -> None:
    text = (ROOT / "docs" / "json-jobs.schema.json").read_text(encoding="utf-8")
    schema = jsonschema.Draft202012Validator(json.loads(text))
    (folder / "odd").mkdir()
    (folder / "odd" / "job.toml").mkdir()
    _, out = ran(part, folder, *DAY, "--json")
    value = json.loads(out)
    schema.validate(value)
    assert ("time_limits" in value) is (part == "deadlines")
    value["jobs"][0]["next_day"] = value["jobs"][0].pop("next")
    with pytest.raises(jsonschema.ValidationError):
        schema.validate(value)


@pytest.mark.parametrize(
    "whose, day, state",
    [
        (Whose.OURS, date(2026, 5, 7), LimitState.RUNNING),  # the day to act itself
        (Whose.OURS, date(2026, 5, 8), LimitState.DUE_PASSED),
        (Whose.CARRIERS, date(2026, 5, 8), LimitState.RUNNING),  # its duty ends on its last day
        (Whose.CARRIERS, date(2026, 5, 11), LimitState.RUNNING),
        (Whose.CARRIERS, date(2026, 5, 12), LimitState.PASSED),
    ],
)
def test_the_day_to_act_is_ours_alone(whose: Whose, day: date, state: LimitState) -> None:
    brief = LimitBrief(
        clause="x", title="x", shipment="main", carrier="", whose=whose,
        started_on=date(2026, 5, 4), nominal=date(2026, 5, 11), act_by=date(2026, 5, 7),
        met_on=None, matters=True, undated=False, repeats=False, do="", to="",
    )  # fmt: skip
    assert brief.state_on(day) is state


def test_time_alone_makes_a_job_be_worked_out_again(folder: Path) -> None:
    first = all_jobs(folder, now=NOW, as_of=AS_OF)
    holds = next(job.holds_until for job in first.jobs if job.holds_until)
    assert holds
    same = all_jobs(folder, now=NOW, as_of=holds)
    assert not same.outlived
    day = holds + timedelta(days=400)
    later = all_jobs(folder, now=NOW, as_of=day)
    dated = {job.path for job in same.jobs if job.holds_until and job.holds_until < day}
    worked = {job.path for job in later.jobs if job.worked_on == day}
    assert dated
    assert worked == dated  # a job without a day that changes it keeps its brief
    assert not later.outlived


def test_where_nothing_is_kept_and_nothing_is_looked_at_that_is_said(folder: Path) -> None:
    _, out = ran("deadlines", folder, *DAY, "--no-scan")
    assert "Look at it with --scan." in out
