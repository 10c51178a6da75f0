"""The receiving sheet as a printed PDF, read back page by page."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any, Literal

import pypdfium2
import pytest

from claimkit.compose.sheets.book import MOST_NUMBERED, compose
from claimkit.model.job import Item, Job, Joint, Party, Person, Role, Seam, Shipment, Site, Station
from claimkit.model.quantities import Length
from claimkit.render.sheet import render_sheet
from claimkit.render.style import PAPER
from claimkit.rules.receiving import PHRASES, SITUATIONS
from claimkit.rules.receiving_steps import (
    ANDROID,
    ANY_PHONE,
    IPHONE,
    LOOK,
    RECEIPT_SHOTS,
    SAFETY,
    SHOTS,
    UNPACKING,
)
from claimkit.rules.sheet_texts import TEXTS
from tests.shared import ROOT

Language = Literal["en", "es"]
LANGUAGES: tuple[Language, ...] = ("en", "es")


def mm(value: int) -> Length:
    return Length(Fraction(value), f"{value} mm")


def job(**more: Any) -> Job:
    """Give a job with one shipment, two items and a seam with two stations."""
    values: dict[str, Any] = {
        "title": "Kiln Road 9",
        "site": Site(address="9 Kiln Road, Ashby", zone="America/Chicago"),
        "party": (
            Party(id="us", name="Marl & Sons", roles=(Role.OWNER,), phone="+1 217 555 0110"),
            Party(id="hauler", name="Northway Freight", roles=(Role.DELIVERING_CARRIER,)),
        ),
        "person": (Person(id="dana", name="Dana Voss", phone="+1 217 555 0199"),),
        "shipment": (
            Shipment(
                id="main",
                carrier="hauler",
                pro_number="77-1",
                bill_number="B-9",
                handling_units=2,
                cartons=9,
            ),
        ),
        "item": (
            Item(id="panel", description="Wall panel", size=(mm(1200), mm(2400)), hand="left"),
            Item(id="tray", description="Floor tray", drain_position="centre back"),
        ),
        "seam": (
            Seam(
                id="s1",
                between=("panel", "tray"),
                joint=Joint.BUTT,
                design_gap_min=mm(2),
                design_gap_max=mm(4),
                station=(Station(id="top"), Station(id="foot", at=mm(300))),
            ),
        ),
    }
    return Job(**(values | more))


def texts(pdf: bytes) -> list[str]:
    """Give the words of each page on one line, by a reader that knows nothing of claimkit."""
    document = pypdfium2.PdfDocument(pdf)
    pages = [page.get_textpage().get_text_bounded() for page in document]
    return [" ".join(text.split()) for text in pages]


def sheet(a_job: Job | None = None, language: Language = "en", paper: Any = "letter") -> list[str]:
    return texts(render_sheet(compose(a_job or job(), language), paper))


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_three_pages_on_the_paper_asked_for(language: Language, paper: Any) -> None:
    pdf = render_sheet(compose(job(), language), paper)
    document = pypdfium2.PdfDocument(pdf)
    assert len(document) == 3
    for page in document:
        assert page.get_size() == pytest.approx(PAPER[paper], abs=0.5)


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_first_page_has_what_a_receiver_needs(language: Language) -> None:
    first = sheet(language=language)[0]
    for row in (*SAFETY, *SHOTS, *LOOK, *RECEIPT_SHOTS):
        assert getattr(row.text, language) in first
    for known in ("Northway Freight", "77-1", "B-9", "+1 217 555 0199", "+1 217 555 0110"):
        assert known in first
    assert " ".join(str(n) for n in range(1, 10)) in first  # a box for each of the 9 cartons
    for situation in SITUATIONS:
        assert getattr(situation.title, language) in first
    # Words that hold no blank stand there exactly, in English on either sheet.
    for key in ("outside", "declined", "left"):
        assert PHRASES[key].long in first
    assert PHRASES["outside"].short in first
    assert "Carton ___ of 9:" in first
    assert "CTN ___/9" in first
    assert "Stretch wrap or seal broken on skid ___ of 2." in first


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_second_and_third_page(language: Language) -> None:
    _, second, third = sheet(language=language)
    for row in UNPACKING:
        assert getattr(row.text, language) in second
    for known in ("Wall panel", "1200 mm × 2400 mm", "left", "centre back", "foot (300 mm)"):
        assert known in second
    assert "2 mm – 4 mm" in second
    for row in (*ANY_PHONE, *IPHONE, *ANDROID):
        assert getattr(row.text, language) in third
    assert "Dana Voss" in third


def many_items(count: int) -> Job:
    items = tuple(
        Item(id=f"i{n}", description=f"Piece number {n} with a rather long name", quantity=n + 1)
        for n in range(count)
    )
    return job(item=items, seam=())


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("count", [0, 12, 60])
def test_the_curb_stays_one_page_and_no_item_is_lost(count: int, language: Language) -> None:
    """What has no room at the curb is counted there, and stands with the others at unpacking."""
    pages = sheet(many_items(count), language)
    unpacking = " ".join(pages[1:-1])
    for number in range(count):
        assert f"Piece number {number} with" in unpacking
    shown = len(re.findall(r"× Piece number", pages[0]))
    more = re.search(r"(\d+) (?:more on the unpacking|más en la hoja)", pages[0])
    assert shown + (int(more[1]) if more else 0) == count
    assert getattr(RECEIPT_SHOTS[-1].text, language) in pages[0]  # the last line of the last step
    assert shown >= min(count, 4)


def test_many_pieces_are_counted_on_a_line() -> None:
    big = Shipment(id="main", carrier="hauler", handling_units=30, cartons=MOST_NUMBERED)
    first = sheet(job(shipment=(big,)))[0]
    assert "30 skids on the bill" in first
    assert f" {MOST_NUMBERED} " in first
    assert " 29 30 " not in first


def test_each_shipment_has_its_own_page_and_its_own_items() -> None:
    two = job(
        shipment=(
            Shipment(id="north", carrier="hauler", cartons=3),
            Shipment(id="south", carrier="hauler", cartons=5),
        ),
        item=(
            Item(id="a", description="Alder door", shipment="north"),
            Item(id="b", description="Birch door", shipment="south"),
        ),
        seam=(),
    )
    pages = sheet(two)
    assert len(pages) == 5
    assert ["Alder door" in page for page in pages] == [True, True, False, False, False]
    assert ["Birch door" in page for page in pages] == [False, False, True, True, False]
    assert len(texts(render_sheet(compose(two, "en", "south"), "letter"))) == 3


def test_a_job_that_knows_nothing_yet_gives_blanks() -> None:
    bare = Job(title="x", site=Site(address="y", zone="America/Chicago"))
    pages = sheet(bare)
    assert len(pages) == 3
    assert "____ cartons on the bill" in pages[0]


def test_every_fixed_text_is_there_in_both_languages() -> None:
    alike = {key for key, said in TEXTS.items() if said.en == said.es}
    assert alike == {"iphone", "android"}
    for key, said in TEXTS.items():
        places = [sorted(re.findall(r"\{(\w+)\}", text)) for text in (said.en, said.es)]
        assert places[0] == places[1], key
    source = "\n".join(
        path.read_text("utf-8")
        for path in (
            *ROOT.glob("claimkit/compose/sheets/*.py"),
            ROOT / "claimkit/render/sheet.py",
            ROOT / "claimkit/rules/sheet_texts.py",
        )
    )
    assert [key for key in TEXTS if source.count(f'"{key}"') < 2] == []  # named, and used


def test_the_spanish_sheet_says_nothing_in_english_but_the_receipts_words() -> None:
    """Each English text is looked for in the Spanish print, where it differs from the Spanish."""
    printed = " ".join(sheet(language="es"))
    for phrase in PHRASES.values():
        printed = printed.replace(phrase.long, "").replace(phrase.short, "")
    for key, said in TEXTS.items():
        plain = re.sub(r"\{\w+\}", "", said.en).strip(" .:")
        if said.en != said.es and len(plain) > 8:
            assert plain not in printed, key
    rows = (*SAFETY, *SHOTS, *LOOK, *RECEIPT_SHOTS, *UNPACKING, *ANY_PHONE, *IPHONE, *ANDROID)
    assert [row.id for row in rows if row.text.en in printed] == []


HOSTILE = '</script><b>&amp; {count} %s "quotes" 面板 \n new line'


def test_what_was_typed_is_only_text() -> None:
    hostile = job(
        title=HOSTILE,
        reference=HOSTILE,
        person=(Person(id="dana", name=HOSTILE, phone=HOSTILE),),
        item=(Item(id="panel", description=HOSTILE, colour=HOSTILE, hand=HOSTILE),),
        seam=(),
    )
    pages = sheet(hostile)
    assert len(pages) == 3
    assert '</script><b>&amp; {count} %s "quotes" 面板' in pages[1]


def test_the_same_sheet_gives_the_same_bytes() -> None:
    first, again = (render_sheet(compose(job(), "en"), "letter") for _ in range(2))
    assert first == again
    assert first != render_sheet(compose(job(title="Other"), "en"), "letter")


def test_ink_is_black_and_nothing_else() -> None:
    """Every pixel of a printed page is a grey of the paper: it survives a black printer."""
    document = pypdfium2.PdfDocument(render_sheet(compose(job(), "en"), "letter"))
    for page in document:
        picture = page.render(scale=1).to_pil().convert("RGB")
        spread = [max(colour) - min(colour) for _, colour in picture.getcolors(1 << 24) or []]
        assert max(spread) <= 2


def test_type_is_large_enough_for_wet_paper() -> None:
    """At least 7 points (common practice, no source: the small print of forms is 6)."""
    for count in (2, 12):
        document = pypdfium2.PdfDocument(render_sheet(compose(many_items(count), "es"), "letter"))
        page = document[0]
        sizes = set()
        for found in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_TEXT]):
            matrix = found.get_matrix()
            sizes.add(round(abs(matrix.d) * _font_size(found), 1))
        assert min(sizes) >= 7.0, sizes


def _font_size(found: Any) -> float:
    import ctypes

    size = ctypes.c_float()
    pypdfium2.raw.FPDFTextObj_GetFontSize(found.raw, size)
    return size.value
