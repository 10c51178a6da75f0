"""The annex read back with pdfium; broken, encrypted and active documents made with qpdf's library.

What makes a PDF active is ISO 32000-1, 12.5.6 (annotations) and 12.6.4 (actions), 7.11.4 (embedded
files) and 12.7.8 (XFA).
"""

from __future__ import annotations

import io
from collections.abc import Callable

import pikepdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from claimkit.render.annex import Annex, AnnexPaper, PaperRefused, annex, sound
from tests.render.reading import page_texts


def plain(*texts: str) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(300, 400), invariant=1)
    for text in texts:
        canvas.drawString(40, 200, text)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def changed(change: Callable[[pikepdf.Pdf], None], **save: object) -> bytes:
    with pikepdf.open(io.BytesIO(plain("text"))) as pdf:
        change(pdf)
        out = io.BytesIO()
        pdf.save(out, **save)  # type: ignore[arg-type]
        return out.getvalue()


def act(kind: str, **more: object) -> pikepdf.Dictionary:
    return pikepdf.Dictionary(S=pikepdf.Name(f"/{kind}"), **more)  # type: ignore[arg-type]


def _open_action(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OpenAction = act("JavaScript", JS="app.alert(1)")


def _second_action(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OpenAction = act("GoTo", Next=act("Launch", F="cmd.exe"))


def _names(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Names = pikepdf.Dictionary(JavaScript=pikepdf.Dictionary(Names=pikepdf.Array()))


def _files(pdf: pikepdf.Pdf) -> None:
    pdf.attachments["a.exe"] = b"MZ"


def _xfa(pdf: pikepdf.Pdf) -> None:
    pdf.Root.AcroForm = pikepdf.Dictionary(XFA=pikepdf.Array(), Fields=pikepdf.Array())


def _page_action(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].obj.AA = pikepdf.Dictionary(O=act("JavaScript", JS="x"))


def _note(subtype: str, **more: object) -> Callable[[pikepdf.Pdf], None]:
    def change(pdf: pikepdf.Pdf) -> None:
        note = pikepdf.Dictionary(
            Type=pikepdf.Name.Annot,
            Subtype=pikepdf.Name(f"/{subtype}"),
            Rect=[0, 0, 9, 9],
            **more,  # type: ignore[arg-type]
        )
        pdf.pages[0].obj.Annots = pikepdf.Array([pdf.make_indirect(note)])

    return change


def _undecodable(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].obj.Contents.write(b"no zlib stream at all", filter=pikepdf.Name.FlateDecode)


@pytest.mark.parametrize(
    "data, says",
    [
        (b"", "broken"),
        (b"%PDF-1.7 and nothing more", "broken"),
        (plain("x")[:-200], "broken"),  # cut short: another program would guess the rest
        (changed(_undecodable), "broken"),  # one flipped bit in a compressed page
        (changed(lambda _: None, encryption=pikepdf.Encryption(owner="a", user="b")), "encrypted"),
        (changed(lambda _: None, encryption=pikepdf.Encryption(owner="a", user="")), "encrypted"),
        (changed(_open_action), "active"),
        (changed(_second_action), "active"),
        (changed(_names), "a script"),
        (changed(_files), "files inside"),
        (changed(_xfa), "XFA"),
        (changed(_page_action), "page acts"),
        (changed(_note("FileAttachment")), "FileAttachment"),
        (changed(_note("RichMedia")), "RichMedia"),
        (changed(_note("Link", A=act("Launch", F="cmd.exe"))), "annotation that acts"),
        (changed(_note("Stamp", AA=pikepdf.Dictionary())), "annotation that acts"),
    ],
)
def test_what_is_broken_encrypted_or_active_is_refused(data: bytes, says: str) -> None:
    with pytest.raises(PaperRefused, match=says):
        sound(data)


@pytest.mark.parametrize(
    "data",
    [
        plain("x"),
        changed(_note("Link", A=act("URI", URI="https://x.example"))),  # a link does nothing here
        changed(_note("Text", Contents="a remark")),
    ],
)
def test_what_only_shows_is_taken(data: bytes) -> None:
    assert len(sound(data).pages) == 1


def made() -> Annex:
    papers = (
        AnnexPaper(
            "documents/invoice.pdf", "invoice", "ab" * 32, plain("INVOICE 4471", "page two")
        ),
        AnnexPaper("documents/locked.pdf", "freight bill", "cd" * 32, changed(_open_action)),
        AnnexPaper("documents/bill ä.pdf", "bill of lading", "ef" * 32, plain("BILL B-77")),
    )
    return annex(papers, "Documents: Kiln Road 9", "a4")


def test_pages_stand_under_their_file_and_the_refused_is_named() -> None:
    found = made()
    texts = page_texts(found.pdf)
    assert found.pages == 3
    assert len(texts) == 4
    assert "documents/locked.pdf. It is active" in texts[0].replace("\n", " ")
    assert ("ab" * 32) in texts[0]
    for page, inside, caption in (
        (1, "INVOICE 4471", "documents/invoice.pdf · page 1 of 2"),
        (2, "page two", "documents/invoice.pdf · page 2 of 2"),
        (3, "BILL B-77", "documents/bill ä.pdf · page 1 of 1"),
    ):
        assert inside in texts[page]
        assert caption in texts[page]
    assert [path for path, _ in found.refused] == ["documents/locked.pdf"]


def test_the_annex_itself_does_nothing_and_has_the_same_bytes() -> None:
    first = made().pdf
    assert first == made().pdf
    assert sound(first)


def test_a_turned_page_stands_upright() -> None:
    def turn(pdf: pikepdf.Pdf) -> None:
        pdf.pages[0].obj.Rotate = 90

    paper = AnnexPaper("documents/a.pdf", "invoice", "0" * 64, changed(turn))
    with pikepdf.open(io.BytesIO(annex((paper,), "t", "letter").pdf)) as pdf:
        box = pdf.pages[1].mediabox
    assert [float(x) for x in box] == [0, 0, 612, 792]
