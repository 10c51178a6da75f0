"""Bundles: valid by the bagit library and sha256sum, safe to receive, and honest about the rest.

bagit (the Library of Congress's own) is the independent checker, always with its full validate().
What it is known to let pass, such as lists written anew, is tested to be found here.
"""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import stat
import subprocess
import tempfile
import zipfile
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import bagit
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.cli import app
from claimkit.compose.packet.bundle import safe_name
from claimkit.compose.packet.order import compose
from claimkit.findings.reason import reason
from claimkit.intake.read import read
from claimkit.model.case import Case, Reader
from claimkit.model.document import statements
from claimkit.model.stop import DONE, OPEN_MATTERS, STOPPED, CannotGoOn
from claimkit.model.verified import Outcome
from claimkit.proof.bag import discard
from claimkit.proof.bundle_check import read_excerpt, verify_bundle
from claimkit.wiring.handover import Bundled, write_bundle
from tests.compose.jobs import copy_of
from tests.intake.folder import jpeg, put
from tests.proof.evidence import NOW, fresh, originals

LATER = NOW + timedelta(hours=5)
AWKWARD = (
    "photos/CON.jpg",
    "photos/ünï cödé ☂.jpg",
    "photos/" + "x" * 180 + ".jpg",
    "photos/trailing dots...jpg",
    "photos/Same.JPG",
    "photos/same.jpg",
    "photos/a\u202egpj.exe.jpg",
)


