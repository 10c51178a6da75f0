"""Exif blocks written by hand and read back: dates, offsets, sub-seconds, GPS, and every trap.

The forms are those of CIPA DC-008 (Exif 2.32 and 3.0) 4.6.5 and 4.6.6; the expected values are
typed, or computed from the numbers that the block was written from.
"""

from __future__ import annotations

import struct
import time
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.intake.metadata import readings
from claimkit.intake.metadata.directories import MAX_ENTRIES, look_at
from claimkit.intake.metadata.exif import ExifFacts, read_block
from claimkit.intake.metadata.exifdates import read_date, read_offset, read_subsec
from claimkit.intake.metadata.repointed import Astray
from claimkit.model.photo import DateTag, ExifState
from tests.intake.photo_writer import Entry, block, camera_block, ratios, short, text

TAKEN = "2024:05:12 14:03:22"


def clock(words: str) -> datetime:
    """Give the naive time that a camera's clock shows."""
    return datetime.fromisoformat(words)


def original(facts: ExifFacts) -> DateTag:
    found = [d for d in facts.dates if d.tag == "DateTimeOriginal"]
    assert len(found) == 1
    return found[0]


def of(*exif: Entry, first: tuple[Entry, ...] = (), order: str = "<") -> ExifFacts:
    return read_block(block(first, exif, order=order))


# Dates, offsets and sub-seconds


@pytest.mark.parametrize(
    "words,local",
    [
        (TAKEN, clock("2024-05-12 14:03:22")),
        ("2024:02:29 23:59:59", clock("2024-02-29 23:59:59")),  # leap day, last second
        ("0001:01:01 00:00:00", clock("0001-01-01 00:00:00")),  # the year is judged elsewhere
        ("2099:08:12 19:59:29", clock("2099-08-12 19:59:29")),
        ("2024:03:31 02:30:00", clock("2024-03-31 02:30:00")),  # a gap somewhere; no zone here
    ],
)
def test_a_text_of_the_form_is_a_time(words: str, local: datetime) -> None:
    assert read_date(words, None) == (local, None)


@pytest.mark.parametrize(
    "words,fault",
    [
        # Seen in public files
        ("0000:00:00 00:00:00", "blank"),
        ("    :  :     :  :  ", "blank"),
        ("", "blank"),
        ("                   ", "blank"),
        ("2024:10:05 24:00:00", "hour is 24"),
        ("2017:08:21 15:08:70", "second is 70"),
        ("2017:08:21 15:08:60", "second is 60"),
        ("2017:08:21 15:60:00", "minute is 60"),
        ("2005:12:00 00:00:00", "no such day"),
        ("2015-06-29T18:19:12+01:00", "not of the form"),
        # One step off the form each
        ("2023:02:29 10:00:00", "no such day"),
        ("2024:13:01 10:00:00", "no such day"),
        ("0000:01:01 10:00:00", "no such day"),
        ("2024:05:12 14:03", "not of the form"),
        ("2024:05:12 14:03:22 ", "not of the form"),
        (" 2024:05:12 14:03:22", "not of the form"),
        ("2024:05:12T14:03:22", "not of the form"),
        ("2024-05-12 14:03:22", "not of the form"),
        ("2024:05:12 14:03:22Z", "not of the form"),
        ("2024:5:12 14:03:22", "not of the form"),
        ("24:05:12 14:03:22", "not of the form"),
        ("2024:05:12 2:03:22 PM", "not of the form"),
        ("２０２４:05:12 14:03:22", "not of the form"),  # digits, but not of ASCII
        ("2024:05:12 14:03:22\n", "not of the form"),
    ],
)
def test_any_other_text_is_never_repaired(words: str, fault: str) -> None:
    local, said = read_date(words, "5")
    assert local is None
    assert fault in (said or "")


