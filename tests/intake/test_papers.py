"""The words of papers: what is read of PDFs, texts, web pages and e-mails, and what refuses.

PDFs are drawn by ReportLab or written by hand after ISO 32000-1, and locked by pikepdf; e-mails are
built by the standard library. Each is checked against the words that were put in.
"""

from __future__ import annotations

import io
import time
import zlib
from collections.abc import Callable
from email.message import EmailMessage
from pathlib import Path

import pikepdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from claimkit.intake.contents import from_json, to_json
from claimkit.intake.metadata.paper import words_of
from claimkit.intake.metadata.paper_child import Child, Told
from claimkit.intake.metadata.paper_reader import CHARACTERS
from claimkit.intake.metadata.photo import read_bytes
from claimkit.model.photo import FileKind, OtherFile, Words


def pdf(*pages: Callable[[Canvas], None]) -> bytes:
    """Draw a PDF of these pages."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(612, 792), invariant=True)
    for page in pages:
        page(canvas)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def bill(canvas: Canvas) -> None:
    """Set a bill whose title is drawn last and stands first."""
    canvas.setFont("Helvetica", 9)
    canvas.drawString(50, 100, "Shipper signature")
    canvas.drawString(50, 700, "Consignee: Marl & Sons")
    canvas.drawString(50, 760, "Northway Freight")
    canvas.setFont("Helvetica-Bold", 20)
    canvas.drawString(300, 760, "BILL OF LADING")


BILL = ("Northway Freight  BILL OF LADING", "Consignee: Marl & Sons", "Shipper signature")


def turned(canvas: Canvas) -> None:
    """Set the same bill on its side, as scanners and landscape forms do."""
    canvas.translate(612, 0)
    canvas.rotate(90)
    bill(canvas)


def lettered(canvas: Canvas) -> None:
    """Set a title letter by letter, as some programs of printing do."""
    for number, letter in enumerate("INVOICE"):
        canvas.drawString(50 + 9 * number, 700, letter)


def read(data: bytes, name: str = "documents/a.pdf", kind: FileKind = FileKind.PDF) -> Words:
    """Give the words, which are there to be given."""
    found = words_of(data, kind, name)
    assert found is not None
    return found


@pytest.mark.parametrize(
    "page, lines",
    [(bill, BILL), (turned, BILL), (lettered, ("INVOICE",))],
    ids=["bill", "turned", "lettered"],
)
def test_lines_come_in_the_order_of_the_page(
    page: Callable[[Canvas], None], lines: tuple[str, ...]
) -> None:
    assert read(pdf(page)) == Words((lines,))


def test_only_the_beginning_is_kept() -> None:
    def full(canvas: Canvas) -> None:
        for at in range(70):
            canvas.drawString(20, 780 - 11 * at, f"{at:02} " + "word " * 18)

    pages = read(pdf(*[full] * 5)).pages
    assert [sum(len(line) for line in page) for page in pages] == list(CHARACTERS)
    assert pages[0][0].startswith("00 word")


def test_an_empty_page_keeps_its_place() -> None:
    def empty(canvas: Canvas) -> None:
        canvas.rect(10, 10, 50, 50)

    assert read(pdf(empty, bill)).pages == ((), BILL)
    assert read(pdf(empty)).refused == "it holds pictures of its pages only, as a scan does"


def locked(user: str) -> bytes:
    """Lock the bill as a program of today does: AES, 256 bits."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf(bill))) as whole:
        whole.save(out, encryption=pikepdf.Encryption(owner="owner", user=user, R=6))
    return out.getvalue()


def test_a_locked_pdf_is_refused_and_one_that_only_forbids_is_read() -> None:
    assert read(locked("secret")).refused == "it is locked with a password"
    assert read(locked("")).pages == (BILL,)


def by_hand(content: bytes, filters: bytes = b"") -> bytes:
    """Write a PDF of one page with this content stream (ISO 32000-1, 7.5), without a library."""
    stream = b"<</Length %d%s>>stream\n%s\nendstream" % (len(content), filters, content)
    objects = (
        b"<</Type/Catalog/Pages 2 0 R>>",
        b"<</Type/Pages/Kids[3 0 R]/Count 1>>",
        b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]/Contents 4 0 R"
        b"/Resources<</Font<</F1 5 0 R>>>>>>",
        stream,
        b"<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>",
    )
    out, places = b"%PDF-1.7\n", []
    for number, body in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    start = len(out)
    out += b"xref\n0 6\n0000000000 65535 f \n" + table
    return out + b"trailer\n<</Size 6/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n" % start


SHOWN = b"BT /F1 12 Tf 50 700 Td (INVOICE) Tj ET"
LOOP = (
    b"%PDF-1.4\nxref\n0 1\n0000000000 65535 f \n"
    b"trailer\n<</Size 1/Prev 9/Root 1 0 R>>\nstartxref\n9\n"
)


def test_the_pdf_by_hand_is_good() -> None:
    assert read(by_hand(SHOWN)).pages == (("INVOICE",),)


@pytest.mark.parametrize(
    "data",
    [
        by_hand(SHOWN)[:200],  # cut short
        b"%PDF-1.4\n" + b"junk " * 100,
        LOOP,  # a table of places that leads to itself
        by_hand(zlib.compress(bytes(200_000_000), 1), b"/Filter/FlateDecode"),  # 200 MB of nothing
        by_hand(b"[" * 200_000),  # an array in an array in an array
        by_hand(SHOWN).replace(b"Kids[3 0 R]", b"Kids[2 0 R]"),  # a page tree that holds itself
    ],
    ids=["cut", "junk", "loop", "bomb", "nested", "own-parent"],
)
def test_a_broken_or_hostile_pdf_is_a_sentence(data: bytes) -> None:
    began = time.monotonic()
    found = read(data)
    assert found.pages == ()
    assert found.refused
    assert time.monotonic() - began < 30  # the reader is ended after 20 s, whatever it meets


