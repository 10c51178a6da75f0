"""Findings about terms of sale, liability and the life of a claim, beyond one case each."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from claimkit.findings.limits import check_life
from claimkit.findings.limits.check_terms import CHECKS
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Party, Role, SaleTerms, Terms
from claimkit.model.records import About, Milestone
from claimkit.model.stages import Event
from tests.build import moment
from tests.findings.cases_check_terms import (
    ACCEPTS,
    CRACKED,
    OFFER,
    PAPER,
    SALE,
    STARTED,
    THE_SHOP,
    claim,
    limited,
    made,
    notice,
    refusal,
    report,
    theirs,
    told_seller,
)


def found(case: Case, rule: str) -> list[Finding]:
    return [f for f in case.findings if f.rule == rule]


def one(case: Case, rule: str) -> Finding:
    (finding,) = found(case, rule)
    return finding


def gaps(case: Case, rule: str) -> list[NotChecked]:
    return [n for n in case.not_checked if n.rule == rule]


def test_every_id_says_what_it_is_about() -> None:
    assert all(rule.startswith(("limit-", "liability-", "claim-")) for rule, _, _ in CHECKS)


# The terms of sale


def step(event: Event, day: str) -> Milestone:
    return Milestone(event=event, began=moment(day))


@pytest.mark.parametrize(
    "milestones,standing,day",
    [
        ([], Standing.MISSING, None),  # it can still be told before the work
        ([STARTED], Standing.AGAINST, "Fri 2026-05-08"),
        ([step(Event.FASTENED, "2026-05-09 08:00")], Standing.AGAINST, "Sat 2026-05-09"),
        ([step(Event.SEALED, "2026-05-09 08:00"), STARTED], Standing.AGAINST, "Fri 2026-05-08"),
        # A dry fit is no installation, and what is planned after the legal day has not begun.
        ([step(Event.DRY_FIT, "2026-05-08 08:00")], Standing.MISSING, None),
        ([step(Event.FASTENED, "2026-05-21 08:00")], Standing.MISSING, None),
        ([step(Event.FASTENED, "2026-05-20 08:00")], Standing.AGAINST, "Wed 2026-05-20"),
    ],
)
def test_installation_as_acceptance(
    milestones: list[Milestone], standing: Standing, day: str | None
) -> None:
    finding = one(made(CRACKED, *milestones, sale=ACCEPTS), "limit-installation-accepts")
    assert finding.standing is standing
    assert finding.urgent is (standing is Standing.MISSING)
    assert finding.citation == PAPER
    assert ("Installation began on" in finding.message) is (day is not None)
    if day:
        assert day in finding.message
        assert any(s.path and s.path.startswith("records/") for s in finding.evidence)


@pytest.mark.parametrize(
    "case",
    [
        lambda: made(STARTED, sale=ACCEPTS),  # nothing is wrong
        lambda: made(CRACKED, STARTED, sale=SALE),  # the terms do not say so
        lambda: made(CRACKED, sale=replace(ACCEPTS, installation_accepts=False)),
        lambda: made(CRACKED, told_seller(), sale=ACCEPTS),  # told before any work
        lambda: made(CRACKED, STARTED, told_seller(), sale=ACCEPTS),
    ],
)
def test_no_warning_about_installing(case: object) -> None:
    assert not found(case(), "limit-installation-accepts")  # type: ignore[operator] # a row


def test_without_a_paper_the_entry_itself_is_cited() -> None:
    bare = SaleTerms(installation_accepts=True, risk_passes="at the curb", claim_filed_by="shop")
    case = made(CRACKED, sale=bare)
    for rule in (
        "limit-installation-accepts",
        "limit-terms-of-sale",
        "limit-claim-filed-by-another",
    ):
        assert "the seller's terms of sale" in one(case, rule).citation
    assert one(case, "limit-sale-source-missing").standing is Standing.MISSING
    sourced = made(CRACKED, sale=replace(bare, source=PAPER))
    assert PAPER in one(sourced, "limit-terms-of-sale").citation


def test_an_empty_sale_table_lacks_no_source() -> None:
    assert not found(made(sale=SaleTerms()), "limit-sale-source-missing")


@pytest.mark.parametrize(
    "more,silent",
    [
        ({"sale": THE_SHOP}, False),
        ({"sale": replace(THE_SHOP, claim_filed_by="us")}, True),  # that is us
        ({"sale": SALE}, True),
        ({"sale": THE_SHOP, "terms": Terms.CMR}, False),
    ],
)
def test_who_files(more: dict[str, object], silent: bool) -> None:
    assert bool(found(made(CRACKED, **more), "limit-claim-filed-by-another")) is not silent


@pytest.mark.parametrize(
    "sent",
    [
        claim(sender="shop", received=None, sent="2026-05-07"),  # not shown received
        claim(sender="shop", received="2026-05-21"),  # after the legal day
        notice(About.STATUS, sender="shop", received="2026-05-07"),
    ],
)
def test_the_sellers_claim_counts_once_the_carrier_has_it(sent: object) -> None:
    assert found(made(CRACKED, sent, sale=THE_SHOP), "limit-claim-filed-by-another")
    there = claim(sender="shop", received="2026-05-20")
    assert not found(made(CRACKED, there, sale=THE_SHOP), "limit-claim-filed-by-another")


def test_nothing_to_file_where_nothing_is_wrong() -> None:
    assert not found(made(sale=THE_SHOP), "limit-claim-filed-by-another")


def test_what_the_terms_say_is_repeated_in_their_words() -> None:
    sale = SaleTerms(risk_passes="at the curb", refusal="never refuse", source=PAPER)
    finding = one(made(sale=sale), "limit-terms-of-sale")
    assert finding.message == (
        "The risk of loss passes: at the curb. On refusing a delivery: never refuse."
    )
    assert [s.key_path for s in finding.evidence] == ["sale.risk_passes", "sale.refusal"]


def test_the_sellers_unknown_days_are_told_once_goods_are_there() -> None:
    rule = "limit-seller-terms-not-known"
    (gap,) = gaps(made(sale=None), rule)
    assert "Tessel Supply" in gap.reason
    assert "24 to 72 hours" in gap.reason
    assert gaps(made(sale=SaleTerms(refusal="never")), rule)  # no days among them
    assert not gaps(made(sale=SALE), rule)


# Liability


def test_a_declared_value_is_enough_to_know_of_a_limit() -> None:
    rule = "liability-tariff-not-entered"
    assert found(made(CRACKED), rule)
    assert not found(made(), rule)  # nothing wrong, nothing to claim
    assert not found(made(CRACKED, terms=Terms.CMR), rule)
    assert found(made(CRACKED, liability=limited(limit=())), rule)


# The life of a claim


def test_a_settled_claim_raises_nothing_more() -> None:
    case = made(
        CRACKED,
        report(received="2026-05-05"),
        claim(),
        theirs(About.INSPECTION_WAIVED, "2026-05-06"),
        theirs(About.ACKNOWLEDGEMENT, "2026-05-08"),
        theirs(About.PAYMENT, amount="418.00"),
    )
    rules = {rule for rule, _, _ in check_life.CHECKS}
    assert {f.rule for f in case.findings} & rules == {"claim-paid"}


def test_what_an_offer_and_a_payment_say() -> None:
    offered = one(made(CRACKED, claim(), OFFER), "claim-offer-open")
    assert "offer of USD 200.00" in offered.message
    assert "The claim is for USD 418.00" in offered.message
    unclear = one(made(CRACKED, claim(), theirs(About.OFFER)), "claim-offer-open")
    assert "offer (" in unclear.message
    less = one(made(CRACKED, claim(), theirs(About.PAYMENT, amount="100.00")), "claim-paid-less")
    assert less.message == "Paid: USD 100.00; claimed: USD 418.00."
    unknown = one(made(CRACKED, claim(amount=None), theirs(About.PAYMENT)), "claim-paid-less")
    assert "an amount that is not recorded" in unknown.message
    paid = one(
        made(CRACKED, claim(), theirs(About.PAYMENT, "2026-05-18", amount="418.00")), "claim-paid"
    )
    assert paid.message == "The claim is paid: USD 418.00, Mon 2026-05-18."
    assert paid.standing is Standing.SUPPORTS


def test_an_answer_before_the_letter_is_none_to_it() -> None:
    early = notice(About.ANSWER, received="2026-05-12")
    assert found(made(CRACKED, claim(), early, refusal()), "claim-disallowance-unanswered")
    assert found(made(CRACKED, claim(), early, OFFER), "claim-offer-open")
    late = notice(About.ANSWER, received="2026-05-19")
    assert not found(made(CRACKED, claim(), OFFER, late), "claim-offer-open")


def test_how_long_to_keep_the_packing_says_where_it_is_to_be_recorded() -> None:
    finding = one(made(CRACKED, report()), "claim-keep-packing")
    assert finding.do_next == "Record where it is kept (unpacking record, packing_kept)."
    assert finding.citation.startswith("NMFC item 300135-A")
    assert not found(made(as_of=date(2026, 5, 6)), "claim-keep-packing")  # nothing wrong


def test_two_owners_of_one_claim_are_told_apart() -> None:
    """A claim that an insurer files for the owner is not the seller's."""
    beacon = Party(id="beacon", name="Beacon Mutual", roles=(Role.INSURER,))
    case = made(CRACKED, claim(sender="beacon"), sale=THE_SHOP, parties=(beacon,))
    assert found(case, "limit-claim-filed-by-another")
