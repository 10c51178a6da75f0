"""`claimkit receive`: the record by options and by prompts, the words graded as they are typed."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from claimkit.cli import app
from claimkit.compose.sheets.receiving_words import Name, Names
from claimkit.intake.entries.problems import Unreadable
from claimkit.intake.entries.records import read_all
from claimkit.model.records import Delivery, Record, Wrap
from claimkit.model.stop import DONE, OPEN_MATTERS, CannotGoOn
from claimkit.receiving.named import pieces
from tests.browser.phone import JOB_TOML

SPECIFIC = "Carton 2 of 4: lower left corner crushed, 4 in. Contents subject to further inspection."
OPTIONS = (
    *("--arrived", "2026-05-04 09:10", "--left", "2026-05-04 09:40"),
    *("--receipt", "paper", "--signed", "--driver-signed", "--signed-at", "2026-05-04 09:35"),
)
ON_POSIX = pytest.mark.skipif(sys.platform == "win32", reason="the stub is a shell script")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A job folder with a job.toml, a photo of a receipt and nothing else."""
    root = tmp_path / "kiln-road"
    (root / "documents").mkdir(parents=True)
    (root / "records").mkdir()
    (root / "job.toml").write_text(JOB_TOML, encoding="utf-8")
    (root / "documents" / "receipt.png").write_bytes(png())
    return root


def png() -> bytes:
    """Give a small white picture."""
    import io

    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (60, 40), "white").save(out, "PNG")
    return out.getvalue()


def receive(folder: Path, *options: str, answers: str | None = None) -> Result:
    told = CliRunner().invoke(app, ["receive", str(folder), *options], input=answers)
    if answers is not None:
        typed = {f": {line}" for line in answers.splitlines()}
        ours = [
            next((x[: -len(t)] for t in typed if x.endswith(t)), x)
            for x in told.output.splitlines()
        ]
        assert max(map(len, ours), default=0) <= 80
    return told


def recorded(folder: Path) -> tuple[tuple[Record, ...], tuple[Any, ...]]:
    """Read what lies in records/ as any run does."""
    files = {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }
    records = [(p, data) for p, data in files.items() if p.startswith("records/")]
    written = read_all(("job.toml", files["job.toml"]), records, frozenset(files))
    return written.records, written.problems


def the_delivery(folder: Path) -> Delivery:
    records, problems = recorded(folder)
    assert problems == ()
    bodies = [r.body for r in records if r.in_force]
    assert len(bodies) == 1
    assert isinstance(bodies[0], Delivery)
    return bodies[0]


def test_options_write_one_valid_record(folder: Path) -> None:
    told = receive(
        folder,
        *OPTIONS,
        *("--units-listed", "2", "--units", "2", "--cartons-listed", "4", "--cartons", "4"),
        *("--wrap", "broken", "--inspected", "outside", "--driver", "Lee Marsh"),
        *("--words", SPECIFIC),
    )
    assert told.exit_code == DONE, told.output
    assert "These words are: specific." in told.output
    found = the_delivery(folder)
    assert found.words == SPECIFIC
    assert found.words_by == "Dana Voss"
    assert (found.units_received, found.cartons_received) == (2, 4)
    assert found.wrap is Wrap.BROKEN
    assert found.inspected is False
    assert found.driver == "Lee Marsh"
    assert [p.name for p in (folder / "records").iterdir()] == ["2026-05-04-delivery.toml"]


def test_the_reason_for_not_inspecting_is_recorded(folder: Path) -> None:
    """Without and with --inspected: both once wrote the option's name as a key and were refused."""
    words = "Not inspected before signing: driver would not wait. Subject to further inspection."
    reason = ("--because", "the driver would not wait")
    told = receive(folder, "--inspected", "no", *reason, "--words", words)
    assert told.exit_code == 0, told.output
    found = the_delivery(folder)
    assert found.inspected is False
    assert found.not_inspected_because == "the driver would not wait"
    told = receive(folder, *reason, "--words", words)
    assert "not a key" not in told.output


@pytest.mark.parametrize(
    "words, says",
    [
        ("damaged", "too vague"),
        ("received in good order", "clear"),
        ("call before delivery", "not stated"),
        ("", "not stated"),
    ],
)
def test_weak_words_are_told_with_what_to_add(folder: Path, words: str, says: str) -> None:
    told = receive(folder, "--arrived", "2026-05-04 09:10", "--inspected", "no", "--words", words)
    assert told.exit_code == OPEN_MATTERS
    printed = " ".join(told.output.split())
    assert f"These words are: {says}." in printed
    assert "While the driver is there, add:" in printed
    assert "Subject to further inspection" in printed
    assert the_delivery(folder).words == words  # the record keeps what stands there, not the advice


