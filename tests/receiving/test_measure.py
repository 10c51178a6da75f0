"""`claimkit measure`: gaps station by station, the opening and steps, typed or by a pipe."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import time
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.cli import app
from claimkit.intake.entries.problems import Unreadable
from claimkit.intake.entries.quantities import length
from claimkit.intake.entries.records import read_all
from claimkit.keyboard.lengths import one, several
from claimkit.model.measuring import Instrument, OpeningCheck, Readings
from claimkit.model.records import Milestone, Record
from claimkit.model.stages import Event, Stage
from claimkit.model.stop import DONE, OPEN_MATTERS, CannotGoOn
from tests.compose.jobs import copy_of

DRY_FIT = ("03-dry-fit.toml", "04-dry-fit-A-B.toml")
FASTENED = (*DRY_FIT, "05-dry-fit-B-C.toml", "06-fastened.toml")
AT = "2026-08-12 15:20"
HEAD = (AT, "", "", "", "21 C", "y", "")
"""When; stage, instrument and its number as they were; temperature, level, nothing else."""


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A cache and a log of their own, and a window of 80 columns."""
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "van")
    monkeypatch.setenv("COLUMNS", "80")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The counter of the sample job just after it was fastened: read at the dry fit alone."""
    return counter(tmp_path / "counter", FASTENED)


def counter(root: Path, records: tuple[str, ...]) -> Path:
    copy_of("disputed-gap", root)
    for path in (root / "records").iterdir():
        if path.name not in records:
            path.unlink()
    return root


def typed(folder: Path, *lines: str, of: str = "gaps") -> Result:
    """Run the command with these lines, each with Enter behind it; then the input ends."""
    what = ("--of", of) if of else ()
    text = "".join(f"{line}\n" for line in lines)
    result = CliRunner().invoke(app, ["measure", str(folder), *what], input=text)
    if result.exception and not isinstance(result.exception, SystemExit | CannotGoOn):
        raise result.exception
    assert max(map(len, result.output.splitlines()), default=0) <= 80
    return result


def recorded(folder: Path) -> tuple[Record, ...]:
    """Read records/ as any run does; what the command wrote must have no problem."""
    files = {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }
    records = [(p, data) for p, data in files.items() if p.startswith("records/")]
    written = read_all(("job.toml", files["job.toml"]), records, frozenset(files))
    assert written.problems == ()
    return tuple(r for r in written.records if r.id.startswith("20"))


def only(folder: Path) -> Any:
    records = recorded(folder)
    assert len(records) == 1
    return records[0].body


def plain(text: str) -> str:
    """Give a text on one line with plain spaces."""
    return " ".join(text.split())


# ---- Gaps


def test_a_number_and_enter_for_each_station(folder: Path) -> None:
    told = typed(folder, *HEAD, "", "4.4", "4.3", "", "1.9", "1.9", "")
    first, second = (record.body for record in recorded(folder))
    assert isinstance(first, Readings)
    assert isinstance(second, Readings)
    assert (first.seam, second.seam) == ("A-B", "B-C")
    assert first.stage is Stage.FASTENED
    assert first.taken.written == AT
    assert first.instrument is Instrument.TAPER_GAUGE
    assert first.instrument_id == "gauge 7"
    assert first.temperature is not None
    assert first.temperature.celsius == 21
    assert first.set_level is True
    assert [(r.station, [g.mm for g in r.gap]) for r in first.at] == [
        ("front", [Fraction("4.4")]),
        ("back", [Fraction("4.3")]),
    ]
    assert sorted(p.name for p in (folder / "records").glob("20*")) == [
        "2026-08-12-fastened-a-b.toml",
        "2026-08-12-fastened-b-c.toml",
    ]
    assert told.exit_code == OPEN_MATTERS  # A-B is outside its design


def test_what_is_said_at_once_is_what_gaps_prints(folder: Path) -> None:
    """The value, the fit and the change with its probability, by the numbers of `gaps`."""
    told = typed(folder, *HEAD, "A-B", "4.4 4.5 4.4", "5.9", "2", "1.9", "4.4")
    printed = plain(CliRunner().invoke(app, ["gaps", str(folder)]).output)
    said = re.findall(
        r"(OPENED|CLOSED|UNCHANGED) since .*?: (-?\d\S* ± \S+ mm) \((.*?)\)", plain(told.output)
    )
    assert [word for word, _, _ in said] == ["UNCHANGED", "OPENED", "UNCHANGED", "OPENED"]
    for word, change, odds in said:
        assert f"{word} between" in printed
        assert f"{change} (opened" in printed
        assert f"{word.lower()} {odds}" in printed
    for value in re.findall(r"(\d\.\d+ ± \S+ mm), (?:within|outside) design", plain(told.output)):
        assert f"{value}, " in printed


def test_a_first_reading_is_called_one(tmp_path: Path) -> None:
    folder = counter(tmp_path / "counter", DRY_FIT)
    told = typed(folder, "2026-08-11 11:50", *[""] * 3, "20 C", "y", "in", "y", "", "", "1.8", "2")
    assert "Seam [B-C]" in told.output  # A-B was read already
    assert told.output.count("First reading at this station.") == 2
    assert told.exit_code == OPEN_MATTERS  # the input broke off
    body = only(folder)
    assert (body.stage, body.place, body.clamped) == (Stage.DRY_FIT, "in the opening", True)


def test_done_without_anything_open(tmp_path: Path) -> None:
    folder = counter(tmp_path / "counter", DRY_FIT)
    head = ("2026-08-11 11:50", *[""] * 3, "20 C", "y", "in", "y", "")
    told = typed(folder, *head, "", "1.8", "2", "")
    assert told.exit_code == DONE, told.output


def test_a_change_that_cannot_be_told_says_so(folder: Path) -> None:
    told = typed(folder, *HEAD, "B-C", "3.1", ".")
    assert "CANNOT TELL whether it changed since the dry fit (2026-08-11)" in plain(told.output)
    gaps = plain(CliRunner().invoke(app, ["gaps", str(folder)]).output)
    assert "CANNOT TELL between the dry fit (2026-08-11) and fastening (2026-08-12)" in gaps


@pytest.mark.parametrize(
    "line, written",
    [
        ("5.5", ["5.5 mm"]),
        ("5,5 mm", ["5,5 mm"]),
        ("0.22 in", ["0.22 in"]),
        ("7/32 in", ["7/32 in"]),
        ('7/32"', ['7/32"']),
        ("4.5 4,4 4.5", ["4.5 mm", "4,4 mm", "4.5 mm"]),
        ("4.5; 4.4;4.5 mm", ["4.5 mm", "4.4 mm", "4.5 mm"]),
        ("4.5, 4.4", ["4.5 mm", "4.4 mm"]),
    ],
)
def test_readings_as_people_type_them(folder: Path, line: str, written: list[str]) -> None:
    typed(folder, *HEAD, "", line)
    assert [gap.written for gap in only(folder).at[0].gap] == written


WRONG = {
    "7/32": "Write '7/32 in' or '7/32 mm'",  # no fraction stands on a gauge in mm
    "5, 5": "can be read as one number or as several",
    "wide": "not a length",
    "-1": "less than zero",
    "1 m": "300",  # an opening of more than a foot is no seam
    "1/0 in": "divides by zero",
}


def test_a_wrong_reading_says_what_to_write_and_asks_again(folder: Path) -> None:
    told = typed(folder, *HEAD, "", *WRONG, "4.4")
    answers = plain(told.output).split("A-B front (50 mm), mm: ")[1:]
    assert len(answers) == len(WRONG) + 1
    for answer, (line, says) in zip(answers, WRONG.items(), strict=False):
        assert answer.startswith(line)
        assert says in answer
    assert [gap.written for gap in only(folder).at[0].gap] == ["4.4 mm"]


def test_an_inch_tape_takes_fractions_and_asks_for_the_unit_of_others(folder: Path) -> None:
    head = (AT, "", "tape 1/16 in", "", "", "", "")
    told = typed(folder, *head, "", "5.5", "3/16", "1 1/8 1 3/16", "y", "", "5 mm", "6")
    assert "Which one (its number) [gauge 7]" not in told.output  # that was another instrument
    assert "Write '5.5 in' or '5.5 mm'" in told.output
    first, second = (record.body for record in recorded(folder))
    assert isinstance(first, Readings)
    assert isinstance(second, Readings)
    assert [gap.mm for r in first.at for gap in r.gap] == [
        Fraction("25.4") * Fraction(3, 16),
        Fraction("25.4") * Fraction(9, 8),
        Fraction("25.4") * Fraction(19, 16),
    ]
    # A unit that was typed holds for the numbers of its kind that follow.
    assert [gap.written for r in second.at for gap in r.gap] == ["5 mm", "6 mm"]


def test_back_takes_answers_back_and_offers_them_again(folder: Path) -> None:
    told = typed(folder, *HEAD, "", "4.4", "9.9", "<", "4.3", "<", "<", "4.6", "", "")
    assert "A-B back (550 mm), mm [9.9]" in told.output
    assert "A-B front (50 mm), mm [4.4]" in told.output
    assert [r.gap[0].written for r in only(folder).at] == ["4.6 mm", "4.3 mm"]


def test_back_leads_to_the_first_question_and_not_into_a_written_record(folder: Path) -> None:
    told = typed(folder, "<", AT, "<", *HEAD, "", "4.4", "", "", "<", "<", "", "1.9")
    assert "There is no answer to go back to." in told.output
    assert "stands in a record already" in told.output
    assert [r.body.seam for r in recorded(folder) if isinstance(r.body, Readings)] == ["A-B", "B-C"]


def test_a_question_mark_explains_and_a_minus_takes_the_usual_answer_away(folder: Path) -> None:
    told = typed(folder, AT, "?", "", "", "-", "?", "", "", "", "", "4.4")
    assert "In which stage of the work the pieces are now." in plain(told.output)
    assert "warm pieces have smaller gaps" in plain(told.output)
    body = only(folder)
    assert (body.instrument_id, body.temperature, body.set_level) == (None, None, None)


def test_photos_and_steps_where_they_are_asked_for(folder: Path) -> None:
    rest = (
        "",
        "4.4",
        "-1",
        "nowhere",
        "F2_0310",
        "4.3",
        "0,5",
        "F2_0310.jpg; photos/fastened/F2_0311.jpg",
    )
    told = typed(folder, *HEAD[:-1], "both", *rest)
    assert "is no file of the job folder" in told.output
    first, second = only(folder).at
    assert first.step is not None
    assert second.step is not None
    assert (first.step.mm, second.step.mm) == (-1, Fraction(1, 2))
    assert first.witness == ("photos/fastened/F2_0310.jpg",)
    assert second.witness == ("photos/fastened/F2_0310.jpg", "photos/fastened/F2_0311.jpg")


def test_a_station_left_out_is_named(folder: Path) -> None:
    told = typed(folder, *HEAD, "", "", "4.3", ".")
    assert "Not read: A-B front; B-C front, back." in told.output
    assert [r.station for r in only(folder).at] == ["back"]
    assert told.exit_code == OPEN_MATTERS


def test_no_time_to_come_and_no_record_without_a_reading(folder: Path) -> None:
    told = typed(folder, "2099-01-01 08:00", *HEAD)
    assert "has not come yet" in told.output
    assert isinstance(told.exception, CannotGoOn)
    assert "Nothing was written" in str(told.exception)
    assert recorded(folder) == ()


def test_a_stage_whose_step_is_not_recorded_is_told(folder: Path) -> None:
    told = typed(folder, "2026-08-13 09:00", "sealed", *HEAD[2:], "", "4.4", ".")
    assert "The step “sealed” has no record yet" in plain(told.output)
    told = typed(folder, "2026-08-13 09:00", "fastened", *HEAD[2:], "", "4.4", ".")
    assert "has no record yet" not in told.output


def test_nothing_is_overwritten(folder: Path) -> None:
    for _ in range(2):
        typed(folder, *HEAD, "", "4.4", ".")
    assert sorted(p.name for p in (folder / "records").glob("20*")) == [
        "2026-08-12-fastened-a-b-2.toml",
        "2026-08-12-fastened-a-b.toml",
    ]


def test_the_custody_log_has_the_record(folder: Path) -> None:
    typed(folder, *HEAD, "", "4.4", ".")
    log = "".join(p.read_text("utf-8") for p in (folder / "custody").iterdir() if p.is_file())
    assert "records/2026-08-12-fastened-a-b.toml" in log
    assert not list((folder / "records").glob("*.tmp"))


def test_a_record_that_cannot_be_written_is_printed(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> str:
        raise CannotGoOn("The disk is full.")

    monkeypatch.setattr("claimkit.keyboard.desk.add", full)
    told = typed(folder, *HEAD, "", "4.4", ".")
    assert isinstance(told.exception, CannotGoOn)
    assert 'gap = ["4.4 mm"]' in str(told.exception)


@pytest.mark.parametrize("keep", ["no seam", "no station"])
def test_a_job_without_a_place_to_read_is_refused_with_an_example(folder: Path, keep: str) -> None:
    path = folder / "job.toml"
    text = path.read_text("utf-8")
    cut = "[[seam]]" if keep == "no seam" else "[[seam.station]]"
    text = text[: text.index(cut)]
    path.write_text(text, "utf-8")
    shutil.rmtree(folder / "records")
    told = typed(folder)
    sentence = str(told.exception)
    assert isinstance(told.exception, CannotGoOn)
    assert f"job.toml has {'no seam,' if keep == 'no seam' else 'no seam with a gap'}" in sentence
    # The example is one: put into job.toml it is taken, and there is a place to read.
    example = "\n".join(line for line in sentence.splitlines() if line.startswith("  "))
    path.write_text(text[: text.find("[[seam]]")] + example.replace("  ", ""), "utf-8")
    told = typed(folder, AT, "", "rule 1 mm", *[""] * 6, "", "4")
    assert [r.gap[0].mm for r in only(folder).at] == [4]


def test_who_measures_is_asked_where_several_could(folder: Path) -> None:
    path = folder / "job.toml"
    person = '[[person]]\nid = "olu"\nname = "Olu Marsh"\n'
    path.write_text(f"{path.read_text('utf-8')}\n{person}", "utf-8")
    told = typed(folder, "nobody", "Olu Marsh", *HEAD, "", "4.4", ".")
    assert "Who measures [ruth]" in told.output  # who spoke last
    assert "There are: ruth, olu." in plain(told.output)
    assert recorded(folder)[0].said_by == "olu"


def test_a_job_without_a_person_says_what_to_write(folder: Path) -> None:
    path = folder / "job.toml"
    text = path.read_text("utf-8")
    begin, end = text.index("[[person]]"), text.index("[[shipment]]")
    path.write_text(text[:begin] + text[end:], "utf-8")
    shutil.rmtree(folder / "records")
    told = typed(folder, AT)
    assert isinstance(told.exception, CannotGoOn)
    assert "[[person]]" in str(told.exception)


def test_another_instrument_has_to_say_its_division(folder: Path) -> None:
    told = typed(folder, AT, "", "other", "", "1/4 in", "", "", "", "", "", "1/4", ".")
    assert "This has to be known." in told.output
    body = only(folder)
    assert body.resolution.written == "1/4 in"
    assert body.at[0].gap[0].mm == Fraction("25.4") / 4


def test_a_replacement_piece_is_asked_for_where_records_name_one(folder: Path) -> None:
    milestone = folder / "records" / "99-anew.toml"
    milestone.write_text(
        'kind = "milestone"\nsaid_by = "ruth"\nevent = "fastened"\n'
        'began = "2026-08-12 14:00"\npiece = "second counter"\n',
        "utf-8",
    )
    typed(folder, AT, "fastened", "", "", "", "", "", "", "", "4.4", ".")
    assert only(folder).piece == "second counter"
    (folder / "records" / "2026-08-12-fastened-a-b.toml").unlink()
    typed(folder, AT, "fastened", "", "", "-", "", "", "", "", "4.4", ".")
    assert only(folder).piece is None


def test_without_an_option_it_asks_what_to_record(folder: Path) -> None:
    told = typed(folder, "s", "sealed", "2026-08-13 10:00", of="")
    assert "1\N{NO-BREAK SPACE}gaps" in told.output
    assert only(folder).event is Event.SEALED


# ---- Opening and steps

WALL = ("left", "2026-09-15 08:40", "rule 0.5 mm", "plumb line")
OFFSETS = ("100", "40", "1000", "42", "1900", "43.5", "", "")
SIZES = ("tape 1 mm", "", "2192", "2195", "900", "2000")


@pytest.fixture
def street(tmp_path: Path) -> Path:
    """The sample job whose left wall is out of plumb, before that check was written."""
    root = tmp_path / "street"
    copy_of("opened-and-out-of-plumb", root)
    (root / "records" / "03-left-wall.toml").rename(tmp_path / "by-hand.toml")
    return root


def test_an_opening_check_is_what_was_typed_in_an_editor(street: Path, tmp_path: Path) -> None:
    """The same check as the sample's, which a person wrote: the same body, the same judgement."""
    told = typed(street, *WALL, *OFFSETS, *SIZES, "F2_0418", "y", of="opening")
    body = only(street)
    by_hand = (street / "records" / "2026-99-by-hand.toml", tmp_path / "by-hand.toml")
    shutil.copy(by_hand[1], by_hand[0])
    other = next(r.body for r in recorded(street) if r.id == "2026-99-by-hand")
    assert isinstance(body, OpeningCheck)
    assert isinstance(other, OpeningCheck)
    for key in ("opening", "instrument", "line", "tape", "plumb", "diagonals", "width", "height"):
        assert getattr(body, key) == getattr(other, key), key
    assert body.photos == other.photos
    assert body.taken.at == other.taken.at
    # 43.5 less 40 over 1900 less 100: docs/installer.md shows the same.
    assert "plumb: -3.50 ± 0.50 mm over 1800 mm" in plain(told.output)
    assert "OUTSIDE TOLERANCE" in told.output
    assert told.exit_code == OPEN_MATTERS


