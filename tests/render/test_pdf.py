"""The drawn packet, read back: words, pages, links, outline, pictures, fonts and bytes."""

from __future__ import annotations

import hashlib
import io
import json
import os
import random
import re
import subprocess
import sys
import tracemalloc
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageOps

from claimkit.model.document import (
    Answers,
    Document,
    GapPlot,
    GapPoint,
    Paragraphs,
    Plate,
    PlateRow,
    Section,
    Statement,
    Table,
    Timeline,
    statements,
)
from claimkit.model.source import Source
from claimkit.pixels.scale import scaled_jpeg
from claimkit.render.glyphs import shown
from claimkit.render.pdf import pictures_wanted, render, short_id
from claimkit.render.setting import EMPHASIS
from claimkit.render.style import MARGIN_FOOT, MARGIN_SIDE, PAPER, Paper
from tests.pixels.test_scale import asymmetric, jpeg, near, probes
from tests.render.reading import links, page_texts, squeezed, text_areas, text_in
from tests.render.sample_document import (
    JOB,
    document,
    drawn,
    photo_source,
    picture,
    plate,
    record,
    say,
    scripts,
)

GOLDEN = Path(__file__).with_name("sample_text.json")
ROOT = Path(__file__).resolve().parents[2]


@cache
def sample(paper: Paper = "letter") -> bytes:
    """Give the sample document as PDF."""
    return render(document(12), picture, paper=paper)


def one(*blocks: object, **more: object) -> Document:
    """Give a document of one section with these blocks."""
    section = Section("part", "Part", blocks)  # type: ignore[arg-type]
    return replace(document(12), sections=(section,), **more)  # type: ignore[arg-type]


def told(*texts: str) -> Document:
    """Give a document of plain statements."""
    return one(Paragraphs(tuple(say(text, JOB) for text in texts)))


def words(pdf: bytes) -> str:
    """Give all text of all pages without spaces."""
    return squeezed("".join(page_texts(pdf)))


def test_text_of_each_page() -> None:
    """Golden: run `python -m tests.render.test_pdf` after looking at the pages."""
    assert page_texts(sample()) == json.loads(GOLDEN.read_text(encoding="utf-8"))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_paper_and_page_numbers(paper: Paper) -> None:
    """ANSI A is 8.5 by 11 in, ISO 216 A4 210 by 297 mm."""
    inches = {"letter": (8.5, 11.0), "a4": (210 / 25.4, 297 / 25.4)}[paper]
    texts = page_texts(sample(paper))
    for number, text in enumerate(texts, 1):
        assert f"page {number} of {len(texts)}" in text
        assert "as of Wed 2026-05-20" in text
        assert short_id(document(12)) in text
        if number > 1:
            assert text.startswith("Kiln Road 9: wet room panels For the carrier")
    with pypdfium2.PdfDocument(sample(paper)) as pdf:
        for page in pdf:
            assert page.get_size() == pytest.approx([72 * edge for edge in inches], abs=0.01)


def test_every_statement_of_text_and_tables_is_printed() -> None:
    printed = words(sample())
    for section, statement in statements(document(12)):
        if section == "answer":  # beside its label, so its lines do not follow each other
            assert all(word in printed for word in statement.text.split()), statement.text
        elif section not in ("timeline", "photos"):
            assert squeezed(shown(statement.text)) in printed, statement.text


@pytest.mark.parametrize("statement", scripts().blocks[0].statements)  # type: ignore[union-attr]
def test_every_script_comes_back(statement: Statement) -> None:
    """Latin, Greek, Cyrillic and Han as typed, the rest as codes; markup as plain text."""
    assert squeezed(shown(statement.text)) in words(sample())


@pytest.mark.parametrize(
    "first, last, step",
    [
        (0x20, 0x7E, 1), (0xA1, 0x17F, 1), (0x386, 0x3CE, 1), (0x1F00, 0x1F15, 1),
        (0x400, 0x45F, 1), (0x460, 0x4FF, 1), (0x4E00, 0x9FA5, 13), (0x3400, 0x4DA0, 41),
    ],
)  # fmt: skip
def test_every_code_point_comes_back(first: int, last: int, step: int) -> None:
    """Each character in a word of its own, in regular and in strong type."""
    chars = [chr(c) for c in range(first, last + 1, step) if chr(c).isprintable()]
    pdf = render(told(" ".join(chars)), picture, paper="a4")
    assert squeezed("".join(chars)) in words(pdf).replace("\u00a0", "")
    head = one(Paragraphs((say("x"),)), title=" ".join(chars)[:160])
    assert squeezed("".join(chars)[:80]) in words(render(head, picture, paper="a4"))


