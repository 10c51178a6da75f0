"""What cameras, phones and people do with dates, file names and folder names, as data.

Dates at which a clock starts when its battery ran flat, forms of file names and the clock that
they follow, folder names that people give to a stage of the work, words that mean the same on an
order. Each row says where it comes from: S seen in files or texts, M from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from claimkit.model.stages import Stage


@dataclass(frozen=True, slots=True)
class ClockStart:
    """A date that a camera's clock may start from when nobody has set it.

    A camera text from the start of `day` for the length of `run` is suspected. `year` is None
    where the day counts in every year.
    """

    year: int | None
    month: int
    day: int
    run: timedelta
    citation: str
    mark: str


WHOLE_DAY = timedelta(days=1)

# A reset clock runs on from its start: the whole first day is suspected. In an ordinary year only
# the first hour of 1 January is, because people do work on New Year's Day.
CLOCK_STARTS: tuple[ClockStart, ...] = (
    ClockStart(
        1904, 1, 1, WHOLE_DAY, "ISO/IEC 14496-12, 8.2.2: seconds since 1904-01-01 (zero time)", "M"
    ),
    ClockStart(
        1969,
        12,
        31,
        2 * WHOLE_DAY,
        "IEEE Std 1003.1, 4.16: the Epoch, 1970-01-01 00:00 UTC, is still 1969-12-31 in "
        "zones west of Greenwich",
        "M",
    ),
    ClockStart(1980, 1, 1, WHOLE_DAY, "FAT file system: dates begin at 1980-01-01", "M"),
    ClockStart(1980, 1, 6, WHOLE_DAY, "IS-GPS-200: GPS time begins at 1980-01-06", "M"),
    ClockStart(2000, 1, 1, WHOLE_DAY, "common practice of camera makers, no source", "M"),
    ClockStart(2001, 1, 1, WHOLE_DAY, "reference date of a common phone system, no source", "M"),
    ClockStart(2015, 1, 1, WHOLE_DAY, "common practice of camera makers, no source", "M"),
    ClockStart(
        None,
        1,
        1,
        timedelta(hours=1),
        "common practice, no source: a clock that starts at midnight of 1 January of the year "
        "in which the camera was made",
        "M",
    ),
)


@dataclass(frozen=True, slots=True)
class NamePattern:
    """A form of file name that holds a date.

    `pattern` has the named groups year, month, day and, where the name holds a time, hour, minute
    and second. `clock` is local, utc, or sending where the date is that of sending.
    """

    id: str
    pattern: str
    clock: str
    must_match: tuple[str, ...]
    must_pass: tuple[str, ...]
    citation: str
    mark: str


_DAY = r"(?P<year>(?:19|20)\d\d)(?P<month>\d\d)(?P<day>\d\d)"
_TIME = r"(?P<hour>\d\d)(?P<minute>\d\d)(?P<second>\d\d)"

NAME_PATTERNS: tuple[NamePattern, ...] = (
    NamePattern(
        "name-utc",
        rf"^(?:PXL)_{_DAY}_{_TIME}\d*(?:[._~(].*)?$",
        "utc",
        ("PXL_20240512_120322123", "PXL_20240512_120322123.NIGHT"),
        ("IMG_20240512_120322", "PXL_20240512"),
        "files of phones whose names follow UTC: S in a video, M for stills",
        "S",
    ),
    NamePattern(
        "name-local",
        rf"^(?:IMG|VID|MVIMG|PANO)_{_DAY}_{_TIME}\d*(?:[_.~(-].*)?$",
        "local",
        ("IMG_20180725_163423", "IMG_20180725_163423-tiny", "VID_20240512_140322"),
        ("IMG_0042", "IMG-20240512-WA0007"),
        "files of phones whose names follow the phone's local time",
        "S",
    ),
    NamePattern(
        "name-bare",
        rf"^{_DAY}_{_TIME}(?:[_.~(-].*|\d*)?$",
        "local",
        ("20240512_140322", "20240512_140322(1)"),
        ("20240512", "120240512_140322"),
        "files of phones whose names are date and local time alone",
        "M",
    ),
    NamePattern(
        "name-screenshot",
        rf"^Screenshot_{_DAY}-{_TIME}(?:[_.~(-].*)?$",
        "local",
        ("Screenshot_20240512-140322", "Screenshot_20240512-140322_Messages"),
        ("Screenshot_1",),
        "screenshots named by local time",
        "S",
    ),
    NamePattern(
        "name-sent",
        rf"^(?:IMG|VID)-{_DAY}-[A-Z]{{2}}\d+(?:[_.~( -].*)?$",
        "sending",
        ("IMG-20240512-WA0007", "IMG-20240512-WA0007 (1)"),
        ("IMG_20240512_140322",),
        "names given by a messaging app hold the date of sending",
        "S",
    ),
)


@dataclass(frozen=True, slots=True)
class FolderWord:
    """Words in a folder's name that say which stage its photos belong to."""

    words: tuple[str, ...]
    stages: tuple[Stage, ...]
    citation: str


_OURS = "common practice, no source"

