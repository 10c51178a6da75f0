"""Real and crafted photo files, read and dated, against an independent reading of their tags.

The table of the shared photos was made with other readers (exiftool, pyexiv2); here only the rows
on which they agree are compared. A file that is not read is no error; a wrong time is.
"""

from __future__ import annotations

import csv
import re
from datetime import UTC, datetime, timedelta

from claimkit.findings.timeline.photo_time import dating
from claimkit.findings.timeline.photos import work_out
from claimkit.intake.metadata.photo import read_bytes
from claimkit.model.case import Case, TimeBasis
from claimkit.model.photo import ExifState, Photo
from tests.build import AS_OF, NOW, facts
from tests.shared import shared_dir

TEXT = re.compile(r"(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)")


def instant(row: dict[str, str], tag: str) -> datetime | None:
    """Read a reference text with its own offset by hand; None where either is no time."""
    found = TEXT.fullmatch(row[tag].strip())
    offset = re.fullmatch(r"([+-])(\d\d):(\d\d)", row[f"OffsetTime{tag.removeprefix('DateTime')}"])
    if not found or not offset:
        return None
    try:
        local = datetime(*map(int, found.groups()), tzinfo=UTC)
    except ValueError:
        return None
    sign, hours, minutes = offset.groups()
    away = timedelta(hours=int(hours), minutes=int(minutes))
    return local - away if sign == "+" else local + away


def read() -> list[tuple[dict[str, str], Photo]]:
    folder = shared_dir("photos")
    with (folder / "truth.csv").open(encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))
    found = []
    for row in rows:
        one = read_bytes((folder / row["path"]).read_bytes(), row["path"])
        if isinstance(one, Photo):
            found.append((row, one))
    return found


def test_no_wrong_time_at_all() -> None:
    """With no site zone only an offset tag dates: then the instant is that of the reference."""
    compared = 0
    for row, photo in read():
        dated = dating(photo, None)
        if not dated.taken.known or row["reference_agreement"] != "agree":
            continue
        expected = instant(row, dated.tag or "")
        assert expected is not None, f"{row['path']}: dated, and the reference has no such time"
        middle = dated.taken.earliest + (dated.taken.latest - dated.taken.earliest) / 2
        assert abs(middle - expected) <= timedelta(seconds=1), row["path"]
        compared += 1
    assert compared >= 10


def test_what_states_no_date_of_its_taking_is_never_dated() -> None:
    undated = 0
    for row, photo in read():
        if row["reference_agreement"] != "agree":
            continue
        texts = (row["DateTimeOriginal"], row["DateTimeDigitized"])
        if not any(TEXT.fullmatch(text.strip()) for text in texts):
            assert not dating(photo, None).taken.known, row["path"]
            undated += 1
    assert undated >= 5


def test_a_job_of_nothing_but_these_files_is_dated_without_a_crash() -> None:
    photos = {photo.sha256: photo for _, photo in read()}
    case = work_out(Case(facts(photos=photos.values()), AS_OF, NOW))
    assert len(case.photos) == len(photos)
    known = [d for d in case.photos if d.taken.known]
    starts = [d.taken.earliest for d in known]
    assert starts == sorted(starts)
    for dated in case.photos:
        assert dated.why
        assert dated.taken.known is (dated.basis is not TimeBasis.NONE)
        if photos[dated.sha256].exif_state is not ExifState.READ:
            assert not dated.taken.known
