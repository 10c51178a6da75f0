"""The order of the work, beyond each rule's one firing and one silent case."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Item, Joint
from claimkit.model.records import FoundAt, Record
from claimkit.model.stages import Event, Stage
from tests.build import case, facts, job, moment, seam, shipment
from tests.findings.cases_check_work import DRY, FASTENED, SEALED, STARTED, goods, panel, tray
from tests.findings.gap_build import dry
from tests.findings.work_build import counted, damage, delivery, readings, step, unpacking


def told(found: Case, rule: str) -> list[Finding]:
    return [f for f in found.findings if f.rule == rule]


def gaps(found: Case, rule: str) -> list[NotChecked]:
    return [n for n in found.not_checked if n.rule == rule]


def of(*records: Record, **more: Any) -> Case:
    return case(facts(records=records, job_=job(**more)))


def early(*records: Record, **more: Any) -> list[Finding]:
    return told(of(*records, **more), "work-old-fixture-early")


REMOVED = step(Event.OLD_FIXTURE_REMOVED, "2026-05-06")


@pytest.mark.parametrize(
    "records, words",
    [
        ((REMOVED,), ("unpacked", "counted", "dry-assembled")),
        ((unpacking(), REMOVED), ("dry-assembled",)),
        ((unpacking(counted("panel")), DRY, REMOVED), ("counted (tray)",)),
        ((unpacking(on="2026-05-07"), DRY, REMOVED), ("unpacked", "counted")),
        ((unpacking(), step(Event.DRY_FIT, "2026-05-07"), REMOVED), ("dry-assembled",)),
        ((unpacking(), DRY, REMOVED), ()),
        # A dry-fit reading shows that the pieces stood together.
        ((unpacking(), readings(Stage.DRY_FIT, "2026-05-05 10:00"), REMOVED), ()),
    ],
)
def test_what_was_not_done_before_the_removal(
    records: tuple[Record, ...], words: tuple[str, ...]
) -> None:
    found = early(*records)
    if not words:
        assert not found
        return
    (said,) = found
    assert all(word in said.message for word in words)
    for other in {"unpacked", "counted", "sized", "dry-assembled"} - {w.split()[0] for w in words}:
        assert other not in said.message
    assert said.standing is Standing.AGAINST
    assert "working room" in said.message


def test_times_that_do_not_tell_are_missing_and_not_against() -> None:
    """Unpacked and dry-fitted on the day of the removal, written as a day."""
    removed = step(Event.OLD_FIXTURE_REMOVED, "2026-05-05")
    (said,) = early(unpacking(), DRY, removed)
    assert said.standing is Standing.MISSING
    assert "cannot tell" in said.message


def test_a_single_piece_without_seams_needs_no_dry_assembly() -> None:
    one = (Item(id="panel", description="x"),)
    assert not early(unpacking(counted("panel")), REMOVED, item=one, seam=())
    assert early(unpacking(counted("panel")), REMOVED, item=one)


def test_every_shipment_has_to_be_unpacked_first() -> None:
    shipments = (shipment(), shipment(id="second"))
    items = (
        Item(id="panel", description="x", shipment="main"),
        Item(id="tray", description="x", shipment="second"),
    )
    first = unpacking(counted("panel"), shipment="main")
    (said,) = early(first, DRY, REMOVED, shipment=shipments, item=items)
    assert "unpacked (shipment second)" in said.message
    assert "counted (tray)" in said.message


def test_before_anything_is_begun_every_reason_stands_in_one_urgent_line() -> None:
    found = goods(panel(None), tray(hand="right"), more=(damage(), dry(6, record_id="r1")))
    (said,) = told(found, "work-not-ready-to-start")
    assert said.urgent
    for words in ("sized (panel)", "open damage: panel", "tray differs in hand", "out of design"):
        assert words in said.message
    assert not told(of(unpacking()), "work-not-ready-to-start"), "nothing is delivered yet"


@pytest.mark.parametrize(
    "more, standing, words",
    [
        ({}, Standing.AGAINST, "began"),
        ({"found": None}, Standing.AGAINST, "began"),  # found while unpacking: before any start
        ({"found": moment("2026-05-07 10:00")}, Standing.MISSING, "perhaps known already"),
        ({"found": moment("2026-05-08 08:00")}, Standing.AGAINST, "went on (fastened"),
        ({"found": moment("2026-05-10 08:00")}, None, ""),  # found afterwards
        ({"found": None, "found_at": FoundAt.LATER}, None, ""),
        ({"resolved": "accepted by the customer in writing"}, None, ""),
    ],
)
def test_work_with_a_damage(more: dict[str, Any], standing: Standing | None, words: str) -> None:
    found = told(of(damage(**more), STARTED, FASTENED), "work-started-with-damage")
    assert [f.standing for f in found] == ([standing] if standing else [])
    assert not found or words in found[0].message


def test_a_damage_found_nobody_knows_when_is_not_checked() -> None:
    later = damage(found=None, found_at=FoundAt.LATER)
    assert gaps(of(later, STARTED), "work-started-with-damage")
    assert not gaps(of(later), "work-started-with-damage")


@pytest.mark.parametrize(
    "on, words", [("2026-05-04", "known and not settled"), ("2026-05-10", "found only afterwards")]
)
def test_a_wrong_piece_was_wrong_whenever_it_was_found(on: str, words: str) -> None:
    found = goods(panel(), tray(hand="right"), more=(STARTED,), began=None, ended=moment(on))
    (said,) = told(found, "work-started-with-wrong-part")
    assert words in said.message


def test_out_of_design_counts_for_the_seam_and_piece_that_were_fastened() -> None:
    seams = (seam(), seam(id="s2"))
    other = step(Event.FASTENED, "2026-05-08 09:00", seams=("s2",))
    new = step(Event.FASTENED, "2026-05-08 09:00", piece="panel 2")
    rule = "work-started-out-of-design"
    assert told(of(dry(6), FASTENED, seam=seams), rule)
    assert not told(of(dry(6), other, seam=seams), rule)
    assert not told(of(dry(6), new), rule)
    assert not told(of(dry(6)), rule), "nothing is begun"


@pytest.mark.parametrize(
    "records, unread",
    [
        ((FASTENED, SEALED), "top, bottom"),
        ((FASTENED, SEALED, readings(Stage.FASTENED, "2026-05-08 15:00", "top")), "bottom"),
        ((FASTENED, SEALED, readings(Stage.FASTENED, "2026-05-08 15:00")), None),
        # Read over the sealant, or dated after it: no reading from before the sealing.
        ((FASTENED, SEALED, readings(Stage.SEALED, "2026-05-09 15:00")), "top, bottom"),
        ((FASTENED, SEALED, readings(Stage.FASTENED, "2026-05-10 15:00")), "top, bottom"),
        # Readings of the dry fit are not readings after fastening.
        ((FASTENED, SEALED, readings(Stage.DRY_FIT, "2026-05-05 15:00")), "top, bottom"),
        # The replacement piece was read, not this one.
        (
            (FASTENED, SEALED, readings(Stage.FASTENED, "2026-05-08 15:00", piece="panel 2")),
            "top, bottom",
        ),
    ],
)
def test_sealed_unread(records: tuple[Record, ...], unread: str | None) -> None:
    found = of(*records)
    said = told(found, "work-sealed-unread")
    assert [f"at {unread}." in f.message for f in said] == ([True] if unread else [])
    assert bool(told(found, "work-read-in-time")) is (unread is None)
    assert not told(found, "work-read-before-sealing")


def test_a_seam_without_stations_wants_one_reading() -> None:
    bare = (seam(station=()),)
    assert told(of(FASTENED, SEALED, seam=bare), "work-sealed-unread")
    read = readings(Stage.FASTENED, "2026-05-08 15:00", "anywhere")
    assert not told(of(FASTENED, SEALED, read, seam=bare), "work-sealed-unread")


def test_an_interlocking_joint_is_not_asked_for() -> None:
    joint = (seam(joint=Joint.INTERLOCKING),)
    found = of(FASTENED, SEALED, seam=joint)
    assert not told(found, "work-sealed-unread")
    assert not told(of(FASTENED, seam=joint), "work-read-before-sealing")


def test_read_before_the_sealant_is_urgent_and_names_the_seam() -> None:
    only = step(Event.FASTENED, "2026-05-08 09:00", seams=("s2",))
    (said,) = told(of(only, seam=(seam(), seam(id="s2"))), "work-read-before-sealing")
    assert said.urgent
    assert "Read seam s2 before the sealant" in said.do_next


def test_fastened_again_after_sealing_is_open_again() -> None:
    again = step(Event.FASTENED, "2026-05-12 09:00", record_id="again")
    read = readings(Stage.FASTENED, "2026-05-08 15:00")
    assert told(of(FASTENED, SEALED, read, again), "work-read-before-sealing")


@pytest.mark.parametrize(
    "records, words",
    [
        ((step(Event.DRY_FIT, "2026-05-09"), FASTENED), "before dry fit"),
        ((step(Event.INSTALLATION_STARTED, "2026-05-09"), FASTENED), "installation started"),
        ((step(Event.HANDOVER, "2026-05-08 08:00"), SEALED), "before sealed"),
        ((step(Event.DRY_FIT, "2026-05-05 12:00", "2026-05-05 09:00"),), "before it began"),
        ((unpacking(ended=moment("2026-05-04 10:00")),), "before it began"),
        ((delivery(), step(Event.DRY_FIT, "2026-05-03")), "before the goods arrived"),
        ((delivery(), unpacking(on="2026-05-03")), "before the goods arrived"),
        ((delivery(), dry(3, taken="2026-05-03 10:00")), "before the goods arrived"),
        ((delivery(), dry(3, taken="2026-05-03 10:00", piece="old panel")), None),
        # No record says fastened: a seal before the dry fit is out of order all the same.
        ((DRY, step(Event.SEALED, "2026-05-04")), "is before dry fit"),
        ((delivery(), step(Event.DRY_FIT, "2026-05-03", piece="old panel")), None),
        ((delivery(), unpacking(began=moment("2026-05-04"))), None),  # on that day: may be
        ((FASTENED, SEALED, DRY), None),
        # A second dry fit after a first fastening is work done again.
        ((DRY, FASTENED, step(Event.DRY_FIT, "2026-05-10", record_id="again")), None),
        # A complaint may come at any time.
        ((step(Event.COMPLAINT, "2026-05-01"), FASTENED), None),
    ],
)
def test_contradictions_in_time(records: tuple[Record, ...], words: str | None) -> None:
    found = told(of(*records), "work-order")
    assert [words in f.message for f in found] == ([True] if words else [])


@pytest.mark.parametrize(
    "more, count",
    [
        ({"driver_left": moment("2026-05-04 08:40"), "signed_at": None}, 1),
        ({"signed_at": moment("2026-05-04 09:05")}, 1),
        ({"signed_at": moment("2026-05-04 09:55")}, 1),
        ({"driver_left": moment("2026-05-04 08:40")}, 2),
        ({"driver_left": moment("2026-05-04 09:10"), "signed_at": None}, 0),  # in one minute
        ({"driver_left": moment("2026-05-04")}, 0),
        ({}, 0),
    ],
)
def test_delivery_times(more: dict[str, Any], count: int) -> None:
    assert len(told(of(delivery(**more)), "delivery-times-contradict")) == count


def test_a_delivery_not_yet_recorded_is_no_reproach() -> None:
    (said,) = told(of(), "delivery-none")
    assert said.standing is Standing.NOTE
    (said,) = told(of(DRY), "delivery-none")
    assert said.standing is Standing.MISSING


def test_a_second_shipment_without_a_record_is_told_apart() -> None:
    shipments = (shipment(), shipment(id="second"))
    items = (Item(id="panel", description="x", shipment="main"),)
    found = of(delivery(shipment="main"), shipment=shipments, item=items, seam=())
    assert [f.where for f in told(found, "delivery-none")] == ["shipment second"]


@pytest.mark.parametrize("kept, standing", [
    (None, Standing.MISSING),
    ("no", Standing.AGAINST),
    ("Thrown away by the customer", Standing.AGAINST),
    ("garage", None),
    ("No. 3 Mill Lane, garage", None),
])  # fmt: skip
def test_packing(kept: str | None, standing: Standing | None) -> None:
    found = told(of(unpacking(packing_kept=kept), damage()), "packing-not-kept")
    assert [f.standing for f in found] == ([standing] if standing else [])
    assert not told(of(unpacking(packing_kept=kept)), "packing-not-kept"), "nothing is damaged"


def test_damage_that_came_to_light_later_asks_for_no_packing() -> None:
    later = damage(found=None, found_at=FoundAt.LATER)
    assert not told(of(unpacking(packing_kept="no"), later), "packing-not-kept")


def test_a_replaced_milestone_decides_nothing() -> None:
    wrong = replace(step(Event.SEALED, "2026-05-07"), replaced_by="right")
    assert not told(of(FASTENED, wrong), "work-order")


def test_every_finding_of_this_part_names_a_source() -> None:
    found = of(delivery(cartons_received=3), unpacking(), damage(), STARTED, FASTENED, REMOVED)
    mine = [
        f
        for f in found.findings
        if f.rule.split("-")[0] in ("work", "delivery", "received", "packing")
    ]
    assert len({f.rule for f in mine}) >= 6
    assert all(f.evidence for f in mine)
    assert all(f.do_next for f in mine if f.standing is not Standing.SUPPORTS)
