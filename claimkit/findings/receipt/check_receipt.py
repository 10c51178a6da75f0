"""Findings about the delivery receipt: what its words do and do not preserve.

A clear receipt is evidence against a later claim and no bar to it, and is reported as plainly as a
specific exception. What can only be mended while the driver is there is urgent until he has left.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from claimkit.findings.receipt import check_facts as check_receipt_facts
from claimkit.findings.receipt.each import Results, deliveries
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Finding, Standing
from claimkit.model.receipt import Grade, Reservation

OWN = "claimkit method: grades of a receipt"
NO_BAR = (
    "Home Furniture v. Red Ball Motor Freight, 343 So.2d 319 (La. App. 1977): a clear receipt is "
    "evidence against the claimant, concealed damage may still be proved"
)
WEAK = (
    "produce-trade transport guideline 9.7 (a generic notation usually preserves no claim); "
    "several carriers' published terms treat a bare reservation as a clear receipt"
)


@dataclass(frozen=True, slots=True)
class _Said:
    """How one grade is reported."""

    rule: str
    grade: Grade
    standing: Standing
    message: str
    do_next: str
    citation: str


CLEAR = _Said(
    "receipt-clear",
    Grade.CLEAR,
    Standing.AGAINST,
    "The receipt was signed clear. It is evidence against a later claim and no bar to it: damage "
    "that could not be seen at the curb may still be proved.",
    "Report concealed damage or loss to the carrier in writing with a request for inspection, keep "
    "all packing, and collect what shows that the damage did not happen after delivery.",
    NO_BAR,
)
NOT_STATED = _Said(
    "receipt-not-stated",
    Grade.NOT_STATED,
    Standing.AGAINST,
    "The receipt says nothing on the condition or count of the goods. A carrier will read it as "
    "clear, which is evidence against a later claim and no bar to it.",
    "Report concealed damage or loss to the carrier in writing with a request for inspection.",
    NO_BAR,
)
TOO_VAGUE = _Said(
    "receipt-too-vague",
    Grade.TOO_VAGUE,
    Standing.AGAINST,
    "The receipt says that something was wrong and not what: it needs a kind of damage or shortage "
    "with the piece, the number or the place on it.",
    "Show by the photos taken at the curb what the words meant.",
    OWN,
)
CONTRADICTORY = _Said(
    "receipt-contradictory",
    Grade.CONTRADICTORY,
    Standing.AGAINST,
    "The receipt contradicts itself or the recorded counts, so each side can read it its own way.",
    "Ask the carrier for its proof of delivery, and show by photos and counts which half is right.",
    OWN,
)
SPECIFIC = _Said(
    "receipt-specific",
    Grade.SPECIFIC,
    Standing.SUPPORTS,
    "The receipt states a specific exception.",
    "",
    OWN,
)


def _graded(said: _Said, case: Case) -> Results:
    found = []
    for one in deliveries(case):
        if one.receipt.reading.grade is not said.grade or one.receipt.words is None:
            continue
        reasons = " ".join(one.receipt.reading.because)
        found.append(
            Finding(
                said.rule,
                said.standing,
                one.where,
                f"{said.message} {reasons}",
                one.now_or_later(said.do_next),
                (one.words_source,),
                said.citation if said.citation == OWN else one.governed(said.citation),
                urgent=one.mendable,
            )
        )
    return tuple(found)


def clear(case: Case) -> Results:
    """Tell plainly that a receipt was signed clear."""
    return _graded(CLEAR, case)


def not_stated(case: Case) -> Results:
    """Tell that a receipt says nothing of the goods."""
    return _graded(NOT_STATED, case)


def too_vague(case: Case) -> Results:
    """Tell that an exception is too vague to preserve anything."""
    return _graded(TOO_VAGUE, case)


def contradictory(case: Case) -> Results:
    """Tell that the words contradict themselves or the counts."""
    return _graded(CONTRADICTORY, case)


def specific(case: Case) -> Results:
    """Tell what a specific exception states."""
    return _graded(SPECIFIC, case)


def reservation_only(case: Case) -> Results:
    """Tell that a reservation stands alone, and why that is weak."""
    found = []
    for one in deliveries(case):
        reading = one.receipt.reading
        if reading.grade is not Grade.RESERVATION_ONLY:
            continue
        further = reading.reservation is Reservation.FULL
        found.append(
            Finding(
                "receipt-reservation-only",
                Standing.NOTE if further else Standing.AGAINST,
                one.where,
                "The receipt reserves a later inspection and states no fact. "
                + " ".join(reading.because),
                one.now_or_later(
                    "Inspect at once, and report what is found to the carrier in writing with a "
                    "request for inspection."
                ),
                (one.words_source,),
                WEAK,
                urgent=one.mendable,
            )
        )
    return tuple(found)


def reservation_beside(case: Case) -> Results:
    """Tell that a reservation stands beside a specific exception."""
    found = []
    for one in deliveries(case):
        reading = one.receipt.reading
        if reading.grade is not Grade.SPECIFIC or reading.reservation is Reservation.NONE:
            continue
        full = reading.reservation is Reservation.FULL
        form = "with “further”" if full else "without “further”, the weaker form"
        words = [m.text for m in reading.matches if m.what == "reservation"]
        found.append(
            Finding(
                "receipt-reservation-beside",
                Standing.SUPPORTS if full else Standing.NOTE,
                one.where,
                f"Beside its specific exception the receipt reserves a later inspection of the "
                f"rest ({form}): “{' '.join(words[0].split())}”.",
                "Inspect the rest soon; the reservation alone proves nothing about it.",
                (one.words_source,),
                WEAK,
            )
        )
    return tuple(found)


def copies_differ(case: Case) -> Results:
    """Tell where the carrier's copy says something else than ours."""
    found = []
    for one in deliveries(case):
        receipt = one.receipt
        if receipt.copies_differ is not Answer.YES or receipt.our_reading is None:
            continue
        mine, theirs = receipt.our_reading.grade, receipt.reading.grade
        grades = (
            f"Ours is graded {mine.value}, the carrier's {theirs.value}."
            if mine is not theirs
            else f"Both are graded {mine.value}."
        )
        found.append(
            Finding(
                "receipt-copies-differ",
                Standing.AGAINST if mine is not theirs else Standing.NOTE,
                one.where,
                f"The carrier's copy says “{one.quoted(receipt.words)}”, ours says "
                f"“{one.quoted(receipt.our_words)}”. {grades} The carrier will rely on its own.",
                one.now_or_later(
                    "Ask the carrier for its proof of delivery, and keep our copy and the photo of "
                    "it as they are.",
                    "Write the same words on the carrier's copy now.",
                ),
                (one.words_source, one.source("words_on_our_copy")),
                "common practice, no source (both copies carry the same exception)",
                urgent=one.mendable,
            )
        )
    return tuple(found)


