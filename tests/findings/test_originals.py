"""What files say of themselves: stated, consistent, not known, and never more than that."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import PurePosixPath
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from msgspec import structs

from claimkit.compose.packet.order import compose
from claimkit.findings.timeline.file_told import (
    as_written,
    changed_later,
    dates_apart,
    editor_of,
    reencoded,
    screenshot_name,
    short_words,
)
from claimkit.findings.timeline.look_groups import alike, poorer
from claimkit.findings.timeline.video_time import header_differs, video_dated
from claimkit.intake.metadata.photo import read_bytes
from claimkit.model.case import Case, Finding, Reader, TimeBasis
from claimkit.model.document import statements
from claimkit.model.photo import (
    Camera,
    DateTag,
    ExifState,
    FileKind,
    FileSays,
    Look,
    OtherFile,
    Photo,
    StatedDate,
)
from claimkit.model.stages import Stage
from claimkit.rules.file_marks import (
    PROGRAMS,
    SCREENSHOT_MUST_MATCH,
    SCREENSHOT_MUST_PASS,
    SCREENSHOT_NAMES,
)
from tests.build import facts, photo, sha
from tests.findings.cases_check_originals import (
    bare,
    changed_at,
    header,
    keys,
    one,
    two,
    video,
    xmp,
)
from tests.findings.work_build import delivery, staged
from tests.shared import shared_dir

SITE = ZoneInfo("America/Chicago")


def told(case: Case, rule: str) -> Finding:
    (found,) = [f for f in case.findings if f.rule == rule]
    return found


@pytest.mark.parametrize("row", PROGRAMS, ids=lambda row: row.must_flag[0])
def test_each_program_is_flagged_and_no_camera_is(row: Any) -> None:
    assert row.citation
    assert row.mark in ("S", "M")
    assert all(re.search(row.pattern, name, re.IGNORECASE) for name in row.must_flag)
    assert not any(re.search(row.pattern, name, re.IGNORECASE) for name in row.must_pass)


def test_no_software_of_a_shared_camera_is_taken_for_an_editor() -> None:
    """By hand from the Software column: what names an editor, all else being cameras' own."""
    folder = shared_dir("photos")
    with (folder / "truth.csv").open(encoding="utf-8", newline="") as table:
        named = {row["Software"] for row in csv.DictReader(table) if row["Software"]}
    flagged = {
        name for name in named if editor_of(photo("a.jpg", camera=Camera("x", "y", software=name)))
    }
    assert len(named) > 20
    assert {re.split(r" (?:CS|[\d.]|Light|DNG|Classic)", name)[0] for name in flagged} == {
        "Adobe",
        "Adobe Photoshop",
        "Pixelmator",
    }


def test_screenshot_names() -> None:
    assert all(re.match(SCREENSHOT_NAMES, n, re.IGNORECASE) for n in SCREENSHOT_MUST_MATCH)
    assert not any(re.match(SCREENSHOT_NAMES, n, re.IGNORECASE) for n in SCREENSHOT_MUST_PASS)
    assert screenshot_name(photo("photos/IMG_1.jpg")) is None


@pytest.mark.parametrize(
    "more, consistent",
    [
        ({}, True),
        ({"width_px": 960, "height_px": 720}, True),
        ({"width_px": 959, "height_px": 700}, False),
        ({"width_px": 2048, "height_px": 1000}, True),
        ({"width_px": 2049, "height_px": 1000}, False),
        # The name alone serves where the size does not.
        ({"path": "photos/IMG-20260504-WA0007.jpg", "width_px": 4000}, True),
        ({"says": FileSays()}, False),  # no JFIF header
        ({"says": FileSays(jfif="1.02", tool="Adobe Photoshop CS2")}, False),  # another program
        ({"says": FileSays(jfif="1.01", dates=(StatedDate("XMP x", "2024"),))}, False),
        ({"exif_state": ExifState.UNREADABLE}, False),  # what is unreadable may name a camera
        ({"path": "photos/Screenshot_20260504-091500.jpg"}, False),
        ({"kind": FileKind.WEBP, "says": FileSays()}, True),
        ({"kind": FileKind.PNG, "says": FileSays()}, False),
    ],
)
def test_consistent_with_encoding_again(more: dict[str, Any], consistent: bool) -> None:
    assert bool(reencoded(bare(**more))) is consistent


