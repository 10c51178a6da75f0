"""What the photos show of a delivery, beyond each rule's one firing and one silent case."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from msgspec import structs

from claimkit.findings.timeline.folder_stages import named_stages
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.facts import CustodyEvent
from claimkit.model.job import Item, Paper
from claimkit.model.records import CameraClock, ReceiptForm
from claimkit.model.stages import Event, Stage
from claimkit.rules.capture import FOLDER_WORDS
from tests.build import case, facts, job, moment, photo, record, sha, shipment
from tests.findings import cases_check_photos
from tests.findings.work_build import delivery, log, seen, step, unpacking

DELIVERY_DAY = date(2026, 5, 4)


def told(found: Case, rule: str) -> list[Finding]:
    return [f for f in found.findings if f.rule == rule]


def gaps(found: Case, rule: str) -> list[NotChecked]:
    return [n for n in found.not_checked if n.rule == rule]


def with_(*records: Any, photos: Any = (), as_of: date | None = None, **more: Any) -> Case:
    built = facts(records=records, photos=photos, **more)
    return case(built, as_of) if as_of else case(built)


def test_while_the_driver_is_there_it_is_urgent() -> None:
    there = delivery(driver_left=None, signed_at=None, receipt=ReceiptForm.DEVICE)
    for rule, words in (
        ("photo-none-at-curb", "before the driver leaves"),
        ("photo-none-of-receipt", "Photograph the driver's screen now"),
    ):
        (now,) = told(with_(there, as_of=DELIVERY_DAY), rule)
        assert now.urgent
        assert words in now.do_next
        (later,) = told(with_(there), rule)
        assert not later.urgent


@pytest.mark.parametrize(
    "taken, more, words",
    [
        ("2026-05-04 09:45:00", {}, "after the driver had left"),
        ("2026-05-04 09:40:30", {}, "too near"),
        ("2026-05-03 09:20:00", {}, "before the truck came"),
        (None, {}, "no usable time"),
        ("2026-05-04 09:36:00", {"driver_left": None, "signed_at": None}, "no record says when"),
    ],
)
def test_why_a_receipt_photo_does_not_serve(
    taken: str | None, more: dict[str, Any], words: str
) -> None:
    shot = photo("photos/r.jpg", taken)
    found = with_(delivery(receipt_photos=("photos/r.jpg",), **more), photos=[shot])
    (said,) = told(found, "photo-none-of-receipt")
    assert words in said.message
    assert not told(found, "photo-of-receipt")


def test_a_receipt_photo_serves_before_the_arrival_minute_is_over() -> None:
    """09:10:30 cannot be told to be at the curb, and is certainly before the driver left."""
    shot = photo("photos/r.jpg", "2026-05-04 09:10:30")
    found = with_(delivery(receipt_photos=("photos/r.jpg",)), photos=[shot])
    assert told(found, "photo-of-receipt")
    assert told(found, "photo-none-at-curb")


def test_a_receipt_named_in_the_job_counts_and_a_scan_is_not_dated() -> None:
    paper = Paper(file="documents/receipt.jpg", what="delivery receipt")
    shot = photo("documents/receipt.jpg", "2026-05-04 09:36:00")
    assert told(with_(delivery(), photos=[shot], job_=job(paper=(paper,))), "photo-of-receipt")
    scan = Paper(file="documents/receipt.pdf", what="delivery receipt")
    found = with_(delivery(), job_=job(paper=(scan,)))
    assert "no photo in the folder" in told(found, "photo-none-of-receipt")[0].message


def test_no_receipt_is_not_checked_and_no_delivery_is_not_checked() -> None:
    found = with_(delivery(receipt=ReceiptForm.NONE))
    assert gaps(found, "photo-none-of-receipt")
    nothing = with_()
    assert gaps(nothing, "photo-none-of-receipt")
    assert gaps(nothing, "photo-none-at-curb")


@pytest.mark.parametrize(
    "day, words",
    [
        # Ten minutes slow by a clock of the same morning: 09:36 is 09:46.
        ("04", "after the driver had left (corrected by a clock shown in a picture)"),
        # By a clock of two days before: the camera may have been set since, both are open.
        ("02", "in doubt"),
    ],
)
def test_a_slow_camera_is_not_claimed_for_the_receipt(day: str, words: str) -> None:
    body = CameraClock(photo="photos/c.jpg", read=moment(f"2026-05-{day} 08:10"))
    shots = [
        photo("photos/c.jpg", f"2026-05-{day} 08:00:00"),
        photo("photos/r.jpg", "2026-05-04 09:36:00"),
    ]
    found = with_(delivery(receipt_photos=("photos/r.jpg",)), record("clock", body), photos=shots)
    assert words in told(found, "photo-none-of-receipt")[0].message


def test_unpacking_while_the_driver_waits_leaves_the_photo_at_the_curb() -> None:
    opened = unpacking(began=moment("2026-05-04 09:20"), ended=moment("2026-05-04 11:00"))
    found = with_(delivery(), opened, photos=[photo("photos/a.jpg", "2026-05-04 09:30:00")])
    assert found.photos[0].stage is None
    assert told(found, "photo-at-curb")


def test_two_deliveries_at_once_share_no_named_photo() -> None:
    """The photo that the second record names is not evidence of the first shipment's curb."""
    shipments = (shipment(), shipment(id="second"))
    items = (Item(id="panel", description="x", shipment="main"),)
    records = (
        delivery(shipment="main"),
        delivery("02-delivery", shipment="second", photos=("photos/a.jpg",)),
    )
    found = with_(
        *records, photos=[photo("photos/a.jpg")], job_=job(shipment=shipments, item=items, seam=())
    )
    assert [f.where for f in told(found, "photo-at-curb")] == ["shipment second"]
    assert [f.where for f in told(found, "photo-none-at-curb")] == ["shipment main"]


