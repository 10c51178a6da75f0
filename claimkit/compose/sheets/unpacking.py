"""The pages after the curb: unpacking against the order, and the originals of the photos."""

from __future__ import annotations

from claimkit.model.job import Item, Job, Seam, Shipment
from claimkit.model.quantities import Length
from claimkit.model.sheet import (
    Block,
    Boxed,
    Fields,
    Grid,
    Heading,
    Paragraph,
    SheetPage,
    Ticks,
)
from claimkit.rules.receiving_steps import AFTER, ANDROID, ANY_PHONE, IPHONE, UNPACKING, Row
from claimkit.rules.sheet_texts import TEXTS

NOT_ASKED = "–"


def unpacking(job: Job, shipment: Shipment | None, language: str) -> SheetPage:
    """Give the page for unpacking: what to do, every item against the order, the dry fit."""

    def said(key: str) -> str:
        return str(getattr(TEXTS[key], language))

    items = tuple(
        i
        for i in job.item
        if shipment is None or job.shipment_named(i.shipment) in (shipment, None)
    )
    below: list[Block] = [
        Fields(((said("who"), said("began"), said("ended")), (said("packing kept"),))),
        Heading(said("unpack how")),
        Ticks(tuple(str(getattr(row.text, language)) for row in UNPACKING)),
        Heading(said("against the order")),
    ]
    if items:
        below += [Paragraph(said("ordered above")), _against_the_order(items, language)]
    else:
        below.append(Paragraph(said("no items")))
    seams = tuple(seam for seam in job.seam if set(seam.between) & {item.id for item in items})
    if seams:
        below += [
            Heading(said("dry fit")),
            Paragraph(said("dry fit how")),
            _stations(job, seams, language),
        ]
    finding = (
        (said("which piece"), said("found at")),
        (said("where on it"), said("what and size")),
    )
    below += [Heading(said("hidden")), Fields(finding * 3)]
    facts = ((said("shipment"), shipment.id),) if shipment and len(job.shipment) > 1 else ()
    return SheetPage(
        id=f"unpacking-{shipment.id if shipment else 'all'}",
        title=said("unpacking sheet"),
        job=_line(job.title),
        facts=facts,
        below=tuple(below),
    )


def _against_the_order(items: tuple[Item, ...], language: str) -> Grid:
    """Give a table with only those columns that the order states for some item."""

    def said(key: str) -> str:
        return str(getattr(TEXTS[key], language))

    asked = (
        ("size", 1.5, tuple(_sizes(i.size) for i in items)),
        ("hand", 0.8, tuple(_line(i.hand or "") for i in items)),
        ("drain", 1.1, tuple(_line(i.drain_position or "") for i in items)),
        ("colour", 0.9, tuple(_line(i.colour or "") for i in items)),
    )
    columns = [(key, share, values) for key, share, values in asked if any(values)]
    rows = []
    for number, item in enumerate(items):
        more = [item.part_number or "", said("accessory") if item.accessory else ""]
        name = ", ".join(part for part in (_line(item.description), *map(_line, more)) if part)
        cells = [values[number] or NOT_ASKED for _, _, values in columns]
        rows.append((name, str(item.quantity), *cells, ""))
    heads = (said("item"), said("quantity"), *(said(key) for key, _, _ in columns))
    shares = (2.6, 0.8, *(share for _, share, _ in columns), 1.6)
    return Grid((*heads, said("condition")), tuple(rows), shares)


def _stations(job: Job, seams: tuple[Seam, ...], language: str) -> Grid:
    """Give a row for each station of each seam; a seam without stations gets two blank ones."""

    def said(key: str) -> str:
        return str(getattr(TEXTS[key], language))

    rows = []
    for seam in seams:
        named = [job.item_named(item) for item in seam.between]
        pieces = " / ".join(_line(item.description) for item in named if item)
        stations = [
            f"{station.id} ({_line(station.at.written)})" if station.at else station.id
            for station in seam.station
        ]
        for number, station in enumerate(stations or ["", ""]):
            name = f"{seam.id}: {pieces}" if number == 0 else seam.id
            rows.append((name, _design(seam), station, "", "", ""))
    heads = tuple(said(k) for k in ("seam", "design", "station", "gap", "instrument", "photo"))
    return Grid(heads, tuple(rows), (2.4, 1.2, 1.2, 1.0, 1.2, 0.7))


def _design(seam: Seam) -> str:
    low, high = seam.design_gap_min, seam.design_gap_max
    if low is None and high is None:
        return NOT_ASKED
    ends = [_line(end.written) for end in (low, high) if end is not None]
    return " – ".join(ends) if len(ends) == 2 else f"{'≥' if high is None else '≤'} {ends[0]}"


def _sizes(size: tuple[Length, ...]) -> str:
    return " × ".join(_line(length.written) for length in size)


def originals(job: Job, language: str) -> SheetPage:
    """Give the page on getting original photos off an iPhone and an Android telephone."""

    def said(key: str) -> str:
        return str(getattr(TEXTS[key], language))

    def texts(rows: tuple[Row, ...]) -> tuple[str, ...]:
        return tuple(str(getattr(row.text, language)) for row in rows)

    who = [_line(p.name) + (f" ({', '.join(p.cameras)})" if p.cameras else "") for p in job.person]
    below: list[Block] = [Heading(said("then")), Ticks(texts(AFTER)), Heading(said("from whom"))]
    below += [Ticks(tuple(_line(name) for name in who))] if who else []
    below += [Fields((("",), ("",)))]
    below.append(Paragraph(said("names of settings")))
    return SheetPage(
        id="originals",
        title=said("originals sheet"),
        job=_line(job.title),
        top=(
            Boxed(said("why originals"), ()),
            Heading(said("any phone")),
            Ticks(texts(ANY_PHONE)),
        ),
        columns=(
            (Heading(said("iphone")), Ticks(texts(IPHONE))),
            (Heading(said("android")), Ticks(texts(ANDROID))),
        ),
        below=tuple(below),
    )


def _line(text: str) -> str:
    return " ".join(text.split())
