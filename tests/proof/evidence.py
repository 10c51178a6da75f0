"""A job folder with a packet and two logs, and an oracle that verifies it without claimkit.

The oracle knows SHA-256, JSON and the text that pdfium reads out of a packet; the format of a log
is that of tests/intake/chain.py.
"""

from __future__ import annotations

import functools
import hashlib
import json
import re
import shutil
import tempfile
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from unittest import mock

import pypdfium2

from tests.intake.folder import make_job, put

NOW = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)
_FOLDER = tempfile.TemporaryDirectory(prefix="claimkit-", ignore_cleanup_errors=True)
PACKET = "out/own-2026-05-20.pdf"
_HEAD = re.compile(r"Log(\w+),line(\d+)\(.*?\)isthelast.*?itsSHA-256is([0-9a-f]{64})\.")


@functools.cache
def _made() -> Path:
    """Make it once: a reads, b reads more and cites a, a makes a packet."""
    from claimkit.findings.reason import reason
    from claimkit.intake.read import read
    from claimkit.model.case import Reader
    from claimkit.wiring.workspace import write_packet

    root = make_job(Path(_FOLDER.name) / "job")
    read(root, now=NOW, writer="a")
    put(root, "photos/late.png", b"no picture, and still an original")
    read(root, now=NOW + timedelta(hours=1), writer="b")
    put(root, "documents/receipt.pdf", b"%PDF-1.4 receipt\n%%EOF\n")
    facts = read(root, now=NOW + timedelta(hours=2), writer="a")
    case = reason(facts, date(2026, 5, 20), NOW)
    later = NOW + timedelta(hours=3)
    own = {"CLAIMKIT_WRITER": "a", "CLAIMKIT_CACHE": f"{_FOLDER.name}/cache"}
    with mock.patch.dict("os.environ", own):
        write_packet(case, root, Reader.OWN, shipment=None, paper="letter", out=None, now=later)
    return root


def fresh(folder: Path) -> Path:
    """Give a copy of it in an empty folder."""
    root = folder / "job"
    shutil.rmtree(root, ignore_errors=True)
    shutil.copytree(_made(), root)
    return root


def originals(root: Path) -> list[str]:
    """Name every original."""
    paths = (p.relative_to(root).as_posix() for p in root.rglob("*") if p.is_file())
    return sorted(p for p in paths if p.split("/")[0] not in ("out", "custody"))


def rows(file: Path) -> list[bytes]:
    """Give the lines of a log."""
    return file.read_bytes().split(b"\n")[:-1]


def written(file: Path, lines: list[bytes], *, rehash: bool) -> None:
    """Write lines as a log; `rehash` numbers and chains them anew, as a forger would."""
    if rehash:
        before, made = "0" * 64, []
        for number, row in enumerate(lines, 1):
            fields = json.loads(row) | {"prev": before, "n": number}
            line = json.dumps(fields, sort_keys=True, separators=(",", ":")).encode("ascii")
            before = hashlib.sha256(line).hexdigest()
            made.append(line)
        lines = made
    file.write_bytes(b"".join(line + b"\n" for line in lines))


def printed_heads(pdf: Path) -> set[tuple[str, int, str]]:
    """Read the heads of logs out of a packet's text, as a person would."""
    with pypdfium2.PdfDocument(pdf) as opened:
        text = "".join(page.get_textpage().get_text_range() for page in opened)
    return {(w, int(n), sha) for w, n, sha in _HEAD.findall("".join(text.split()))}


def oracle(root: Path) -> set[str]:
    """Name every original, log and packet that does not hold."""
    wrong, state, packets, hashes = set(), {}, {}, {}
    heads: list[tuple[str, int, str]] = []
    for file in sorted((root / "custody").glob("*.jsonl")):
        name = f"custody/{file.name}"
        before = "0" * 64
        for number, row in enumerate(rows(file), 1):
            sha = hashlib.sha256(row).hexdigest()
            try:
                line = json.loads(row)
                if line["prev"] != before or line["n"] != number:
                    wrong.add(name)
                heads += [(w, n, s) for w, (n, s) in line.get("heads", {}).items() if n]
                if line["event"] == "packet written":
                    packets[line["path"]] = line["sha256"]
                elif line["event"] in ("first seen", "record added"):
                    state[line["path"]] = line["sha256"]
            except (ValueError, KeyError, TypeError, AttributeError):
                wrong.add(name)
            before = sha
            hashes[file.stem, number] = sha
    for path, sha in state.items():
        file = root / path
        if not file.exists() or hashlib.sha256(file.read_bytes()).hexdigest() != sha:
            wrong.add(path)
    for path, sha in packets.items():
        if hashlib.sha256((root / path).read_bytes()).hexdigest() != sha:
            wrong.add(path)
    if (root / PACKET).exists() and PACKET not in wrong:
        heads += printed_heads(root / PACKET)
        if PACKET not in packets:
            wrong.add(PACKET)
    wrong |= {f"custody/{w}.jsonl" for w, n, s in heads if hashes.get((w, n)) != s}
    return wrong