@pytest.mark.parametrize(
    "words,micro",
    [
        ("5", 500_000),
        ("050", 50_000),
        ("00", 0),
        ("999999", 999_999),
        ("9999999", 999_999),  # digits beyond six are dropped, not rounded into the next second
        ("12 ", 120_000),
        ("", None),
        ("  ", None),
        (" 5", None),
        ("-5", None),
        ("5a", None),
        ("٣", None),
        (None, None),
    ],
)
def test_sub_seconds_are_a_decimal_fraction(words: str | None, micro: int | None) -> None:
    assert read_subsec(words) == micro


@pytest.mark.parametrize(
    "words,minutes",
    [
        ("+02:00", 120),
        ("-03:30", -210),
        ("+05:45", 345),
        ("+14:00", 840),
        ("-12:00", -720),
        ("+00:00", 0),
        ("+14:01", None),
        ("-12:01", None),
        ("+23:00", None),
        ("+02:60", None),
        ("   :  ", None),
        ("", None),
        ("02:00", None),
        ("+2:00", None),
        ("+0200", None),
        ("Z", None),
        ("+02:00 ", None),
        (None, None),
    ],
)
def test_offsets_of_the_real_world_only(words: str | None, minutes: int | None) -> None:
    assert read_offset(words) == minutes


@settings(max_examples=150, deadline=None)
@given(
    taken=st.datetimes(clock("0001-01-01 00:00:00"), clock("9999-12-31 00:00:00")).map(
        lambda d: d.replace(microsecond=0)
    ),
    offset=st.none() | st.integers(-720, 840),
    digits=st.none() | st.text("0123456789", min_size=1, max_size=9),
    order=st.sampled_from("<>"),
)
def test_what_was_written_is_read_back(
    taken: datetime, offset: int | None, digits: str | None, order: str
) -> None:
    words = (
        f"{taken.year:04}:{taken.month:02}:{taken.day:02} "
        f"{taken.hour:02}:{taken.minute:02}:{taken.second:02}"
    )
    more = {}
    if offset is not None:
        sign = "-" if offset < 0 else "+"
        more["offset"] = f"{sign}{abs(offset) // 60:02}:{abs(offset) % 60:02}"
    if digits is not None:
        more["subsec"] = digits
    tag = original(read_block(camera_block(words, order, **more)))
    fraction = timedelta(microseconds=int(f"{digits or 0:0<6}"[:6]))
    assert (tag.text, tag.offset_text, tag.subsec_text) == (words, more.get("offset"), digits)
    assert (tag.local, tag.offset_minutes, tag.fault) == (taken + fraction, offset, None)


def test_no_date_borrows_anothers_offset_or_sub_seconds() -> None:
    facts = of(
        text(0x9003, TAKEN),
        text(0x9004, TAKEN),
        text(0x9010, "+01:00"), text(0x9290, "1"),
        text(0x9012, "+03:00"), text(0x9292, "3"),
        first=(text(0x0132, TAKEN),),
    )  # fmt: skip
    read = {
        d.tag: (d.offset_minutes, d.local.microsecond if d.local else None) for d in facts.dates
    }
    assert read == {
        "DateTimeOriginal": (None, 0),
        "DateTimeDigitized": (180, 300_000),
        "DateTime": (60, 100_000),
    }


def test_texts_are_kept_raw_and_cut_at_the_first_nul() -> None:
    facts = of(text(0x9003, b"2024:05:12 14:03:22\0junk"), text(0x9011, "   :  "))
    tag = original(facts)
    assert (tag.text, tag.offset_text) == (TAKEN, "   :  ")
    assert (tag.local, tag.offset_minutes) == (clock("2024-05-12 14:03:22"), None)


def test_a_date_stored_as_undefined_bytes_is_a_text_too() -> None:
    assert original(of(text(0x9003, TAKEN, kind=7))).local == clock("2024-05-12 14:03:22")


def test_a_date_that_is_a_number_is_no_date() -> None:
    assert of((0x9003, 4, 1, struct.pack("<L", 20240512))).dates == ()


def test_the_thumbnails_directory_is_another_pictures() -> None:
    facts = read_block(
        block(
            [short(0x0112, 3)],
            None,
            thumb=[text(0x0132, TAKEN), text(0x9003, TAKEN), text(0x010F, "Other")],
        )
    )
    assert facts == ExifFacts(ExifState.READ, orientation=3)


