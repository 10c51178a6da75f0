"""Letters, calendars and tables as a person makes them; read back by readers of their own."""

from __future__ import annotations

import csv
import io
import json
import re
from datetime import date, timedelta
from decimal import Decimal
from email import message_from_bytes
from email.policy import default
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from claimkit.cli import app
from claimkit.compose.cells import csv_text, neutral
from tests.compose.jobs import JOBS, ROOT, copy_of, sample_folder
from tests.render import ics_reader
from tests.render.reading import page_texts

DAY = ("--as-of", "2026-10-20")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    copy_of("ready-to-file", folder)
    return folder


def ran(*arguments: str | Path) -> tuple[int, str]:
    result = CliRunner().invoke(app, [str(a) for a in arguments])
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result.exit_code, result.stdout


# --- letters


def test_a_letter_becomes_a_pdf_and_a_mail_draft(job: Path) -> None:
    code, out = ran("letter", job, "--about", "concealed-damage", *DAY)
    assert code == 0
    assert "Ready" in out
    pdf, mail = (Path(line) for line in out.splitlines()[:2])
    assert pdf.parent == job / "out"
    text = "".join(page_texts(pdf.read_bytes()))
    assert "request for inspection" in text
    assert "558-20931" in text
    message = message_from_bytes(mail.read_bytes(), policy=default)
    assert message["To"] == "claims@prairiearc.example"
    assert message["From"] == "office@coldspring.example"
    files = {a.get_filename(): a.get_content() for a in message.iter_attachments()}  # type: ignore[attr-defined]
    assert files[pdf.name] == pdf.read_bytes()
    assert files["F2_0152.jpg"][:2] == b"\xff\xd8"
    logs = [p.read_text(encoding="utf-8") for p in (job / "custody").glob("*.jsonl")]
    assert any("letter concealed-damage" in log for log in logs)


def test_a_claim_takes_the_packet_and_the_papers_along(job: Path) -> None:
    code, out = ran("letter", job, "--about", "claim", *DAY)
    assert code == 0
    assert "Ready" in out
    assert "DRAFT" not in "".join(page_texts(Path(out.splitlines()[0]).read_bytes()))
    mail = Path(out.splitlines()[1])
    message = message_from_bytes(mail.read_bytes(), policy=default)
    names = [a.get_filename() for a in message.iter_attachments()]  # type: ignore[attr-defined]
    assert "carrier-panels-2026-10-20.pdf" in names
    assert "invoice.pdf" in names


def test_a_claim_without_a_paper_that_the_terms_ask_for_is_no_more_than_a_draft(job: Path) -> None:
    text = (job / "job.toml").read_text(encoding="utf-8")
    named = '[[paper]]\nfile = "documents/freight-bill.pdf"\nwhat = "freight bill"\n'
    assert named in text
    other = named.replace('"freight bill"', '"other"')
    (job / "job.toml").write_text(text.replace(named, other), encoding="utf-8", newline="\n")
    code, out = ran("letter", job, "--about", "claim", *DAY)
    assert code == 1
    assert "freight bill" in out
    assert "DRAFT, not ready" in "".join(page_texts(Path(out.splitlines()[0]).read_bytes()))


def test_a_letter_that_is_there_is_never_overwritten(job: Path) -> None:
    first = ran("letter", job, "--about", "tariff", *DAY)[1].splitlines()[0]
    again = ran("letter", job, "--about", "tariff", *DAY)[1].splitlines()[0]
    assert first == again
    before = Path(first).read_bytes()
    text = (job / "job.toml").read_text(encoding="utf-8")
    (job / "job.toml").write_text(text.replace("558-20931", "558-20939"), encoding="utf-8")
    other = ran("letter", job, "--about", "tariff", *DAY)[1].splitlines()[0]
    assert other != first
    assert Path(first).read_bytes() == before


# --- calendars


def calendar(job: Path, *more: str) -> ics_reader.Component:
    code, out = ran("calendar", job, *(more or DAY))
    assert code == 0
    return ics_reader.read(Path(out.splitlines()[0]).read_bytes())


def events(job: Path, *more: str) -> dict[str, ics_reader.Component]:
    return {e.value("UID"): e for e in calendar(job, *more).inner}