MARKUP = [
    "<b>", "</para>", "&amp;", "&#60;", "&nbsp;", "<img src='/etc/passwd'/>", "<a href='x'>y</a>",
    "<br/>", "<!-- -->", "]]>", "<font size=99>", "%PDF", "(unclosed", "\\) Tj ET", "{0}", "%s",
    "<seq id=1>", "<onDraw name=x/>", "<greek>a</greek>", "/Alt <", "EMC", "<super>2</super>",
]  # fmt: skip


@pytest.mark.parametrize("text", MARKUP)
def test_markup_is_only_text_wherever_it_stands(text: str) -> None:
    said = say(text, JOB)
    source = photo_source(1)
    one_plate = replace(plate(1), caption=(Statement(text, (source,)),), alt=text, path=text)
    tale = document(12).sections[2].blocks[0]
    assert isinstance(tale, Timeline)
    marks = (replace(tale.marks[-2], label=text), *tale.marks[:3])
    blocks = (
        Answers(((text, said),)),
        Table((text, "b"), ((said, said),), (1, 1)),
        Paragraphs((said,)),
        replace(tale, title=text, marks=marks, alt=text),
        GapPlot(text, (), None, None, text),
        PlateRow((one_plate,)),
    )
    packet = one(*blocks, title=text, subtitle=text, made=text, id=text)
    packet = replace(packet, sections=(replace(packet.sections[0], title=text),))
    pdf = render(packet, lambda plate, pixels: text, paper="letter")
    printed = words(pdf)
    # title, subtitle, made (head, foot), id, section, label, answer, table head, two cells,
    # paragraph, timeline title and label, plot title, caption, refusal
    assert printed.count(squeezed(text)) >= 16
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert opened.docinfo["/Title"] == f"{text} (For the carrier)"
        assert next(str(item.title) for item in opened.open_outline().root) == text


def test_links_lead_from_each_tag_to_what_it_names() -> None:
    pdf = sample()
    texts = page_texts(pdf)
    found = links(pdf)
    seen = set()
    for link in found:
        tag = text_in(pdf, link.page, link.area).strip("–[], ").split(" p.")[0]
        if not re.fullmatch(r"[PRDJC]\d+", tag):
            continue  # of the contents, see below
        seen.add(tag)
        target = texts[link.to_page]
        if tag[0] == "P" and int(tag[1:]) <= 12:
            assert f"{tag} Photo {tag[1:]}: at the curb" in target
        else:
            assert any(line.startswith(f"{tag} ") for line in target.splitlines()), tag
    assert {"R1", "P3", "P8", "D1", "J1", "C1", "P25"} <= seen


def test_contents_and_outline_lead_to_the_sections() -> None:
    pdf = sample()
    texts = page_texts(pdf)
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        number = {page.objgen: i for i, page in enumerate(opened.pages)}
        items = [
            (str(item.title), number[item.destination[0].objgen])
            for item in opened.open_outline().root
        ]
    titles = [section.title for section in document(12).sections] + ["Sources"]
    assert [title for title, _ in items] == titles
    for title, page in items:
        assert title in texts[page].splitlines()
    listed = dict(items)
    for line in texts[0].split("Contents\n")[1].splitlines()[: len(titles) - 1]:
        title, _, page = line.rpartition(" ")
        assert listed[title] == int(page) - 1


def test_a_statement_names_each_of_its_sources() -> None:
    text = words(sample())
    assert squeezed("left show it. [R1, P3–P8, C1]") in text
    assert squeezed("by the invoice. [D1 p. 2]") in text
    assert squeezed("R1 records/delivery.toml: carrier_copy.words, signed_at, arrived") in text
    assert squeezed(f"sha256 {(record('delivery').sha256 or '')[:12]}") in text
    assert squeezed("C1 49 U.S.C. 14706(a), read 2026-04-02") in text