def test_two_hundred_photos_give_one_line_and_all_sources() -> None:
    shots = [photo(f"photos/{n:03d}.jpg", None) for n in range(200)]
    (said,) = told(with_(photos=shots), "photo-undated")
    assert said.message.startswith("200 photos")
    assert "and 197 more" in said.message
    assert len(said.message) < 300
    assert len(said.evidence) == 200


@pytest.mark.parametrize(
    "folder, stages",
    [
        ("photos/01 curb", {Stage.ARRIVAL, Stage.CURB}),
        ("photos/Dry_Fit", {Stage.DRY_FIT}),
        ("photos/before-fastening", {Stage.BEFORE_FASTENING}),
        ("photos/fastened", {Stage.FASTENED}),
        ("photos/installed", {Stage.FASTENED, Stage.SEALED}),
        ("photos/dry fit/kitchen", {Stage.DRY_FIT}),
        ("photos/curb/unpacking", {Stage.UNPACKING}),  # the deepest decides
        ("photos/before sealing", set()),  # a word turns it round
        ("photos/not fastened", set()),
        ("photos/Curbing Lane 4", set()),  # a street, not a curb
        ("photos/phone 2", set()),
        (".", set()),
    ],
)
def test_what_a_folder_is_named_for(folder: str, stages: set[Stage]) -> None:
    """Common practice, no source: how people name folders."""
    assert named_stages(folder) == stages


def test_every_folder_word_names_its_own_stage() -> None:
    for row in FOLDER_WORDS:
        assert row.citation
        for phrase in row.words:
            assert named_stages(f"photos/{phrase.upper()}") == set(row.stages)


@pytest.mark.parametrize(
    "folder, taken, words",
    [
        ("curb", "2026-05-04 14:00:00", "another stage, unpacking"),
        ("curb", "2026-05-04 10:00:00", "after that stage"),
        ("curb", "2026-05-04 09:00:00", "before that stage"),
        ("curb", "2026-05-04 09:10:30", None),  # it may be at the curb
        ("curb", "2026-05-04 09:20:00", None),
        ("curb", None, None),
        ("dry fit", "2026-05-04 14:00:00", "another stage, unpacking"),
        ("handover", "2026-05-04 10:00:00", None),  # no record dates a handover
    ],
)
def test_folders_against_dates(folder: str, taken: str | None, words: str | None) -> None:
    shot = photo(f"photos/{folder}/a.jpg", taken)
    found = told(with_(delivery(), unpacking(), photos=[shot]), "photo-folder-date")
    assert [words in f.message for f in found] == ([True] if words else [])