def test_once_the_driver_is_gone_the_rest_goes_to_the_carrier(folder: Path) -> None:
    told = receive(folder, *OPTIONS, "--words", "damaged")
    assert "Report it to the carrier in writing today" in told.output
    assert "While the driver is there" not in told.output


def test_without_words_the_words_to_write_are_suggested(folder: Path) -> None:
    told = receive(folder, "--cartons-listed", "4", "--cartons", "3", "--inspected", "outside")
    assert "Short 1 carton: received 3 of 4 cartons." in told.stderr
    assert "No --words are given" in told.stderr
    assert the_delivery(folder).words is None


def test_every_problem_at_once_and_nothing_written(folder: Path) -> None:
    told = receive(
        folder,
        *("--arrived", "05/04/2026", "--left", "2026-05-04 09:00", "--by", "somebody"),
        *("--signed-at", "2026-05-04 09:40", "--photo", "documents/receipt.png"),
    )
    assert isinstance(told.exception, CannotGoOn)
    sentence = str(told.exception)
    for option in ("arrived:", "by:"):
        assert option in sentence
    assert recorded(folder)[0] == ()


def test_a_correction_keeps_what_is_not_said_again(folder: Path) -> None:
    receive(folder, *OPTIONS, "--words", "damaged", "--driver", "Lee")
    told = receive(
        folder, "--replaces", "2026-05-04-delivery", "--words", SPECIFIC, "--reason", "misread"
    )
    assert told.exit_code == DONE, told.output
    records, problems = recorded(folder)
    assert problems == ()
    assert len(records) == 2
    found = the_delivery(folder)
    assert (found.words, found.driver) == (SPECIFIC, "Lee")


def test_a_correction_without_words_asks_for_none_to_be_written(folder: Path) -> None:
    receive(folder, *OPTIONS, "--words", SPECIFIC)
    told = receive(folder, "--replaces", "2026-05-04-delivery", "--driver", "Lee", "--reason", "x")
    assert told.exit_code == DONE, told.output
    assert "carrier's copy" not in told.output
    assert (the_delivery(folder).words, the_delivery(folder).driver) == (SPECIFIC, "Lee")


def test_a_second_record_of_a_day_gets_its_own_name(folder: Path) -> None:
    receive(folder, "--arrived", "2026-05-04 09:10", "--left", "2026-05-04 09:20")
    receive(folder, "--arrived", "2026-05-04 13:10", "--left", "2026-05-04 13:20")
    names = sorted(path.name for path in (folder / "records").iterdir())
    assert names == ["2026-05-04-delivery-2.toml", "2026-05-04-delivery.toml"]


# ---- The scan or photo of the receipt


def test_a_receipt_in_the_folder_is_linked(folder: Path) -> None:
    receive(folder, *OPTIONS, "--words", SPECIFIC, "--receipt-photo", "documents/receipt.png")
    assert the_delivery(folder).receipt_photos == ("documents/receipt.png",)


def test_a_receipt_from_elsewhere_is_copied_byte_for_byte(folder: Path, tmp_path: Path) -> None:
    scan = tmp_path / "scan: 1.png"
    scan.write_bytes(png())
    other = tmp_path / "receipt.png"
    other.write_bytes(png() + b"\0")
    receive(
        folder,
        *(*OPTIONS, "--words", SPECIFIC),
        *("--receipt-photo", str(scan), "--receipt-photo", str(other)),
    )
    assert the_delivery(folder).receipt_photos == (
        "documents/scan- 1.png",  # a name that every system takes
        "documents/receipt-2.png",  # another file has the name: it is left alone
    )
    assert (folder / "documents" / "scan- 1.png").read_bytes() == scan.read_bytes()
    assert (folder / "documents" / "receipt.png").read_bytes() == png()
    again = receive(folder, "--arrived", "2026-05-05 09:00", "--receipt-photo", str(other))
    assert again.exit_code == OPEN_MATTERS
    assert len(list((folder / "documents").iterdir())) == 3  # the same bytes are not copied twice


def test_nothing_is_copied_where_the_record_is_refused(folder: Path, tmp_path: Path) -> None:
    scan = tmp_path / "scan.png"
    scan.write_bytes(png())
    told = receive(folder, "--arrived", "yesterday", "--receipt-photo", str(scan))
    assert isinstance(told.exception, CannotGoOn)
    assert [path.name for path in (folder / "documents").iterdir()] == ["receipt.png"]