@pytest.fixture(autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path_factory.getbasetemp() / "bundle-cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "a")


def case_of(root: Path) -> Case:
    return reason(read(root, now=LATER, writer="a"), date(2026, 10, 20), LATER)


def made(root: Path, reader: Reader = Reader.OWN, *, zipped: bool = False, **more: Any) -> Bundled:
    return write_bundle(
        case_of(root),
        root,
        reader,
        shipment=None,
        paper="letter",
        zipped=zipped,
        out=None,
        now=LATER,
        **more,
    )


@pytest.fixture(scope="module")
def place() -> Iterator[Path]:
    with tempfile.TemporaryDirectory(prefix="claimkit-") as folder:
        yield Path(folder)


@pytest.fixture(scope="module")
def whole(place: Path) -> Iterator[Path]:
    """A bundle of everything, as a folder, made once."""
    patch = pytest.MonkeyPatch()
    patch.setenv("CLAIMKIT_CACHE", str(place / "cache"))
    patch.setenv("CLAIMKIT_WRITER", "a")
    root = fresh(place / "made")
    for number, path in enumerate(AWKWARD, 10):
        put(root, path, jpeg(number))
    yield made(root).path
    patch.undo()


def again(whole: Path, place: Path) -> Path:
    """Give a copy of the bundle to be spoilt."""
    copy = place / "copy"
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(whole, copy)
    return copy


def broken(path: Path, **more: Any) -> set[str]:
    return {point.where for point in verify_bundle(path, **more).of(Outcome.BROKEN)}


def valid(bag: Path) -> bool:
    """Ask bagit, with every hash."""
    try:
        return bool(bagit.Bag(str(bag)).validate())
    except (bagit.BagError, OSError, UnicodeDecodeError, ValueError):
        return False


def test_the_folder_is_a_bag(whole: Path) -> None:
    assert valid(whole)
    assert broken(whole) == set()
    names = [p.relative_to(whole).as_posix() for p in whole.rglob("*") if p.is_file()]
    assert all(re.fullmatch(r"[A-Za-z0-9._/-]+", name) for name in names)
    assert len({name.casefold() for name in names}) == len(names)
    held = json.loads((whole / "data/contents.json").read_text("ascii"))
    assert {one["path"] for one in held["originals"]} >= {
        path for path in AWKWARD if "\u202e" not in path
    }


def test_sha256sum_checks_it(whole: Path) -> None:
    """GNU coreutils, as HOW-TO-CHECK.txt says; each name that the page gives is there."""
    if not shutil.which("sha256sum"):
        pytest.skip("no sha256sum on this system")
    for name in ("manifest-sha256.txt", "tagmanifest-sha256.txt"):
        done = subprocess.run(["sha256sum", "--strict", "-c", name], cwd=whole, check=False,
                              capture_output=True, text=True)  # fmt: skip
        assert done.returncode == 0, done.stderr
    told = (whole / "HOW-TO-CHECK.txt").read_text("utf-8")
    assert len(told.splitlines()) <= 75
    assert max(map(len, told.splitlines())) <= 80
    (example,) = re.findall(r"sha256sum (data/\S+)\n +([0-9a-f]{64})", told)
    assert hashlib.sha256((whole / example[0]).read_bytes()).hexdigest() == example[1]


@pytest.mark.parametrize("reader", list(Reader))
def test_the_zip_holds_the_same_kind_of_bag(reader: Reader, tmp_path: Path) -> None:
    root = tmp_path / "job"
    copy_of("disputed-gap", root)
    bundle = made(root, reader, zipped=True)
    assert broken(bundle.path) == set()
    with zipfile.ZipFile(bundle.path) as archive:
        assert {info.compress_type for info in archive.infolist()} == {zipfile.ZIP_STORED}
        archive.extractall(tmp_path / "out")
    (bag,) = (tmp_path / "out").iterdir()
    assert valid(bag)
    assert broken(bag) == set()
    own = hashlib.sha256((bag / "tagmanifest-sha256.txt").read_bytes()).hexdigest()
    assert own == bundle.sha256
    assert own in bundle.note.read_text("utf-8")
    assert broken(bag, expect=own.upper()) == set()
    assert broken(bag, expect="0" * 64) == {"tagmanifest-sha256.txt"}


@pytest.mark.parametrize("reader", list(Reader))
@pytest.mark.parametrize("name", ["ready-to-file", "disputed-gap"])
def test_every_source_of_every_statement_is_there_or_named_as_left_out(
    name: str, reader: Reader, tmp_path: Path
) -> None:
    """The walk of a built packet: by the number that is printed, to a file with that hash."""
    root = tmp_path / "job"
    copy_of(name, root)
    case = case_of(root)
    bag = made(root, reader).path
    told = json.loads((bag / "data/contents.json").read_text("ascii"))
    there = {one["path"]: one for one in told["originals"]}
    for one in told["originals"]:
        there |= dict.fromkeys(one["also"], one)
        assert hashlib.sha256((bag / one["file"]).read_bytes()).hexdigest() == one["sha256"]
        assert Path(one["file"]).name.startswith(f"{one['number']}-")
    left = {one["path"] for one in told["withheld"] if one["why"]}
    walked = 0
    for _, statement in statements(compose(case, reader)):
        for source in statement.sources:
            if not source.path or source.path.startswith("custody"):
                continue
            walked += 1
            assert (source.path in there) is not (source.path in left), source
            if source.path in there and source.sha256:
                assert there[source.path]["sha256"] == source.sha256
    assert walked > 3


def test_the_customers_bundle_holds_no_price_receipt_or_telephone(tmp_path: Path) -> None:
    root = tmp_path / "job"
    copy_of("disputed-gap", root)
    job = case_of(root).facts.job
    assert job
    bag = made(root, Reader.CUSTOMER).path
    everything = b"".join(p.read_bytes() for p in bag.rglob("*") if p.is_file())
    secrets = [p.phone for p in (*job.party, *job.person) if p.phone]
    secrets += [f"{i.invoice_price.amount}" for i in job.item if i.invoice_price]
    assert len(secrets) > 2
    assert not [secret for secret in secrets if secret.encode() in everything]
    names = {p.name.partition("-")[0][0] for p in (bag / "data/originals").iterdir()}
    assert names <= {"P", "R"}
    assert "P" in names


def test_an_excerpt_follows_the_chain_through_what_is_withheld(tmp_path: Path) -> None:
    root = tmp_path / "job"
    copy_of("disputed-gap", root)
    bag = made(root, Reader.CUSTOMER).path
    (excerpt,) = (bag / "data/custody").iterdir()
    data = excerpt.read_bytes()
    log = read_excerpt("a", data)
    rows = (root / "custody/a.jsonl").read_bytes().split(b"\n")
    assert list(log.hashes) == [hashlib.sha256(row).hexdigest() for row in rows[: len(log.hashes)]]
    assert 0 < len(log.lines) < len(log.hashes)
    assert not log.breaks
    lines = data.split(b"\n")[:-1]
    shown = [i for i, row in enumerate(lines) if row.startswith(b"{") and i]
    for i in shown[:4]:
        spoilt = [*lines]
        spoilt[i] = spoilt[i].replace(b'"sha256":"', b'"sha256":"0', 1)
        # What a line says is bound by the line after it, and only where that one is shown.
        bound = i + 1 < len(lines) and lines[i + 1].startswith(b"{")
        assert bool(read_excerpt("a", b"\n".join(spoilt) + b"\n").breaks) is bound
        del spoilt[i]
        assert read_excerpt("a", b"\n".join(spoilt) + b"\n").breaks


@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_any_flipped_bit_of_a_bag_is_found(whole: Path, place: Path, data: st.DataObject) -> None:
    bag = again(whole, place)
    files = sorted(p for p in bag.rglob("*") if p.is_file())
    file = data.draw(st.sampled_from(files))
    content = bytearray(file.read_bytes())
    bit = data.draw(st.integers(0, len(content) * 8 - 1))
    content[bit // 8] ^= 1 << bit % 8
    file.write_bytes(content)
    found = broken(bag)
    if file.name == "tagmanifest-sha256.txt":
        # Nothing in the bag covers this file; letters of a hash may change case (RFC 8493, 2.1.3).
        own = hashlib.sha256((whole / file.name).read_bytes()).hexdigest()
        assert broken(bag, expect=own)
    else:
        assert found
        assert not valid(bag) or not file.is_relative_to(bag / "data")


def relisted(bag: Path) -> None:
    """Write count and lists anew, as a forger or bagit's own save(manifests=True) does."""
    payload = sorted(p for p in (bag / "data").rglob("*") if p.is_file())
    size = sum(p.stat().st_size for p in payload)
    info = (bag / "bag-info.txt").read_text("utf-8")
    info = re.sub(r"Payload-Oxum: .*", f"Payload-Oxum: {size}.{len(payload)}", info)
    (bag / "bag-info.txt").write_text(info, encoding="utf-8", newline="\n")
    (bag / "tagmanifest-sha256.txt").unlink()
    tags = sorted(p for p in bag.iterdir() if p.is_file())
    for name, files in (("manifest-sha256.txt", payload), ("tagmanifest-sha256.txt", tags)):
        rows = [
            f"{hashlib.sha256(file.read_bytes()).hexdigest()}  {file.relative_to(bag).as_posix()}\n"
            for file in files
        ]
        (bag / name).write_text("".join(rows), encoding="utf-8", newline="\n")


def test_lists_written_anew_over_a_changed_original_are_found(whole: Path, place: Path) -> None:
    """bagit passes it; the contents, the packet's list and the log do not."""
    bag = again(whole, place)
    photo = next((bag / "data/originals").glob("P1-*"))
    was = hashlib.sha256(photo.read_bytes()).hexdigest()
    photo.write_bytes(jpeg(59))
    relisted(bag)
    assert valid(bag)
    assert f"data/originals/{photo.name}" in broken(bag)
    now = hashlib.sha256(photo.read_bytes()).hexdigest()
    for name in ("data/contents.json", "data/originals.sha256"):
        text = (bag / name).read_text("utf-8").replace(was, now)
        (bag / name).write_text(text, encoding="utf-8", newline="\n")
    relisted(bag)
    assert valid(bag)
    found = broken(bag)
    assert "data/originals.sha256" in found  # the packet prints another
    assert any(path.startswith("photos/") for path in found)  # no log has this hash


@pytest.mark.parametrize(
    "spoil, names",
    [
        (lambda bag: put(bag, "fetch.txt", "https://example.org/x 3 data/x\n"), "fetch.txt"),
        (lambda bag: put(bag, "NOTE.txt", "read me"), "NOTE.txt"),  # a tag file that was added
        (lambda bag: put(bag, "data/originals/P99-x.jpg", jpeg(1)), "data/originals/P99-x.jpg"),
        (lambda bag: (bag / "data/originals.sha256").unlink(), "data/originals.sha256"),
        (lambda bag: (bag / "tagmanifest-sha256.txt").unlink(), "tagmanifest-sha256.txt"),
        (lambda bag: (bag / "bagit.txt").write_text("BagIt-Version: 9\n"), "bagit.txt"),
    ],
)
def test_what_was_put_in_or_taken_out_is_named(
    whole: Path, place: Path, spoil: Callable[[Path], Any], names: str
) -> None:
    bag = again(whole, place)
    spoil(bag)
    assert names in broken(bag)


def test_a_link_in_a_folder_is_refused(whole: Path, place: Path) -> None:
    bag = again(whole, place)
    try:
        (bag / "data/originals/P98-link").symlink_to(bag / "bagit.txt")
    except OSError:
        pytest.skip("this system makes no links here")
    assert broken(bag) == {"data/originals/P98-link"}


Info = zipfile.ZipInfo


def plain(archive: zipfile.ZipFile) -> None:
    archive.writestr("b/bagit.txt", b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n")
    archive.writestr("b/data/x", b"x")
    archive.writestr("b/manifest-sha256.txt", f"{hashlib.sha256(b'x').hexdigest()}  data/x\n")


def named(name: str) -> Callable[[zipfile.ZipFile], None]:
    def add(archive: zipfile.ZipFile) -> None:
        info = Info("b/data/y")
        info.filename = name  # past what the library would tidy
        archive.writestr(info, b"y")

    return add


def linked(archive: zipfile.ZipFile) -> None:
    info = Info("b/data/link")
    info.create_system = 3
    info.external_attr = (stat.S_IFLNK | 0o777) << 16
    archive.writestr(info, b"/etc/passwd")


def encrypted(archive: zipfile.ZipFile) -> None:
    archive.writestr("b/data/secret", b"secret")
    archive.filelist[-1].flag_bits |= 1  # APPNOTE.TXT, 4.4.4


def bomb(archive: zipfile.ZipFile) -> None:
    archive.writestr("b/data/zeros", bytes(60 << 20), zipfile.ZIP_DEFLATED)


TRAPS = {
    "climbs out": named("b/../../evil"),
    "climbs out of the bag": named("../evil"),
    "absolute": named("/etc/evil"),
    "drive": named("C:/evil"),
    "stream": named("b/data/x:evil"),
    "backslash": named("b\\..\\evil"),
    "control character": named("b/data/a\x07b"),
    "device": named("b/data/nul.txt"),
    "dot at the end": named("b/data/x."),
    "second of a name": named("b/data/x"),
    "same but for case": named("b/DATA/X"),
    "link": linked,
    "encrypted": encrypted,
    "bomb": bomb,
    "outside the bag": named("elsewhere/y"),
    "odd method": lambda archive: archive.writestr("b/data/l", b"l" * 99, zipfile.ZIP_BZIP2),
}


@pytest.mark.parametrize("trap", TRAPS)
def test_a_zip_that_could_harm_is_refused_unread(trap: str, tmp_path: Path) -> None:
    import warnings

    file = tmp_path / "in" / "b.zip"
    file.parent.mkdir()
    with warnings.catch_warnings(), zipfile.ZipFile(file, "w") as archive:
        warnings.simplefilter("ignore")  # the library warns of a second name
        plain(archive)
        TRAPS[trap](archive)
    found = verify_bundle(file)
    assert found.of(Outcome.BROKEN)
    assert dict(found.counts)["files"] == 0
    assert trap != "encrypted" or [p.sentence.split(".")[0] for p in found.points] == [
        "It is encrypted"
    ]
    assert [p.name for p in tmp_path.rglob("*")] == ["in", "b.zip"]
    assert CliRunner().invoke(app, ["verify", str(file)]).exit_code == OPEN_MATTERS


def test_the_same_zip_without_a_trap_is_read(tmp_path: Path) -> None:
    file = tmp_path / "b.zip"
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        plain(archive)
    found = verify_bundle(file)
    assert not found.of(Outcome.BROKEN)
    assert dict(found.counts)["files"] == 3


def test_files_that_share_their_bytes_are_refused(tmp_path: Path) -> None:
    """Many entries over one stretch of bytes: how a small zip becomes a huge one."""
    file = tmp_path / "b.zip"
    with zipfile.ZipFile(file, "w") as archive:
        plain(archive)
        info = archive.infolist()[1]
        twin = Info("b/data/twin")
        for key in ("CRC", "compress_size", "file_size", "header_offset", "compress_type"):
            setattr(twin, key, getattr(info, key))
        archive.filelist.append(twin)
        archive.NameToInfo[twin.filename] = twin
    assert any("shares its bytes" in p.sentence for p in verify_bundle(file).of(Outcome.BROKEN))


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04 no zip", b"%PDF-1.4"])
def test_no_bag_at_all_is_a_sentence(data: bytes, tmp_path: Path) -> None:
    file = tmp_path / "b.zip"
    file.write_bytes(data)
    with pytest.raises(CannotGoOn):
        verify_bundle(file)


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_a_bag_of_others_is_judged_as_bagit_judges_it(place: Path, data: st.DataObject) -> None:
    """Bags that bagit made and that lost, gained or changed a file: the same verdict."""
    bag = place / "theirs"
    shutil.rmtree(bag, ignore_errors=True)
    for name in ("a.txt", "sub/b ü.bin", "sub/100%.txt"):
        put(bag, name, name.encode() * 3)
    algorithms = data.draw(st.sampled_from([["sha256"], ["sha512"], ["md5", "sha256"]]))
    bagit.make_bag(str(bag), {"Contact-Name": "x"}, checksums=algorithms)
    change = data.draw(st.sampled_from(["none", "edit", "drop", "add", "list", "rename"]))
    payload = sorted(p for p in (bag / "data").rglob("*") if p.is_file())
    file = data.draw(st.sampled_from(payload))
    if change == "edit":
        file.write_bytes(file.read_bytes()[::-1])
    elif change == "drop":
        file.unlink()
    elif change == "add":
        put(bag, "data/new", b"new")
    elif change == "list":
        manifest = bag / f"manifest-{algorithms[0]}.txt"
        manifest.write_text("".join(manifest.read_text("utf-8").splitlines(True)[1:]), "utf-8")
    elif change == "rename":
        file.rename(file.with_name("other"))
    assert (broken(bag) == set()) is valid(bag)


@given(st.text(max_size=300), st.integers(0, 10_000), st.sampled_from("PRDJF"))
def test_names_are_safe_on_every_system(name: str, number: int, kind: str) -> None:
    made_name = safe_name(f"{kind}{number}", f"photos/{name}")
    assert re.fullmatch(r"[A-Z]\d+(-[A-Za-z0-9][A-Za-z0-9._-]*)?(\.[A-Za-z0-9._-]+)?", made_name)
    assert len(made_name) <= 64
    assert made_name[-1] not in ". "


def test_an_original_that_changed_since_it_was_read_stops_the_bundle(tmp_path: Path) -> None:
    root = fresh(tmp_path)
    case = case_of(root)
    put(root, "documents/receipt.pdf", b"another")
    with pytest.raises(CannotGoOn, match=r"receipt\.pdf is no longer"):
        write_bundle(case, root, Reader.OWN, shipment=None, paper="letter", zipped=True, out=None,
                     now=LATER)  # fmt: skip
    assert not list((root / "out").glob("*bundle*"))


def test_dying_on_the_way_leaves_no_bundle_and_the_next_run_makes_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = fresh(tmp_path)
    with monkeypatch.context() as patch:
        patch.setattr("claimkit.proof.bag.Bag.finish", lambda *_: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            made(root, zipped=True)
        with pytest.raises(ZeroDivisionError):
            made(root)
    assert not list((root / "out").glob("*bundle*"))
    left = root / "out" / "own-2026-10-20-bundle.tmp"
    left.mkdir()
    put(left, "data/old", b"of a run that was killed")
    bundle = made(root)
    assert valid(bundle.path)
    assert not left.exists()
    discard(left)  # nothing there: nothing happens


def test_a_bundle_that_was_sent_is_never_overwritten(tmp_path: Path) -> None:
    root = fresh(tmp_path)
    first = made(root, zipped=True)
    before = first.path.read_bytes()
    second = made(root, zipped=True)
    assert second.path != first.path
    assert first.path.read_bytes() == before


def test_the_commands(tmp_path: Path) -> None:
    root = tmp_path / "job"
    copy_of("ready-to-file", root)
    run = CliRunner()
    options = ["--for", "carrier", "--as-of", "2026-10-20"]
    result = run.invoke(app, ["bundle", str(root), *options])
    assert result.exit_code == DONE, result.output
    assert "state a position (GPS): 1." in result.stdout
    assert "job.toml goes out whole" in result.stdout
    (file,) = (root / "out").glob("*.zip")
    good = run.invoke(app, ["verify", str(file), "--json"])
    assert good.exit_code == DONE
    assert json.loads(good.stdout)["looked_at"]["originals"] == len(originals(root))
    kept = run.invoke(app, ["bundle", str(root), *options, "--without-job-file", "--folder"])
    assert "Not in it: job.toml." in kept.stdout
    assert run.invoke(app, ["verify", str(root), "--expect", "0" * 64]).exit_code == 2
    (tmp_path / "no.zip").write_bytes(b"no zip")
    with pytest.raises(CannotGoOn):
        run.invoke(app, ["verify", str(tmp_path / "no.zip")], catch_exceptions=False)
    assert STOPPED == 5