def test_a_file_with_a_camera_or_a_date_is_not_said_to_be_encoded_again() -> None:
    assert not reencoded(bare(camera=Camera("Fairlight", "F2"), exif_state=ExifState.READ))
    dated = bare(dates=(DateTag("DateTime", "2026:05:04 09:15:00"),), exif_state=ExifState.READ)
    assert not reencoded(dated)


def test_the_words_for_it_are_neutral() -> None:
    case = staged([delivery()], [bare()])
    from claimkit.findings.timeline.check_originals import encoded_again

    (found,) = encoded_again(case)
    assert isinstance(found, Finding)
    assert "consistent with re-encoding by a messaging app" in found.message
    assert "proves nothing" in found.message
    assert "original" in found.do_next


@pytest.mark.parametrize(
    "change, later",
    [
        ("2026-05-04 09:15:00", None),
        ("2026-05-04 09:16:00", None),  # within the minute in which a camera writes
        ("2026-05-04 09:16:01", timedelta(seconds=61)),
        ("2026-05-04 08:15:00", None),  # earlier: not a later change
        ("2027-05-04 09:15:00", timedelta(days=365)),
    ],
)
def test_changed_later(change: str, later: timedelta | None) -> None:
    assert changed_later(changed_at(change)) == later


def test_a_change_stated_in_another_zone_is_compared_by_instants() -> None:
    """09:15 -05:00 is 16:15 +02:00: the same instant, seven hours apart on the faces."""
    shot = photo("a.jpg")
    face = datetime.fromisoformat("2026-05-04 16:15:00")
    tag = DateTag("DateTime", "2026:05:04 16:15:00", "+02:00", None, face, 120)
    assert changed_later(structs.replace(shot, dates=(*shot.dates, tag))) is None


@pytest.mark.parametrize(
    "text, more, words",
    [
        ("2026-05-04 09:15:00", {}, None),
        ("2026-05-04 09:15:40", {}, None),
        ("2026-05-04 10:15:00", {}, "as between two zones"),
        ("2026-05-04 09:44:00", {}, "29 min apart"),
        ("2026-05-04 16:15:00", {"offset_minutes": 120}, None),  # the same instant
        ("2026-05-04 00:00:00", {"day_only": True}, None),
        ("2026-05-05 00:00:00", {"day_only": True}, "another day"),
        ("2027-05-04 09:15:00", {}, "365 days apart"),
        ("2027-05-04 09:15:00", {"where": "XMP xmp:ModifyDate"}, None),  # a change, told elsewhere
    ],
)
def test_dates_that_disagree(text: str, more: dict[str, Any], words: str | None) -> None:
    found = dates_apart(xmp(text, **more))
    assert (words in found[0]) if words else found == ()


def shared(name: str) -> Photo:
    found = read_bytes((shared_dir("photos") / "real" / name).read_bytes(), name)
    assert isinstance(found, Photo)
    return found


@pytest.mark.parametrize(
    "name, words",
    [
        ("FujiFilm FinePixS1Pro (2).jpg", "names Adobe Photoshop 7.0"),
        ("FujiFilm FinePixS1Pro (2).jpg", "dates that disagree"),  # IPTC of two months later
        ("Olympus FE230-X790.jpg", "a change 2 days after"),
        ("iptc-mess.jpg", "names Adobe Photoshop Lightroom Classic"),
        ("Samsung SM-N900A (Galaxy Note 3).jpg", "states camera and time and names no later"),
        ("Sony DSC-H9.jpg", "states camera and time and names no later"),
        ("f5t.jpg", "not known"),
    ],
)
def test_shared_files_in_one_line(name: str, words: str) -> None:
    assert words in short_words(shared(name))