def test_emphasis_is_a_word() -> None:
    lines = page_texts(sample())[0].splitlines()
    assert "supports The receipt names pieces, kind and place of the damage. [R1]" in lines
    for word in ("does not support One", "missing A photo", "caution Broken"):
        assert any(line.startswith(word) for line in lines)


def test_sources_that_a_row_shares_stand_once() -> None:
    row = tuple(say(text, JOB, record("notice")) for text in ("one", "two", "three"))
    extra = (say("four", JOB, record("dry fit")), say("five", JOB), say("six", JOB))
    table = Table(("a", "b", "c"), (row, extra), (1, 1, 1))
    text = "\n".join(page_texts(render(one(table), picture, paper="letter")))
    assert "one two three [J1, R1]" in text
    assert "four [R2] five six [J1]" in text


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_nothing_is_clipped_and_no_text_prints_over_other_text(paper: Paper) -> None:
    """Oracle: the areas of text as pdfium finds them in the drawn pages."""
    wide, high = PAPER[paper]
    for areas in text_areas(sample(paper)):
        for i, ((left, low, right, top), text) in enumerate(areas):
            assert left >= MARGIN_SIDE - 1, text
            assert right <= wide - MARGIN_SIDE + 1, text
            assert low >= 24, text
            assert top <= high - 30, text
            for (a, b, c, d), other in areas[:i]:
                across, down = min(right, c) - max(left, a), min(top, d) - max(low, b)
                assert across < 1 or down < 1.5, (text, other)


@pytest.mark.parametrize("count", [3, 9])
def test_an_emphasis_stays_in_its_column(count: int) -> None:
    """The longest word of standing in a narrow column, beside one that begins right after it.

    Nine columns leave no room for it in one line: it is broken. Oracle: pdfium's areas of text.
    """
    cells = (say("Ask", JOB), say("no", JOB, emphasis="does not support"))
    row = (*cells, *(say(f"facts that follow {n}", JOB) for n in range(count - 2)))
    table = Table(tuple(f"h{n}" for n in range(count)), (row, row), (2, 0.4, *(3,) * (count - 2)))
    for areas in text_areas(render(one(table), picture, paper="letter")):
        for i, ((left, low, right, top), text) in enumerate(areas):
            for (a, b, c, d), other in areas[:i]:
                across, down = min(right, c) - max(left, a), min(top, d) - max(low, b)
                assert across < 1 or down < 1.5, (text, other)
    text = "\n".join(page_texts(render(one(table), picture, paper="letter")))
    assert squeezed("does not support") in squeezed(text) or count > 3


def test_heads_are_repeated_and_tall_cells_are_cut_by_lines() -> None:
    long = " ".join(f"word{n}" for n in range(3000))
    rows = ((say("first"), say(long)), (say("second"), say("short")))
    table = Table(("Head one", "Head two"), rows, (1, 3))
    texts = page_texts(render(one(table), picture, paper="letter"))
    tabled = [text for text in texts if "word" in text or "second" in text]
    assert len(tabled) > 2
    assert all("Head one Head two" in text for text in tabled)
    whole = [word for text in texts for word in text.split() if word.startswith("word")]
    assert whole == long.split()


def test_a_caption_longer_than_its_place_goes_on_below() -> None:
    source = photo_source(1)
    long = " ".join(f"note{n}" for n in range(600))
    wordy = replace(plate(1), caption=(say("Photo 1", source), say(long, source)))
    row = PlateRow((wordy, plate(2)))
    texts = page_texts(render(one(row), picture, paper="letter"))
    found = [word for text in texts for word in text.split() if word.startswith("note")]
    assert sorted(found) == sorted(long.split())
    assert any("P1, caption continued" in text for text in texts)


def test_a_picture_that_is_not_drawn_says_why() -> None:
    assert "Not drawn. The file ends before the picture does." in "".join(page_texts(sample()))
    reason = "The path is " + "long/" * 120 + "end."
    pdf = render(one(PlateRow((plate(1), plate(2)))), lambda *_: reason, paper="letter")
    assert words(pdf).count(squeezed(reason)) == 2


