"""What the log says of files, and that what was done to a log shows.

The chain is checked against tests/intake/chain.py, which knows nothing of claimkit. That cutting
off the end does not show, unless another log cites it, is a limit of every hash chain; it is
tested here so that nobody promises more.
"""

from __future__ import annotations

import base64
import hashlib
import json
import os
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from claimkit.intake.custody import custody_of, log_packet, pending, read_custody, take_in
from claimkit.intake.custody_log import read_log
from claimkit.intake.disk import FileBytes, RealDisk
from claimkit.intake.unlogged import Seen, Taken
from claimkit.intake.walk import walk
from claimkit.intake.writer import is_writer, writer_name
from claimkit.model.facts import Custody, CustodyEvent
from claimkit.model.stop import CannotGoOn
from tests.intake.chain import check, holds

NOW = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)
DISK = RealDisk()


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def find(root: Path, *unread: str) -> Taken:
    """Find the files of a folder without the code under test."""
    seen = []
    for path in sorted(root.rglob("*")):
        name = path.relative_to(root).as_posix()
        if not path.is_file() or name.startswith("custody/"):
            continue
        if any(name == one or name.startswith(f"{one}/") for one in unread):
            continue
        data = path.read_bytes()
        record = name.startswith("records/")
        seen.append(Seen(name, sha(data), len(data), path, record, record))
    return Taken(tuple(seen), unread)


def put(root: Path, path: str, data: bytes) -> None:
    (root / path).parent.mkdir(parents=True, exist_ok=True)
    (root / path).write_bytes(data)


def run(root: Path, writer: str = "a", hours: int = 0, *unread: str) -> Custody:
    shelf = take_in(root, find(root, *unread), writer, NOW + timedelta(hours=hours), DISK)
    return custody_of(shelf)


def said(custody: Custody, after: int = 0) -> list[tuple[str, str | None]]:
    """Give the events and paths of all lines from that place on, RUN lines left out."""
    return [
        (line.event.value, line.path)
        for line in custody.lines[after:]
        if line.event is not CustodyEvent.RUN
    ]


def test_the_first_run_says_everything_once(tmp_path: Path) -> None:
    put(tmp_path, "photos/1.jpg", b"one")
    put(tmp_path, "records/delivery.toml", b"x = 1\n")
    custody = run(tmp_path)
    assert said(custody) == [
        ("first seen", "photos/1.jpg"),
        ("record added", "records/delivery.toml"),
    ]
    assert custody == run(tmp_path, hours=5), "nothing new: no line, not even of the run"
    lines = check(tmp_path / "custody/a.jsonl")
    assert [line["event"] for line in lines] == ["run", "first seen", "record added"]
    assert [line.line_sha256 for line in custody.lines][:-1] == [row["prev"] for row in lines[1:]]
    assert {line["at"] for line in lines} == {"2026-05-20T18:00:00+00:00"}
    assert lines[1]["size"] == 3


def test_a_run_names_its_tool(tmp_path: Path) -> None:
    from claimkit import __version__

    put(tmp_path, "photos/1.jpg", b"one")
    (first, _) = run(tmp_path).lines
    assert first.detail == f"claimkit {__version__}; 1 line follows; no other logs"


def test_changed_keeps_both_hashes_and_a_records_new_text(tmp_path: Path) -> None:
    put(tmp_path, "records/d.toml", b"words = 'clear'\n")
    put(tmp_path, "photos/1.jpg", b"one")
    before = len(run(tmp_path).lines)
    put(tmp_path, "records/d.toml", b"words = 'crushed'\n")
    put(tmp_path, "photos/1.jpg", b"two")
    photo, record = run(tmp_path, hours=1).lines[before + 1 :]
    assert (photo.event, photo.sha256, photo.was_sha256) == (
        CustodyEvent.CHANGED,
        sha(b"two"),
        sha(b"one"),
    )
    assert (record.detail, record.was_sha256) == (
        "words = 'crushed'\n",
        sha(b"words = 'clear'\n"),
    )


def test_an_edit_of_a_record_can_be_seen_and_undone(tmp_path: Path) -> None:
    text = "said_by = 'dana'\r\nwords = '2 ctn crushed ☑ é 損'\n\ufeff\x00".encode()
    put(tmp_path, "records/d.toml", text)
    custody = run(tmp_path)
    put(tmp_path, "records/d.toml", b"words = 'clear'\n")
    custody = run(tmp_path, hours=1)
    first = next(line for line in custody.lines if line.event is CustodyEvent.RECORD_ADDED)
    assert first.detail is not None
    assert first.detail.encode() == text