def test_a_reader_that_hangs_or_dies_is_ended(tmp_path: Path) -> None:
    hangs = tmp_path / "hangs.py"
    hangs.write_text("import time; time.sleep(60)", encoding="utf-8")
    child = Child(hangs, 0.3)
    assert child.read(b"p", b"x" * 2_000_000).refused == "reading it took longer than 0.3 seconds"
    dies = tmp_path / "dies.py"
    dies.write_text("raise SystemExit(3)", encoding="utf-8")
    gone = Child(dies, 5)
    assert gone.read(b"p", b"x" * 2_000_000).refused == "it ended the program that reads it"
    assert gone.read(b"p", b"x").refused == "it ended the program that reads it"
    chatters = tmp_path / "chatters.py"
    chatters.write_text("print('[1]', flush=True); input()", encoding="utf-8")
    odd = Child(chatters, 5)
    assert odd.read(b"p", b"x").refused == "it ended the program that reads it"
    odd.end()


def test_a_very_large_pdf_is_not_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("claimkit.intake.metadata.paper_child.LARGE", 100)
    assert Child(Path("not there")).read(b"p", bytes(101)).refused == "it is larger than 0 MiB"


def test_one_child_reads_paper_after_paper() -> None:
    child = Child()
    try:
        assert child.read(b"p", b"%PDF-1.4 junk").refused
        assert [child.read(b"p", pdf(bill)) for _ in range(3)] == [Told((BILL,))] * 3
    finally:
        child.end()


def text(data: bytes, name: str = "documents/a.txt") -> Words:
    """Read a text."""
    return read(data, name, FileKind.TEXT)


def test_texts_and_web_pages() -> None:
    plain = "\ufeffINVOICE\r\n\r\nQty\tUnit price    Amount\r\n".encode()
    assert text(plain).pages == (("INVOICE", "Qty  Unit price  Amount"),)
    page = b"""<!DOCTYPE html><html><head><title>Order 7</title><script>var a = 1;</script></head>
    <body><h1>Order confirmation</h1><p>Order number: 4471<br>Qty&nbsp;2</p></body></html>"""
    assert text(page, "documents/a.html").pages == (
        ("Order 7", "Order confirmation", "Order number: 4471", "Qty 2"),
    )


def mail(html: bool = False) -> bytes:
    """Write an e-mail with an attachment."""
    message = EmailMessage()
    message["From"], message["To"] = "tom@shop.example", "dana@marl.example"
    message["Subject"] = "Rechnung für Dana"
    message["Date"] = "Mon, 04 May 2026 09:00:00 +0000"
    body = "<p>The invoice<br>is attached.</p>" if html else "The invoice\nis attached."
    message.set_content(body, subtype="html" if html else "plain")
    message.add_attachment(b"%PDF-", maintype="application", subtype="pdf", filename="88120.pdf")
    return bytes(message)


@pytest.mark.parametrize("html", [False, True])
@pytest.mark.parametrize("name", ["documents/a.eml", "documents/a.txt"])
def test_an_e_mail(name: str, html: bool) -> None:
    found = text(mail(html), name)
    lines = ("Rechnung für Dana", "The invoice", "is attached.")
    assert found == Words((lines,), mail=True, attached=("88120.pdf",))


def test_an_e_mail_without_a_body_or_with_a_broken_one() -> None:
    assert text(b"Subject: only this\n\n", "documents/a.eml").pages == (("only this",),)
    broken = b"Subject: x\nContent-Type: text/plain; charset=nonsense\n\nHello"
    found = text(broken, "documents/a.eml")
    assert found.refused or found.pages == (("x", "Hello"),)


def test_what_has_no_words_says_why() -> None:
    office = read(b"PK\3\4" + bytes(100), "documents/a.docx", FileKind.UNKNOWN)
    assert office.refused == "it is in the format of an office program"
    assert read(b"\0\1", "documents/a.bin", FileKind.UNKNOWN).refused == "its format is not known"
    assert words_of(b"", FileKind.EMPTY, "documents/a.pdf") is None
    assert words_of(pdf(bill), FileKind.PDF, "photos/a.pdf") is None


def test_letters_without_a_meaning_are_refused() -> None:
    def coded(canvas: Canvas) -> None:
        canvas.drawString(50, 700, "INVOICE 88120")

    # Letters of a private use area (Unicode 16, 23.5) say nothing to anybody but their font.
    cmap = b"1 beginbfrange <0000> <00FF> <E000> endbfrange"
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf(coded))) as whole:
        for font in whole.pages[0].Resources.Font.values():
            font.ToUnicode = whole.make_stream(cmap)
        whole.save(out)
    assert read(out.getvalue()).refused == (
        "its letters are stored without saying which letters they are"
    )


def test_words_come_with_the_file() -> None:
    found = read_bytes(pdf(bill), "documents/bill.pdf")
    assert isinstance(found, OtherFile)
    assert found.words == Words((BILL,))


def test_the_index_gives_the_words_back() -> None:
    for data, name in ((pdf(bill), "documents/bill.pdf"), (mail(), "documents/a.eml")):
        content = read_bytes(data, name)
        kept = to_json(content)
        assert kept is not None
        assert from_json("other", kept) == content