def not_recorded(case: Case) -> Results:
    """Tell where nobody recorded what stands on the receipt."""
    found = []
    for one in deliveries(case):
        if one.receipt.words is not None:
            continue
        ours = one.receipt.our_words
        also = f" Our own copy says “{one.quoted(ours)}”." if ours is not None else ""
        found.append(
            Finding(
                "receipt-not-recorded",
                Standing.MISSING,
                one.where,
                f"The words on the carrier's copy of the receipt are not recorded.{also}",
                one.now_or_later(
                    "Ask the carrier for its proof of delivery and record its words exactly in "
                    "`words`; an empty text says that none were written.",
                    "Read the carrier's copy or the driver's screen now, photograph it, and record "
                    "the words exactly in `words`.",
                ),
                (one.source(),),
                OWN,
                urgent=one.mendable,
            )
        )
    return tuple(found)


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("receipt-not-recorded", "The words of the receipt are not recorded", not_recorded),
    ("receipt-clear", "The receipt was signed clear", clear),
    ("receipt-not-stated", "The receipt says nothing of the goods", not_stated),
    ("receipt-too-vague", "The exception is too vague", too_vague),
    ("receipt-contradictory", "The receipt contradicts itself or the counts", contradictory),
    ("receipt-specific", "The receipt states a specific exception", specific),
    ("receipt-reservation-only", "A reservation alone", reservation_only),
    ("receipt-reservation-beside", "A reservation beside an exception", reservation_beside),
    ("receipt-copies-differ", "The two copies differ", copies_differ),
    *check_receipt_facts.CHECKS,
)