def test_a_record_that_is_no_text_is_kept_whole(tmp_path: Path) -> None:
    put(tmp_path, "records/d.toml", b"\xff\xfe\x00broken")
    line = check_line(run(tmp_path), tmp_path)
    assert base64.b64decode(str(line["base64"])) == b"\xff\xfe\x00broken"
    assert "detail" not in line


def check_line(custody: Custody, root: Path) -> dict[str, object]:
    assert custody.breaks == ()
    return check(root / "custody/a.jsonl")[-1]


def test_missing_returned_and_moved(tmp_path: Path) -> None:
    put(tmp_path, "photos/1.jpg", b"one")
    put(tmp_path, "photos/2.jpg", b"two")
    at = len(run(tmp_path).lines)
    (tmp_path / "photos/1.jpg").unlink()
    custody = run(tmp_path, hours=1)
    assert said(custody, at) == [("missing", "photos/1.jpg")]
    assert custody.lines[-1].sha256 == sha(b"one"), "what is missing is known by its hash"
    assert run(tmp_path, hours=2) == custody, "said once"
    at = len(custody.lines)
    put(tmp_path, "photos/1.jpg", b"one")
    custody = run(tmp_path, hours=3)
    assert said(custody, at) == [("returned", "photos/1.jpg")]
    at = len(custody.lines)
    (tmp_path / "photos/2.jpg").rename(tmp_path / "photos/moved.jpg")
    custody = run(tmp_path, hours=4)
    assert said(custody, at) == [("first seen", "photos/moved.jpg"), ("missing", "photos/2.jpg")]
    assert custody.lines[-1].sha256 == custody.lines[-2].sha256 == sha(b"two")
    at = len(custody.lines)
    put(tmp_path, "photos/2.jpg", b"another")
    custody = run(tmp_path, hours=5)
    assert said(custody, at) == [("changed", "photos/2.jpg")]
    assert custody.lines[-1].was_sha256 == sha(b"two")


def test_nothing_is_said_of_what_could_not_be_read(tmp_path: Path) -> None:
    for name in ("photos/a/1.jpg", "photos/a/2.jpg", "photos/b.jpg"):
        put(tmp_path, name, name.encode())
    custody = run(tmp_path)
    assert run(tmp_path, "a", 1, "photos/a", "photos/b.jpg") == custody


def test_first_seen_finds_photos_and_records_alike(tmp_path: Path) -> None:
    put(tmp_path, "photos/1.jpg", b"one")
    put(tmp_path, "records/d.toml", b"text")
    run(tmp_path)
    put(tmp_path, "copy.jpg", b"one")
    custody = run(tmp_path, "b", 1)
    for data, path in ((b"one", "photos/1.jpg"), (b"text", "records/d.toml")):
        line = custody.first_seen(sha(data))
        assert line is not None
        assert (line.path, line.at) == (path, NOW)


def test_a_file_that_another_computer_logged_is_not_new(tmp_path: Path) -> None:
    put(tmp_path, "photos/1.jpg", b"one")
    custody = run(tmp_path, "a")
    assert run(tmp_path, "b", 1) == custody
    assert not (tmp_path / "custody/b.jsonl").exists()


def test_two_writers_cite_each_others_heads(tmp_path: Path) -> None:
    for hour, (writer, name) in enumerate([("a", "1"), ("b", "2"), ("a", "3"), ("b", "4")]):
        put(tmp_path, f"photos/{name}.jpg", name.encode())
        custody = run(tmp_path, writer, hour)
    logs = {name: check(tmp_path / f"custody/{name}.jsonl") for name in "ab"}
    rows = {n: (tmp_path / f"custody/{n}.jsonl").read_bytes().split(b"\n") for n in "ab"}
    assert logs["b"][0]["heads"] == {"a": [2, sha(rows["a"][1])]}
    assert logs["a"][2]["heads"] == {"b": [2, sha(rows["b"][1])]}
    assert logs["b"][2]["heads"] == {"a": [4, sha(rows["a"][3])]}
    assert custody.breaks == ()
    assert [path for _, path in said(custody)] == [f"photos/{n}.jpg" for n in "1234"]


