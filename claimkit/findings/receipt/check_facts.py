"""Findings on what the records know and the receipt does not say: shorts, damage, looking, signing.

Handling units are not cartons: a skid whose wrap is intact is one unit received, and a carton
short inside it is a hidden shortage, reported as concealed loss.
"""

from __future__ import annotations

from collections.abc import Callable

from claimkit.findings.receipt.each import Delivered, Results, deliveries
from claimkit.findings.receipt.grade import curb_of, damages_at_curb, found_of, refused_of, states
from claimkit.findings.receipt.reading import read
from claimkit.findings.wording import counted, listed, record_source
from claimkit.model.case import Case, Finding, Standing
from claimkit.model.receipt import Grade, Reservation
from claimkit.model.records import Wrap

PRACTICE = "common practice, no source"
CONCEALED = (
    "NMFC item 300135-A: concealed damage covers loss of contents (binds where the bill or tariff "
    "brings in the classification's rules)"
)
KEEP = (
    "common practice, no source; historical 41 CFR 101-40.701: do not refuse a damaged shipment as "
    "a rule, keep the packing, keep the loss small"
)


def short_not_stated(case: Case) -> Results:
    """Tell where fewer units or cartons were counted than listed and the words do not say so."""
    found = []
    for one in deliveries(case):
        body = one.body
        if one.receipt.words is None:
            continue
        units = _short(case, one, "handling")
        if units and not _says(case, one, units):
            found.append(
                _short_finding(one, units, "handling unit", "units_received", hidden=False)
            )
        cartons = _short(case, one, "carton")
        if cartons and not _says(case, one, cartons):
            hidden = not units and body.wrap is Wrap.INTACT
            found.append(_short_finding(one, cartons, "carton", "cartons_received", hidden=hidden))
    return tuple(found)


def _short(case: Case, one: Delivered, what: str) -> int:
    """Give what is missing by the count and was not refused; 0 where the refusal has no number."""
    body = one.body
    pair = (body.units_expected, body.units_received)
    if what == "carton":
        pair = (body.cartons_expected, body.cartons_received)
    expected, received = pair
    if expected is None or received is None:
        return 0
    back = refused_of(case.facts, body, what)
    return 0 if back is None else max(0, expected - received - back)


def _says(case: Case, one: Delivered, number: int) -> bool:
    counts = curb_of(case.facts, one.body).counts
    return read(one.receipt.words or "", counts).states_short(number)


def _short_finding(one: Delivered, number: int, unit: str, key: str, *, hidden: bool) -> Finding:
    short = counted(number, unit)
    if hidden:
        message = (
            f"{short.capitalize()} short by the count, inside units that arrived complete with the "
            "wrap intact: a hidden shortage. The receipt does not state it and could not be "
            "expected to show it; it is reported as concealed loss."
        )
        later = (
            "Report it to the carrier in writing as concealed loss with a request for inspection, "
            "and keep the units as they were opened."
        )
        return Finding(
            "receipt-short-not-stated",
            Standing.NOTE,
            one.where,
            message,
            one.now_or_later(later),
            (one.words_source, one.source(key), one.source("wrap")),
            one.governed(CONCEALED),
            urgent=one.mendable,
        )
    broken = one.body.wrap is Wrap.BROKEN
    seal = " The wrap is recorded as broken." if broken else ""
    return Finding(
        "receipt-short-not-stated",
        Standing.AGAINST,
        one.where,
        f"{short.capitalize()} short by the count, and the receipt does not say so.{seal} A "
        "receipt that lists the full count is evidence that it was received.",
        one.now_or_later(
            "Tell the carrier in writing at once what is short, and ask for a trace and for its "
            "proof of delivery."
        ),
        (one.words_source, one.source(key), *((one.source("wrap"),) if broken else ())),
        "ASC X12 element 33, lading exception code (short); the form of the words: " + PRACTICE,
        urgent=one.mendable,
    )


def damage_not_stated(case: Case) -> Results:
    """Tell where damage found at the curb is not on the receipt."""
    found = []
    for one in deliveries(case):
        if one.receipt.words is None:
            continue
        left_out = [
            (record, found_of(case.facts, damage))
            for record, damage in damages_at_curb(case.facts, one.body)
            if not states(one.receipt.words, found_of(case.facts, damage))
        ]
        if not left_out:
            continue
        names = [f"{d.item}: {d.part + ' ' if d.part else ''}{d.what}" for _, d in left_out]
        found.append(
            Finding(
                "receipt-damage-not-stated",
                Standing.AGAINST,
                one.where,
                f"Damage recorded as found at the curb is not stated specifically on the receipt: "
                f"{listed(names, 4)}. What could be seen and was not written is the hardest to "
                "prove.",
                one.now_or_later(
                    "Report it to the carrier in writing at once, with the photos from the curb."
                ),
                (one.words_source, *(record_source(record, "what") for record, _ in left_out)),
                PRACTICE,
                urgent=one.mendable,
            )
        )
    return tuple(found)


