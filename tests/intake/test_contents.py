"""What the index keeps of photos, papers, job and records comes back from JSON exactly."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction

import pytest
from msgspec import structs

from claimkit.intake.contents import Stated, from_json, kind_of, to_json
from claimkit.model.facts import Problem
from claimkit.model.job import Shipment, TermOverride
from claimkit.model.measuring import (
    BenchCheck,
    CardSheet,
    Instrument,
    MarkedPhoto,
    Offset,
    OpeningCheck,
    Reading,
    Readings,
    Spacer,
)
from claimkit.model.moment import Moment, Precision
from claimkit.model.photo import ExifState, FileKind, Gps, OtherFile, Photo
from claimkit.model.quantities import Hours, Length, Money, Share, Span, Weight
from claimkit.model.records import (
    KINDS,
    About,
    CameraClock,
    Cost,
    CostOf,
    CostPart,
    CountedItem,
    Damage,
    Delivery,
    FoundAt,
    Milestone,
    Notice,
    Record,
    Unpacking,
)
from claimkit.model.stages import Event, Stage
from tests import build

NOW = datetime(2026, 5, 20, 18, 0, tzinfo=UTC)


def moment(text: str) -> Moment:
    return build.moment(text)


BODIES = [
    Delivery(arrived=moment("2026-05-04 09:05"), words="", photos=("photos/1.jpg",), signed=False),
    Unpacking(
        began=moment("2026-05-04"),
        counted=(
            CountedItem(item="panel", quantity=1, size=(build.inches("35 7/8"), build.mm("0.1"))),
        ),
    ),
    Damage(
        item="panel",
        found_at=FoundAt.CURB,
        what="crushed",
        repair_cost=Money(Decimal("12.50"), "USD"),
    ),
    Notice(about=About.CLAIM, sender="us", to="hauler", received=moment("2026-11-01 01:30")),
    CameraClock(photo="photos/1.jpg", read=moment("2026-05-04 09:05:30")),
    Readings(
        seam="s1",
        stage=Stage.DRY_FIT,
        taken=moment("2026-05-04 09:05"),
        instrument=Instrument.TAPE_32ND,
        temperature=build.celsius(18),
        at=(Reading(station="top", gap=(build.inches("3/16"), build.mm("4.8"))),),
    ),
    OpeningCheck(
        opening="north wall",
        taken=moment("2026-05-04 09:05"),
        instrument=Instrument.LEVEL,
        plumb=(Offset(at=build.mm(300), offset=Length(Fraction(-1, 3), "-1/3 mm")),),
        diagonals=(build.mm(1), build.mm(2)),
    ),
    Milestone(event=Event.SEALED, began=moment("2026-05-04 09:05"), seams=("s1",)),
    BenchCheck(taken=moment("2026-05-04"), spacer=(Spacer(photo="p.jpg", gap=build.mm(3)),)),
    CardSheet(
        paper="a4",
        along=build.mm(250),
        across=build.mm("169.5"),
        instrument=Instrument.RULE_MM,
        cards=(0, 7),
    ),
    MarkedPhoto(
        photo="p.jpg",
        seam="s1",
        station="top",
        stage=Stage.DRY_FIT,
        rectangle=(build.mm("85.6"), build.mm("53.98")),
        corners=(1, 2, 9, 2, 9, 7, 1, 7),
        left=(4, 9),
        right=(5, 9),
    ),
    Cost(
        what=CostOf.REPAIR,
        item="panel",
        percent=Share(Fraction(1, 3), "33 1/3 %"),
        hours=Hours(Fraction(7, 4), "1 h 45 min"),
        rate=Money(Decimal("65.00"), "USD"),
        part=(CostPart(description="trim", price=Money(Decimal("12.40"), "USD")),),
    ),
]


def test_every_kind_of_record_comes_back_exactly() -> None:
    assert {type(body) for body in BODIES} == set(KINDS.values()), "a kind is not tried here"
    records = tuple(
        replace(build.record(f"r{n}", body), written=moment("2026-05-04 10:00"), replaced_by="x")
        for n, body in enumerate(BODIES)
    )
    override = TermOverride(clause="c", length=Span(15, "business days", 1), source="tariff")
    shipment = Shipment(
        id="main",
        carrier="hauler",
        weight=Weight(Fraction("186.88"), "412 lb"),
        override=(override,),
    )
    job = build.job(shipment=(shipment,))
    same(Stated(job, records, (Problem("a", "b", "c", "d"),)))
    same(Stated(None, (), ()))


def test_photos_and_papers_come_back_exactly() -> None:
    photo = build.photo("photos/é 損.jpg", offset="+05:45")
    same(photo)
    same(structs.replace(photo, gps=Gps(51.123456789, -0.1, None, None, NOW), flaws=("a", "b")))
    same(Photo("ab" * 32, 0, FileKind.TIFF, ("a",), ExifState.NONE))
    same(OtherFile("a.pdf", "ab" * 32, 3, FileKind.PDF, ("cut short",)))


def same(content: Photo | OtherFile | Stated) -> None:
    """Check content by content and by how it prints: 1 and 1.0 are equal and are not the same."""
    data = to_json(content)
    assert data is not None
    back = from_json(kind_of(content), data)
    assert back == content
    assert repr(back) == repr(content)


def test_what_json_cannot_carry_is_not_kept() -> None:
    for text in ("\udcff", "\ud800"):  # half of a pair of surrogates: no UTF-8 has it
        assert to_json(structs.replace(build.photo("a.jpg"), exif_reason=text)) is None


def test_a_time_whose_offset_json_rounds_is_not_kept() -> None:
    # Chicago's local mean time before 1883-11-18 was -5:50:36 (time zone database, northamerica).
    old = moment("1880-01-01 10:00")
    assert old.at.utcoffset().total_seconds() % 60 != 0  # type: ignore[union-attr]
    record: Record = build.record("r", CameraClock(photo="p", read=old))
    assert to_json(Stated(None, (record,), ())) is None
    assert old.precision is Precision.MINUTE


def test_other_json_is_refused() -> None:
    for kind, data in [("photo", "{}"), ("photo", "["), ("nothing", "{}"), ("other", '{"path":1}')]:
        with pytest.raises((ValueError, TypeError)):
            from_json(kind, data)