@pytest.mark.parametrize("orientation", range(1, 9))
def test_plates_are_upright_on_the_page(orientation: int) -> None:
    """Oracle: Pillow's ImageOps.exif_transpose; the drawn page is read by pdfium."""
    data = jpeg(asymmetric(), orientation)
    upright = ImageOps.exif_transpose(Image.open(io.BytesIO(data)))

    def scaled(plate: Plate, pixels: int) -> bytes:
        return scaled_jpeg(
            data,
            long_side_px=pixels,
            quality=90,
            orientation=plate.orientation,
            upright_when_decoded=plate.upright_when_decoded,
        )

    packet = one(PlateRow((plate(1, orientation=orientation), plate(2, orientation=orientation))))
    with pypdfium2.PdfDocument(render(packet, scaled, paper="letter")) as pdf:
        page = pdf[0]
        image = page.render(scale=1).to_pil()
        placed = list(page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE]))
        assert len(placed) == 2
        high = page.get_height()
        for item in placed:
            left, low, right, top = item.get_bounds()
            drawn = image.crop((round(left), round(high - top), round(right), round(high - low)))
            assert drawn.width / drawn.height == pytest.approx(upright.width / upright.height, 0.05)
            assert near(probes(drawn), probes(upright), by=12)


def test_every_picture_is_asked_for_once_and_in_order() -> None:
    asked: list[tuple[int, int]] = []

    def note(plate: Plate, pixels: int) -> bytes | str:
        asked.append((plate.photo_no, pixels))
        return drawn(1, 40, 30)

    told: list[tuple[int, int]] = []
    packet = document(12)
    render(packet, note, paper="a4", progress=lambda done, total: told.append((done, total)))
    assert asked == [(plate.photo_no, pixels) for plate, pixels in pictures_wanted(packet)]
    assert [number for number, _ in asked] == list(range(1, 13))
    assert [done for done, _ in told] == list(range(1, len(told) + 1))
    assert told[-1][0] == told[-1][1]


def test_the_same_plate_twice_is_one_picture_in_the_file() -> None:
    packet = one(PlateRow((plate(1), plate(2))), PlateRow((plate(1), plate(2))))
    with pikepdf.open(io.BytesIO(render(packet, picture, paper="letter"))) as pdf:
        kinds = [obj for obj in pdf.objects if isinstance(obj, pikepdf.Stream)]
        pictures = [obj for obj in kinds if obj.get("/Subtype") == "/Image"]
        assert len(pictures) == 2
        assert all(list(obj.Filter) == ["/DCTDecode"] for obj in pictures)


