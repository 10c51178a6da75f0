"""The receiving sheet: what a receiver holds in the hand while the driver waits, from job.toml.

Three kinds of page: the curb (one page for each shipment, whatever happens), the unpacking against
the order, and how the originals get off the telephones. A page is blocks of plain text; nothing
here knows paper or fonts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from claimkit.compose.sheets.receiving_words import names_of
from claimkit.compose.sheets.unpacking import originals, unpacking
from claimkit.model.job import Item, Job, Role, Shipment
from claimkit.model.sheet import (
    Block,
    Boxed,
    Choices,
    Fields,
    Heading,
    Numbered,
    Paragraph,
    Rows,
    SheetDocument,
    SheetPage,
    Ticks,
    Words,
)
from claimkit.rules.receiving import (
    INCH_COUNTRIES,
    KINDS,
    PHRASES,
    SITUATIONS,
    WHERES,
    WHICH,
    Choice,
    Situation,
    unit_words,
)
from claimkit.rules.receiving_steps import LOOK, RECEIPT_SHOTS, SAFETY, SHOTS
from claimkit.rules.sheet_texts import TEXTS

Language = Literal["en", "es"]
MOST_NUMBERED = 24  # more than this are counted on one line: boxes would fill the page
_CALLS = 3


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One sheet being composed."""

    job: Job
    shipment: Shipment | None
    language: Language

    def said(self, key: str, **values: object) -> str:
        """Give a fixed text of the sheet."""
        text = str(getattr(TEXTS[key], self.language))
        return text.format(**values) if values else text


def compose(job: Job, language: Language, shipment: str | None = None) -> SheetDocument:
    """Compose the sheets of one shipment, or of all, with one page on the originals at the end.

    A job without shipments gives a sheet whose counts are blank. Raises KeyError for a shipment
    that the job does not have.
    """
    named: list[Shipment | None] = [s for s in job.shipment if shipment in (None, s.id)]
    if shipment is not None and not named:
        raise KeyError(shipment)
    pages: list[SheetPage] = []
    for one in named or [None]:
        pages += [_curb(_Sheet(job, one, language)), unpacking(job, one, language)]
    title = TEXTS["sheet"]
    return SheetDocument(
        f"{getattr(title, language)}: {_line(job.title)}",
        language,
        (*pages, originals(job, language)),
    )


def _curb(sheet: _Sheet) -> SheetPage:
    said = sheet.said
    left: list[Block] = [
        Heading(said("truck")),
        Fields(((said("arrived"), said("left")), (said("driver"), said("truck number")))),
        Heading(said("photograph")),
        Ticks(tuple(getattr(row.text, sheet.language) for row in SHOTS)),
        Heading(said("count")),
        *_counts(sheet),
        Heading(said("look")),
        Ticks(tuple(getattr(row.text, sheet.language) for row in LOOK)),
        Choices(said("wrap was"), (said("intact"), said("broken"))),
        Choices(said("inspected"), (said("opened"), said("outside"), said("not at all"))),
    ]
    right: list[Block] = [
        Heading(said("write")),
        Paragraph(said("write how")),
        *(_situation(sheet, situation) for situation in SITUATIONS),
        *_vocabulary(sheet),
        Heading(said("sign")),
        *_signing(sheet),
    ]
    return SheetPage(
        id=f"curb-{sheet.shipment.id if sheet.shipment else 'all'}",
        title=said("sheet"),
        job=_line(sheet.job.title),
        facts=_facts(sheet),
        call=(said("call"), _calls(sheet)),
        top=(Boxed(said("safety"), tuple(getattr(r.text, sheet.language) for r in SAFETY)),),
        columns=(tuple(left), tuple(right)),
        one_page=True,
        more=said("more items"),
    )


def _facts(sheet: _Sheet) -> tuple[tuple[str, str], ...]:
    """Give what identifies the delivery, as (label, value); what is unknown is left blank."""
    job, shipment, said = sheet.job, sheet.shipment, sheet.said
    site = (said("site"), _line(job.site.address))
    if shipment is None:
        return (site, (said("carrier"), ""), (said("pro"), ""), (said("bill"), ""))
    carrier = job.party_named(shipment.carrier)
    reference = ((said("reference"), _line(job.reference)),) if job.reference else ()
    return (
        site,
        (said("carrier"), _line(carrier.name if carrier else shipment.carrier)),
        (said("pro"), _line(shipment.pro_number or "")),
        (said("bill"), _line(shipment.bill_number or "")),
        (said("weight"), shipment.weight.written if shipment.weight else ""),
        *reference,
    )


def _calls(sheet: _Sheet) -> tuple[tuple[str, str], ...]:
    """Say whom to call: our own people and firm first, then the carrier."""
    job, shipment = sheet.job, sheet.shipment
    own = [p for p in job.party if p.phone and Role.OWNER in p.roles]
    carrier = [
        p for p in job.party if p.phone and shipment is not None and p.id == shipment.carrier
    ]
    people = [p for p in job.person if p.phone]
    named = [(p.name, p.phone) for p in people] + [(p.name, p.phone) for p in (*own, *carrier)]
    return tuple((_line(name), _line(phone or "")) for name, phone in named[:_CALLS])