def test_an_opening_check_that_breaks_off_keeps_what_is_whole(street: Path) -> None:
    typed(street, *WALL, "100", "40", "1000", of="opening")
    body = only(street)
    assert [(row.at.mm, row.offset.mm) for row in body.plumb] == [(100, 40)]
    assert body.diagonals == ()


def test_an_opening_check_without_a_reading_is_printed_and_not_written(street: Path) -> None:
    told = typed(street, *WALL[:2], of="opening")
    assert isinstance(told.exception, CannotGoOn)
    assert 'opening = "left wall"' in told.output
    assert recorded(street) == ()


def test_a_level_has_to_say_how_finely_it_was_read(street: Path) -> None:
    told = typed(
        street,
        *("hall", "2026-09-15 09:00", "level", "", "1/32", "1/32 in", "", "", "n"),
        *("", "24", "1/16", "48", "-1/8", "", "", "", "", "", "", ""),
        of="opening",
    )
    assert "This has to be known." in told.output
    assert "Write '1/32 in' or '1/32 mm'" in told.output
    body = only(street)
    assert (body.opening, body.level_turned) == ("hall", False)
    assert [(row.at.written, row.offset.written) for row in body.level] == [
        ("24 in", "1/16 in"),
        ("48 in", "-1/8 in"),
    ]