def test_the_messaging_style_file_is_recognised_and_the_editors_files_are_not() -> None:
    folder = shared_dir("photos")
    found = set()
    with (folder / "truth.csv").open(encoding="utf-8", newline="") as table:
        for row in csv.DictReader(table):
            read = read_bytes((folder / row["path"]).read_bytes(), row["path"])
            if isinstance(read, Photo) and reencoded(read):
                found.add(PurePosixPath(row["path"]).name)
    assert found == {"IMG-20240512-WA0007.jpg"}


def test_the_better_original_states_when_it_was_taken() -> None:
    message = told(two("0f" * 18), "photo-look-alike").message
    assert "photos/a.jpg is the better original" in message
    assert "for a person to see" in message


def test_two_pictures_that_a_camera_wrote_are_no_copies_of_each_other() -> None:
    shots = (photo("photos/a.jpg"), photo("photos/b.jpg", "2026-05-04 09:15:02"))
    looks = tuple(Look(p.sha256, "0f" * 18, "5a" * 81) for p in shots)
    built = replace(facts(photos=shots), looks=looks)
    (group,) = alike(built)
    assert poorer(group) == ()


def test_a_grey_difference_alone_keeps_two_apart() -> None:
    """The same hash, but six levels darker on average: another picture of the same pattern."""
    assert not [f for f in two("0f" * 18, "60" * 81).findings if f.rule == "photo-look-alike"]


def test_uncompared_pictures_are_said_to_be_so() -> None:
    from claimkit.findings.timeline.check_originals import look_alike

    case = staged([delivery()], [photo("a.jpg"), photo("b.jpg")])
    (found,) = look_alike(case)
    assert "2 photos not yet compared" in getattr(found, "reason", "")


def test_captions_say_it_shortly_and_not_to_the_customer() -> None:
    from tests.build import case

    shots = [changed_at("2026-05-04 11:15:00")]
    built = case(facts(records=[delivery()], photos=shots))
    words = "states a change 2 h after it was taken"
    for reader, said in ((Reader.OWN, True), (Reader.CARRIER, True), (Reader.CUSTOMER, False)):
        document = compose(built, reader, versions=(("x", "1"),))
        assert any(words in s.text for _, s in statements(document)) is said


def test_a_small_picture_left_behind_is_said_in_the_caption_and_is_no_camera_s_own() -> None:
    shot = changed_at("2026-05-04 09:15:00")
    own, other = (Look(shot.sha256, "0f" * 18, "5a" * 81, apart) for apart in (3, 60))
    assert "names no later program" in short_words(shot, own)
    assert "a small picture that differs" in short_words(shot, other)
    for look, written in ((own, True), (other, False)):
        rules = {f.rule for f in one(shot, look).findings}
        assert ("photo-as-camera-wrote" in rules) is written
        assert ("photo-thumbnail-differs" in rules) is not written


def test_as_written_needs_every_sign_to_be_absent() -> None:
    shot = changed_at("2026-05-04 09:15:00")
    assert as_written(shot)
    for worse in (
        {"camera": Camera()},
        {"camera": Camera("Fairlight", "F2", software="GIMP 2.10")},
        {"flaws": ("It is cut short.",)},
        {"says": FileSays(exif_blocks=2)},
        {"says": FileSays(tool="Adobe Photoshop CS2")},
        {"exif_state": ExifState.DISAGREES},
    ):
        assert not as_written(structs.replace(shot, **worse))


# Videos. The truck stands at the curb from 09:10 to 09:40 at -05:00.


def clip(*dates: StatedDate, path: str = "photos/v.mp4", length: float = 60.0) -> OtherFile:
    return OtherFile(path, sha(path), 1000, FileKind.VIDEO, dates=dates, duration_s=length)


def test_a_date_with_its_offset_marks_the_beginning() -> None:
    found = video_dated(clip(keys("2026-05-04 09:15:00")), SITE)
    assert found.basis is TimeBasis.VIDEO_DATE
    assert found.taken.earliest == datetime(2026, 5, 4, 14, 14, 59, tzinfo=UTC)
    assert found.taken.latest == datetime(2026, 5, 4, 14, 16, 1, tzinfo=UTC)