def test_what_a_log_cites_decides_and_not_the_clocks(tmp_path: Path) -> None:
    # b's clock is two days ahead; a sees the file change after b has logged it.
    put(tmp_path, "photos/1.jpg", b"one")
    run(tmp_path, "b", 48)
    put(tmp_path, "photos/1.jpg", b"two")
    custody = run(tmp_path, "a", 1)
    assert said(custody) == [("first seen", "photos/1.jpg"), ("changed", "photos/1.jpg")]
    assert run(tmp_path, "a", 2) == custody, "the change is not logged again and again"
    assert run(tmp_path, "b", 49) == custody


def test_two_computers_that_did_not_know_of_each_other(tmp_path: Path) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    for root, writer in ((one, "a"), (two, "b")):
        put(root, "photos/1.jpg", b"one")
        put(root, f"photos/{writer}.jpg", writer.encode())
        run(root, writer)
    for name in ("custody/b.jsonl", "photos/b.jpg"):  # the synced folder brings them together
        put(one, name, (two / name).read_bytes())
    custody = read_custody(one, DISK)
    assert custody.breaks == ()
    assert run(one, "a", 1) == custody


@pytest.mark.parametrize("composed_first", [True, False])
@pytest.mark.skipif(sys.platform == "darwin", reason="the Mac's disk makes the two names one")
def test_names_that_differ_in_their_accents_alone_are_one(
    tmp_path: Path, composed_first: bool
) -> None:
    names = ["photos/caf\u00e9.jpg", "photos/cafe\u0301.jpg"]  # equivalent: UAX 15
    first, second = names if composed_first else reversed(names)
    put(tmp_path, first, b"one")
    custody = run(tmp_path)
    (tmp_path / first).rename(tmp_path / second)
    assert run(tmp_path, "b", 1) == custody
    put(tmp_path, second, b"two")
    custody = run(tmp_path, "b", 2)
    assert said(custody) == [("first seen", first), ("changed", first)]
    assert run(tmp_path, "b", 3) == custody
    put(tmp_path, first, b"three")  # now there are both
    custody = run(tmp_path, "b", 4)
    assert run(tmp_path, "b", 5) == custody


def three_runs(root: Path) -> Path:
    for hour in range(3):
        put(root, f"photos/{hour}.jpg", str(hour).encode())
        run(root, "a", hour)
    return root / "custody/a.jsonl"


def edit(number: int, change: Callable[[list[bytes]], None]) -> Callable[[Path], None]:
    def act(log: Path) -> None:
        rows = log.read_bytes().split(b"\n")
        change(rows)
        log.write_bytes(b"\n".join(rows))

    act.__name__ = f"line {number}"
    return act


def _replace(rows: list[bytes]) -> None:
    rows[3] = rows[3].replace(b"photos/1.jpg", b"photos/9.jpg")


def _spaces(rows: list[bytes]) -> None:
    rows[5] = rows[5].replace(b'","', b'", "')


def _swap(rows: list[bytes]) -> None:
    rows[1], rows[3] = rows[3], rows[1]


def _forge_last(rows: list[bytes]) -> None:
    fields = json.loads(rows[5]) | {"path": "photos/forged.jpg"}
    rows[5] = json.dumps(fields).encode()


DAMAGES: dict[str, tuple[Callable[[list[bytes]], None], str]] = {
    "a word changed": (_replace, "line 5: it does not follow"),
    "a line deleted": (lambda rows: rows.pop(2) and None, "line 3: it does not follow"),
    "the first line deleted": (lambda rows: rows.pop(0) and None, "line 1: it does not follow"),
    "two lines swapped": (_swap, "line 2: it does not follow"),
    "a line put in twice": (lambda rows: rows.insert(2, rows[1]), "line 3: it does not follow"),
    "a line put in": (lambda rows: rows.insert(2, b'{"n":3}'), "line 3: it cannot be read"),
    "a line of rubbish": (lambda rows: rows.insert(2, b"\x00\xff{"), "line 3: it cannot be read"),
    "the last line laid out anew": (_spaces, "line 6: it is not written as claimkit writes it"),
    "the last line forged by hand": (_forge_last, "line 6: it is not written as"),
    "an empty line": (lambda rows: rows.insert(3, b""), "line 4: it cannot be read"),
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_damage_is_reported_and_never_mended(tmp_path: Path, damage: str) -> None:
    change, sentence = DAMAGES[damage]
    log = three_runs(tmp_path)
    edit(0, change)(log)
    if "last line" not in damage:  # whose hash nothing carries yet
        assert not holds(log)
    custody = read_custody(tmp_path, DISK)
    assert any(sentence in found for found in custody.breaks), custody.breaks
    damaged = log.read_bytes()
    put(tmp_path, "photos/new.jpg", b"new")
    after = run(tmp_path, "a", 9)
    assert log.read_bytes().startswith(damaged)
    assert set(custody.breaks) <= set(after.breaks)
    assert ("first seen", "photos/new.jpg") in said(after)
    assert run(tmp_path, "a", 10) == after


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data())
def test_any_byte_changed_before_the_last_line_shows(tmp_path: Path, data: st.DataObject) -> None:
    log = tmp_path / "custody/a.jsonl"
    whole = log.read_bytes() if log.exists() else three_runs(tmp_path).read_bytes()
    place = data.draw(st.integers(0, whole.rstrip(b"\n").rfind(b"\n")))
    byte = data.draw(st.integers(0, 255).filter(lambda b: b != whole[place]))
    changed = whole[:place] + bytes([byte]) + whole[place + 1 :]
    assert read_log("a", whole).breaks == ()
    assert read_log("a", changed).breaks