# Longer phrases come first: "before fastening" is not "fastening". The receiver's records bound
# arrival and curb as one stretch, so either name stands for both.
FOLDER_WORDS: tuple[FolderWord, ...] = (
    FolderWord(
        ("before fastening", "before fixing", "before install", "before installation"),
        (Stage.BEFORE_FASTENING,),
        _OURS,
    ),
    FolderWord(
        ("dry fit", "dryfit", "dry fitting", "dry assembly", "dry assembled"),
        (Stage.DRY_FIT,),
        _OURS,
    ),
    FolderWord(
        ("curb", "curbside", "kerb", "kerbside", "arrival", "truck", "driver"),
        (Stage.ARRIVAL, Stage.CURB),
        _OURS,
    ),
    # Said of the curb and of the hours after it.
    FolderWord(("delivery", "delivered"), (Stage.ARRIVAL, Stage.CURB, Stage.UNPACKING), _OURS),
    FolderWord(("unpacking", "unpacked", "unpack", "unboxing"), (Stage.UNPACKING,), _OURS),
    FolderWord(("fastened", "fastening"), (Stage.FASTENED,), _OURS),
    # "Installed" is said of the work before and after the sealant.
    FolderWord(("installed", "install", "installation"), (Stage.FASTENED, Stage.SEALED), _OURS),
    FolderWord(("sealed", "sealing", "sealant", "caulked"), (Stage.SEALED,), _OURS),
    FolderWord(("handover", "hand over", "handed over"), (Stage.HANDOVER,), _OURS),
    FolderWord(("complaint", "complaints"), (Stage.COMPLAINT,), _OURS),
)

# Words that turn or shift a folder's meaning: "before sealing", "not fastened". Such a name is
# read only where a row above has the whole phrase.
SHIFTING_WORDS = frozenset({"before", "after", "not", "no", "pre", "post", "un", "until"})

# How far two clocks that ought to agree may differ before the difference is worth a sentence.
# Median 10 s and over 60 s in 16 of 45 files, measured on public photos (S): two minutes.
GPS_AGREES = timedelta(minutes=2)
# A position may be older than the picture, never newer; the oldest seen was 27 hours (S).
GPS_MAY_BE_OLD = timedelta(hours=48)
# Differences of whole and half hours point to another zone; no zone is further than 26 h off.
ZONE_STEP = timedelta(minutes=30)
FURTHEST_ZONES_APART = timedelta(hours=26)
# A name is written when the file is, some seconds after the shutter (own convention).
NAME_AGREES = timedelta(minutes=2)
# Clocks set by the network agree within seconds; ten minutes is generous (own convention).
CLOCK_AHEAD = timedelta(minutes=10)
# Goods are on the road for days and the old room is photographed weeks before: a month
# (own convention).
LONG_BEFORE_JOB = timedelta(days=30)
# A phone is emptied within the week (own convention).
LONG_BEFORE_INTAKE = timedelta(days=7)

# Offsets in use run from UTC-12:00 to UTC+14:00 (IANA time zone database).
OFFSET_MINUTES = (-12 * 60, 14 * 60)

# A truck does not wait over night (common practice, no source).
CURB_AT_MOST = timedelta(hours=24)

# Words of an order that mean the same; common practice, no source.
SAME_WORDS: tuple[tuple[str, ...], ...] = (
    ("left", "l", "lh", "left hand", "left handed", "left hand side"),
    ("right", "r", "rh", "right hand", "right handed", "right hand side"),
    ("centre", "center", "central", "middle"),
    ("grey", "gray"),
)
# What says that nothing is wrong, whole and alone: "good except one corner" is none of these.
GOOD_CONDITION = frozenset(
    {
        "good",
        "good condition",
        "good order",
        "in good order",
        "ok",
        "okay",
        "sound",
        "fine",
        "intact",
        "undamaged",
        "not damaged",
        "no damage",
        "as new",
    }
)
NOT_LOOKED_AT = frozenset(
    {"", "unknown", "not known", "not checked", "unchecked", "not inspected", "not recorded", "?"}
)

# What evidence about a camera's clock is worth; where nothing else is said, our own convention.
# A cheap quartz clock gains or loses up to some 20 parts in a million: 1.7 s a day (from memory).
CLOCK_DRIFT_PER_DAY = timedelta(seconds=3)
# A clock that may be within half a minute is called sound; minutes are written down, not seconds.
CLOCK_SOUND = timedelta(seconds=30)
# Somebody may have set the clock since: beyond a day, one clock in a picture speaks no more.
CLOCK_REACH = timedelta(hours=24)
# People round the times that they write down, and their own clocks are minutes off.
EVENT_SLACK = timedelta(minutes=10)
# Fewer GPS fixes than this have no middle that one stale fix could not move.
GPS_FEWEST = 3
# A phone takes its fix up to a minute before the picture (S: median 10 s in 45 files).
GPS_LEAST = timedelta(seconds=45)
# A normal spread's standard deviation is this times the median absolute deviation (1/Φ⁻¹(3/4)).
MAD_FACTOR = 1.4826
MAD_LIMIT = 3
# A camera may write files of one burst out of order, by seconds.
COUNTER_SLACK = timedelta(seconds=60)
# Counters further apart may be those of two phones of one model.
COUNTER_NEAR = 50
# A difference can be called like a known error where it is known this well.
NAMEABLE = timedelta(minutes=25)
NAMED_WITHIN = timedelta(minutes=2)