def test_the_movie_header_covers_utc_and_local_beginning_and_end() -> None:
    """14:15 read as UTC, or as local 14:15 -05:00; a minute before or after either."""
    found = video_dated(clip(header("2026-05-04 14:15:00")), SITE)
    assert found.basis is TimeBasis.VIDEO_CLOCK
    assert found.taken.earliest == datetime(2026, 5, 4, 14, 13, 59, tzinfo=UTC)
    assert found.taken.latest == datetime(2026, 5, 4, 19, 16, 1, tzinfo=UTC)


def test_without_a_site_zone_a_header_dates_nothing() -> None:
    found = video_dated(clip(header("2026-05-04 14:15:00")), None)
    assert found.basis is TimeBasis.NONE
    assert not found.taken.known


def test_a_video_is_placed_by_its_own_date_and_not_by_its_header() -> None:
    assert video(keys("2026-05-04 09:15:00")).videos[0].stage is Stage.CURB
    assert video(header("2026-05-04 14:15:00")).videos[0].stage is None


@pytest.mark.parametrize(
    "path, dates, words",
    [
        ("VID_20260504_091500.mp4", (header("2026-05-04 14:15:30"),), "read as UTC"),
        ("VID_20260504_091500.mp4", (header("2026-05-04 09:15:30"),), "read as local time"),
        ("VID_20260504_091500.mp4", (header("2026-05-04 12:15:30"),), "does not agree"),
        ("PXL_20260504_141500123.mp4", (header("2026-05-04 14:15:30"),), "read as UTC"),
        ("PXL_20260504_141500123.mp4", (keys("2026-05-04 09:15:00"),), "agrees with the video's"),
        ("VID_20260504_101500.mp4", (keys("2026-05-04 09:15:00"),), "does not agree"),
    ],
)
def test_names_of_videos_corroborate(path: str, dates: tuple[StatedDate, ...], words: str) -> None:
    (said,) = video_dated(clip(*dates, path=f"photos/{path}"), SITE).beside
    assert words in said


@pytest.mark.parametrize(
    "at, differs",
    [
        ("2026-05-04 14:15:05", False),  # UTC
        ("2026-05-04 09:15:05", False),  # local time
        ("2026-05-04 14:17:30", False),  # the end of a minute's recording, and a bit
        ("2026-05-04 14:19:00", True),
        ("2026-05-06 14:15:00", True),
    ],
)
def test_a_header_against_the_creation_date(at: str, differs: bool) -> None:
    clip_ = clip(keys("2026-05-04 09:15:00"), header(at))
    assert (header_differs(clip_, SITE) is not None) is differs


def test_the_shared_video_that_was_stored_again() -> None:
    """Recorded in 2019 by its Keys, stored in 2024 by its header (exiftool)."""
    data = (shared_dir("photos") / "real" / "meta.mov").read_bytes()
    found = read_bytes(data, "photos/meta.mov")
    assert isinstance(found, OtherFile)
    dated = video_dated(found, SITE)
    assert dated.taken.earliest == datetime(2019, 2, 12, 7, 27, 11, tzinfo=UTC)
    assert "stored again later" in (header_differs(found, SITE) or "")


@pytest.mark.parametrize(
    "at, why",
    [
        ("2026-06-04 09:15:00", "photo-future"),  # now is 20 May 2026
        ("2019-05-04 09:15:00", "photo-before-job"),
        ("2026-05-04 09:15:00", None),
    ],
)
def test_a_video_s_date_is_held_against_the_job(at: str, why: str | None) -> None:
    case = video(keys(at))
    assert case.videos[0].suspicions == ((why,) if why else ())
    assert ("in doubt" in told(case, "video-dated").message) is (why is not None)


def test_a_default_date_of_a_video_places_nothing() -> None:
    found = video_dated(clip(header("2015-01-01 00:10:00")), SITE)
    assert found.suspicions == ("photo-default-clock",)