def test_line_ends_that_another_program_changed(tmp_path: Path) -> None:
    log = three_runs(tmp_path)
    log.write_bytes(log.read_bytes().replace(b"\n", b"\r\n"))
    (sentence,) = read_custody(tmp_path, DISK).breaks
    assert "changed its line ends" in sentence
    put(tmp_path, "photos/new.jpg", b"new")
    assert run(tmp_path, "a", 9).breaks == (sentence,)


def test_a_mark_of_the_encoding_that_another_program_put_in_front(tmp_path: Path) -> None:
    """As a Windows editor does on saving; the lines are as they were, and no file is news again."""
    log = three_runs(tmp_path)
    log.write_bytes(b"\xef\xbb\xbf" + log.read_bytes().replace(b"\n", b"\r\n"))
    mark, ends = read_custody(tmp_path, DISK).breaks
    assert "put a mark of its encoding in front" in mark
    assert "changed its line ends" in ends
    before = len(read_custody(tmp_path, DISK).lines)
    put(tmp_path, "photos/new.jpg", b"new")
    after = run(tmp_path, "a", 9)
    assert after.breaks == (mark, ends)
    assert len(after.lines) == before + 2, "the run and the one new file"


def test_a_cut_off_end_shows_only_where_it_was_cited(tmp_path: Path) -> None:
    log = three_runs(tmp_path)
    whole = log.read_bytes()
    rows = whole.split(b"\n")
    log.write_bytes(b"\n".join(rows[:4]) + b"\n")  # the whole last run is gone
    assert read_custody(tmp_path, DISK).breaks == (), "this much a chain alone cannot show"
    log.write_bytes(whole)
    put(tmp_path, "photos/b.jpg", b"b")
    run(tmp_path, "b", 4)
    log.write_bytes(b"\n".join(rows[:4]) + b"\n")
    (sentence,) = read_custody(tmp_path, DISK).breaks
    assert "custody/b.jsonl, line 1: it cites line 6 of custody/a.jsonl" in sentence
    assert "ends with line 4" in sentence


def test_a_log_written_anew_shows_where_it_was_cited(tmp_path: Path) -> None:
    log = three_runs(tmp_path)
    put(tmp_path, "photos/b.jpg", b"b")
    run(tmp_path, "b", 4)
    forged, before = [], "0" * 64
    for row in log.read_bytes().split(b"\n")[:-1]:
        fields = json.loads(row) | {"at": "2026-05-01T08:00:00+00:00", "prev": before}
        forged.append(json.dumps(fields, sort_keys=True, separators=(",", ":")).encode())
        before = sha(forged[-1])
    log.write_bytes(b"\n".join(forged) + b"\n")
    assert holds(log), "each line follows from the one before"
    (sentence,) = read_custody(tmp_path, DISK).breaks
    assert "that line is another now" in sentence


def test_a_log_that_another_cites_and_that_is_gone(tmp_path: Path) -> None:
    log = three_runs(tmp_path)
    put(tmp_path, "photos/b.jpg", b"b")
    run(tmp_path, "b", 4)
    log.unlink()
    (sentence,) = read_custody(tmp_path, DISK).breaks
    assert "that log is not here" in sentence


def test_a_clock_that_was_set_back_shows(tmp_path: Path) -> None:
    three_runs(tmp_path)
    put(tmp_path, "photos/new.jpg", b"new")
    (sentence,) = run(tmp_path, "a", -5).breaks
    assert "line 7: its time, 2026-05-20 13:00 UTC, is before" in sentence