def signed_uninspected(case: Case) -> Results:
    """Tell where goods that were not inspected were signed for without a full reservation."""
    found = []
    for one in deliveries(case):
        body, reading = one.body, one.receipt.reading
        if body.inspected is not False or one.receipt.words is None or body.signed is False:
            continue
        if reading.reservation is Reservation.FULL and reading.grade is not Grade.CONTRADICTORY:
            continue
        why = body.not_inspected_because
        because = f" ({why})" if why else ", and why is not recorded"
        found.append(
            Finding(
                "receipt-signed-uninspected",
                Standing.AGAINST,
                one.where,
                f"The goods were not inspected{because}, and the receipt carries no full "
                "reservation (“subject to further inspection”).",
                one.now_or_later(
                    "Inspect now, with photos of the packing as it is opened, and report what is "
                    "found in writing with a request for inspection."
                ),
                (one.words_source, one.source("inspected")),
                PRACTICE + " (asked for wherever goods cannot be inspected on the spot)",
                urgent=one.mendable,
            )
        )
    return tuple(found)


def driver_not_signed(case: Case) -> Results:
    """Tell where an exception was written and the driver did not sign it, or nobody noted it."""
    found = []
    for one in deliveries(case):
        grade = one.receipt.reading.grade
        written = grade in (Grade.SPECIFIC, Grade.TOO_VAGUE, Grade.RESERVATION_ONLY)
        if not written or one.body.driver_signed is True:
            continue
        declined = one.body.driver_signed is False
        state = (
            "The driver declined to sign the exception."
            if declined
            else "Whether the driver signed the exception is not recorded."
        )
        name = one.body.driver or "the driver"
        later = (
            f"Record who saw {name} decline and when; a photo of the receipt taken then helps."
            if declined
            else "Record in `driver_signed` whether the driver signed; look at the carrier's copy."
        )
        found.append(
            Finding(
                "receipt-driver-not-signed",
                Standing.NOTE if declined else Standing.MISSING,
                one.where,
                f"{state} The exception stands without it; with it, it is harder to deny.",
                one.now_or_later(
                    later,
                    "Ask the driver to sign and print his name beside the exception; where he "
                    "declines, write “driver declined to sign” and the time.",
                ),
                (one.words_source, one.source("driver_signed")),
                PRACTICE,
                urgent=one.mendable,
            )
        )
    return tuple(found)


def refused(case: Case) -> Results:
    """Tell that goods were refused, and what the receipt says of it."""
    found = []
    for one in deliveries(case):
        if one.body.refusal is None:
            continue
        reading = one.receipt.reading
        told = any(match.what == "refusal" for match in reading.matches)
        on_receipt = (
            f"The receipt states the refusal; it is graded {reading.grade.value}."
            if told
            else "The receipt does not state the refusal."
        )
        found.append(
            Finding(
                "receipt-refused",
                Standing.NOTE if told else Standing.AGAINST,
                one.where,
                f"Goods were refused: {one.quoted(one.body.refusal)}. {on_receipt} Refusing leaves "
                "the goods and their packing in the carrier's hands, where they can no longer be "
                "looked at.",
                one.now_or_later(
                    "Tell the seller and the carrier in writing what was refused and why, and ask "
                    "where the goods are held and that they be kept for inspection.",
                    "Write on the receipt what is refused and why, and photograph it before it "
                    "leaves; keep what can be used or repaired.",
                ),
                (one.source("refused"), one.words_source),
                one.governed(KEEP),
                urgent=one.mendable,
            )
        )
    return tuple(found)


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("receipt-short-not-stated", "Short by the count and not on the receipt", short_not_stated),
    ("receipt-damage-not-stated", "Damage at the curb and not on the receipt", damage_not_stated),
    ("receipt-signed-uninspected", "Signed uninspected, not reserved", signed_uninspected),
    (
        "receipt-driver-not-signed",
        "No driver's signature beside the exception",
        driver_not_signed,
    ),
    ("receipt-refused", "Goods refused", refused),
)
