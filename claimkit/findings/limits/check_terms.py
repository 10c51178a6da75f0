"""Findings about the terms of sale, periods without a number, and what else the terms ask for.

The seller has clocks too: what his terms say is entered by the user, and the statute's reasonable
time is shown with no number. With them stand the checks on liability and on the claim's life.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from claimkit.findings.claim import check_liability
from claimkit.findings.limits import check_life
from claimkit.findings.limits.calendar import written
from claimkit.findings.limits.conditions import any_breach, matters
from claimkit.findings.limits.events import (
    deeds,
    deliveries,
    local_day,
    matching,
    source_of,
)
from claimkit.findings.limits.next_move import addressee
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Role, SaleTerms, Shipment, Terms
from claimkit.model.limit import LimitState
from claimkit.model.records import Milestone, Record
from claimkit.model.source import Source
from claimkit.model.stages import Event
from claimkit.rules import carriage
from claimkit.rules.carriage import MARKS

PRACTICE = "common practice, no source"
AS_ENTERED = "the seller's terms of sale, as you entered them"
CANADA_RULE = (
    "Uniform Conditions of Carriage: notice of origin, destination, date of shipment and the "
    "estimated amount claimed (wording read)"
)
INSTALLING = (Event.INSTALLATION_STARTED, Event.FASTENED, Event.SEALED)


def without_a_date(case: Case) -> tuple[Finding, ...]:
    """Name what has to be done within a time that no number of days states."""
    return tuple(
        Finding(
            rule="limit-without-a-date",
            standing=Standing.MISSING,
            where=f"shipment {limit.shipment}",
            message=(
                f"{limit.clause.title}: due within {limit.span.written}, which no number of days "
                f"states. {limit.clause.on_pass}"
            ),
            do_next=f"Do it without delay, to {addressee(job, shipment, limit)}. {limit.clause.do}",
            evidence=limit.sources,
            citation=f"{limit.clause.citation} ({MARKS[limit.clause.mark]})",
        )
        for limit in case.limits
        if limit.state is LimitState.NO_DATE
        and (job := case.facts.job)
        and (shipment := _named(case, limit.shipment))
        and matters(case, shipment, limit.clause.concerns)
    )


def seller_terms_not_known(case: Case) -> tuple[NotChecked, ...]:
    """Say that the seller's own days are not counted, as nobody has entered them."""
    job = case.facts.job
    sellers = [p.name for p in job.party if Role.SELLER in p.roles] if job else []
    if job is None or not sellers or (job.sale and job.sale.report_within):
        return ()
    if not any(deliveries(case, shipment) for shipment in job.shipment):
        return ()
    return (
        NotChecked(
            "limit-seller-terms-not-known",
            "job.toml, sale",
            f"The terms of {' and '.join(sellers)} often allow 24 to 72 hours to report damage "
            f"({PRACTICE}), and theirs are not entered. Read them and write report_within with its "
            "source in [sale]; report in writing now.",
        ),
    )


def sale_without_source(case: Case) -> tuple[Finding, ...]:
    """Name terms of sale that are entered without the paper that says so."""
    job = case.facts.job
    sale = job.sale if job else None
    if sale is None or sale.source or sale == SaleTerms():
        return ()
    return (
        Finding(
            rule="limit-sale-source-missing",
            standing=Standing.MISSING,
            where="job.toml, sale",
            message="Terms of sale are entered, and no paper is named that says so.",
            do_next="Write source in [sale]: which paper, its section and its date.",
            evidence=(_in_sale(case, "source"),),
            citation=f"claimkit method: every own period names its paper; {PRACTICE}",
        ),
    )


def installation_accepts(case: Case) -> tuple[Finding, ...]:
    """Warn where the seller's terms call installation acceptance and he has not been told."""
    job = case.facts.job
    if job is None or job.sale is None or job.sale.installation_accepts is not True:
        return ()
    paper = job.sale.source or "the seller's terms of sale"
    began = min(_installing(case), default=None, key=lambda pair: pair[0])
    found = []
    for shipment in job.shipment:
        told = deeds(case, shipment, carriage.TOLD_SELLER)
        if not any_breach(case, shipment) or (told and (not began or told[0].day <= began[0])):
            continue
        message = "Something is wrong with the goods, and the seller is not shown to know it. "
        if began:
            message += (
                f"Installation began on {written(began[0])} ({began[1].path}), and the seller's "
                "terms call installation acceptance."
            )
            todo = "Tell the seller now, with what was found before the work began, and when."
        else:
            message += "The seller's terms call installation acceptance."
            todo = "Tell the seller in writing before anything is installed."
        evidence = (_in_sale(case, "installation_accepts"),)
        found.append(
            Finding(
                rule="limit-installation-accepts",
                standing=Standing.AGAINST if began else Standing.MISSING,
                where=f"shipment {shipment.id}",
                message=message,
                do_next=todo,
                evidence=(*evidence, *((source_of(began[1], "began"),) if began else ())),
                citation=paper,
                urgent=began is None,
            )
        )
    return tuple(found)