def fonts_of(pdf: bytes) -> Iterator[pikepdf.Object]:
    """Give every font of a file."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        for obj in opened.objects:
            if isinstance(obj, pikepdf.Dictionary) and obj.get("/Type") == "/Font":
                yield obj


def test_every_font_is_embedded_and_none_is_taken_for_another() -> None:
    names = []
    with pikepdf.open(io.BytesIO(sample())) as pdf:
        for obj in pdf.objects:
            if isinstance(obj, pikepdf.Dictionary) and obj.get("/Type") == "/Font":
                assert "/FontFile2" in obj.FontDescriptor
                assert "/ToUnicode" in obj
                names.append(str(obj.BaseFont))
        assert pdf.Root.Lang == "en-US"
        assert all("/Trans" not in page for page in pdf.pages)
    assert len(names) == len(set(names)) >= 5


def test_codes_are_explained_where_they_stand() -> None:
    note = "A code such as U+0627 in angle brackets"
    for text, page in zip(page_texts(sample()), range(99), strict=False):
        assert (note in text) == ("⟨U+" in text), page
    assert any(note in text for text in page_texts(sample()))


@pytest.mark.parametrize(
    "block",
    [
        Paragraphs(()),
        Answers(()),
        Table(("a",), (), (1,)),
        Timeline("t", "America/Chicago", (), (), ""),
        Timeline("t", "Nowhere/At_all", (), document(12).sections[2].blocks[0].marks, ""),  # type: ignore[union-attr]
        GapPlot("t", (), None, None, ""),
        PlateRow(()),
        PlateRow((plate(1), plate(2), plate(3))),
        PlateRow(tuple(plate(n) for n in range(1, 8))),
        PlateRow((replace(plate(1), caption=()),)),
        Paragraphs((Statement("", ()), Statement("no source at all", ()))),
    ],
)
def test_blocks_with_little_or_much_in_them(block: object) -> None:
    assert "page 1 of" in page_texts(render(one(block), picture, paper="letter"))[0]


def test_a_document_of_nothing() -> None:
    packet = replace(document(12), sections=())
    assert "page 1 of 1" in page_texts(render(packet, picture, paper="a4"))[0]


@pytest.mark.parametrize("size", [(4000, 40), (40, 4000), (1, 1), (3000, 2000)])
def test_pictures_of_any_shape_fit(size: tuple[int, int]) -> None:
    rows = (
        PlateRow((plate(1),), large=True),
        PlateRow((plate(1),)),
        PlateRow((plate(1), plate(2))),
    )
    pdf = render(one(*rows), lambda *_: drawn(1, *size), paper="letter")
    with pypdfium2.PdfDocument(pdf) as opened:
        for page in opened:
            for item in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE]):
                left, low, right, top = item.get_bounds()
                assert MARGIN_SIDE - 1 <= left < right <= 612 - MARGIN_SIDE + 1
                assert MARGIN_FOOT - 1 <= low < top <= 792 - 50
                shape = (right - left) / (top - low)
                assert shape == pytest.approx(size[0] / size[1], rel=0.01)


def widths_of_pictures(packet: Document) -> list[float]:
    """Give the widths of all pictures on all pages, in points."""
    found = []
    with pypdfium2.PdfDocument(render(packet, picture, paper="letter")) as pdf:
        for page in pdf:
            for item in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE]):
                left, _, right, _ = item.get_bounds()
                found.append(right - left)
    return found


def test_the_last_of_a_series_is_as_wide_as_the_others() -> None:
    pairs = [PlateRow((plate(1), plate(2))), PlateRow((plate(4),))]
    first, second, last = widths_of_pictures(one(*pairs))
    assert first == pytest.approx(second) == pytest.approx(last)
    (alone,) = widths_of_pictures(one(PlateRow((plate(4),))))
    (large,) = widths_of_pictures(one(PlateRow((plate(4),), large=True)))
    assert last < alone < large


def test_a_thumbnail_is_not_blown_up() -> None:
    pdf = render(one(PlateRow((plate(1),), large=True)), lambda *_: drawn(1, 60, 40), paper="a4")
    with pypdfium2.PdfDocument(pdf) as opened:
        (item,) = opened[0].get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE])
        left, _, right, _ = item.get_bounds()
    assert right - left <= 60


def test_the_file_can_become_an_archive() -> None:
    """PDF/A-2b (ISO 19005-2) by pikepdf's own checks, after the additions that it makes."""
    import pikepdf.pdfa

    with pikepdf.open(io.BytesIO(sample())) as pdf:
        pikepdf.pdfa.prepare(pdf, "2b")
        assert not pikepdf.pdfa.check(pdf, "2b").findings


SCRIPT = """
import hashlib, io, sys
from pathlib import Path
from PIL import Image
from claimkit.pixels.scale import Wanted, scaled_in_order
from claimkit.render.pdf import pictures_wanted, render
from tests.render.sample_document import document, drawn
folder = Path(sys.argv[2]) if sys.argv[2] else None
packet = document(8)
asked = pictures_wanted(packet)
data = {plate.photo_no: drawn(plate.photo_no, 900, 700) for plate, _ in asked}
wanted = [Wanted(hashlib.sha256(data[p.photo_no]).hexdigest(), lambda p=p: data[p.photo_no], px)
          for p, px in asked]
made = list(scaled_in_order(wanted, folder, workers=int(sys.argv[1])))
ready = {(p.photo_no, px): jpeg for (p, px), jpeg in zip(asked, made)}
pdf = render(packet, lambda p, px: ready[p.photo_no, px], paper="letter")
print(hashlib.sha256(pdf).hexdigest())
"""


