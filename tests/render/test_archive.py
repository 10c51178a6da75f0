"""The packet as an archive file: PDF/A-2b, structure for screen readers, and memory.

Oracles: pikepdf's PDF/A validator on the written file, qpdf's parse of every page's content, and
the operating system's own count of memory.
"""

from __future__ import annotations

import io
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pikepdf import pdfa

from claimkit.model.anchors import Anchors, LogHead, anchors_in
from claimkit.model.document import GapPlot, Paragraphs, PlateRow, Timeline
from claimkit.render import assembly
from claimkit.render.pdf import render, render_file
from tests.render.sample_document import document, picture, say
from tests.render.test_pdf import ROOT, one, sample


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_written_file_is_pdfa_2b(paper: Any) -> None:
    """ISO 19005-2 by pikepdf's validator, and the claim that the standard asks for (6.6.4)."""
    assert pdfa.validate_written(io.BytesIO(sample(paper)), "2b").passed
    with pikepdf.open(io.BytesIO(sample(paper))) as pdf:
        about = pdf.open_metadata()
        assert (about["pdfaid:part"], about["pdfaid:conformance"]) == ("2", "B")


def test_what_the_file_keeps_of_custody_stands_in_its_description() -> None:
    kept = Anchors((LogHead("office", 3, "ab" * 32),), "cd" * 32)
    packet = one(Paragraphs((say("text"),)), anchors=kept.words())
    with pikepdf.open(io.BytesIO(render(packet, picture, paper="letter"))) as pdf:
        assert anchors_in(str(pdf.docinfo["/Keywords"])) == kept
        assert pdf.open_metadata()["pdf:Keywords"] == kept.words()


def test_a_file_that_does_not_pass_makes_no_claim(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A planted fault: an action on opening, which PDF/A-2 forbids (6.5.1)."""
    sound = assembly._same_date

    def broken(pdf: pikepdf.Pdf) -> None:
        sound(pdf)
        pdf.Root.OpenAction = pikepdf.Dictionary(
            S=pikepdf.Name.JavaScript, JS=pikepdf.String("app.alert(1)")
        )

    monkeypatch.setattr(assembly, "_same_date", broken)
    out = tmp_path / "packet.pdf"
    told = render_file(document(2), picture, out, paper="letter")
    assert not told.passed
    assert told.reasons
    assert not pdfa.validate_written(out, "2b").passed
    with pikepdf.open(out) as pdf:
        assert "pdfaid:part" not in pdf.open_metadata()


def elements(pdf: pikepdf.Pdf) -> list[Any]:
    """Give the elements of the structure tree, depth first."""
    found: list[Any] = []

    def walk(node: Any) -> None:
        kids = node.get("/K", [])
        for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
            if isinstance(kid, pikepdf.Dictionary):
                found.append(kid)
                walk(kid)

    walk(pdf.Root.StructTreeRoot)
    return found


def test_every_plate_and_plot_is_a_figure_with_a_description() -> None:
    packet = document(12)
    wanted = []
    for section in packet.sections:
        for block in section.blocks:
            if isinstance(block, PlateRow):
                wanted += [plate.alt for plate in block.plates]
            elif isinstance(block, Timeline | GapPlot):
                wanted.append(block.alt)
    assert len(wanted) >= 14
    with pikepdf.open(io.BytesIO(sample())) as pdf:
        assert pdf.Root.MarkInfo.Marked
        figures = [e for e in elements(pdf) if e.S == "/Figure"]
        told = [str(figure.Alt) for figure in figures]
    assert all(told)
    assert [alt for alt in told if alt in wanted] == wanted


def marked(page: pikepdf.Page) -> tuple[list[tuple[str, int]], list[str]]:
    """Give (role, number) of each marked part of a page, and operators that show text outside."""
    parts: list[tuple[str, int]] = []
    outside, depth = [], 0
    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        if name in ("BDC", "BMC"):
            depth += 1
            properties = operands[1] if len(operands) > 1 else {}
            if "/MCID" in properties:
                parts.append((str(operands[0]), int(properties["/MCID"])))
        elif name == "EMC":
            depth -= 1
            assert depth >= 0
        elif name in ("Tj", "TJ", "'", '"', "Do") and not depth:
            outside.append(name)
    assert depth == 0
    return parts, outside


def test_all_text_and_pictures_are_in_the_structure_or_decoration() -> None:
    """Each marked part stands in the tree once, under its role, and the parent tree leads back."""
    with pikepdf.open(io.BytesIO(sample())) as pdf:
        held = Counter()
        for element in elements(pdf):
            if "/Pg" in element:
                for number in element.K:
                    held[element.Pg.objgen, str(element.S), int(number)] += 1
        numbers = pdf.Root.StructTreeRoot.ParentTree.Nums
        parents = {int(numbers[i]): numbers[i + 1] for i in range(0, len(numbers), 2)}
        seen = Counter()
        for page in pdf.pages:
            parts, outside = marked(page)
            assert outside == []
            assert [number for _, number in parts] == list(range(len(parts)))
            for role, number in parts:
                seen[page.obj.objgen, role, number] += 1
                element = parents[int(page.obj.StructParents)][number]
                assert role == element.S
        assert seen == held
        assert set(held.values()) == {1}
        roles = Counter(role for _, role, _ in held)
    assert roles["/H1"] == 1
    assert roles["/H2"] == len(document(12).sections) + 1  # and the list of sources


def test_the_lines_of_a_paragraph_are_one_paragraph() -> None:
    text = "A long sentence that is set in several lines because it does not fit into one. " * 5
    made = render(one(Paragraphs((say(text),))), picture, paper="a4")
    with pikepdf.open(io.BytesIO(made)) as pdf:
        longest = max((e for e in elements(pdf) if e.S == "/P"), key=lambda e: len(e.K))
        assert len(longest.K) >= 4


MEASURE = """
import io, resource, sys
from pathlib import Path
from PIL import Image
from random import Random
from claimkit.render.pdf import render_file
from tests.render.sample_document import document
image = Image.frombytes("RGB", (500, 375), Random(1).randbytes(500 * 375 * 3))
buffer = io.BytesIO()
image.save(buffer, "JPEG", quality=95)
jpeg = buffer.getvalue()
count, out = int(sys.argv[1]), Path(sys.argv[2])
mark = lambda plate: jpeg + plate.photo_no.to_bytes(4, "big")
assert render_file(document(count), lambda plate, px: mark(plate), out, paper="letter").passed
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, len(jpeg))
"""


@pytest.mark.skipif(sys.platform != "linux", reason="memory is counted in kilobytes on Linux only")
def test_memory_does_not_grow_with_the_pictures(tmp_path: Path) -> None:
    """120 more pictures of a third of a megabyte cost less than a third of their size."""
    peaks, size = [], 0
    for count in (16, 136):
        done = subprocess.run(
            [sys.executable, "-c", MEASURE, str(count), str(tmp_path / f"{count}.pdf")],
            cwd=ROOT, capture_output=True, text=True, check=True,
        )  # fmt: skip
        peak, size = map(int, done.stdout.split())
        peaks.append(peak * 1024)
    assert (tmp_path / "136.pdf").stat().st_size > 120 * size
    assert peaks[1] - peaks[0] < 120 * size / 3
