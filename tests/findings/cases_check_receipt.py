"""For each rule about the receipt a case that fires and one that differs by one fact."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from claimkit.model.case import Case
from claimkit.model.records import FoundAt
from tests.build import case, facts, record
from tests.findings.work_build import Damage, delivery

SPECIFIC = "ctn 2 of 4 crushed lower left corner, 4 in"


def told(words: str | None, **more: Any) -> Case:
    return case(facts(records=[delivery(words=words, **more)]))


def with_damage(words: str, found_at: FoundAt = FoundAt.CURB) -> Case:
    damage = Damage(item="panel", what="crushed", part="lower left corner", found_at=found_at)
    return case(facts(records=[delivery(words=words), record("03-damage", damage)]))


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "receipt-not-recorded": (lambda: told(None), lambda: told("")),
    "receipt-clear": (lambda: told("all good"), lambda: told("not all good")),
    "receipt-not-stated": (lambda: told(""), lambda: told(None)),
    "receipt-too-vague": (lambda: told("crushed"), lambda: told("ctn 2 crushed")),
    "receipt-contradictory": (
        lambda: told("rec'd 4 of 4, short 1 ctn"),
        lambda: told("rec'd 3 of 4, short 1 ctn", cartons_received=3),
    ),
    "receipt-specific": (lambda: told(SPECIFIC), lambda: told("not crushed")),
    "receipt-reservation-only": (
        lambda: told("subject to inspection"),
        lambda: told("not subject to inspection"),
    ),
    "receipt-reservation-beside": (
        lambda: told(f"{SPECIFIC}. Subject to further inspection."),
        lambda: told(f"{SPECIFIC}. No further inspection needed."),
    ),
    "receipt-copies-differ": (
        lambda: told("all good", words_on_our_copy=SPECIFIC),
        lambda: told("all good", words_on_our_copy="ALL GOOD."),
    ),
    "receipt-short-not-stated": (
        lambda: told("subject to further inspection", cartons_received=3),
        lambda: told("subject to further inspection", cartons_received=4),
    ),
    "receipt-damage-not-stated": (
        lambda: with_damage("all good"),
        lambda: with_damage("panel crushed on lower left corner"),
    ),
    "receipt-signed-uninspected": (
        lambda: told("subject to inspection", inspected=False),
        lambda: told("subject to further inspection", inspected=False),
    ),
    "receipt-driver-not-signed": (
        lambda: told(SPECIFIC, driver_signed=False),
        lambda: told(SPECIFIC, driver_signed=True),
    ),
    "receipt-refused": (
        lambda: told("refused 1 ctn, glass broken", refused="one carton, the glass broken"),
        lambda: told("refused 1 ctn, glass broken"),
    ),
}
