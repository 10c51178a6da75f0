"""Every key of every file with a value that no delivery has: a problem or a value, and soon.

Values are TOML (toml.io/en/v1.0.0) of the widest kinds: giant numbers, times at the ends of the
calendar, texts of ten thousand lines. The names of files are those that some system refuses, that
look alike, or that hide what they are.
"""

from __future__ import annotations

import re
import sys
import time
import unicodedata
from datetime import UTC, datetime
from pathlib import Path

import pytest

from claimkit.findings.receipt.grade import grade
from claimkit.intake.entries.leaves import LONGEST_TEXT, LONGEST_WORDS
from claimkit.intake.entries.records import read_all
from claimkit.intake.read import read as read_folder
from claimkit.proof.verify import verify_job
from claimkit.receiving.scan import everywhere
from tests.intake.example_folder import FILES, JOB, RECORDS, read
from tests.intake.folder import jpeg, make_job, put

HOSTILE = (
    "1e999999999",  # Decimal takes it; a whole number of it would fill the memory
    "-1e-999999999",
    "9" * 4000,
    "0x" + "f" * 4000,
    "inf",
    "nan",
    "0001-01-01T00:00:00+14:00",
    "9999-12-31T23:59:59-14:00",
    "23:59:60.999999",
    "true",
    "[]",
    "[[], {}]",
    "{a.b.c = 1}",
    '""',
    r'"\u0000\u001b\u202e\u2028"',
    '"' + "9" * 59 + ' USD"',
    '"' + "/" * 59 + '"',
    '"' + "x" * 100_000 + '"',
    '"""' + "\n" * 9_000 + 'x"""',
    '"//server/share/a.jpg"',  # a network path, its backslashes turned
    r"'\\server\share\a.jpg'",
    r"'C:\photos\a.jpg'",
    '"C:photos/a.jpg"',
    '"photos/CON"',
    '"photos/a.jpg:stream"',
    r"'photos\..\..\a.jpg'",
)
KEYS = re.compile(r"^(?:# )?(?P<key>[a-z_]+) = ", re.MULTILINE)
TEXTS = {"job.toml": JOB} | RECORDS


@pytest.mark.parametrize("which", sorted({"job.toml", *RECORDS}))
def test_every_key_with_every_hostile_value(which: str) -> None:
    places = list(KEYS.finditer(TEXTS[which]))
    assert places
    step = len(HOSTILE) if which == "job.toml" else 9
    for number, found in enumerate(places):
        # Each key gets a part of the values, and the whole test all of them many times over.
        for value in HOSTILE[number % step :: step]:
            text = TEXTS[which]
            end = text.find("\n", found.end())
            text = f"{text[: found.end()]}{value}{text[end:]}"
            job = text if which == "job.toml" else JOB
            records = [] if which == "job.toml" else [(which, text.encode())]
            began = time.process_time()
            written = read_all(("job.toml", job.encode()), records, FILES)
            assert time.process_time() - began < 2, (found["key"], value[:40])
            for problem in written.problems:
                assert problem.file
                assert problem.found.endswith(".")
                assert problem.write.endswith((".", "?", "…"))
                assert len(problem.sentence()) < 1500


def test_words_that_no_receipt_holds_are_refused_before_they_are_graded() -> None:
    """Grading grows as the square of the length: 20,000 characters took some ten seconds."""
    record = 'kind = "delivery"\nsaid_by = "dana"\nwords = "{}"\n'
    for bit in ("no damage ", "2 ctn short ", "1,", "("):
        words = (bit * LONGEST_WORDS)[:LONGEST_WORDS]
        began = time.process_time()
        grade(words)
        assert time.process_time() - began < 3
        (problem,) = read(records={"records/d.toml": record.format(words + "x")}).problems
        assert "3,001 characters; such a text may have 3,000." in problem.found
    assert read(records={"records/d.toml": record.format("x" * LONGEST_WORDS)}).problems == ()


@pytest.mark.parametrize(
    "text, says",
    [
        ("x" * (LONGEST_TEXT + 1), "6,001 characters; such a text may have 6,000."),
        (r"x\n" * 300, "301 lines; such a text may have 300."),
    ],
)
def test_texts_of_many_pages_belong_into_a_document(text: str, says: str) -> None:
    record = f'kind = "delivery"\nsaid_by = "dana"\nrefused = "{text}"\n'
    (problem,) = read(records={"records/d.toml": record}).problems
    assert says in problem.found
    assert "documents/" in problem.write


NAMES = (
    "CON.jpg",
    "nul",
    "COM1.tar.jpg",
    "lpt9 .jpg",
    "trailing dot.jpg.",
    "trailing space.jpg ",
    "line\nbreak.jpg",
    "gnp\u202egpj.exe",
    "é" * 120 + ".jpg",  # 244 bytes
    "x" * 251 + ".jpg",  # 255 bytes, the most
    "Same.jpg",
    "sAME.jpg",
    unicodedata.normalize("NFC", "café.jpg"),
    unicodedata.normalize("NFD", "café.jpg"),
)


@pytest.mark.skipif(sys.platform != "linux", reason="other systems refuse such names themselves")
def test_every_odd_name_is_taken_or_named_and_holds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    root = make_job(tmp_path / "job")
    for number, name in enumerate(NAMES, 3):
        put(root, f"photos/{name}", jpeg(number))
    now = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)
    facts = read_folder(root, now=now, writer="w")
    photos = {place for photo in facts.photos for place in photo.places}
    named = {left.path for left in facts.not_taken}
    assert len(photos) + len(named) == len(NAMES) + 2
    for name in (*photos, *named):
        assert name.isprintable(), "what is shown moves no cursor and hides no ending"
    assert read_folder(root, now=now, writer="w") == facts, "nothing is new the second time"
    told = verify_job(root)
    assert [point for point in told.points if point.outcome.value == "broken"] == []


@pytest.mark.parametrize("name", [*NAMES, "com¹.png", "..", " .jpg", "a:b|c?.jpg", "\udcff.jpg"])
def test_a_copied_receipt_gets_a_name_that_every_system_takes(name: str) -> None:
    """By the rules of Microsoft's "Naming Files, Paths, and Namespaces", typed here anew."""
    plain = everywhere(name)
    devices = {"con", "prn", "aux", "nul", "conin$", "conout$"}
    devices |= {f"{port}{n}" for port in ("com", "lpt") for n in "0123456789¹²³"}
    assert plain
    assert plain.partition(".")[0].rstrip(" ").casefold() not in devices
    assert plain[-1] not in ". "
    assert not plain.startswith(".")
    assert not set(plain) & set('<>:"/\\|?*')
    assert plain.isprintable()
    assert len(f"{plain}-1000.tmp".encode()) < 255