def test_a_step_of_the_work(folder: Path) -> None:
    told = typed(folder, "", "2026-08-13 10:00", "", "b-c", "27 C", "y", "windy", "", of="step")
    body = only(folder)
    assert isinstance(body, Milestone)
    assert (body.event, body.seams, body.note) == (Event.SEALED, ("B-C",), "windy")
    assert (body.temperature.written, body.set_level, body.clamped) == ("27 C", True, None)
    assert "records/2026-08-13-sealed.toml" in told.output
    assert told.exit_code == DONE


def test_a_step_that_ends_before_it_began_is_asked_again(folder: Path) -> None:
    told = typed(
        folder, "sealed", "2026-08-13 10:00", "2026-08-13 09:00", "2026-08-13 11:00", of="step"
    )
    assert "lies before began" in plain(told.output)
    assert only(folder).ended.written == "2026-08-13 11:00"
    assert told.exit_code == OPEN_MATTERS  # the input broke off; the step has its time


def test_a_step_is_not_written_where_that_is_said(folder: Path) -> None:
    told = typed(folder, "sealed", "2026-08-13 10:00", "", "", "", "", "", "n", of="step")
    assert "as you said" in str(told.exception)
    assert recorded(folder) == ()


# ---- The stage follows from the time


@pytest.fixture
def handed_over(tmp_path: Path) -> Path:
    """The counter of the sample job, read at the handover on 2026-08-20, with that step."""
    root = counter(tmp_path / "handed-over", FASTENED)
    (root / "records" / "10-handover.toml").write_text(
        'kind = "milestone"\nsaid_by = "ruth"\nevent = "handover"\nbegan = "2026-08-20 15:00"\n',
        encoding="utf-8",
    )
    return root


