"""What verification finds, against an oracle without claimkit, and what it says it cannot see.

The promise: any change to an original, and any edit, removal or reordering of lines before the
last anchored head, is found and named. After it, a forger who chains the lines anew is not seen;
that is tested too, so that nobody promises more.
"""

from __future__ import annotations

import hashlib
import json
import tempfile
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.cli import app
from claimkit.intake.read import read
from claimkit.model.anchors import Anchors, LogHead, anchors_in, hash_of_list
from claimkit.model.stop import DONE, NOT_READ, OPEN_MATTERS
from claimkit.model.verified import Outcome
from claimkit.proof.verify import verify_job
from tests.intake.folder import put
from tests.proof.evidence import (
    NOW,
    PACKET,
    fresh,
    oracle,
    originals,
    printed_heads,
    rows,
    written,
)
from tests.shared import ROOT

LATER = NOW + timedelta(hours=4)
A, B = "custody/a.jsonl", "custody/b.jsonl"


@pytest.fixture(scope="module")
def place() -> Iterator[Path]:
    with tempfile.TemporaryDirectory(prefix="claimkit-") as folder:
        yield Path(folder)


def broken(root: Path) -> set[str]:
    """Name what does not hold, a line's place cut down to its log."""
    points = verify_job(root).of(Outcome.BROKEN)
    names = set()
    for point in points:
        first = point.sentence.partition(",")[0]
        names.add(first if point.where == "custody" else point.where.partition(",")[0])
    return names


def test_an_untouched_folder_holds_and_says_what_cannot_be_seen(place: Path) -> None:
    root = fresh(place)
    told = verify_job(root)
    assert not told.of(Outcome.BROKEN, Outcome.UNREAD, Outcome.NOT_LOGGED)
    assert oracle(root) == set()
    assert dict(told.counts)["originals"] == len(originals(root))
    beyond = {p.where: p.sentence for p in told.of(Outcome.OPEN)}
    assert set(beyond) == {A, B}
    last = len(rows(root / A))
    assert f"Line {last} stands after that" in beyond[A]  # the packet's own line
    held = [p.sentence for p in told.of(Outcome.HOLDS) if p.where == A]
    assert held == [
        f"Up to line {last - 1} it is as {PACKET} has kept it; a change there would show."
    ]


def test_what_is_printed_is_what_the_file_keeps(place: Path) -> None:
    """The heads in a packet's description are those that its text prints, by pdfium."""
    from claimkit.render.kept import in_packet

    kept = in_packet(fresh(place) / PACKET)
    assert kept
    assert {(h.writer, h.number, h.sha256) for h in kept.heads} == printed_heads(
        place / "job" / PACKET
    )
    assert len(kept.heads) == 2


