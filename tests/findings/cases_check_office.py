"""For each rule of the office: a case that fires and one, different by one fact, that is silent."""

from __future__ import annotations

from collections.abc import Callable

from claimkit.model.case import Case
from claimkit.model.contract import Duty, OwnTerm, Policy, Start
from claimkit.model.job import Paper, PaperMissing
from claimkit.model.photo import Words
from claimkit.model.quantities import Span
from claimkit.model.records import About, CostOf, FoundAt, Notice
from tests.build import FileKind, OtherFile, case, facts, moment, record, sha
from tests.findings.office_build import (
    PANEL,
    TRAY,
    a_job,
    cost,
    damage,
    delivery,
    hours,
    usd,
    with_item,
    worked,
)

BOTH = (delivery(), damage(), damage("cracked", item="tray", what="cracked"))


def _mixed(currency: str) -> Case:
    tray = with_item(TRAY, invoice_price=usd("388.00", currency))
    return worked(BOTH, a_job(PANEL, tray))


def _price_from(word: str) -> Case:
    return worked(job_=a_job(with_item(PANEL, price_from=word), TRAY))


def _freight(paid: str | None) -> Case:
    ship = {"freight_charges": usd("486.20"), "freight_paid": paid}
    return worked(job_=a_job(ship=ship))


def _salvage(*more: str) -> Case:
    found = [cost("salvage", what=CostOf.SALVAGE, amount=usd(m)) for m in more]
    return worked((delivery(), damage(), *found))


def _special(notice: str | None) -> Case:
    crew = cost(what=CostOf.SPECIAL, amount=usd("640.00"), notice_given=notice)
    return worked((delivery(), damage(), crew))


def _repair(rate: str) -> Case:
    done = cost(what=CostOf.REPAIR, item="panel", hours=hours("5"), rate=usd(rate))
    return worked((delivery(), damage(), done))


def _twice(lump: str | None) -> Case:
    done = cost(what=CostOf.REPAIR, item="panel", hours=hours("2"), rate=usd("60.00"))
    broken = damage(repair_cost=usd(lump) if lump else None)
    return worked((delivery(), broken, done))


def _credit(amount: str) -> Case:
    given = cost(what=CostOf.CREDIT, amount=usd(amount))
    return worked((delivery(), damage(), given))


def _replaced(item: str) -> Case:
    new = cost(what=CostOf.REPLACEMENT, item=item)
    return worked((delivery(), damage(), new))


def _numbers(pro: str | None) -> Case:
    return worked(job_=a_job(ship={"pro_number": pro}))


def _claimed(amount: str) -> Case:
    sent = Notice(
        about=About.CLAIM,
        sender="us",
        to="hauler",
        sent=moment("2026-05-10 10:00"),
        received=moment("2026-05-10 10:05"),
        amount=usd(amount),
    )
    return worked((delivery(), damage(), record("claim", sent)))


def _seen(clean: bool | None) -> Case:
    return worked(job_=a_job(ship={"clean_at_origin": clean}))


def _policies(count: int) -> Case:
    term = OwnTerm(
        id="notice",
        title="Notice",
        duty=Duty.REPORT,
        runs_from=Start.DELIVERY,
        length=Span(10, "calendar days"),
        source="policy, 4",
    )
    policies = (Policy(insurer="us", term=(term,)),) * count
    return worked(job_=a_job(ship={"clean_at_origin": True}, policy=policies))


def _origin(evidence: str | None) -> Case:
    hidden = damage(found_at=FoundAt.UNPACKING)
    return worked((delivery(), hidden), a_job(ship={"packing_evidence": evidence}))


def _papers(*kinds: str, missing: tuple[str, ...] = ()) -> Case:
    """The damage case of one crushed panel, with these documents named and these explained."""
    found = [
        (Paper(file=f"documents/{n}.pdf", what=kind), f"documents/{n}.pdf")
        for n, kind in enumerate(kinds)
    ]
    the_job = a_job(
        paper=tuple(paper for paper, _ in found),
        no_paper=tuple(PaperMissing(what=kind, because="lost") for kind in missing),
    )
    files = [OtherFile(path, sha(path), 9, FileKind.PDF) for _, path in found]
    return case(facts(job_=the_job, records=(delivery(), damage()), papers=files))


INVOICE = ("Tessel Supply", "INVOICE", "Qty  Unit price  Amount", "Subtotal 412.50")
BOTH_KINDS = ("PACKING LIST / DELIVERY RECEIPT", "Qty shipped  Signature", "Driver", "Carton 1")


def _worded(*lines: str, named: str | None = None, because: str | None = None) -> Case:
    """The damage case with one PDF in documents/ that has these words."""
    path = "documents/scan-4.pdf"
    papers = (Paper(file=path, what=named),) if named else ()
    file = OtherFile(path, sha(path), 9, FileKind.PDF, words=Words((lines,), refused=because))
    the_job = a_job(paper=papers)
    return case(facts(job_=the_job, records=(delivery(), damage()), papers=[file]))


CASES: dict[str, tuple[Callable[[], Case], Callable[[], Case]]] = {
    "amount-mixed-currencies": (lambda: _mixed("CAD"), lambda: _mixed("USD")),
    "amount-retail-price": (
        lambda: _price_from("retail price"),
        lambda: _price_from("purchase invoice"),
    ),
    "amount-freight-not-decided": (lambda: _freight(None), lambda: _freight("in the price")),
    "amount-salvage-not-stated": (_salvage, lambda: _salvage("0.00")),
    "amount-special-not-claimed": (
        lambda: _special(None),
        lambda: _special("e-mail of 2026-04-20 to the carrier's dispatcher"),
    ),
    # 5 h × 82.60 = 413.00, a piece is 412.50; 5 h × 82.50 is the price to the cent
    "amount-repair-above-price": (lambda: _repair("82.60"), lambda: _repair("82.50")),
    "amount-repair-twice": (lambda: _twice("120.00"), lambda: _twice(None)),
    "amount-below-zero": (lambda: _credit("412.51"), lambda: _credit("412.50")),
    "amount-replacement-without-loss": (lambda: _replaced("tray"), lambda: _replaced("panel")),
    "claim-not-ready": (lambda: _numbers(None), lambda: _numbers("558-20931")),
    "ask-cannot-tell": (lambda: _seen(None), lambda: _seen(True)),
    "ask-several": (lambda: _policies(1), lambda: _policies(0)),
    "ask-origin-evidence": (lambda: _origin(None), lambda: _origin("the seller's photos")),
    "paper-missing": (
        lambda: _papers("bill of lading", "invoice", "delivery receipt"),
        lambda: _papers("bill of lading", "invoice", "delivery receipt", missing=("freight bill",)),
    ),
    "paper-there-and-missing": (
        lambda: _papers("freight bill", missing=("freight bill",)),
        lambda: _papers("freight bill", missing=("invoice",)),
    ),
    "paper-recognised": (lambda: _worded(*INVOICE), lambda: _worded(*INVOICE, named="invoice")),
    "paper-undecided": (
        lambda: _worded(*BOTH_KINDS),
        lambda: _worded("PACKING LIST", *BOTH_KINDS[1:]),
    ),
    "paper-not-told": (
        lambda: _worded(because="it holds pictures of its pages only, as a scan does"),
        lambda: _worded(*INVOICE),
    ),
    "paper-reads-otherwise": (
        lambda: _worded(*INVOICE, named="freight bill"),
        lambda: _worded(*INVOICE, named="invoice"),
    ),
    "claim-amount-differs": (lambda: _claimed("400.00"), lambda: _claimed("412.50")),
}