@pytest.mark.parametrize(
    "name",
    [
        "a (Dana's conflicted copy 2026-05-20).jsonl",
        "a.sync-conflict-20260520-180000-ABC.jsonl",
        "a (1).jsonl",
    ],
)
def test_copies_of_a_log_are_named_and_not_read_as_logs(tmp_path: Path, name: str) -> None:
    log = three_runs(tmp_path)
    put(tmp_path, f"custody/{name}", log.read_bytes())
    custody = read_custody(tmp_path, DISK)
    assert len(custody.lines) == 6
    assert custody.breaks == (), "all that it says stands in the log: no log is in doubt"
    (left,) = walk(tmp_path, DISK).not_taken
    assert (left.path, left.reason[:24]) == (f"custody/{name}", "A copy of a custody log,")


def test_a_copy_under_a_name_that_a_writer_could_have(tmp_path: Path) -> None:
    log = three_runs(tmp_path)
    put(tmp_path, "custody/a2.jsonl", log.read_bytes())
    custody = read_custody(tmp_path, DISK)
    assert len(custody.lines) == 6
    (sentence,) = custody.breaks
    assert "custody/a2.jsonl is not the log of a writer" in sentence
    assert "can be deleted" in sentence


def test_a_copy_with_lines_of_its_own_is_to_be_kept(tmp_path: Path) -> None:
    # Two computers with one copied name, each of which went on from the same log.
    other = tmp_path / "other"
    root = tmp_path / "job"
    for folder in (root, other):
        three_runs(folder)
    put(root, "photos/x.jpg", b"x")
    run(root, "a", 5)
    put(other, "photos/y.jpg", b"y")
    run(other, "a", 6)
    put(root, "custody/a (conflicted copy).jsonl", (other / "custody/a.jsonl").read_bytes())
    (sentence,) = read_custody(root, DISK).breaks
    assert "with 2 lines that are not there" in sentence
    assert "CLAIMKIT_WRITER" in sentence


def test_a_renamed_log_says_whose_it_is(tmp_path: Path) -> None:
    log = three_runs(tmp_path)
    log.rename(tmp_path / "custody/z.jsonl")
    custody = read_custody(tmp_path, DISK)
    assert len(custody.lines) == 6, "it is the only copy of what it says"
    assert any("it names the writer a" in sentence for sentence in custody.breaks)


def test_a_log_is_never_begun_anew_over_a_copy(tmp_path: Path) -> None:
    log = three_runs(tmp_path)
    put(tmp_path, "custody/b.jsonl", log.read_bytes())
    put(tmp_path, "photos/new.jpg", b"new")
    with pytest.raises(OSError, match=r"b\.jsonl"):
        run(tmp_path, "b", 5)
    assert (tmp_path / "custody/b.jsonl").read_bytes() == log.read_bytes()


def test_a_log_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    class Closed(RealDisk):
        def read(self, path: Path) -> FileBytes:
            if path.name == "b.jsonl":
                raise PermissionError(13, "Permission denied")
            return super().read(path)

    three_runs(tmp_path)
    put(tmp_path, "photos/b.jpg", b"b")
    run(tmp_path, "b", 4)
    custody = read_custody(tmp_path, Closed())
    assert any("custody/b.jsonl cannot be read: Permission denied" in b for b in custody.breaks)
    with pytest.raises(OSError, match="cannot be read"):
        take_in(tmp_path, find(tmp_path), "b", NOW, Closed())


def test_custody_that_is_no_folder(tmp_path: Path) -> None:
    put(tmp_path, "custody", b"a file")
    assert "no folder" in read_custody(tmp_path, DISK).breaks[0]
    with pytest.raises(OSError, match="no folder"):
        take_in(tmp_path, Taken(()), "a", NOW, DISK)


def test_logging_a_packet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    root = tmp_path / "job"
    three_runs(root)
    before = read_custody(root, DISK)
    custody = log_packet(
        root,
        path="out/carrier.pdf",
        sha256=sha(b"pdf"),
        for_whom="carrier",
        now=NOW + timedelta(hours=9),
        writer="b",
    )
    last = custody.lines[-1]
    assert custody.lines[:-1] == before.lines, "a packet adds its own line and no other"
    assert (last.event, last.path, last.sha256, last.detail, last.writer) == (
        CustodyEvent.PACKET_WRITTEN,
        "out/carrier.pdf",
        sha(b"pdf"),
        "for carrier",
        "b",
    )
    (line,) = check(root / "custody/b.jsonl")
    assert line["heads"] == {"a": [6, before.lines[-1].line_sha256]}
    put(root, "photos/new.jpg", b"new")
    assert run(root, "b", 10).breaks == ()


