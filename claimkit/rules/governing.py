"""What a claim rests on by the terms of its shipment: the elements, the loss, the carrier's limit.

A statute or a case of one country is cited only where it governs. Where no text that was read or
is remembered governs a shipment, the practice of the trade is named as what it is: without source.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.job import Job, Shipment, Terms

PRACTICE = "common practice, no source"
ELMORE = "Missouri Pacific R.R. v. Elmore & Stahl, 377 U.S. 134 (1964), from memory"
CLEAN_BILL = "264 So.2d 646 (read): a clean bill shows only what could be seen"


@dataclass(frozen=True, slots=True)
class Law:
    """What governs a claim for one shipment, in the words of letters and packets.

    `elements` is the text on what a claimant shows, `answers` on what a carrier answers for,
    `claim` on what makes a communication a claim. `loss` names what may be claimed by it and
    `loss_text` is its citation. `name_the_limit` finishes a sentence that asks a carrier for the
    limit it relies on, `rates` asks for the papers that it would stand in.
    """

    elements: str
    answers: str
    claim: str
    loss: str
    loss_text: str
    name_the_limit: str
    limit: str
    rates: str

    @property
    def the_loss(self) -> str:
        """Give the name of the loss as the begin of a sentence."""
        return f"{self.loss[0].upper()}{self.loss[1:]}"


_US_MOTOR = Law(
    elements=ELMORE,
    answers=(
        "49 USC 14706(a)(1) (wording read): the carrier answers for the actual loss; that the "
        "receiving and the delivering carrier both answer is from memory"
    ),
    claim="49 CFR 370.3(b) (wording read)",
    loss="the full actual loss",
    loss_text="49 USC 14706(a)(1) (wording read): actual loss",
    name_the_limit="name the tariff item and send the agreement that it rests on",
    limit="the tariff item, and the agreement or declaration of value that the shipper signed",
    rates="the rates, classification, rules and practices that applied to it",
)


def _elsewhere(answers: str, loss: str, loss_text: str) -> Law:
    """Give the law of carriage that knows no tariff item: limits stand in its own text."""
    return Law(
        elements=answers,
        answers=answers,
        claim=PRACTICE,
        loss=loss,
        loss_text=loss_text,
        name_the_limit="name the provision and show the weight or value that it is counted on",
        limit="the provision, the weight or value that it is counted on, and any value declared",
        rates="the terms of carriage that applied to it",
    )


_BY_TERMS: dict[Terms, Law] = {
    Terms.US_INTERSTATE_MOTOR: _US_MOTOR,
    Terms.CMR: _elsewhere(
        "CMR Articles 9(2), 17(1) and 18, from memory: the carrier answers for loss and damage "
        "between taking over and delivery",
        "the full loss, by the value of the goods at the place and time of taking over",
        "CMR Articles 23(1) and 25(1), from memory: value at the place and time of taking over; "
        "for damage, by how much it fell",
    ),
    Terms.CANADA: _elsewhere(
        "Uniform Conditions of Carriage, liability of the carrier, from memory",
        "the full loss, by the value of the goods at the place and time of shipment",
        "Uniform Conditions of Carriage, valuation, from memory: value at the place and time of "
        "shipment, with the freight where it was paid",
    ),
    Terms.MONTREAL: _elsewhere(
        "Montreal Convention 1999, Articles 11 and 18, from memory: the carrier answers for damage "
        "during the carriage by air",
        "the full loss",
        "Montreal Convention 1999, Article 18(1), from memory: damage sustained",
    ),
    Terms.COGSA: _elsewhere(
        "46 USC 30701 note, s. 3(4) and 4, from memory: the carrier answers for loss of or damage "
        "to goods that it took as the bill describes them",
        "the full actual loss",
        "46 USC 30701 note, s. 4(5), from memory: no more than the damage actually sustained",
    ),
}
_NONE_KNOWN = _elsewhere(PRACTICE, "the full loss", PRACTICE)


def law_of(shipment: Shipment | None) -> Law:
    """Give what governs a shipment; common practice where no text that is known does."""
    return _BY_TERMS.get(shipment.terms, _NONE_KNOWN) if shipment else _NONE_KNOWN


def law_named(job: Job | None, shipment: str | None) -> Law:
    """Give what governs the shipment of this id, or the only one of a job."""
    return law_of(job.shipment_named(shipment) if job else None)


def us_motor(shipment: Shipment | None) -> bool:
    """Tell whether interstate carriage by truck in the United States is what governs."""
    return shipment is not None and shipment.terms is Terms.US_INTERSTATE_MOTOR


def american(job: Job | None, shipment: Shipment | None) -> bool:
    """Tell whether American cases on receipts may bear: its trucking, or a site there, terms open.

    What a clear receipt proves is told by cases of the States; they bear on interstate trucking,
    and on a delivery there whose terms nobody has entered.
    """
    within = (Terms.NOT_KNOWN, Terms.US_INTRASTATE)
    return us_motor(shipment) or (
        sale_in_us(job) and (shipment is None or shipment.terms in within)
    )


def sale_in_us(job: Job | None) -> bool:
    """Tell whether the Uniform Commercial Code may govern the sale: the site is in the States."""
    return job is not None and job.site.country == "US"


def only_us(shipment: Shipment | None, text: str, otherwise: str = PRACTICE) -> str:
    """Give a text of American carriage by truck where it governs, else what stands in for it."""
    return text if us_motor(shipment) else otherwise