def test_the_first_directorys_date_of_capture_counts_where_the_exif_directory_has_none() -> None:
    # TIFF/EP (ISO 12234-2) keeps it there
    assert original(of(first=(text(0x9003, TAKEN),))).local == clock("2024-05-12 14:03:22")
    both = of(text(0x9003, TAKEN), first=(text(0x9003, "2020:01:01 00:00:00"),))
    assert both.state is ExifState.DISAGREES
    assert original(both).local is None


def test_a_tag_that_stands_twice_is_not_claimed() -> None:
    twice = of(text(0x9003, TAKEN), text(0x9003, "2020:01:01 00:00:00"), text(0x9011, "+02:00"))
    assert twice.state is ExifState.DISAGREES
    assert (original(twice).local, original(twice).offset_minutes) == (None, None)
    assert original(twice).fault
    offsets = of(text(0x9003, TAKEN), text(0x9011, "+02:00"), text(0x9011, "+03:00"))
    assert original(offsets).local is None


def test_a_tag_that_stands_three_times_is_not_claimed_where_first_and_last_agree() -> None:
    # One reading takes the first of several, the other the last: they would agree here.
    thrice = of(text(0x9003, TAKEN), text(0x9003, "2020:01:01 00:00:00"), text(0x9003, TAKEN))
    assert thrice.state is ExifState.DISAGREES
    assert original(thrice).local is None
    assert "stands twice" in (original(thrice).fault or "")
    assert look_at(block([], [short(0x9500, 1), short(0x9500, 2)])).twice == {("exif", 0x9500)}