def filed_by_another(case: Case) -> tuple[Finding, ...]:
    """Name who files the claim by the terms of sale, where no claim of theirs is on record."""
    job = case.facts.job
    who = job.party_named(job.sale.claim_filed_by) if job and job.sale else None
    if job is None or job.sale is None or who is None or Role.OWNER in who.roles:
        return ()
    return tuple(
        Finding(
            rule="limit-claim-filed-by-another",
            standing=Standing.MISSING,
            where=f"shipment {shipment.id}",
            message=(
                f"By the terms of sale {who.name} files the claim with the carrier, and no claim "
                "of theirs is shown received."
            ),
            do_next=(
                f"Ask {who.name} in writing whether, when and for how much it was filed, send your "
                "evidence, and file yourself before the last day if no answer comes."
            ),
            evidence=(_in_sale(case, "claim_filed_by"),),
            citation=job.sale.source or AS_ENTERED,
        )
        for shipment in job.shipment
        if any_breach(case, shipment) and not _filed(case, shipment, who.id)
    )


def terms_of_sale(case: Case) -> tuple[Finding, ...]:
    """Repeat what the terms of sale say of risk and of refusing a delivery."""
    job = case.facts.job
    sale = job.sale if job else None
    if sale is None or not (sale.risk_passes or sale.refusal):
        return ()
    parts = []
    if sale.risk_passes:
        parts.append(f"The risk of loss passes: {sale.risk_passes}.")
    if sale.refusal:
        parts.append(f"On refusing a delivery: {sale.refusal}.")
    names = [n for n in ("risk_passes", "refusal") if getattr(sale, n)]
    return (
        Finding(
            rule="limit-terms-of-sale",
            standing=Standing.NOTE,
            where="job.toml, sale",
            message=" ".join(parts),
            do_next=(
                "Whoever bore the risk on the road is who claims from the carrier; a damaged "
                "shipment is not refused as a rule."
            ),
            evidence=tuple(_in_sale(case, name) for name in names),
            citation=f"{sale.source or AS_ENTERED}; {PRACTICE}",
        ),
    )


def notice_without_estimate(case: Case) -> tuple[Finding, ...]:
    """Name notices under the Canadian conditions whose record states no amount."""
    return tuple(
        Finding(
            rule="limit-notice-without-estimate",
            standing=Standing.MISSING,
            where=f"shipment {shipment.id}",
            message=(
                f"{record.path}: the record of the notice states no amount. A notice states the "
                "estimated amount claimed, with origin, destination and date of shipment."
            ),
            do_next="Put the amount into the record, or give notice again with an estimate.",
            evidence=(source_of(record, "amount"),),
            citation=CANADA_RULE,
        )
        for shipment in _shipments(case)
        if shipment.terms is Terms.CANADA
        for record, notice in matching(case, shipment, carriage.NOTICED)
        if notice.amount is None
    )


def _filed(case: Case, shipment: Shipment, who: str) -> bool:
    return any(
        notice.sender == who
        and notice.received is not None
        and local_day(case, notice.received) <= case.as_of
        for _, notice in matching(case, shipment, carriage.CLAIM)
    )


def _installing(case: Case) -> list[tuple[date, Record]]:
    return [
        (day, record)
        for record in case.facts.in_force(Milestone)
        if isinstance(record.body, Milestone) and record.body.event in INSTALLING
        if (day := local_day(case, record.body.began)) <= case.as_of
    ]


def _in_sale(case: Case, key: str) -> Source:
    return Source("job.toml", case.facts.job_sha256, f"sale.{key}")


def _shipments(case: Case) -> tuple[Shipment, ...]:
    return case.facts.job.shipment if case.facts.job else ()


def _named(case: Case, name: str) -> Shipment | None:
    return next((s for s in _shipments(case) if s.id == name), None)


CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = (
    ("limit-without-a-date", "A period that no number of days states", without_a_date),
    (
        "limit-seller-terms-not-known",
        "A seller whose terms are not entered",
        seller_terms_not_known,
    ),
    ("limit-sale-source-missing", "Terms of sale with no paper named", sale_without_source),
    ("limit-installation-accepts", "Installing before the seller is told", installation_accepts),
    ("limit-claim-filed-by-another", "A claim that another one has to file", filed_by_another),
    ("limit-terms-of-sale", "The terms of sale speak of risk or of refusing", terms_of_sale),
    (
        "limit-notice-without-estimate",
        "A notice without an estimate (Canada)",
        notice_without_estimate,
    ),
    *check_liability.CHECKS,
    *check_life.CHECKS,
)