def test_pending_counts_and_writes_nothing(tmp_path: Path) -> None:
    put(tmp_path, "photos/1.jpg", b"one")
    put(tmp_path, "photos/2.jpg", b"two")
    assert pending(tmp_path, find(tmp_path), DISK) == 2
    assert not (tmp_path / "custody").exists()
    run(tmp_path)
    assert pending(tmp_path, find(tmp_path), DISK) == 0


def test_a_time_without_a_zone_is_never_written(tmp_path: Path) -> None:
    put(tmp_path, "photos/1.jpg", b"one")
    with pytest.raises(ValueError, match="aware"):
        take_in(tmp_path, find(tmp_path), "a", NOW.replace(tzinfo=None), DISK)
    assert not list(tmp_path.glob("custody/*"))


def test_times_are_written_as_utc(tmp_path: Path) -> None:
    from zoneinfo import ZoneInfo

    put(tmp_path, "photos/1.jpg", b"one")
    take_in(tmp_path, find(tmp_path), "a", NOW.astimezone(ZoneInfo("America/Chicago")), DISK)
    assert check(tmp_path / "custody/a.jsonl")[0]["at"] == "2026-05-20T18:00:00+00:00"


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=300), st.booleans())
def test_any_bytes_can_stand_in_a_log(data: bytes, lines: bool) -> None:
    log = read_log("a", data.replace(b"\x00", b"\n") if lines else data)
    assert log.whole + len(log.torn) == len(data)
    if log.whole:
        assert log.breaks


@settings(max_examples=100, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(["n", "at", "event", "prev", "heads", "lines", "path", "writer", "size"]),
        st.none()
        | st.integers()
        | st.floats()
        | st.text(max_size=5)
        | st.lists(st.integers(), max_size=3)
        | st.dictionaries(st.text(max_size=2), st.lists(st.integers(), max_size=3), max_size=2),
    )
)
def test_any_json_can_stand_in_a_line(fields: dict[str, object]) -> None:
    good = {"n": 1, "at": "2026-05-20T18:00:00+00:00", "event": "run", "prev": "0" * 64}
    read_log("a", json.dumps(good | fields).encode() + b"\n")


@pytest.mark.parametrize("name", ["a", "office-1", "3f9a2c7b", "x_y", "a" * 40])
def test_names_of_writers(name: str) -> None:
    assert is_writer(name)
    assert writer_name(name, DISK) == name


# Upper case would be one file on some disks and two on others; con and nul are devices on Windows.
@pytest.mark.parametrize(
    "name", ["A", "../x", "a b", "é", "con", "nul", "com1", "a" * 41, "-a", "a."]
)
def test_names_that_no_writer_can_have(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert not is_writer(name)
    monkeypatch.setenv("CLAIMKIT_WRITER", name)
    with pytest.raises(CannotGoOn, match="Set CLAIMKIT_WRITER to small letters"):
        writer_name(None, DISK)


def test_a_writers_name_is_made_once_and_survives_a_copy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("CLAIMKIT_WRITER", raising=False)
    name = writer_name(None, DISK, tmp_path / "data")
    assert is_writer(name)
    assert writer_name(None, DISK, tmp_path / "data") == name
    (tmp_path / "data").rename(tmp_path / "copied")
    assert writer_name(None, DISK, tmp_path / "copied") == name
    assert writer_name(None, DISK, tmp_path / "data") != name, "made at random"
    monkeypatch.setenv("CLAIMKIT_WRITER", "office")
    assert writer_name(None, DISK, tmp_path / "copied") == "office"
    assert writer_name("argument", DISK, tmp_path / "copied") == "argument"


def test_a_writers_name_that_cannot_be_kept_stays_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("CLAIMKIT_WRITER", raising=False)
    put(tmp_path, "file", b"")
    name = writer_name(None, DISK, tmp_path / "file" / "below")
    assert is_writer(name)
    assert writer_name(None, DISK, tmp_path / "file" / "below") == name


def test_a_damaged_writers_name_is_made_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("CLAIMKIT_WRITER", raising=False)
    put(tmp_path, "writer", b"\x00\xff../../etc")
    assert is_writer(writer_name(None, DISK, tmp_path))
    assert os.listdir(tmp_path) == ["writer"]  # noqa: PTH208 - names alone
