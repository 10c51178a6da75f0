"""Walk the register: every rule has a case that fires, one that stays silent, and can fail."""

from __future__ import annotations

import importlib
import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from claimkit.findings.reason import reason
from claimkit.findings.register import CHECKS, STAGES, Check
from claimkit.model.case import Case, Finding
from tests.build import AS_OF, NOW, case, facts

MODULES = (
    "check_photos",
    "check_work",
    "check_receipt",
    "check_limits",
    "check_gaps",
    "check_lines",
    "check_photo_gaps",
    "check_cards",
    "check_opening",
    "check_office",
    "check_terms",
    "check_arrivals",
)
CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    rule: pair
    for module in MODULES
    for rule, pair in importlib.import_module(f"tests.findings.cases_{module}").CASES.items()
}


def told(found: Case, rule: str) -> list[object]:
    """Give what a case says under a rule: findings and not-checked."""
    return [r for r in (*found.findings, *found.not_checked) if r.rule == rule]


def test_ids_are_unique_and_well_formed() -> None:
    ids = [check.id for check in CHECKS]
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch(r"[a-z]+(-[a-z0-9]+)+", rule) for rule in ids)
    assert set(CASES) == set(ids)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_fires_and_stays_silent(check: Check) -> None:
    fires, silent = CASES[check.id]
    assert told(fires(), check.id), "the firing case is silent"
    assert not told(silent(), check.id), "the silent case fires"


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_an_empty_check_is_noticed(check: Check) -> None:
    """Sabotage: with the check emptied, its firing case must say nothing under its rule."""
    fires, _ = CASES[check.id]
    whole = fires()
    emptied = tuple(replace(c, run=lambda _: ()) if c.id == check.id else c for c in CHECKS)
    without = reason(whole.facts, whole.as_of, whole.now, checks=emptied)
    assert told(whole, check.id)
    assert not told(without, check.id), "another check or a stage speaks under this rule"


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_findings_are_complete(check: Check) -> None:
    for found in told(CASES[check.id][0](), check.id):
        if isinstance(found, Finding):
            assert found.citation.strip()
            assert found.where.strip()
            assert found.message.strip().endswith((".", "?", "”", ":"))


def test_a_crashing_check_is_said_and_the_rest_goes_on() -> None:
    def broken(_: Case) -> tuple[Finding, ...]:
        raise KeyError("planted")

    planted = (Check("planted-defect", "A planted defect", broken), *CHECKS)
    found = reason(facts(), AS_OF, NOW, checks=planted)
    crashed = [n for n in found.not_checked if n.crashed]
    assert [n.rule for n in crashed] == ["planted-defect"]
    assert "KeyError" in crashed[0].reason
    assert found.findings == case(facts()).findings


def test_no_stage_crashes_on_an_empty_job() -> None:
    assert len(STAGES) == len({stage.id for stage in STAGES})
    assert not [n for n in case(facts()).not_checked if n.crashed]
    nothing = replace(facts(), job=None, job_sha256=None)
    assert not [n for n in case(nothing).not_checked if n.crashed]
