"""The examples of docs/extending.md run, and do what the page says of them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from claimkit.compose.letters.book import COMPOSERS, compose_letter
from claimkit.findings.reason import reason
from claimkit.findings.register import Check
from claimkit.intake.entries.examples import EXAMPLES
from claimkit.model.letter import LetterKind
from claimkit.model.records import KINDS
from claimkit.render.pdf import render
from claimkit.rules.carriage import CLAUSES
from tests.build import AS_OF, NOW, case, facts, job, shipment
from tests.compose.jobs import ROOT

PAGE = (ROOT / "docs" / "extending.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```python\n(.*?)```", PAGE, re.S)


@pytest.fixture
def page() -> Iterator[dict[str, Any]]:
    """Run the page's blocks in order; give every name that they made, and forget its record."""
    assert "storage" not in KINDS
    names: dict[str, Any] = {"__name__": "extending"}
    for number, block in enumerate(BLOCKS, 1):
        place = f"docs/extending.md, block {number}"
        # dont_inherit: else this module's postponed annotations would hold for the page too
        exec(compile(block, place, "exec", dont_inherit=True), names)  # noqa: S102 - the page's own
    yield names
    del EXAMPLES[KINDS.pop("storage")]


def test_the_page_has_an_example_of_each(page: dict[str, Any]) -> None:
    assert {"driver_not_named", "ROWS", "appointment", "Storage"} <= set(page)


def test_the_rule_fires_within_the_whole_run(page: dict[str, Any]) -> None:
    checks = tuple(Check(*row) for row in page["CHECKS"])
    fires, silent = page["CASES"]["delivery-driver-not-named"]
    told = reason(fires().facts, AS_OF, NOW, checks=checks)
    assert [f.rule for f in told.findings] == ["delivery-driver-not-named"]
    assert not any(n.crashed for n in told.not_checked)
    assert reason(silent().facts, AS_OF, NOW, checks=checks).findings == ()
    assert page["ROWS"][0].id not in {clause.id for clause in CLAUSES}  # invented, and stays so


@pytest.mark.parametrize("pro, ready", [("77-1", True), (None, False)])
def test_the_letter_is_composed_whole(
    page: dict[str, Any], monkeypatch: pytest.MonkeyPatch, pro: str | None, ready: bool
) -> None:
    monkeypatch.setitem(COMPOSERS, LetterKind.TERMS, page["appointment"])
    plan = job(shipment=(shipment(pro_number=pro),))
    found = compose_letter(case(facts(job_=plan)), LetterKind.TERMS)
    assert "Request for a delivery appointment" in found.text
    assert ("freight bill" in " ".join(found.why_not)) is not ready
    pdf = render(found.document, lambda _plate, _pixels: "none", paper="letter")
    assert pdf.startswith(b"%PDF-")


def test_every_file_that_the_page_names_is_there() -> None:
    paths = re.findall(r"`((?:claimkit|docs|tests)/[^`…]+)`", PAGE)
    assert len(paths) > 20
    for path in paths:
        assert (ROOT / path).exists(), path
