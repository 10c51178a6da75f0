"""The claim, the next move and the carrier's limit: in the owner's copy, and in nobody else's."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date

import jsonschema
import pytest

from claimkit.compose import asjson
from claimkit.compose.packet.order import compose
from claimkit.compose.terminal import lines
from claimkit.findings.limits.next_move import next_move
from claimkit.model.case import Case, Reader
from claimkit.model.contract import Duty, OwnTerm, Policy, Start
from claimkit.model.document import statements
from claimkit.model.job import Party, Role
from claimkit.model.quantities import Span
from claimkit.model.records import About
from tests.build import case, facts
from tests.compose.jobs import ROOT
from tests.findings.cases_check_terms import (
    CRACKED,
    by_road,
    claim,
    limited,
    made,
    refusal,
    report,
    theirs,
)

SCHEMA = json.loads((ROOT / "docs" / "json.schema.json").read_text(encoding="utf-8"))
TERM = OwnTerm(
    id="notice",
    title="Notice of loss to the insurer",
    duty=Duty.REPORT,
    runs_from=Start.DISCOVERY,
    length=Span(30, "calendar days", written="30 calendar days"),
    source="Policy CG-77201, section 9",
)
BEACON = Party(id="beacon", name="Beacon Mutual", roles=(Role.INSURER,))


def whole() -> Case:
    """A case with a limit of liability, a policy, terms of sale and a claim with an offer."""
    offer = theirs(About.OFFER, amount="200.00", reference="C-4471")
    first = made(CRACKED, report(), claim(), offer, liability=limited(), parties=(BEACON,))
    assert first.facts.job
    job_ = replace(first.facts.job, policy=(Policy(insurer="beacon", term=(TERM,)),))
    return case(facts(job_=job_, records=first.facts.records), first.as_of)


def text_of(found: Case, reader: Reader) -> str:
    document = compose(found, reader)
    return "\n".join(statement.text for _, statement in statements(document))


OWNERS = (
    "USD 192.00",  # the carrier's limit: 96 lb × 2.00
    "may show a limit",
    "Report to the seller",
    "Notice of loss to the insurer",
    "Notice of breach to the seller",
    "Answer the offer",
    "the carrier has made an offer",
)


def test_the_owner_sees_the_claim_the_next_move_and_the_limit() -> None:
    found = whole()
    text = text_of(found, Reader.OWN)
    for words in (*OWNERS, "C-4471", next_move(found).line(found.as_of)):
        assert words in text


@pytest.mark.parametrize("reader", [Reader.CARRIER, Reader.SELLER, Reader.CUSTOMER])
def test_nobody_else_does(reader: Reader) -> None:
    text = text_of(whole(), reader)
    for words in OWNERS:
        assert words not in text


def test_the_carrier_is_not_told_what_the_owner_has_not_entered() -> None:
    found = made(CRACKED, claim(), sale=None, liability=limited(affected_weight=None))
    rules = {n.rule for n in found.not_checked}
    assert {"liability-not-computed", "limit-seller-terms-not-known"} <= rules
    assert "liability-not-computed" in text_of(found, Reader.OWN)
    text = text_of(found, Reader.CARRIER)
    assert "liability-" not in text
    assert "seller-terms" not in text


def test_the_carriers_packet_keeps_the_limits_of_the_carriage() -> None:
    text = text_of(whole(), Reader.CARRIER)
    assert "Claim for loss or damage" in text
    assert "The carrier pays, declines or makes a firm offer" in text


@pytest.mark.parametrize(
    "found",
    [
        whole,
        made,
        lambda: made(CRACKED, claim(), refusal()),
        lambda: made(CRACKED, claim(), theirs(About.PAYMENT, amount="418.00")),
        lambda: by_road(sdr_date=None),
        lambda: case(replace(facts(), job=None, job_sha256=None)),
    ],
)
@pytest.mark.parametrize("part", ["status", "deadlines"])
def test_json_and_lines_of_every_kind(found: object, part: str) -> None:
    built = found()  # type: ignore[operator] # each row is a way to make a case
    value = getattr(asjson, part)(built)
    jsonschema.Draft202012Validator(SCHEMA).validate(json.loads(json.dumps(value)))
    assert value["next_move"]["line"]
    printed = getattr(lines, part)(built)
    assert not [line for line in printed if len(line) > 80 and " " in line.strip()]


def test_status_begins_with_the_next_move() -> None:
    found = whole()
    printed = lines.status(found)
    assert printed[3] == "Next"
    until = printed.index("", 4)
    told = " ".join(line.strip() for line in printed[4:until])
    assert told == next_move(found).line(found.as_of)


def test_the_limit_is_shown_beside_the_loss_and_the_loss_is_claimed() -> None:
    printed = " ".join(" ".join(lines.status(whole())).split())
    assert "the carrier may show a limit of USD 192.00" in printed
    assert "The claim stays the full actual loss, USD 418.00" in printed


def test_special_drawing_rights_are_printed_under_their_name() -> None:
    printed = " ".join(lines.status(by_road(sdr_date=None)))
    assert "SDR" in printed
    assert "XDR" not in printed


def test_on_a_quiet_day_the_next_move_has_a_day_of_its_own() -> None:
    found = made(CRACKED, report(), claim(), as_of=date(2026, 5, 8))
    assert next_move(found).day