@pytest.mark.parametrize(
    "when, offered",
    [
        ("2026-08-11 11:00", "dry fit"),
        ("2026-08-19 15:00", "fastened"),  # a day before the handover
        ("2026-08-20 15:10", "handover"),
        ("2026-08-26 09:00", "handover"),
        ("2026-09-10 09:00", "complaint"),  # three weeks after it
    ],
)
def test_the_stage_offered_is_that_of_the_time(handed_over: Path, when: str, offered: str) -> None:
    told = CliRunner().invoke(app, ["measure", str(handed_over), "--of", "gaps"], input=f"{when}\n")
    assert f"Stage [{offered}]" in told.output


@pytest.mark.parametrize(
    "when, lies", [("2026-09-10 09:00", "21 days after"), ("2026-08-19 09:00", "1 day before")]
)
def test_a_stage_far_from_its_step_is_asked_about(handed_over: Path, when: str, lies: str) -> None:
    told = typed(handed_over, when, "handover", "", "", "n", "2026-08-20 16:00", "")
    assert f"That time lies {lies} handover as recorded" in plain(told.output)
    assert told.output.count("Handover all the same (y/n)") == 1
    assert "Stage [handover]" in told.output.rsplit("When", 1)[1]  # asked again, with its time
    assert recorded(handed_over) == ()