@pytest.mark.parametrize("tag", [0x9003, 0x9011, 0x9291])
def test_where_the_two_readings_differ_neither_is_claimed(
    tag: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    honest = readings.by_pillow

    def other(raw: bytes) -> readings.Reading:
        return readings.Reading({**honest(raw).values, ("exif", tag): b"2021:01:01 00:00:00"})

    monkeypatch.setattr("claimkit.intake.metadata.exif.by_pillow", other)
    facts = of(text(0x9003, TAKEN), text(0x9011, "+02:00"), text(0x9291, "5"), text(0x9004, TAKEN))
    assert facts.state is ExifState.DISAGREES
    assert "DateTimeOriginal" in (facts.reason or "")
    assert (original(facts).local, original(facts).offset_minutes) == (None, None)
    assert "differ" in (original(facts).fault or "")
    # The tag on which both agree is still claimed
    assert facts.dates[1].local == clock("2024-05-12 14:03:22")


# Entries that were led to another's bytes


def changed(raw: bytes, old: bytes, new: bytes) -> bytes:
    """Give a block with the one place of some bytes changed."""
    assert raw.count(old) == 1
    return raw.replace(old, new)


def entry_of(raw: bytes, tag: int) -> bytes:
    """Give the twelve bytes of an entry of a little-endian block of texts."""
    at = raw.index(struct.pack("<HH", tag, 2))
    return raw[at : at + 12]


def led(raw: bytes, tag: int, to: int) -> bytes:
    """Give a block where an entry names the bytes that another's entry names."""
    own = entry_of(raw, tag)
    return changed(raw, own, own[:8] + entry_of(raw, to)[8:])


DATED = block(
    [text(0x0132, "2022:06:07 08:09:10")],
    [text(0x9003, TAKEN), text(0x9004, "2024:05:13 00:00:00"), text(0x9011, "+02:00"),
     text(0x9012, "+03:00")],
    thumb=[text(0x0132, "1999:09:09 09:09:09")],
)  # fmt: skip


@pytest.mark.parametrize(
    "raw,doubted",
    [
        (led(DATED, 0x9003, 0x9004), {"DateTimeOriginal", "DateTimeDigitized"}),
        (led(DATED, 0x9004, 0x0132), {"DateTimeDigitized", "DateTime"}),
        (led(DATED, 0x0132, 0x9003), {"DateTime", "DateTimeOriginal"}),
        (led(DATED, 0x9011, 0x9012), {"DateTimeOriginal", "DateTimeDigitized"}),
        # The thumbnail's date is read by nobody, but it is named by its own directory.
        (changed(DATED, entry_of(DATED, 0x9003),
                 struct.pack("<HHLL", 0x9003, 2, 20, DATED.index(b"1999"))), {"DateTimeOriginal"}),
    ],
)  # fmt: skip
def test_a_date_whose_bytes_are_anothers_too_is_not_claimed(raw: bytes, doubted: set[str]) -> None:
    # TIFF 6.0 section 7, "No Duplicate Pointers": no data is referenced from two places.
    facts = read_block(raw)
    assert facts.state is ExifState.DISAGREES
    assert {d.tag for d in facts.dates if d.local is None} == doubted
    assert all("another entry" in (d.fault or "") for d in facts.dates if d.tag in doubted)
    assert {d.tag for d in read_block(DATED).dates if d.local is None} == set()


def test_a_date_inside_the_makers_own_note_is_the_notes() -> None:
    note = b"MAKER" + b"2001:01:01 01:01:01\0"
    raw = block([], [text(0x9003, TAKEN), (0x927C, 7, len(note), note)])
    own = entry_of(raw, 0x9003)
    facts = read_block(changed(raw, own, own[:8] + struct.pack("<L", raw.index(b"2001"))))
    assert original(read_block(raw)).local == clock("2024-05-12 14:03:22")
    assert original(facts).local is None


def test_equal_values_that_a_writer_stores_once_are_harmless() -> None:
    # Against the same section, but no text of a date is left that no entry names.
    raw = block([], [text(0x9003, TAKEN), text(0x9004, TAKEN)])
    lone = led(raw, 0x9004, 0x9003)
    once = lone[: lone.rindex(b"2024")] + b"\0" * 20 + lone[lone.rindex(b"2024") + 20 :]
    facts = read_block(once)
    assert facts.state is ExifState.READ
    assert [d.local for d in facts.dates] == [clock("2024-05-12 14:03:22")] * 2
    assert read_block(lone).state is ExifState.DISAGREES


def test_a_text_that_no_entry_names_says_nothing_by_itself() -> None:
    # Editors leave old texts behind; seen in a phone's HEIC and in TIFF files of many pages.
    raw = block([text(0x0132, TAKEN)], [text(0x9003, TAKEN)]) + b"2001:01:01 01:01:01\0"
    assert [d.local for d in read_block(raw).dates] == [clock("2024-05-12 14:03:22")] * 2


def test_the_date_of_change_is_not_claimed_where_the_exif_directory_is_lost() -> None:
    # DC-008 4.6.3: the pointer 8769 alone leads to it. Its dates are still there.
    lost = changed(DATED, struct.pack("<HHL", 0x8769, 4, 1), struct.pack("<HHL", 0x8700, 4, 1))
    (tag,) = read_block(led(lost, 0x0132, 0x9003)).dates
    assert (tag.tag, tag.text, tag.local) == ("DateTime", TAKEN, None)
    assert "is lost" in (tag.fault or "")
    # A file that never had one, with a thumbnail's date, and with further pictures of their own
    # (TIFF 6.0 section 2: each directory names the next).
    plain = block([text(0x0132, TAKEN)], thumb=[text(0x0132, "1999:09:09 09:09:09")])
    assert read_block(plain).dates[0].local == clock("2024-05-12 14:03:22")


def test_sub_seconds_without_their_end_are_not_used() -> None:
    # TIFF 6.0 section 2: the last byte of an ASCII value is NUL, and the count includes it. A wrong
    # count makes other digits of the same bytes.
    for count, words in ((1, "1"), (3, "123")):
        tag = original(of(text(0x9003, TAKEN), (0x9291, 2, count, b"123\0")))
        assert (tag.text, tag.subsec_text) == (TAKEN, words)
        assert (tag.local, tag.fault) == (clock("2024-05-12 14:03:22"), None)
    whole = original(of(text(0x9003, TAKEN), text(0x9291, "123")))
    assert whole.local == clock("2024-05-12 14:03:22.123")


def test_directories_without_end_beside_the_three_cost_nothing() -> None:
    # One that names 60,000 others, one that names itself, one of 65,535 entries.
    first = block([text(0x0132, TAKEN)], [text(0x9003, TAKEN)])
    at = len(first)
    chain = _next(first, at) + b"".join(
        struct.pack("<HL", 0, at + 6 * (n + 1)) for n in range(60_000)
    )
    loop = _next(first, at) + struct.pack("<HL", 0, at)
    wide = _next(first, at) + b"\xff\xff" + struct.pack("<HHLL", 0x0132, 2, 20, 8) * 65_535
    for raw in (chain, loop, wide):
        began = time.process_time()
        assert look_at(raw).astray == Astray()
        assert time.process_time() - began < 0.2


def _next(raw: bytes, at: int) -> bytes:
    """Give a block whose first directory names a next one at that place."""
    end = 10 + 12 * struct.unpack_from("<H", raw, 8)[0]
    return raw[:end] + struct.pack("<L", at) + raw[end + 4 :]


# The camera


def test_camera_and_orientation() -> None:
    facts = read_block(
        block(
            [text(0x010F, "Fairlight "), text(0x0110, "F2\0\0"), short(0x0112, 8),
             text(0x0131, "1.0")],
            [text(0xA431, "000123")],
        )
    )  # fmt: skip
    camera = facts.camera
    assert (camera.make, camera.model, camera.serial, camera.software) == (
        "Fairlight", "F2", "000123", "1.0",
    )  # fmt: skip
    assert facts.orientation == 8


@pytest.mark.parametrize("value", [0, 9, 65_535])
def test_an_orientation_that_is_none_of_the_eight_is_unknown(value: int) -> None:
    assert of(first=(short(0x0112, value),)).orientation is None


def test_names_in_latin_1_in_utf_8_and_in_the_utf_8_of_exif_3() -> None:
    assert of(first=(text(0x010F, "Müller".encode("latin-1")),)).camera.make == "Müller"
    assert of(first=(text(0x010F, "Müller".encode()),)).camera.make == "Müller"
    assert of(first=(text(0x010F, "Müller".encode(), kind=129),)).camera.make == "Müller"


# GPS


def gps(*more: Entry, ref: str = "NE", lat: object = None, lon: object = None) -> ExifFacts:
    place = [text(1, ref[0]), text(3, ref[1])]
    place.append(ratios(2, lat or [(52, 1), (31, 1), (12, 1)]))  # type: ignore[arg-type]
    place.append(ratios(4, lon or [(13, 1), (24, 1), (18, 1)]))  # type: ignore[arg-type]
    return read_block(block([], [], [*place, *more]))


@pytest.mark.parametrize(
    "ref,signs", [("NE", (1, 1)), ("SE", (-1, 1)), ("NW", (1, -1)), ("SW", (-1, -1))]
)
def test_degrees_carry_the_sign_of_their_side(ref: str, signs: tuple[int, int]) -> None:
    place = gps(ref=ref).gps
    assert place is not None
    # 52° 31' 12" = 52.52°, 13° 24' 18" = 13.405°
    assert place.latitude == pytest.approx(signs[0] * 52.52, abs=1e-12)
    assert place.longitude == pytest.approx(signs[1] * 13.405, abs=1e-12)


@pytest.mark.parametrize(
    "lat,lon,ref",
    [
        ([(52, 0), (31, 1), (12, 1)], None, "NE"),  # zero below the fraction
        ([(52, 1), (31, 1), (0, 0)], None, "NE"),
        ([(91, 1), (0, 1), (0, 1)], None, "NE"),
        ([(90, 1), (0, 1), (1, 1)], None, "NE"),
        ([(52, 1), (60, 1), (0, 1)], None, "NE"),
        ([(52, 1), (0, 1), (60, 1)], None, "NE"),
        (None, [(180, 1), (0, 1), (1, 10)], "NE"),
        ([(52, 1), (31, 1)], None, "NE"),
        (None, None, "XE"),
        (None, None, "N "),
    ],
)
def test_a_place_that_is_none(lat: object, lon: object, ref: str) -> None:
    assert gps(lat=lat, lon=lon, ref=ref).gps is None


@pytest.mark.parametrize(
    "day,parts,utc,words",
    [
        ("2024:02:03", [(10, 1), (12, 1), (10, 1)], (2024, 2, 3, 10, 12, 10, 0), "10:12:10"),
        ("2014:09:01", [(13, 1), (3, 1), (4279, 100)], (2014, 9, 1, 13, 3, 42, 790_000),
         "13:03:42.79"),
        ("2024:02:03", [(0, 1), (0, 1), (0, 1)], (2024, 2, 3, 0, 0, 0, 0), "00:00:00"),
        ("2024:02:03", [(24, 1), (0, 1), (0, 1)], None, "24/1 0/1 0/1"),
        ("2024:02:03", [(10, 1), (12, 1), (60, 1)], None, "10/1 12/1 60/1"),
        ("2024:02:03", [(10, 1), (12, 0), (10, 1)], None, "10/1 n/0 10/1"),
        ("2024:02:30", [(10, 1), (12, 1), (10, 1)], None, "10:12:10"),
        ("2024-02-03", [(10, 1), (12, 1), (10, 1)], None, "10:12:10"),
        (None, [(10, 1), (12, 1), (10, 1)], None, "10:12:10"),
        ("2024:02:03", None, None, None),
    ],
)  # fmt: skip
def test_the_gps_clock(
    day: str | None,
    parts: list[tuple[int, int]] | None,
    utc: tuple[int, int, int, int, int, int, int] | None,
    words: str | None,
) -> None:
    more = [text(0x1D, day)] if day else []
    more += [ratios(7, parts)] if parts else []
    clock = gps(*more).gps
    assert clock is not None
    assert (clock.date_text, clock.time_text) == (day, words)
    assert clock.utc == (datetime(*utc, tzinfo=UTC) if utc else None)


def test_a_broken_gps_directory_takes_nothing_else_with_it() -> None:
    raw = block([text(0x0132, TAKEN)], [text(0x9003, TAKEN)], [text(0x1D, "2024:02:03")])
    at = raw.index(struct.pack("<HHL", 0x8825, 4, 1)) + 8
    facts = read_block(raw[:at] + struct.pack("<L", 60_000) + raw[at + 4 :])
    assert facts.state is ExifState.READ
    assert facts.gps is None
    assert "GPS part" in facts.flaws[0]
    assert original(facts).local == clock("2024-05-12 14:03:22")


# Blocks that do not hold together


def _pointed(raw: bytes, tag: int, place: int) -> bytes:
    at = raw.index(struct.pack("<HHL", tag, 4, 1)) + 8
    return raw[:at] + struct.pack("<L", place) + raw[at + 4 :]


def _chain(count: int) -> bytes:
    """Give empty directories that each name the next."""
    rows = [struct.pack("<HL", 0, 8 + 6 * (n + 1)) for n in range(count - 1)]
    return b"II*\0\x08\0\0\0" + b"".join(rows) + struct.pack("<HL", 0, 0)


def _wide(kind: int, count: int, raw: bytes, entries: int = 1, tag: int = 0x9500) -> bytes:
    """Give an Exif directory whose entries all claim the same large value."""
    at = 8 + 18 + 2 + 12 * entries + 4
    row = struct.pack("<HHLL", tag, kind, count, at)
    exif = struct.pack("<H", entries) + row * entries + b"\0\0\0\0"
    return block([(0x8769, 4, 1, struct.pack("<L", 26))])[:26] + exif + raw


WHOLE = camera_block()
MANY = [short(0x9500, 1)] * (MAX_ENTRIES + 1)


@pytest.mark.parametrize(
    "raw,reason",
    [
        (b"II*\0", "inside its header"),
        (b"II*\0" + struct.pack("<L", 4_000_000_000), "lies outside"),
        (b"II*\0" + struct.pack("<L", 8) + b"\xff\xff" + b"\0" * 40, "more than"),
        (b"II*\0" + struct.pack("<L", 8) + b"\x05\0" + b"\0" * 40, "cut short"),
        (b"II*\0" + struct.pack("<L", 0), "lies outside"),
        (_pointed(WHOLE, 0x8769, 8), "points back"),
        (_pointed(WHOLE, 0x8769, 0), "lies outside"),
        (_pointed(WHOLE, 0x8769, 4_294_967_295), "lies outside"),
        (block([], MANY), "more than"),
        (block([(0x8769, 2, 4, b"abc\0")]), "not a place"),
        (_wide(7, 900, b"A" * 900, entries=5), "claim more bytes"),
        (_wide(3, 200_000, b"A" * 400_000), "numbers"),
    ],
)
def test_a_block_that_does_not_hold_together_is_unreadable_and_says_why(
    raw: bytes, reason: str
) -> None:
    facts = read_block(raw)
    assert facts.state is ExifState.UNREADABLE
    assert reason in (facts.reason or "")
    assert facts.dates == ()


def test_a_value_outside_the_block_is_left_out_and_the_rest_is_read() -> None:
    facts = of(text(0x9003, TAKEN), (0x927C, 7, 2**32 - 1, b""), (0x9000, 7, 50, b"\xff\xff\0\0"))
    assert facts.state is ExifState.READ
    assert original(facts).local == clock("2024-05-12 14:03:22")


HOSTILE = [
    ("60,000 directories in a chain", _chain(60_000)),
    ("a chain that comes back", _chain(3)[:-4] + struct.pack("<L", 8)),
    ("65,535 entries in the thumbnail's directory",
     block([short(0x0112, 1)], thumb=[])[:-6] + b"\xff\xff"
     + struct.pack("<HHLL", 0x0100, 3, 999, 0) * 65_535),
    ("one text of 8 MB", _wide(2, 8_000_000, b"A" * 8_000_000)),
    ("a text of 900 kB in the place of a coded value", _wide(2, 900_000, b"A" * 900_000,
                                                            tag=0x9207)),
    ("a million rationals", _wide(5, 1_000_000, b"\1\0\0\0" * 2_000_000)),
    ("four million shorts", _wide(3, 4_000_000, b"\1\0" * 4_000_000)),
    ("2,000 entries that share 8 MB", _wide(7, 8_000_000, b"A" * 8_000_000, 2_000)),
    ("1,900 entries of 900 rationals", _wide(5, 900, b"\1\0\0\0" * 2_000_000, 1_900)),
    ("a count of 4,294,967,295", block([], [text(0x9003, TAKEN), (0x927C, 7, 2**32 - 1, b"")])),
]  # fmt: skip


@pytest.mark.parametrize("raw", [r for _, r in HOSTILE], ids=[n for n, _ in HOSTILE])
def test_a_hostile_block_costs_less_than_a_second(raw: bytes) -> None:
    began = time.process_time()
    facts = read_block(raw)
    assert time.process_time() - began < 1
    assert isinstance(facts, ExifFacts)


def test_the_budget_of_reads_is_what_stops_it(monkeypatch: pytest.MonkeyPatch) -> None:
    assert read_block(WHOLE).state is ExifState.READ
    monkeypatch.setattr(readings, "MAX_READS", 20)
    facts = read_block(WHOLE)
    assert facts.state is ExifState.UNREADABLE
    assert "too long to read" in (facts.reason or "")


def test_a_cameras_block_needs_a_fraction_of_the_budget() -> None:
    import exifread

    spare = readings.Sparing(WHOLE)
    exifread.process_file(spare, details=False, extract_thumbnail=False)
    assert readings.MAX_READS - spare.reads < 2_000


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes_behind_a_header_are_read_or_refused(tail: bytes) -> None:
    for head in (b"II*\0\x08\0\0\0", b"MM\0*\0\0\0\x08"):
        assert isinstance(read_block(head + tail), ExifFacts)
