"""A received bundle damaged or made to harm: every one gives a verdict, none an exception.

The damage is drawn at random from a seed; that a flip is found is checked with SHA-256 alone.
"""

from __future__ import annotations

import functools
import hashlib
import io
import json
import random
import shutil
import tempfile
import zipfile
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from claimkit.findings.reason import reason
from claimkit.intake.read import read
from claimkit.model.case import Reader
from claimkit.model.stop import CannotGoOn
from claimkit.model.verified import Outcome
from claimkit.proof.bundle_check import read_excerpt, verify_bundle
from claimkit.wiring.handover import write_bundle
from tests.proof.evidence import NOW, fresh

LATER = NOW + timedelta(hours=5)
_FOLDER = tempfile.TemporaryDirectory(prefix="claimkit-", ignore_cleanup_errors=True)


@functools.cache
def bag() -> Path:
    """Give a bundle as a folder, made once."""
    patch = pytest.MonkeyPatch()
    patch.setenv("CLAIMKIT_CACHE", f"{_FOLDER.name}/cache")
    patch.setenv("CLAIMKIT_WRITER", "a")
    root = fresh(Path(_FOLDER.name))
    case = reason(read(root, now=LATER, writer="a"), NOW.date(), LATER)
    made = write_bundle(
        case, root, Reader.OWN, shipment=None, paper="letter", zipped=False, out=None, now=LATER
    )
    patch.undo()
    return made.path


def files() -> Iterator[tuple[str, bytes]]:
    for path in sorted(p for p in bag().rglob("*") if p.is_file()):
        yield path.relative_to(bag()).as_posix(), path.read_bytes()


@functools.cache
def deflated() -> bytes:
    """Give the bundle as another program would zip it, compressed."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files():
            archive.writestr(f"bundle/{name}", data)
    return out.getvalue()


def with_file(name: str, data: bytes) -> Path:
    """Give the bundle with another file in it, its lists written anew."""
    copy = Path(_FOLDER.name) / "copy"
    shutil.rmtree(copy, ignore_errors=True)
    shutil.copytree(bag(), copy)
    (copy / name).write_bytes(data)
    for kind in ("manifest", "tagmanifest"):
        file = copy / f"{kind}-sha256.txt"
        names = [row.split("  ", 1)[1] for row in file.read_text("utf-8").splitlines()]
        hashes = (hashlib.sha256((copy / n).read_bytes()).hexdigest() for n in names)
        rows = (f"{sha}  {n}\n" for sha, n in zip(hashes, names, strict=True))
        file.write_text("".join(rows), encoding="utf-8", newline="\n")
    return copy


def broken(path: Path) -> list[str]:
    return [point.where for point in verify_bundle(path).of(Outcome.BROKEN)]


def test_the_undamaged_one_holds() -> None:
    """Else nothing below would mean anything."""
    assert broken(bag()) == []
    file = Path(_FOLDER.name) / "whole.zip"
    file.write_bytes(deflated())
    assert broken(file) == []


def verdict(file: Path) -> list[str]:
    """Give what is wrong with a zip, also where it is no bag that can be opened."""
    try:
        return broken(file)
    except CannotGoOn as no:
        return [str(no)]


@pytest.mark.parametrize("seed", range(60))
def test_flipped_bytes_of_a_compressed_zip_are_a_verdict(seed: int) -> None:
    rng = random.Random(seed)
    raw = bytearray(deflated())
    directory = raw.rindex(b"PK\x05\x06") - 2000
    near_the_end = seed % 3 == 0
    for _ in range(rng.choice((1, 1, 4))):
        at = rng.randrange(directory, len(raw)) if near_the_end else rng.randrange(len(raw))
        raw[at] ^= rng.randrange(1, 256)
    file = Path(_FOLDER.name) / f"{seed}.zip"
    file.write_bytes(raw)
    said = verdict(file)
    if not said:  # nothing that counts was hit: every byte of every file is what it was
        with zipfile.ZipFile(file) as archive:
            held = {n.removeprefix("bundle/"): archive.read(n) for n in archive.namelist()}
        assert held == dict(files())


values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner),
    max_leaves=6,
)


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_any_list_of_contents_is_a_verdict(data: st.DataObject) -> None:
    told: Any = json.loads((bag() / "data/contents.json").read_text("utf-8"))
    key = data.draw(st.sampled_from(sorted(told)))
    if isinstance(told[key], list) and told[key] and data.draw(st.booleans()):
        row = data.draw(st.integers(0, len(told[key]) - 1))
        told[key][row] = data.draw(values)
    elif isinstance(told[key], dict) and data.draw(st.booleans()):
        told[key] |= {data.draw(st.sampled_from(sorted(told[key]))): data.draw(values)}
    else:
        told[key] = data.draw(values)
    verify_bundle(with_file("data/contents.json", json.dumps(told).encode()))


@pytest.mark.parametrize(
    "name, data",
    [
        ("data/contents.json", b"[" * 200_000),  # nested past what Python follows
        ("data/contents.json", b"1" * 6000),  # more digits than Python converts
        ("data/contents.json", b"\xff\xfe"),  # no UTF-8
        ("data/contents.json", b""),
        ("bag-info.txt", b"Payload-Oxum: " + b"9" * 5000 + b".1\n"),
        ("bag-info.txt", b"Payload-Oxum: 1." + b"9" * 5000 + b"\n"),
    ],
)
def test_giant_and_empty_texts_are_found_wrong(name: str, data: bytes) -> None:
    assert name in broken(with_file(name, data))


@given(st.binary(max_size=300) | st.lists(st.sampled_from(
    [b"withheld ", b"0" * 64, b"\n", b"{", b'{"n":1}', b'"prev"', b"[[", b"\xff"]
), max_size=30).map(b"".join))  # fmt: skip
def test_any_bytes_can_stand_in_an_excerpt(data: bytes) -> None:
    log = read_excerpt("w", data)
    assert log.number == data.count(b"\n")
    assert len(log.lines) + len(log.breaks) <= 2 * log.number