def test_a_stage_that_is_meant_all_the_same_is_written_and_is_a_finding(handed_over: Path) -> None:
    typed(handed_over, "2026-09-10 09:00", "handover", "", "", "y", *[""] * 4, "4.4")
    assert only(handed_over).stage is Stage.HANDOVER
    told = plain(CliRunner().invoke(app, ["gaps", str(handed_over)]).output)
    assert "It says handover and lies 21 days after handover as recorded" in told
    assert "gap-stage-far-from-step" in told


# ---- Slips of the keys


def test_a_value_far_from_design_and_dry_fit_is_asked_once_more(folder: Path) -> None:
    told = typed(folder, *HEAD, "A-B", "44", "n", "4.4", "4.3")
    assert "44 mm is far from the design gap and from what was read here at the dry fit." in plain(
        told.output
    )
    assert [r.gap[0].written for r in only(folder).at] == ["4.4 mm", "4.3 mm"]


def test_a_value_that_is_so_is_taken_on_the_word(folder: Path) -> None:
    typed(folder, *HEAD, "A-B", "44", "y", "4.3")
    assert [r.gap[0].written for r in only(folder).at] == ["44 mm", "4.3 mm"]


def test_a_value_that_was_not_confirmed_is_not_written(folder: Path) -> None:
    told = typed(folder, *HEAD, "A-B", "4.4", "43")
    assert [r.gap[0].written for r in only(folder).at] == ["4.4 mm"]
    assert "Not taken, for it was not confirmed: A-B back: 43 mm." in plain(told.output)