def _counts(sheet: _Sheet) -> list[Block]:
    """Give boxes for handling units and cartons, and the items with a place for each count."""
    said, shipment = sheet.said, sheet.shipment
    names = names_of(sheet.job, shipment)
    blocks: list[Block] = []
    unit = unit_words(names.unit.one, sheet.language)[1]
    counted = (
        (unit, shipment.handling_units if shipment else None),
        (said("cartons"), shipment.cartons if shipment else None),
    )
    for noun, number in counted:
        label = said("on the bill", count=number if number is not None else "____", what=noun)
        enough = number is not None and 0 < number <= MOST_NUMBERED
        blocks.append(Numbered(label, number if enough and number else 0, said("counted")))
    items = _items(sheet)
    if items:
        blocks.append(Rows(said("items"), said("counted"), items))
    return blocks


def _items(sheet: _Sheet) -> tuple[str, ...]:
    return tuple(f"{item.quantity} × {_line(item.description)}" for item in items_of(sheet))


def items_of(sheet: _Sheet) -> tuple[Item, ...]:
    """Give the items of the sheet's shipment, and those whose shipment is not named."""
    job = sheet.job
    return tuple(
        i
        for i in job.item
        if sheet.shipment is None or job.shipment_named(i.shipment) in (sheet.shipment, None)
    )


def _situation(sheet: _Sheet, situation: Situation) -> Words:
    title = getattr(situation.title, sheet.language)
    forms = []
    for form in ("long", "short"):
        blanks = _blanks(sheet, situation.of_units, form)
        forms.append(
            " ".join(_blanked(getattr(PHRASES[k], form), blanks) for k in situation.phrases)
        )
    return Words(title, *forms)


def _blanks(sheet: _Sheet, of_units: bool, form: str) -> dict[str, str]:
    """Give what stands in the places of the phrases: blanks to fill, and the counts of this job.

    Cartons are what is counted at the curb; units where the bill lists no cartons, and where the
    words are about wrap and indicators.
    """
    names, shipment = names_of(sheet.job, sheet.shipment), sheet.shipment
    units, cartons = (shipment.handling_units, shipment.cartons) if shipment else (None, None)
    of_units = of_units or (not cartons and bool(units))
    name, total = (names.unit, units) if of_units else (names.carton, cartons)
    short = form == "short"
    one, many = (name.short_one, name.short_many) if short else (name.one, name.many)
    size = "in" if sheet.job.site.country in INCH_COUNTRIES else "cm"
    blanks = {
        "count": "___",
        "received": "___",
        "number": "___",
        "expected": str(total or "___"),
        "total": str(total or "___"),
        "because": "_" * 14,
        "noun": one if total == 1 else many,
        "many": one if total == 1 else many,
        "one": one,
        "found": f"{'_' * 10} {'_' * 9} ___{size.upper()}"
        if short
        else f"{'_' * 13} {'_' * 11}, ___ {size}",
    }
    inside = _blanked(getattr(WHICH["one"], form), blanks | {"One": one})
    capital = blanks | {"One": one[:1].upper() + one[1:]}
    starts = _blanked(getattr(WHICH["one"], form), capital)
    return blanks | {"which": inside, "Which": starts}


def _blanked(phrase: str, blanks: dict[str, str]) -> str:
    """Put blanks into the places of a phrase; pieces that begin a sentence begin with a capital."""
    first, *parts = phrase.split("{")
    text = first
    for part in parts:
        place, _, rest = part.partition("}")
        text += blanks["Which" if place == "which" and not text else place] + rest
    return text


def _vocabulary(sheet: _Sheet) -> tuple[Paragraph, ...]:
    """List the words for the blanks, in the receipt's own English: where, and what is wrong."""

    def listed(key: str, choices: tuple[Choice, ...]) -> Paragraph:
        return Paragraph(f"{sheet.said(key)} " + ", ".join(choice.long for choice in choices))

    return listed("where words", WHERES), listed("what words", KINDS)


def _signing(sheet: _Sheet) -> list[Block]:
    said = sheet.said
    shots = tuple(getattr(row.text, sheet.language) for row in RECEIPT_SHOTS)
    declined, left = PHRASES["declined"].long, PHRASES["left"].long
    return [
        Ticks(shots[:1], strong=True),
        Fields(((said("driver signs"),),)),
        Ticks((said("driver declined", words=declined), said("driver left", words=left))),
        Fields(((said("we sign"), said("signed at")),)),
        Choices(said("receipt"), (said("paper"), said("handheld"), said("declined"))),
        Ticks(shots[1:]),
    ]


def _line(text: str) -> str:
    return " ".join(text.split())