def test_an_open_end_is_no_contradiction() -> None:
    """A dry fit with no stated end, and nothing after it: the next day may be part of it."""
    dry = step(Event.DRY_FIT, "2026-05-05 09:00")
    shot = photo("photos/dry fit/a.jpg", "2026-05-06 09:00:00")
    assert not told(with_(dry, photos=[shot]), "photo-folder-date")
    fastened = step(Event.FASTENED, "2026-05-05 15:00", "2026-05-05 16:00")
    sealed = step(Event.SEALED, "2026-05-07 15:00")
    assert told(with_(dry, fastened, sealed, photos=[shot]), "photo-folder-date")


@pytest.mark.parametrize(
    "taken, flagged",
    # A truck does not wait over night: common practice, no source.
    [("2026-05-04 19:00:00", False), ("2026-05-05 10:00:00", True)],
)
def test_a_truck_whose_leaving_nobody_wrote_left_within_a_day(taken: str, flagged: bool) -> None:
    there = delivery(driver_left=None, signed_at=None)
    found = with_(there, photos=[photo("photos/curb/a.jpg", taken)])
    assert bool(told(found, "photo-folder-date")) is flagged


def test_a_photo_that_may_be_of_its_folder_is_not_told_to_be_elsewhere() -> None:
    """The dry fit of a new panel has no stated end; the first pieces are fastened meanwhile."""
    records = (
        step(Event.FASTENED, "2026-05-06 09:00", "2026-05-06 10:00"),
        step(Event.SEALED, "2026-05-12 09:00"),
        step(Event.DRY_FIT, "2026-05-08 09:00", piece="panel 2"),
    )
    shot = photo("photos/dry fit/a.jpg", "2026-05-08 09:30:00")
    found = with_(*records, photos=[shot])
    assert found.photos[0].stage is Stage.FASTENED
    assert not told(found, "photo-folder-date")


def test_a_doubtful_date_gives_no_gap_to_intake() -> None:
    unset = photo("photos/a.jpg", "2000-01-01 00:00:10")
    found = with_(delivery(), photos=[unset], custody=log(seen("photos/a.jpg")))
    assert told(found, "photo-default-clock")
    assert not told(found, "photo-long-before-intake")


def test_the_same_bytes_in_two_folders_are_held_against_each() -> None:
    shot = structs.replace(
        photo("photos/curb/a.jpg", "2026-05-04 14:00:00"),
        places=("photos/curb/a.jpg", "photos/unpacking/a.jpg"),
    )
    found = told(with_(delivery(), unpacking(), photos=[shot]), "photo-folder-date")
    assert [f.where for f in found] == ["folder photos/curb"]


def test_a_moved_file_is_not_missing() -> None:
    lines = [
        seen("photos/a.jpg"),
        seen("photos/a.jpg", event=CustodyEvent.MISSING, number=2),
        seen("photos/curb/a.jpg", number=3, sha256=sha("photos/a.jpg")),
    ]
    moved = structs.replace(photo("photos/curb/a.jpg"), sha256=sha("photos/a.jpg"))
    assert not told(with_(photos=[moved], custody=log(*lines)), "custody-missing")


def test_a_log_ahead_of_the_clock_is_told_in_the_sites_time() -> None:
    # 18:03 UTC is 13:03 in Chicago, which keeps summer time in May (IANA: America/Chicago).
    found = cases_check_photos.first_seen("2026-05-20 18:03")
    (told,) = (f for f in found.findings if f.rule == "custody-clock")
    assert "up to 2026-05-20 13:03:00 UTC−05:00 by" in told.message


def test_without_a_log_the_gap_to_intake_is_not_checked() -> None:
    assert gaps(with_(photos=[photo("photos/a.jpg")]), "photo-long-before-intake")


def test_photos_without_a_job_say_what_cannot_be_known() -> None:
    built = replace(facts(photos=[photo("photos/a.jpg")]), job=None, job_sha256=None)
    found = case(built)
    assert gaps(found, "photo-no-photographer")
    assert not [n for n in found.not_checked if n.crashed]


def test_every_finding_of_this_part_names_a_source() -> None:
    shots = [photo("photos/a.jpg", None), photo("photos/b.jpg", "2000-01-01 00:00:10")]
    found = with_(delivery(), unpacking(), photos=shots)
    mine = [f for f in found.findings if f.rule.split("-")[0] in ("photo", "custody", "file")]
    assert mine
    assert all(f.evidence for f in mine)
    assert all(f.do_next for f in mine if f.standing is not Standing.SUPPORTS)