def test_begun_again_it_goes_on_with_what_is_unread(folder: Path) -> None:
    typed(folder, *HEAD, "A-B", "4.4", ".")
    again = typed(folder, *HEAD, "", "4.3", ".")
    assert "Read in this stage already: front." in plain(again.output)
    assert "A-B front (50 mm)" not in again.output
    bodies: list[Any] = [record.body for record in recorded(folder)]
    assert sorted(r.station for body in bodies for r in body.at) == ["back", "front"]


def test_back_names_the_place_and_a_written_seam_says_how_a_slip_is_mended(folder: Path) -> None:
    told = typed(folder, *HEAD, "A-B", "4.4", "<", "4.5", "4.3", "B-C")
    assert "Back at: A-B front (50 mm), mm" in told.output
    assert '      replaces = "2026-08-12-fastened-a-b"\n' in told.output


# ---- Keys, at a terminal


@pytest.mark.skipif(sys.platform == "win32", reason="pseudo terminals are POSIX")
@pytest.mark.parametrize("end", ["ctrl-c", "ctrl-d", "closed"])
def test_keys_that_break_off_lose_nothing(folder: Path, end: str) -> None:
    """Ctrl-C, Ctrl-D, and a terminal that is closed, at a real (pseudo) terminal."""
    import fcntl
    import pty
    import termios

    terminal, inner = pty.openpty()
    run = subprocess.Popen(
        [sys.executable, "-m", "claimkit", "measure", str(folder), "--of", "gaps"],
        stdin=inner,
        stdout=inner,
        stderr=inner,
        start_new_session=True,
        # So that the keys reach it as signals; nothing else runs between fork and exec.
        preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0),  # noqa: PLW1509
    )
    os.close(inner)
    try:
        for prompt, line in zip(PROMPTS, (*HEAD, "", "4.4 4.5"), strict=True):
            _until(terminal, prompt)
            os.write(terminal, f"{line}\n".encode())
        _until(terminal, b"A-B back (550 mm), mm: ")
        if end != "closed":
            _until(terminal, b"written: records/", b"\x03" if end == "ctrl-c" else b"\x04")
    finally:
        os.close(terminal)
        run.wait(30)
    assert [g.written for g in only(folder).at[0].gap] == ["4.4 mm", "4.5 mm"]