def test_a_receipt_that_is_not_there_is_said(folder: Path) -> None:
    told = receive(folder, "--receipt-photo", "no/such.png")
    assert isinstance(told.exception, CannotGoOn)
    assert "no/such.png" in str(told.exception)


@pytest.fixture
def reader(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A stub in the place of the installed program: says what it is told to, given a PNG."""
    tools = tmp_path / "tools"
    tools.mkdir()
    program = tools / "tesseract"
    program.write_text(
        '#!/bin/sh\nhead -c 8 | od -An -c | grep -q "P   N   G" || exit 3\n'
        'printf "PRO 77-1\\n\\nctn 2 crushed lower left\\n\\f"\n',
        encoding="utf-8",
    )
    program.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tools}{os.pathsep}{os.environ['PATH']}")
    return program


@ON_POSIX
@pytest.mark.usefixtures("reader")
def test_recognised_text_is_a_suggestion_and_nothing_more(folder: Path) -> None:
    told = receive(
        folder, "--arrived", "2026-05-04 09:10", "--receipt-photo", "documents/receipt.png"
    )
    assert "ctn 2 crushed lower left" in told.stderr
    assert "nothing is taken from it" in told.stderr
    assert the_delivery(folder).words is None


@ON_POSIX
def test_a_reader_that_fails_or_no_picture_stops_nothing(folder: Path, reader: Path) -> None:
    (folder / "documents" / "bill.pdf").write_bytes(b"%PDF-1.7\n")
    reader.write_text("#!/bin/sh\nexit 1\n", encoding="utf-8")
    for name, why in (("receipt.png", "read nothing"), ("bill.pdf", "only pictures")):
        told = receive(folder, "--receipt-photo", f"documents/{name}")
        assert why in told.stderr
        assert told.exit_code == OPEN_MATTERS


def test_without_the_program_no_text_is_offered(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", "")
    told = receive(folder, "--receipt-photo", "documents/receipt.png")
    assert "Subject to further inspection" in told.stderr  # the words to write
    assert "reads this" not in told.stderr  # and nothing about a reader
    assert "tesseract" not in told.stderr
    assert the_delivery(folder).receipt_photos == ("documents/receipt.png",)


# ---- Prompts


def answers(*lines: str) -> str:
    return "".join(f"{line}\n" for line in lines)


CLEAN_START = (
    *("2026-05-04 09:10", "", "2", "", "3", "intact", "outside"),  # truck, counts, wrap, looked at
    *("carton 2", "crushed", "lower left corner", "4 in", ""),  # one damage, no more
    *("paper", ""),  # the receipt, no scan
)
SIGNED = ("Lee Marsh", "y", "n", "2026-05-04 09:35", "2026-05-04 09:40", "")


def test_prompts_suggest_the_words_of_the_sheet(folder: Path) -> None:
    told = receive(folder, answers=answers(*CLEAN_START, "=", "", *SIGNED))
    found = the_delivery(folder)
    assert found.words == (
        "Short 1 carton: received 3 of 4 cartons. Carton 2 of 4: lower left corner crushed, 4 in. "
        "Received 2 of 2 skids. Outside only inspected; contents subject to further inspection."
    ).replace(" Received 2 of 2 skids.", "")
    assert found.driver == "Lee Marsh"
    assert found.driver_signed is False
    assert found.signed is True
    assert "These words are: specific." in told.output


def test_prompts_grade_until_nothing_is_added(folder: Path) -> None:
    typed = ("box damaged", "carton 3 top torn 6 in", "subject to further inspection", "")
    told = receive(folder, answers=answers(*CLEAN_START, *typed, *SIGNED))
    assert told.output.count("These words are: too vague.") == 1
    assert told.output.count("These words are: specific.") >= 2
    assert the_delivery(folder).words == (
        "box damaged carton 3 top torn 6 in subject to further inspection"
    )


def test_a_time_that_cannot_be_read_is_asked_again_at_once(folder: Path) -> None:
    first = ("nine", "25:10", "2026-05-04 09:10")
    told = receive(folder, answers=answers(*first, *CLEAN_START[1:], "=", "", *SIGNED))
    assert "25:10" in told.output
    assert the_delivery(folder).arrived is not None


def test_what_clashes_is_asked_again_at_once(folder: Path) -> None:
    """The driver left before he came: told there, asked again, then written."""
    left = (*SIGNED[:4], "2026-05-04 09:00", "2026-05-04 09:40", "")
    told = receive(folder, answers=answers(*CLEAN_START, "=", "", *left))
    found = the_delivery(folder)
    assert found.driver_left is not None
    assert found.driver_left.written == "2026-05-04 09:40"
    assert told.output.count("The driver left at:") == 2


def test_no_receipt_asks_for_no_words(folder: Path) -> None:
    start = ("2026-05-04 09:10", "", "2", "", "4", "intact", "opened", "")
    told = receive(folder, answers=answers(*start, "none", "Lee", "2026-05-04 09:30", ""))
    assert told.exit_code == DONE, told.output
    found = the_delivery(folder)
    assert found.words is None
    assert found.inspected is True


TO_WORDS = answers(*CLEAN_START, "=")


def test_broken_off_after_the_words_what_is_complete_is_written(folder: Path) -> None:
    """The input ends at the driver's name: once it lost every answer."""
    told = receive(folder, answers=TO_WORDS + "\n")
    assert told.exit_code == OPEN_MATTERS
    assert "what was complete is written" in told.output
    assert "--replaces 2026-05-04-delivery" in " ".join(told.output.split())
    assert "lower left corner crushed, 4 in" in (the_delivery(folder).words or "")


def test_broken_off_before_the_words_what_was_typed_is_printed(folder: Path) -> None:
    told = receive(folder, answers=answers(*CLEAN_START[:11]))
    assert isinstance(told.exception, CannotGoOn)
    said = str(told.exception)
    assert said.startswith("Nothing was written")
    assert 'arrived = "2026-05-04 09:10"' in said
    assert "cartons_received = 3" in said
    assert "lower left corner crushed" in said  # the damage, as words for the receipt
    assert recorded(folder)[0] == ()


@pytest.mark.parametrize("stop", [0, 3, 8, 15, 18])
def test_what_is_said_of_a_broken_off_run_is_true(folder: Path, stop: int) -> None:
    lines = (*CLEAN_START, "=", "", *SIGNED)
    told = receive(folder, answers=answers(*lines[:stop]))
    nothing = "Nothing was written" in str(told.exception)
    assert nothing is (recorded(folder)[0] == ())


def test_back_and_what_is_meant(folder: Path) -> None:
    start = ("2026-05-04 09:10", "?", "3", "<", "2")
    told = receive(folder, answers=answers(*start, *CLEAN_START[2:], "=", "", *SIGNED))
    assert "The count that his paper or screen states" in told.output
    assert "Back at: skids on the driver's paper" in told.output
    assert the_delivery(folder).units_expected == 2


def test_numbers_and_first_letters_are_answers(folder: Path) -> None:
    start = ("2026-05-04 09:10", "", "2", "", "3", "1", "out")
    damage = ("c 2", "ctn 2", "1", "lower l", "4 in", "")
    told = receive(folder, answers=answers(*start, *damage, "p", "", "=", "", *SIGNED))
    found = the_delivery(folder)
    assert "names no piece" in told.output  # "c" is neither a carton nor a crate
    assert found.wrap is Wrap.INTACT
    assert found.receipt is not None
    assert "Carton 2 of 4: lower left corner" in (found.words or "")


def test_a_time_alone_is_of_the_day_of_the_arrival(folder: Path) -> None:
    signed = (*SIGNED[:3], "09:35", "09:40", "")
    receive(folder, answers=answers(*CLEAN_START, "=", "", *signed))
    found = the_delivery(folder)
    assert found.signed_at is not None
    assert found.driver_left is not None
    written = (found.signed_at.written, found.driver_left.written)
    assert written == ("2026-05-04 09:35", "2026-05-04 09:40")


def test_a_time_alone_in_an_option_is_of_that_day_too(folder: Path) -> None:
    receive(folder, "--arrived", "2026-05-04 09:10", "--left", "09:40", "--words", SPECIFIC)
    found = the_delivery(folder)
    assert found.driver_left is not None
    assert found.driver_left.written == "2026-05-04 09:40"


def test_a_driver_who_leaves_days_later_is_asked_about(folder: Path) -> None:
    signed = (*SIGNED[:4], "2026-05-06 09:40", "n", "09:40", "")
    told = receive(folder, answers=answers(*CLEAN_START, "=", "", *signed))
    assert "that is 2 days after the truck came" in " ".join(told.output.split())
    found = the_delivery(folder)
    assert found.driver_left is not None
    assert found.driver_left.written == "2026-05-04 09:40"


def test_an_option_that_says_days_later_is_told(folder: Path) -> None:
    late = ("--arrived", "2026-05-04 09:10", "--left", "2026-05-06 09:40")
    told = receive(folder, *late, "--words", SPECIFIC)
    assert "The driver left 2 days after the truck came" in told.stderr


@pytest.mark.parametrize("nothing", ["nothing", "none", "no", "-", "Nothing was refused."])
def test_words_for_nothing_refuse_nothing(folder: Path, nothing: str) -> None:
    receive(folder, answers=answers(*CLEAN_START, "=", "", *SIGNED[:-1], nothing))
    assert the_delivery(folder).refused is None


def test_a_photo_that_is_not_there_is_asked_again_with_the_reason(folder: Path) -> None:
    scan = (*CLEAN_START[:-1], "no-such.jpg", "documents/receipt.png", "")
    told = receive(folder, answers=answers(*scan, "=", "", *SIGNED))
    said = " ".join(told.output.split())
    assert "no-such.jpg cannot be read" in said
    assert "can be added later: claimkit receive JOB --replaces" in said
    assert the_delivery(folder).receipt_photos == ("documents/receipt.png",)


def test_without_a_photo_it_says_how_to_add_one(folder: Path) -> None:
    told = receive(folder, answers=answers(*CLEAN_START, "=", "", *SIGNED))
    said = " ".join(told.output.split())
    assert "--replaces 2026-05-04-delivery --receipt-photo FILE" in said


def test_a_piece_that_is_none_is_asked_again(folder: Path) -> None:
    start = (*CLEAN_START[:7], "paper", "carton 9", "carton 2 of 4", *CLEAN_START[8:])
    told = receive(folder, answers=answers(*start, "=", "", *SIGNED))
    said = " ".join(told.output.split())
    assert '"paper" names no piece of this delivery.' in said
    assert "There is no carton 9 of 4." in said
    assert "Carton 2 of 4: lower left corner crushed" in (the_delivery(folder).words or "")


def test_the_outside_alone_gives_no_reason_that_nobody_gave(folder: Path) -> None:
    receive(folder, answers=answers(*CLEAN_START, "=", "", *SIGNED))
    found = the_delivery(folder)
    assert found.inspected is False
    assert found.not_inspected_because == "only the outside was looked at"


def test_the_words_to_add_are_what_was_typed_before(folder: Path) -> None:
    told = receive(folder, answers=answers(*CLEAN_START, "box damaged", "=", "", *SIGNED))
    said = " ".join(told.output.split())
    assert "Carton 2 of 4: lower left corner crushed, 4 in." in said.split("add:", 1)[1]
    words = the_delivery(folder).words or ""
    assert words.startswith("box damaged ")
    assert "Carton 2 of 4: lower left corner crushed, 4 in." in words
    assert "___" not in words


def test_a_time_to_come_is_asked_again(folder: Path) -> None:
    told = receive(folder, answers=answers("2099-01-01 09:00", *CLEAN_START, "=", "", *SIGNED))
    assert "has not come yet" in told.output
    assert the_delivery(folder).arrived is not None


@ON_POSIX
@pytest.mark.usefixtures("reader")
def test_recognised_text_is_taken_only_when_a_person_says_so(folder: Path) -> None:
    scan = (*CLEAN_START[:-1], "documents/receipt.png", "")
    no = receive(folder, answers=answers(*scan, "t", "n", "ctn 2 crushed", "", *SIGNED))
    assert "PRO 77-1" in no.output
    assert the_delivery(folder).words == "ctn 2 crushed"
    (folder / "records" / "2026-05-04-delivery.toml").unlink()
    receive(folder, answers=answers(*scan, "t", "y", "", *SIGNED))
    assert the_delivery(folder).words == "PRO 77-1 ctn 2 crushed lower left"


NAMES = Names(
    Name("crate", "crates", "CRATE", "CRATES", "huacal", "huacales"),
    items={"tray": (Name("Floor tray", "", "FLOOR TRAY", "", "Floor tray", ""), 1)},
)


@pytest.mark.parametrize(
    "typed, meant",
    [
        ("carton 2", ("carton", (2,))),
        ("ctn 2, 3", ("carton", (2, 3))),
        ("crates 1 and 3", ("unit", (1, 3))),
        ("2", ("carton", (2,))),  # cartons are what is counted most
        ("tray", ("tray", ())),
        ("Floor tray", ("tray", ())),
    ],
)
def test_which_pieces_are_meant(typed: str, meant: tuple[str, tuple[int, ...]]) -> None:
    assert pieces(typed, NAMES) == meant


@pytest.mark.parametrize("typed", ["paper", "the lot", "wrap", "tra", "carton 0"])
def test_what_names_no_piece_is_refused(typed: str) -> None:
    with pytest.raises(Unreadable):
        pieces(typed, NAMES)