def test_an_entry_says_what_to_do_on_the_day_to_act(job: Path) -> None:
    whole = calendar(job)
    assert whole.name == "VCALENDAR"
    assert whole.value("VERSION") == "2.0"
    claims = [e for e in whole.inner if "Claim for loss or damage" in e.value("SUMMARY")]
    (claim,) = claims
    # Nine months from Thu 2026-10-08 end on Thu 2027-07-08; act by Wed 2027-07-07.
    assert claim.value("DTSTART") == "20270707"
    assert claim.parameters("DTSTART") == {"VALUE": "DATE"}
    assert claim.value("DTEND") == "20270708"  # 3.6.1: the end is not included
    assert "File a written claim" in claim.value("DESCRIPTION")
    assert claim.value("STATUS") == "CONFIRMED"
    assert [a.name for a in claim.inner] == ["VALARM", "VALARM"]
    assert {a.value("TRIGGER") for a in claim.inner} == {"-P7D", "-PT15H"}
    assert {a.value("ACTION") for a in claim.inner} == {"DISPLAY"}
    for event in whole.inner:
        assert re.fullmatch(r"\d{8}T\d{6}Z", event.value("DTSTAMP"))
        first = date.fromisoformat(event.value("DTSTART"))
        assert date.fromisoformat(event.value("DTEND")) == first + timedelta(days=1)


def test_nothing_changed_gives_the_same_bytes(job: Path) -> None:
    first = Path(ran("calendar", job, *DAY)[1].splitlines()[0]).read_bytes()
    assert Path(ran("calendar", job, *DAY)[1].splitlines()[0]).read_bytes() == first


def test_a_change_raises_the_sequence_and_what_is_done_is_cancelled(job: Path) -> None:
    before = events(job)
    assert {e.value("SEQUENCE") for e in before.values()} == {"0"}
    record = job / "records" / "2026-10-08-delivery.toml"
    text = record.read_text(encoding="utf-8").replace("2026-10-08T09:36:00", "2026-10-07T09:36:00")
    text = text.replace("2026-10-08T09:05", "2026-10-07T09:05").replace(
        "2026-10-08T09:41", "2026-10-07T09:41"
    )
    record.write_text(text, encoding="utf-8")
    moved = events(job)
    assert set(moved) == set(before)  # stable UIDs
    (uid,) = (u for u, e in before.items() if "Claim for loss" in e.value("SUMMARY"))
    assert (moved[uid].value("SEQUENCE"), moved[uid].value("DTSTART")) == ("1", "20270706")
    (job / "records" / "claim.toml").write_text(
        'kind = "notice"\nsaid_by = "tobias"\nabout = "claim"\nsender = "us"\nto = "hauler"\n'
        'sent = "2026-10-12"\nreceived = "2026-10-12"\namount = "1052.50 USD"\n',
        encoding="utf-8",
    )
    done = events(job)
    assert done[uid].value("STATUS") == "CANCELLED"
    assert done[uid].value("SEQUENCE") == "2"
    assert done[uid].inner == []
    (job / "records" / "claim.toml").unlink()
    back = events(job)
    assert (back[uid].value("STATUS"), back[uid].value("SEQUENCE")) == ("CONFIRMED", "3")


def test_a_renamed_folder_keeps_its_entries(job: Path) -> None:
    before = set(events(job))
    moved = job.rename(job.with_name("renamed"))
    assert set(events(moved)) == before


def test_a_lost_count_goes_on_from_higher(job: Path) -> None:
    events(job)
    (job / "out" / "calendar.json").write_text("{", encoding="utf-8")
    after = events(job)
    assert all(int(e.value("SEQUENCE")) > 1_000_000 for e in after.values())
    kept = json.loads((job / "out" / "calendar.json").read_text(encoding="utf-8"))
    assert len(kept["entries"]) == len(after)


def test_all_jobs_go_into_one_calendar(tmp_path: Path) -> None:
    root = tmp_path / "jobs"
    for name in ("ready-to-file", "wording-and-dates-wrong"):
        copy_of(name, root / name)
    one = events(root / "ready-to-file")
    every = events(root)
    assert set(every) > set(one)
    summaries = " ".join(e.value("SUMMARY") for e in every.values())
    assert "Larkfield Hotel" in summaries
    assert "Harrow Mill" in summaries


# --- tables


@pytest.mark.parametrize("what", ["amount", "limits", "photos"])
def test_a_table_reads_back_row_by_row(job: Path, what: str) -> None:
    result = CliRunner().invoke(app, ["table", str(job), "--of", what, *DAY])
    assert result.exit_code == 0
    out = result.stdout_bytes.decode("utf-8")
    assert out.count("\r\n") == out.count("\n")  # RFC 4180
    rows = list(csv.reader(io.StringIO(out, newline="")))
    assert len(rows) > 2
    assert len({len(row) for row in rows}) == 1
    if what == "amount":
        assert [row[6] for row in rows if row[1] == "total claimed"] == ["1052.50"]