PROMPTS = (
    *(b"When [now]: ", b"Stage [fastened]: ", b"Read with [taper gauge 0.1 mm]: "),
    *(b"Which one (its number) [gauge 7]: ", b"Temperature of the pieces (20 C, 68 F): "),
    *(b"On a level base (y/n): ", b"(Enter: neither): ", b"Seam [A-B]: "),
    b"A-B front (50 mm), mm: ",
)
"""Whole ones: what is typed before a prompt stands can be lost while the terminal is set."""


def _until(terminal: int, wanted: bytes, key: bytes = b"") -> None:
    """Read until this stands there, pressing a key first and again while nothing comes of it.

    A Ctrl-C between the prompt and the wait for input is seen by Python at the next key only.
    """
    import select

    seen, limit, press = b"", time.monotonic() + 60, 0.0
    while wanted not in seen:
        assert time.monotonic() < limit, seen
        if key and time.monotonic() > press:
            os.write(terminal, key)
            press = time.monotonic() + 5
        if select.select([terminal], [], [], 1)[0]:  # a read alone would wait for ever
            seen += os.read(terminal, 1)


# ---- Lengths as they are typed

DECIMALS = st.decimals(min_value=0, max_value=99, places=2).map(str)


@given(
    st.lists(DECIMALS, min_size=1, max_size=4), st.sampled_from([" ", "; ", "  "]), st.booleans()
)
@settings(max_examples=60, deadline=None)
def test_decimals_come_back_exactly(numbers: list[str], between: str, comma: bool) -> None:
    """Each number stands for itself in mm, with a point or a comma (Fraction is the oracle)."""
    line = between.join(n.replace(".", ",") if comma else n for n in numbers)
    assert [length(text).mm for text in several(line, "mm")] == [Fraction(n) for n in numbers]


@given(st.lists(st.tuples(st.integers(0, 3), st.integers(1, 63)), min_size=1, max_size=4))
@settings(max_examples=60, deadline=None)
def test_fractions_come_back_exactly(parts: list[tuple[int, int]]) -> None:
    """Sixty-fourths, alone or after whole inches, at 25.4 mm an inch by definition."""
    line = " ".join(f"{whole} {top}/64" if whole else f"{top}/64" for whole, top in parts)
    exact = [(whole + Fraction(top, 64)) * Fraction("25.4") for whole, top in parts]
    assert [length(text).mm for text in several(line, "in")] == exact


@given(st.text(max_size=30))
@settings(max_examples=150, deadline=None)
def test_any_line_is_read_or_refused_in_words(line: str) -> None:
    for read in (several, one):
        for unit in ("mm", "in"):
            try:
                texts = read(line, unit)
            except Unreadable as wrong:
                said = (wrong.found, wrong.write)
            else:
                said = tuple(length(text).written for text in ([texts] if read is one else texts))
            assert all(said)
