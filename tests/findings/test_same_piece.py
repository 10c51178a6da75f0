"""A piece that is damaged and missing at once is one loss: sums worked out by hand.

That one lost article is paid for once follows from 49 USC 14706(a)(1), the actual loss. The panel
costs USD 412.50 (office_build), four are ordered; no expected value is copied from output.
"""

from __future__ import annotations

import pytest

from claimkit.findings.claim.parts import ready
from claimkit.findings.claim.same_piece import refusals
from claimkit.findings.claim.worksheet import total
from claimkit.model.case import Case, NotChecked
from claimkit.model.records import CountedItem, FoundAt, Record, Unpacking
from tests.build import record
from tests.findings.office_build import PANEL, a_job, damage, delivery, worked


def counted(quantity: int, condition: str | None = None) -> Record:
    rows = (CountedItem(item="panel", quantity=quantity, condition=condition),)
    return record("unpacking", Unpacking(counted=rows))


def amount(found: Case) -> str:
    return str(total(found.amount))


def questions(found: Case) -> list[NotChecked]:
    return [
        n for n in found.not_checked if n.rule == "amount" and "damaged and missing" in n.reason
    ]


REFUSED = delivery(refused="1 of 4 panels, corner crushed")
TAKEN = delivery()
TRAY_REFUSED = delivery(refused="the floor tray, corner crushed")
CURB_TWO = damage(quantity=2)
AT_UNPACKING = damage("later", found_at=FoundAt.UNPACKING)


@pytest.mark.parametrize(
    "records, expected",
    [
        # refused at the curb, three good: one panel is lost
        ((REFUSED, damage(), counted(3, "good")), "USD 412.50"),
        # the same, named by the refusal; the condition of the others was not written
        ((REFUSED, damage(), counted(3)), "USD 412.50"),
        # two seen damaged, one of them refused: 2 x 412.50
        ((REFUSED, CURB_TWO, counted(3)), "USD 825.00"),
        # one refused, another cracked when unpacked: two different pieces
        ((REFUSED, damage(), AT_UNPACKING, counted(3, "one cracked")), "USD 825.00"),
        # one refused and one more that never came: two
        ((REFUSED, damage(), counted(2, "good")), "USD 825.00"),
        # taken in damaged, and one missing: two
        ((TAKEN, damage(), counted(3)), "USD 825.00"),
        ((TAKEN, damage(), counted(3, "one crushed")), "USD 825.00"),
        # nothing was refused, in words
        ((delivery(refused="nothing"), damage(), counted(3)), "USD 825.00"),
        # the tray was refused; the crushed panel is among the three counted
        ((TRAY_REFUSED, damage(), counted(3, "one crushed")), "USD 825.00"),
    ],
)
def test_one_loss_or_two_where_the_record_tells(records: tuple[Record, ...], expected: str) -> None:
    found = worked(records)
    assert amount(found) == expected
    assert not questions(found)


@pytest.mark.parametrize(
    "records",
    [
        # something was refused, and not told whether it was the panel
        (delivery(refused="1 carton, corner crushed"), damage(), counted(3)),
        # all that were counted were good, and no refusal is on record
        (TAKEN, damage(), counted(3, "good")),
        (TAKEN, AT_UNPACKING, counted(3, "good")),
        # refused, and one that was counted is not good: which one was it?
        (REFUSED, damage(), counted(3, "one crushed")),
    ],
)
def test_where_it_is_not_told_the_smaller_is_counted_and_asked_about(
    records: tuple[Record, ...],
) -> None:
    found = worked(records)
    assert amount(found) == "USD 412.50"
    (question,) = questions(found)
    assert question.where == "item panel"
    assert not ready(found, found.facts.job.shipment[0])  # type: ignore[union-attr]


def test_the_only_item_of_a_shipment_needs_no_name_in_the_refusal() -> None:
    alone = a_job(PANEL)
    found = worked((delivery(refused="1 carton, crushed"), damage(), counted(3)), alone)
    assert amount(found) == "USD 412.50"
    assert not questions(found)


@pytest.mark.parametrize(
    "more, said",
    [
        ({"refused": "1 crate, wet"}, ["1 crate, wet"]),
        ({"refused": "none"}, []),
        ({"refused": "Nothing was refused."}, []),
        ({"words": "3 panels received, 1 panel refused"}, ["3 panels received, 1 panel refused"]),
        ({"words": "1 panel crushed, not refused"}, []),
        ({"words": "2 panels crushed, driver refused to sign"}, []),
        ({}, []),
    ],
)
def test_what_was_refused_is_read_from_its_key_and_the_receipt(
    more: dict[str, str], said: list[str]
) -> None:
    found = worked((delivery(**more),))
    job = found.facts.job
    assert job
    assert [text for text, _ in refusals(found, job.shipment[0])] == said
