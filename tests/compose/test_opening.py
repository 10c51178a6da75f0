"""Openings in print: who sees what, at 80 columns, with sources, and as JSON by the schema."""

from __future__ import annotations

import json
from collections.abc import Callable

import jsonschema
import pytest

from claimkit.compose import asjson
from claimkit.compose.packet import opening
from claimkit.compose.packet.order import compose
from claimkit.compose.terminal.gap_lines import gaps
from claimkit.compose.terminal.lines import status
from claimkit.model.case import Case, Reader
from claimkit.model.document import Document, statements
from tests.compose.jobs import ROOT, sample_case
from tests.findings.cases_check_opening import CASES

SCHEMA = json.loads((ROOT / "docs" / "json.schema.json").read_text(encoding="utf-8"))
JOB = "opened-and-out-of-plumb"
FIRING = {rule: fires for rule, (fires, _) in CASES.items()}


def told(case: Case, reader: Reader, section: str | None = "opening") -> str:
    document: Document = compose(case, reader)
    return "\n".join(s.text for part, s in statements(document) if section in (None, part))


def test_own_and_customer_see_the_section_and_nobody_else() -> None:
    case = sample_case(JOB)
    for reader in Reader:
        there = bool(told(case, reader))
        assert there is (reader in (Reader.OWN, Reader.CUSTOMER)), reader


def test_results_stand_with_interval_tolerance_and_answer() -> None:
    text = told(sample_case(JOB), Reader.CUSTOMER).replace("\N{NO-BREAK SPACE}", " ")
    # Read: 40 mm at the foot, 43.5 mm at the top, 1800 mm apart; 2 mm over 2 m are 1.8 mm.
    assert "3.50 ± 0.50 mm back from the opening" in text
    assert "-1.94 ± 0.28 mm/m" in text
    assert "± 1.8 mm" in text
    assert "outside tolerance (within: under 1 %)" in text
    assert "within tolerance" in text
    assert "40 mm" in text
    assert "43.5 mm" in text


@pytest.mark.parametrize("rule", list(FIRING))
def test_the_customer_reads_no_blame_and_no_advice(rule: str) -> None:
    text = told(FIRING[rule](), Reader.CUSTOMER)
    for word in ("consistent with", "explain", "Mend", "mended", "Packing", "For information only"):
        assert word not in text, word


def test_published_values_are_information_in_the_owners_copy() -> None:
    text = told(sample_case(JOB), Reader.OWN)
    assert "For information only: the maker's instructions decide." in text
    assert "1/4 in in 10 ft" in text
    every = "\n".join(told(case(), Reader.OWN, None) for case in FIRING.values())
    assert "3/8 in" not in every, "a threshold of a defect list is no target and is not printed"


def test_what_is_off_is_told_in_the_owners_copy_while_it_can_be_mended() -> None:
    case = FIRING["opening-mend-first"]()
    text = told(case, Reader.OWN)
    assert "7.20 ± 0.50 mm into the opening at 1900 mm, against 100 mm" in text
    lines = "\n".join(gaps(case))
    for words in ("maker's instructions", "two or more people", "eye and ear protection"):
        assert words in " ".join(lines.split())


@pytest.mark.parametrize("rule", list(FIRING))
@pytest.mark.parametrize("command", [gaps, status], ids=["gaps", "status"])
def test_lines_fit_80_columns(rule: str, command: Callable[[Case], list[str]]) -> None:
    lines = command(FIRING[rule]())
    assert max(len(line) for line in lines) <= 80
    assert any("pening" in line for line in lines)


@pytest.mark.parametrize("rule", list(FIRING))
def test_json_holds_to_its_schema(rule: str) -> None:
    found = asjson.gaps(FIRING[rule]())
    jsonschema.Draft202012Validator(SCHEMA).validate(json.loads(json.dumps(found)))


def test_json_gives_the_numbers() -> None:
    found = asjson.gaps(sample_case(JOB))
    wall, base = found["openings"]
    plumb, square = wall["results"]
    assert plumb["over_mm"]["value"] == pytest.approx(-3.5)
    assert plumb["tolerance_mm"] == pytest.approx(1.8)
    assert plumb["answer"] == "outside tolerance"
    assert (square["what"], square["judged_mm"]["value"]) == ("square", -3.0)
    assert base["results"][0]["answer"] == "within tolerance"
    (beside,) = found["tapers_beside_openings"]
    assert beside["answer"] == "consistent with"
    # Handover less dry fit: foot 2.533 − 2.433, top 5.833 − 2.433: 3.3 mm in 1.8 m.
    assert beside["observed_mm_per_m"]["value"] == pytest.approx(3.3 / 1.8, abs=0.01)
    assert beside["predicted_mm_per_m"]["value"] == pytest.approx(3.5 / 1.8, abs=0.01)


def test_a_job_without_checks_has_no_section() -> None:
    assert not told(sample_case("disputed-gap"), Reader.OWN)
    assert opening.SIGNS in told(sample_case(JOB), Reader.OWN)


def test_the_customer_sees_the_photo_of_the_check() -> None:
    case = sample_case(JOB)
    shown = [sha for sha, _ in compose(case, Reader.CUSTOMER).photo_numbers]
    (photo,) = case.openings[0].photos
    assert photo in shown
