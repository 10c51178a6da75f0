"""Timestamps against an authority made with `openssl ts`, which is also the second verifier."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from claimkit.cli import app
from claimkit.compose.packet.order import compose
from claimkit.model.anchors import LogHead
from claimkit.model.case import Reader
from claimkit.model.document import statements
from claimkit.model.stop import DONE, CannotGoOn
from claimkit.model.verified import Outcome
from claimkit.proof.bundle_check import verify_bundle
from claimkit.proof.stamps import list_text, name_of, read_list, request
from claimkit.proof.verify import verify_job
from claimkit.wiring.handover import take_in_reply, write_request
from tests.intake.folder import put
from tests.proof.evidence import PACKET, fresh, rows, written
from tests.proof.test_bundle import LATER, case_of, made

A, B = "custody/a.jsonl", "custody/b.jsonl"
CONFIG = """
[tsa]
default_tsa = t
[t]
serial = {at}/serial
signer_digest = sha256
default_policy = 1.2.3.4.1
digests = sha256
ess_cert_id_alg = sha256
[ext]
extendedKeyUsage = critical,timeStamping
"""


class Authority:
    """A root and a timestamp authority below it."""

    def __init__(self, at: Path) -> None:
        self.at = at
        at.mkdir()
        (at / "tsa.cnf").write_text(CONFIG.format(at=at.as_posix()))
        new = ["req", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes"]
        self.run(*new, "-x509", "-days", "3650", "-subj", f"/CN=Root {at.name}", "-keyout",
                 "root.key", "-out", "root.pem")  # fmt: skip
        self.run(*new, "-subj", f"/CN=Stamper {at.name}", "-keyout", "tsa.key", "-out", "tsa.csr")
        self.run("x509", "-req", "-in", "tsa.csr", "-CA", "root.pem", "-CAkey", "root.key",
                 "-CAcreateserial", "-days", "3650", "-extfile", "tsa.cnf", "-extensions", "ext",
                 "-out", "tsa.pem")  # fmt: skip
        self.root = at / "root.pem"

    def run(self, *arguments: str) -> str:
        done = subprocess.run(["openssl", *arguments], cwd=self.at, check=False,
                              capture_output=True, text=True)  # fmt: skip
        assert done.returncode == 0, done.stderr
        return done.stdout

    def reply(self, query: Path) -> Path:
        """Answer a request."""
        out = self.at / "reply.tsr"
        self.run("ts", "-reply", "-config", "tsa.cnf", "-queryfile", str(query), "-inkey",
                 "tsa.key", "-signer", "tsa.pem", "-out", str(out))  # fmt: skip
        return out


@pytest.fixture(scope="module")
def place() -> Iterator[Path]:
    if not shutil.which("openssl"):
        pytest.skip("no openssl on this system to be the test authority")
    with tempfile.TemporaryDirectory(prefix="claimkit-") as folder:
        yield Path(folder)


@pytest.fixture(scope="module")
def authority(place: Path) -> Authority:
    return Authority(place / "tsa")


@pytest.fixture(autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path_factory.getbasetemp() / "stamp-cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "a")


@pytest.fixture(scope="module")
def stamped(place: Path, authority: Authority) -> Iterator[Path]:
    """A job with a timestamp taken in, made once."""
    patch = pytest.MonkeyPatch()
    patch.setenv("CLAIMKIT_CACHE", str(place / "cache"))
    patch.setenv("CLAIMKIT_WRITER", "a")
    root = fresh(place / "made")
    asked = write_request(root, LATER)
    take_in_reply(root, authority.reply(asked.path), (authority.root,), LATER)
    yield root
    patch.undo()


def again(stamped: Path, place: Path) -> Path:
    copy = place / "copy"
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(stamped, copy)
    return copy


def test_openssl_reads_the_request_and_verifies_what_was_kept(
    stamped: Path, authority: Authority
) -> None:
    """RFC 3161: version 1, SHA-256 of the list, certificates asked for; the same list, the same."""
    (query,) = (stamped / "custody").glob("*.tsq")
    text = query.with_suffix(".list")
    told = authority.run("ts", "-query", "-in", str(query), "-text")
    assert "Version: 1" in told
    assert "Certificate required: yes" in told
    dump = "".join(re.findall(r"- ((?:[0-9a-f]{2}[ -]?){16})", told)).replace("-", "")
    assert dump.replace(" ", "") == hashlib.sha256(text.read_bytes()).hexdigest()
    done = authority.run("ts", "-verify", "-data", str(text), "-in",
                         str(query.with_suffix(".tsr")), "-CAfile", "root.pem")  # fmt: skip
    assert "Verification: OK" in done
    assert request(text.read_bytes()) == query.read_bytes()


def test_a_timestamp_anchors_the_logs_and_names_its_authority(stamped: Path) -> None:
    told = verify_job(stamped)
    assert not told.of(Outcome.BROKEN)
    (said,) = [p for p in told.of(Outcome.HOLDS) if p.where.endswith(".tsr")]
    assert "CN=Stamper tsa" in said.sentence
    held = {p.where: p.sentence for p in told.of(Outcome.HOLDS)}
    last = len(rows(stamped / A))
    assert f"Up to line {last - 1} it is as the timestamp" in held[A]
    count = dict(told.counts)["originals"]
    assert any(f"{count} of the {count} originals" in p.sentence for p in told.of(Outcome.NOTE))


@pytest.mark.parametrize("change", ["delete", "edit"])
def test_lines_before_a_timestamp_cannot_be_forged(stamped: Path, place: Path, change: str) -> None:
    """All packets and the other log gone, the chain made anew: the timestamp shows it."""
    root = again(stamped, place)
    (root / PACKET).unlink()
    (root / B).unlink()
    lines = [r for r in rows(root / A) if b"packet written" not in r]
    lines = [json.dumps(json.loads(r) | {"heads": {}}).encode() for r in lines]
    at = next(i for i, r in enumerate(lines) if b"photos/2.jpg" in r)
    if change == "delete":
        del lines[at]
    else:
        lines[at] = lines[at].replace(b"photos/2.jpg", b"photos/9.jpg")
    written(root / A, lines, rehash=True)
    points = verify_job(root).of(Outcome.BROKEN)
    assert any(p.where == A and "timestamp" in p.sentence for p in points)


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_any_flipped_bit_of_list_or_reply_is_named(
    stamped: Path, place: Path, data: st.DataObject
) -> None:
    root = again(stamped, place)
    ending = data.draw(st.sampled_from(["list", "tsr"]))
    (file,) = (root / "custody").glob(f"*.{ending}")
    content = bytearray(file.read_bytes())
    bit = data.draw(st.integers(0, len(content) * 8 - 1))
    content[bit // 8] ^= 1 << bit % 8
    file.write_bytes(content)
    assert verify_job(root).of(Outcome.BROKEN)


def test_a_removed_reply_is_missed(stamped: Path, place: Path) -> None:
    root = again(stamped, place)
    (reply,) = (root / "custody").glob("*.tsr")
    reply.unlink()
    assert f"custody/{reply.name}" in {p.where for p in verify_job(root).of(Outcome.BROKEN)}


def test_only_a_reply_of_that_authority_to_that_list_is_taken_in(
    place: Path, authority: Authority, tmp_path: Path
) -> None:
    root = fresh(tmp_path)
    asked = write_request(root, LATER)
    other = Authority(tmp_path / "other")
    reply = tmp_path / "good.tsr"
    reply.write_bytes(authority.reply(asked.path).read_bytes())
    foreign = put(tmp_path, "foreign.tsq", request(b"another list"))
    before = sorted((root / "custody").iterdir())
    for file, cert, why in (
        (reply, other.root, "does not lead to the certificate"),
        (authority.reply(foreign), authority.root, "of something else"),
        (asked.path, authority.root, "no reply"),
        (reply, asked.path, "certificate"),
    ):
        with pytest.raises(CannotGoOn, match=why):
            take_in_reply(root, file, (cert,), LATER)
    assert sorted((root / "custody").iterdir()) == before
    take_in_reply(root, reply, (authority.root,), LATER)
    assert not verify_job(root).of(Outcome.BROKEN)
    trusted = verify_job(root, roots=[other.root])
    assert any(p.where.endswith(".tsr") for p in trusted.of(Outcome.BROKEN))


def test_the_packet_and_the_bundle_show_it(stamped: Path, place: Path) -> None:
    root = again(stamped, place)
    put(root, "photos/after.png", b"taken in after the timestamp")
    case = case_of(root)
    texts = [s.text for _, s in statements(compose(case, Reader.OWN)) if "RFC 3161" in s.text]
    (said,) = texts
    assert "CN=Stamper tsa" in said
    found = re.search(r"(\d+) of the (\d+) originals listed here", said)
    assert found
    assert int(found[1]) == int(found[2]) - 1
    for reader in (Reader.OWN, Reader.SELLER):
        bag = made(root, reader).path
        told = verify_bundle(bag)
        assert not told.of(Outcome.BROKEN)
        holds = told.of(Outcome.HOLDS)
        assert any(p.where.endswith(".tsr") and "CN=Stamper tsa" in p.sentence for p in holds)
        if reader is Reader.SELLER:  # an excerpt is held against every anchor, a log by its last
            kept = [p.sentence for p in holds if p.where == "data/custody/a.excerpt.txt"]
            assert len(kept) == 2
            assert any("the timestamp" in sentence for sentence in kept)
        listed = next((bag / "data/custody").glob("*.list")).read_text("ascii")
        assert "photos" not in listed  # hashes alone: no name goes to another reader


def test_a_detail_that_cannot_be_read_is_left_out(stamped: Path, place: Path) -> None:
    case = case_of(again(stamped, place))
    lines = tuple(
        structs.replace(line, detail="{}") if line.event.value == "timestamp taken in" else line
        for line in case.facts.custody.lines
    )
    spoilt = replace(
        case, facts=replace(case.facts, custody=replace(case.facts.custody, lines=lines))
    )
    assert not [s for _, s in statements(compose(spoilt, Reader.OWN)) if "RFC 3161" in s.text]


def test_the_commands(place: Path, authority: Authority, tmp_path: Path) -> None:
    root = fresh(tmp_path)
    run = CliRunner()
    asked = run.invoke(app, ["timestamp", str(root)])
    assert asked.exit_code == DONE, asked.output
    again_asked = run.invoke(app, ["timestamp", str(root)])
    assert again_asked.stdout == asked.stdout  # nothing new: the same request
    query = Path(asked.stdout.splitlines()[0])
    reply = authority.reply(query)
    assert run.invoke(app, ["timestamp", str(root), "--reply", str(reply)]).exit_code == 2
    options = ["--reply", str(reply), "--root", str(authority.root)]
    taken = run.invoke(app, ["timestamp", str(root), *options])
    assert taken.exit_code == DONE, taken.output
    assert "existed before" in taken.stdout


def test_without_the_library_the_sentence_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, stamped: Path
) -> None:
    import sys

    monkeypatch.setitem(sys.modules, "rfc3161_client", None)
    with pytest.raises(CannotGoOn, match=r"claimkit\[timestamp\]"):
        request(b"x")
    told = verify_job(stamped)
    assert [p for p in told.of(Outcome.OPEN) if "claimkit[timestamp]" in p.sentence]


@given(
    st.sets(st.binary(min_size=32, max_size=32), max_size=5),
    st.dictionaries(st.from_regex(r"[a-z][a-z0-9-]{0,9}", fullmatch=True), st.integers(1, 99)),
)
def test_lists_read_back(hashes: set[bytes], heads: dict[str, Any]) -> None:
    kept = {one.hex() for one in hashes}
    ends = [LogHead(writer, number, "0" * 64) for writer, number in heads.items()]
    text = list_text(kept, ends)
    listed = read_list(text)
    assert listed
    assert listed.originals == kept
    assert set(listed.heads) == set(ends)
    assert name_of(text) == f"stamp-{hashlib.sha256(text).hexdigest()[:12]}"
    assert read_list(text[:-1]) is None
    assert read_list(b"x" + text) is None