def test_the_mark_of_utf8_stands_in_front_where_asked(job: Path, tmp_path: Path) -> None:
    out = tmp_path / "amount.csv"
    ran("table", job, "--of", "amount", "--bom", "--out", out, *DAY)
    assert out.read_bytes().startswith(b"\xef\xbb\xbf")
    assert not out.read_bytes().startswith(b"\xef\xbb\xbf\xef\xbb\xbf")
    result = CliRunner().invoke(app, ["table", str(job), "--of", "amount", "--out", str(out)])
    assert "exists already" in str(result.exception)


@pytest.mark.parametrize(
    "cell, safe",
    [
        ("=1+1", "'=1+1"),
        ("+49 30 1", "'+49 30 1"),
        ("-2 mm", "'-2 mm"),
        ("@sum(a1)", "'@sum(a1)"),
        ("\tx", "'\tx"),
        ("\rx", "'\rx"),
        (" =1", "' =1"),  # some programs trim first
        ("＝1", "'＝1"),
        ("-15.79", "-15.79"),  # a plain number stays one
        ("+3", "+3"),
        ("USD -15.79", "USD -15.79"),
        ("a=b", "a=b"),
        ("", ""),
    ],
)
def test_no_cell_starts_a_formula(cell: str, safe: str) -> None:
    assert neutral(cell) == safe
    (row,) = csv.reader(io.StringIO(csv_text((cell,), ()), newline=""))
    assert row == [safe]


def test_commas_quotes_and_lines_in_a_cell_survive() -> None:
    cells = ['a,b "c"', "two\nlines", "ä ✓"]
    rows = list(csv.reader(io.StringIO(csv_text(("x", "y", "z"), (cells,)), newline="")))
    assert rows == [["x", "y", "z"], cells]


# --- whom to ask


def test_whom_to_ask_fits_80_columns(job: Path) -> None:
    code, out = ran("ask", job, *DAY)
    assert code == 0
    assert "delivering carrier, Prairie Arc Freight" in out
    assert max(map(len, out.splitlines())) <= 80


# --- the annex


def test_the_annex_shows_the_documents_and_refuses_a_broken_one(job: Path) -> None:
    (job / "documents" / "broken.pdf").write_bytes(b"%PDF-1.7\nnothing more")
    code, out = ran("annex", job, "--for", "carrier", *DAY)
    assert code == 1
    assert "documents/broken.pdf: It is broken." in out
    texts = page_texts(Path(out.splitlines()[0]).read_bytes())
    assert "documents/invoice.pdf · page 1 of 1" in "".join(texts)
    assert (job / "documents" / "broken.pdf").read_bytes() == b"%PDF-1.7\nnothing more"


@pytest.mark.parametrize("name", JOBS)
def test_whom_to_ask_as_json_keeps_its_contract(name: str) -> None:
    schema = json.loads((ROOT / "docs" / "json.schema.json").read_text(encoding="utf-8"))
    _, out = ran("ask", sample_folder(name), "--json", *DAY)
    value = json.loads(out)
    jsonschema.Draft202012Validator(schema).validate(value)
    if name == "ready-to-file":
        assert sum(Decimal(x["amount"]) for x in value["amount"]) == Decimal("1052.50")
        assert {c["answer"] for a in value["addressees"] for c in a["candidates"]} >= {"yes", "no"}
    del value["addressees"]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(schema).validate(value)


def test_the_pages_of_the_papers_stand_behind_the_packet(job: Path) -> None:
    """Sound PDFs are added as pages, a broken one is named, and the file claims no PDF/A."""
    import pikepdf

    (job / "documents" / "invoice.pdf").write_bytes(b"%PDF-1.7\nbroken")
    plain = Path(ran("packet", job, "--for", "carrier", *DAY)[1].splitlines()[0])
    _, out = ran("packet", job, "--for", "carrier", "--with-papers", *DAY)
    whole = Path(out.splitlines()[0])
    with pikepdf.open(plain) as first, pikepdf.open(whole) as second:
        assert len(second.pages) > len(first.pages) + 2
        assert first.open_metadata().pdfa_status == "2B"
        assert second.open_metadata().pdfa_status == ""
        with second.open_outline() as outline:
            assert outline.root[-1].title == "Documents as pages"
    text = "".join(page_texts(whole.read_bytes()))
    assert "Straight bill of lading BW-20714" in text
    assert "6 wall panels at 412.50" not in text
    again = ran("packet", job, "--for", "carrier", "--with-papers", *DAY)[1]
    assert "the same bytes were there already" in again