def test_the_same_bytes_everywhere(tmp_path: Path) -> None:
    """Time zone, hash seed, language, workers and kept pictures change nothing."""
    runs = [
        ("UTC", "0", "C.UTF-8", "1", ""),
        ("Asia/Tokyo", "1", "C", "3", str(tmp_path)),
        ("America/St_Johns", "2", "tr_TR.UTF-8", "2", str(tmp_path)),
    ]
    seen = set()
    for zone, seed, language, workers, folder in runs:
        env = {**os.environ, "TZ": zone, "PYTHONHASHSEED": seed, "LC_ALL": language}
        env["PYTHONPATH"] = str(ROOT)
        env.pop("SOURCE_DATE_EPOCH", None)
        done = subprocess.run(
            [sys.executable, "-c", SCRIPT, workers, folder],
            cwd=ROOT, env=env, capture_output=True, text=True, check=True,
        )  # fmt: skip
        seen.add(done.stdout.strip())
    assert len(seen) == 1
    assert len(seen.pop()) == 64


def test_another_document_has_another_name() -> None:
    assert short_id(document(12)) == short_id(document(12))
    assert short_id(document(12)) != short_id(document(11))
    named = one(Paragraphs((say("x"),)), id="abc123", as_of="as of the day")
    assert "as of the day · document abc123" in page_texts(render(named, picture, paper="a4"))[0]


def test_the_pdf_library_is_loaded_only_to_draw() -> None:
    code = (
        "import sys, claimkit.render.pdf; "
        "sys.exit(any(m.split('.')[0] in ('reportlab', 'PIL', 'font_source_sans_pro') "
        "for m in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == 0


def test_sixty_plates_in_bounded_memory() -> None:
    """Less than four times the pictures themselves, plus what the pages need."""
    noise = random.Random(7).randbytes(600 * 450 * 3)
    image = Image.frombytes("RGB", (600, 450), noise)
    pictures = [jpeg(ImageChops.offset(image, 9 * n, 0)) for n in range(60)]
    total = sum(len(data) for data in pictures)
    packet = document(60)
    tracemalloc.start()
    try:
        pdf = render(packet, lambda plate, _: pictures[plate.photo_no - 1], paper="letter")
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert len(pdf) > total
    assert peak < 4 * total + 40_000_000
    assert hashlib.sha256(pdf).digest()


typed = st.one_of(
    st.text(st.characters(codec=None), max_size=60),
    st.text("ab汉<&> /-\n", max_size=900),
    st.sampled_from(["", " ", "\n" * 200, "M" * 900, "汉" * 900, "a b " * 700]),
)


@settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(typed, min_size=8, max_size=8), st.sampled_from([*EMPHASIS, ""]))
def test_whatever_is_typed_is_drawn_inside_the_page(texts: list[str], emphasis: str) -> None:
    """No text that a user can type stops the packet or leaves its page."""
    said = [Statement(text, (JOB, Source(path=text or "x")), emphasis) for text in texts]
    tale = document(12).sections[2].blocks[0]
    assert isinstance(tale, Timeline)
    shared = replace(tale.marks[0], label=texts[0], statement=said[0], photo_no=None)
    marks = tuple(replace(shared, kind=kind) for kind in ("photo", "record", "undated"))
    points = (GapPoint(texts[1], float(len(texts[1])), 0.4, said[1]),)
    one_plate = replace(plate(1), caption=tuple(said[:3]), alt=texts[2])
    packet = one(
        Answers(((texts[3], said[3]),)),
        Paragraphs(tuple(said)),
        Table((texts[4], texts[5], "c"), (tuple(said[:3]), tuple(said[3:6])), (1, 3, 2)),
        Timeline(texts[6], texts[6], tale.bands, marks, texts[6]),
        GapPlot(texts[7], points, 1.0, None, texts[7]),
        PlateRow((one_plate, one_plate)),
        title=texts[0],
        made=texts[1],
    )
    pdf = render(packet, lambda *_: texts[2] or "no", paper="letter")
    for areas in text_areas(pdf):
        for (left, _, right, _), _ in areas:
            assert MARGIN_SIDE - 2 <= left <= right <= 612 - MARGIN_SIDE + 2


if __name__ == "__main__":
    GOLDEN.write_text(
        json.dumps(page_texts(sample()), ensure_ascii=False, indent=1) + "\n", encoding="utf-8"
    )