def test_verification_writes_nothing(place: Path) -> None:
    root = fresh(place)
    before = {p: p.read_bytes() for p in root.rglob("*") if p.is_file()}
    put(root, "photos/new.jpg", b"not logged")
    verify_job(root)
    del_new = {p: p.read_bytes() for p in root.rglob("*") if p.is_file()}
    assert del_new.pop(root / "photos/new.jpg") == b"not logged"
    assert del_new == before


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_any_flipped_bit_of_any_original_is_named(place: Path, data: st.DataObject) -> None:
    root = fresh(place)
    path = data.draw(st.sampled_from(originals(root)))
    content = bytearray((root / path).read_bytes())
    bit = data.draw(st.integers(0, len(content) * 8 - 1))
    content[bit // 8] ^= 1 << bit % 8
    (root / path).write_bytes(content)
    assert broken(root) == {path} == oracle(root)


def test_a_change_that_was_logged_since_is_still_named(place: Path) -> None:
    """Running claimkit after the edit logs the new bytes; the first sight still stands."""
    root = fresh(place)
    put(root, "photos/1.jpg", b"another picture")
    (root / "documents/bill.pdf").unlink()
    read(root, now=LATER, writer="a")
    assert broken(root) == {"photos/1.jpg", "documents/bill.pdf"}


def test_a_moved_file_is_no_lost_file(place: Path) -> None:
    root = fresh(place)
    (root / "photos/1.jpg").rename(root / "photos/renamed.jpg")
    told = verify_job(root)
    assert not [p for p in told.of(Outcome.BROKEN) if p.where == "photos/1.jpg"]
    assert any("stand at photos/renamed.jpg" in p.sentence for p in told.of(Outcome.NOTE))
    assert [p.where for p in told.of(Outcome.NOT_LOGGED)] == ["photos/renamed.jpg"]


@settings(max_examples=120, deadline=None)
@given(data=st.data())
def test_any_flipped_bit_before_the_last_anchor_is_named(place: Path, data: st.DataObject) -> None:
    """Every byte class: keys, values, numbers, hashes, quotes, line ends."""
    root = fresh(place)
    log = data.draw(st.sampled_from([A, B]))
    content = bytearray((root / log).read_bytes())
    lines = rows(root / log)
    anchored = len(content) - (len(lines[-1]) + 1 if log == A else 0)
    bit = data.draw(st.integers(0, anchored * 8 - 1))
    content[bit // 8] ^= 1 << bit % 8
    (root / log).write_bytes(content)
    assert log in broken(root)


Change = st.sampled_from(["delete", "swap", "edit", "insert", "cut"])


@settings(max_examples=120, deadline=None)
@given(data=st.data(), change=Change, rehash=st.booleans())
def test_any_change_of_lines_before_the_last_anchor_is_named(
    place: Path, data: st.DataObject, change: str, rehash: bool
) -> None:
    """A forger may number and chain all lines anew: the anchors still show it."""
    root = fresh(place)
    log = data.draw(st.sampled_from([A, B]))
    lines = rows(root / log)
    anchored = len(lines) - (1 if log == A else 0)
    at = data.draw(st.integers(0, anchored - 1))
    was = list(lines)
    if change == "delete":
        del lines[at]
    elif change == "swap":
        other = data.draw(st.integers(0, anchored - 1))
        lines[at], lines[other] = lines[other], lines[at]
    elif change == "edit":
        fields = json.loads(lines[at]) | {"sha256": hashlib.sha256(b"forged").hexdigest()}
        lines[at] = json.dumps(fields, sort_keys=True, separators=(",", ":")).encode()
    elif change == "insert":
        lines.insert(at, lines[data.draw(st.integers(0, anchored - 1))])
    else:
        del lines[at:]
    written(root / log, lines, rehash=rehash)
    if rows(root / log)[:anchored] == was[:anchored]:
        return  # the same lines swapped, or the last one put in twice: that is a new end
    assert log in broken(root)
    assert log in oracle(root)


@pytest.mark.parametrize("what", ["cut", "rewrite"])
def test_after_the_last_anchor_a_forger_is_not_seen_and_that_is_said(
    place: Path, what: str
) -> None:
    root = fresh(place)
    put(root, "photos/after.jpg", b"taken in after the packet")
    read(root, now=LATER, writer="a")
    lines = rows(root / A)
    if what == "cut":
        (root / "photos/after.jpg").unlink()
        lines = lines[:-2]  # the run and its one line
    else:
        put(root, "photos/after.jpg", b"put in its place")
        forged = json.loads(lines[-1])
        forged |= {"sha256": hashlib.sha256(b"put in its place").hexdigest(), "size": 16}
        lines[-1] = json.dumps(forged, sort_keys=True, separators=(",", ":")).encode()
    written(root / A, lines, rehash=True)
    assert broken(root) == set() == oracle(root)
    (said,) = [p.sentence for p in verify_job(root).of(Outcome.OPEN) if p.where == A]
    assert "cannot be seen here" in said


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_any_flipped_bit_of_a_packet_is_named(place: Path, data: st.DataObject) -> None:
    root = fresh(place)
    content = bytearray((root / PACKET).read_bytes())
    bit = data.draw(st.integers(0, len(content) * 8 - 1))
    content[bit // 8] ^= 1 << bit % 8
    (root / PACKET).write_bytes(content)
    assert broken(root) >= {PACKET}


def test_removing_the_line_about_a_packet_leaves_a_packet_that_no_log_knows(place: Path) -> None:
    root = fresh(place)
    written(root / A, rows(root / A)[:-1], rehash=False)
    assert broken(root) == {PACKET} == oracle(root)


def test_a_copy_that_was_sent_shows_a_log_that_was_written_anew(place: Path) -> None:
    """All anchors in the folder gone, all lines chained anew: only the sent copy tells."""
    root = fresh(place)
    sent = place / "sent.pdf"
    sent.write_bytes((root / PACKET).read_bytes())
    (root / PACKET).unlink()
    (root / B).unlink()
    lines = [r for r in rows(root / A)[:-1] if b"photos/2.jpg" not in r]
    fields = [json.loads(r) for r in lines]
    clean = [json.dumps({k: v for k, v in f.items() if k != "heads"}).encode() for f in fields]
    written(root / A, clean, rehash=True)
    (root / "photos/2.jpg").unlink()
    assert broken(root) == set()
    points = verify_job(root, packets=[sent]).of(Outcome.BROKEN)
    assert {p.where for p in points} >= {A, B}


def test_a_record_whose_kept_text_was_edited_is_named(place: Path) -> None:
    """With the chain made anew after it, the hash in the line still tells."""
    root = fresh(place)
    (root / PACKET).unlink()
    lines = rows(root / B)
    place_of = next(i for i, r in enumerate(rows(root / A)) if b"delivery.toml" in r)
    forged = rows(root / A)
    forged[place_of] = forged[place_of].replace(b"crushed", b"perfect")
    written(root / A, forged, rehash=True)
    assert lines
    points = verify_job(root).of(Outcome.BROKEN)
    assert any(p.where == f"{A}, line {place_of + 1}" for p in points)


def test_exit_codes_and_json(place: Path) -> None:
    root = fresh(place)
    run = CliRunner()
    good = run.invoke(app, ["verify", str(root), "--json"])
    assert good.exit_code == DONE
    value = json.loads(good.stdout)
    schema = json.loads((ROOT / "docs" / "verify.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema).validate(value)
    assert value["points"]
    value["points"][0]["place"] = value["points"][0].pop("where")  # the contract can refuse
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(schema).validate(value)
    put(root, "photos/new.jpg", b"not logged")
    assert run.invoke(app, ["verify", str(root)]).exit_code == OPEN_MATTERS
    put(root, "photos/1.jpg", b"changed")
    bad = run.invoke(app, ["verify", str(root)])
    assert bad.exit_code == OPEN_MATTERS
    assert "photos/1.jpg" in bad.stdout
    assert max(map(len, bad.stdout.splitlines())) <= 80


def test_a_file_that_cannot_be_read_is_said(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from claimkit.intake.disk import Digest, RealDisk

    class Refusing(RealDisk):
        def digest(self, path: Path, head: int) -> Digest:
            if path.name == "1.jpg":
                raise PermissionError(13, "Permission denied")
            return super().digest(path, head)

    told = verify_job(fresh(place), disk=Refusing())
    (unread,) = told.of(Outcome.UNREAD)
    assert unread.where == "photos/1.jpg"
    assert not told.of(Outcome.BROKEN)
    monkeypatch.setattr("claimkit.proof.verify.RealDisk", Refusing)
    assert CliRunner().invoke(app, ["verify", str(place / "job")]).exit_code == NOT_READ


@given(
    st.lists(
        st.tuples(
            st.from_regex(r"[a-z0-9][a-z0-9_-]{0,39}", fullmatch=True),
            st.integers(1, 999_999_999),
            st.binary(min_size=32, max_size=32),
        ),
        max_size=5,
    ),
    st.none() | st.binary(min_size=32, max_size=32),
)
def test_anchors_read_back_from_their_words(
    heads: list[tuple[str, int, bytes]], whole: bytes | None
) -> None:
    kept = Anchors(
        tuple(LogHead(w, n, sha.hex()) for w, n, sha in heads), whole.hex() if whole else None
    )
    assert anchors_in(kept.words()) == kept


@pytest.mark.parametrize("words", ["", "claimkit", "claimkit custody 1; log a line 0 " + "0" * 64])
def test_other_words_are_no_anchors(words: str) -> None:
    assert anchors_in(words) is None


def test_the_list_of_originals_has_the_hash_that_sha256sum_would_give() -> None:
    """Typed from `printf '%064d  a\\n%064d  b/ü\\n' 1 2 | sha256sum` (GNU coreutils)."""
    files = [("b/ü", f"{2:064d}"), ("a", f"{1:064d}")]
    assert hash_of_list(files) == "59d35ac143aab66ea0e38f92130dfc1a9259b1b93e9244169870826565724118"
