"""The packet's page of gaps seen in photos: what stands side by side, what is refused, for whom."""

from __future__ import annotations

import pytest

from claimkit.compose.packet.order import compose
from claimkit.model.case import Case, Reader
from claimkit.model.document import Document, PlateRow, Section, Table, statements
from tests.findings.photo_gap_build import DRY, LATER, both, full, measured, not_measured, shows


def page(found: Case, reader: Reader = Reader.CUSTOMER) -> Section | None:
    document = compose(found, reader)
    return next((s for s in document.sections if s.id == "gap-photos"), None)


def texts(document: Document) -> str:
    return "\n".join(s.text for name, s in statements(document) if name == "gap-photos")


def test_dry_fit_and_later_stand_side_by_side_above_their_photos() -> None:
    section = page(both(3.0, 5.0))
    assert section
    cards, photos = (block.plates for block in section.blocks if isinstance(block, PlateRow))
    # lip 0.1, edges 0.08, print 0.003 of the gap, bench 0.034: u = 0.133 mm (root of the squares)
    assert [plate.caption[0].text for plate in cards] == [
        "dry fit: 3.00\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}0.27\N{NO-BREAK SPACE}mm",
        "handover: 5.00\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}0.27\N{NO-BREAK SPACE}mm",
    ]
    assert [plate.photo_no for plate in cards] == [plate.photo_no for plate in photos]
    assert all(plate.card and not photo.card for plate, photo in zip(cards, photos, strict=True))
    assert len({plate.key for plate in (*cards, *photos)}) == 4
    assert all(plate.again for plate in (*cards, *photos)), (
        "their own plates stand among the photos"
    )


@pytest.mark.parametrize("reader", [Reader.CUSTOMER, Reader.OWN])
def test_a_witness_is_called_one(reader: Reader) -> None:
    told = texts(compose(both(3.0, 5.0, benched=False), reader))
    assert "decide nothing" in told
    assert "witness only" in told
    assert "decide nothing" not in texts(compose(both(3.0, 5.0), reader))


def test_a_refused_photo_is_named_and_only_the_owner_is_advised() -> None:
    found = full(shows(DRY, measured(3)), shows(LATER, not_measured(LATER)))
    for reader, advised in ((Reader.CUSTOMER, False), (Reader.OWN, True)):
        told = texts(compose(found, reader))
        assert "not measured. The card is cut off by the picture's edge." in told
        assert ("Photograph again" in told) is advised


def test_the_bench_check_stands_with_every_row() -> None:
    section = page(both())
    assert section
    table = [block for block in section.blocks if isinstance(block, Table)][-1]
    assert len(table.rows) == 5
    assert table.rows[0][2].text == "4 mm"
    assert table.rows[0][4].text == "+0.05 mm"


def test_without_cards_there_is_no_such_page() -> None:
    assert page(full()) is None


def test_the_customers_page_blames_nobody() -> None:
    told = texts(compose(both(3.0, 5.0), Reader.CUSTOMER)).lower()
    assert not any(word in told for word in ("fault", "blame", "caused", "because of the install"))
