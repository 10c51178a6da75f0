"""Drawn parts put together as one file: links, outline, structure for screen readers, PDF/A-2b.

The parts stay on the disk while this is done, so that the memory needed does not grow with the
number of pictures. The result is checked against PDF/A-2b (ISO 19005-2) before and after it is
written; where it does not pass, the file makes no such claim and the reasons are given.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from claimkit.render.pen import Gathered, Tag

if TYPE_CHECKING:
    from pikepdf import Pdf

FLAVOUR = "2b"
_WHEN = "2000-01-01T00:00:00+00:00"  # of no file's history: the same bytes on every day
_MOST_TOLD = 5


@dataclass(frozen=True, slots=True)
class Archive:
    """Whether a written file is PDF/A-2b, and where not, why: the first few reasons."""

    passed: bool
    reasons: tuple[str, ...] = ()


def assembled(
    parts: Sequence[Path],
    per_part: int,
    gathered: Gathered,
    outline: Iterable[tuple[str, str]],
    out: Path,
) -> Archive:
    """Put parts of `per_part` pages together into the file `out`.

    The first part gives the file's own description. `outline` are (title, place) pairs. Raises
    KeyError for a link that leads nowhere.
    """
    import pikepdf

    with pikepdf.open(_merged(parts)) as pdf:
        _rename_fonts(pdf, per_part)
        _link(pdf, gathered)
        _outline(pdf, gathered, outline)
        _structure(pdf, gathered.tags)
        return _written(pdf, out)


def _merged(parts: Sequence[Path]) -> Path:
    """Copy all pages into one file beside the parts; this way no picture is held in memory."""
    import pikepdf

    whole = parts[0].with_name("merged.pdf")
    first, *_ = names = [str(part) for part in parts]
    # A bare name could be taken for a page range or an option.
    pages = ["--pages", *(f"--file={name}" for name in names), "--"]
    pikepdf.Job(["claimkit", first, "--deterministic-id", *pages, str(whole)]).run()
    return whole


def _rename_fonts(pdf: Pdf, per_part: int) -> None:
    """Give the subsets of each part tags of their own (ISO 32000-1, 9.6.4)."""
    import pikepdf

    done: set[tuple[int, int]] = set()
    for number, page in enumerate(pdf.pages):
        part = number // per_part
        letters = "".join(chr(ord("A") + part // 26**power % 26) for power in (2, 1, 0))
        for font in page.resources.get("/Font", {}).values():
            if font.objgen in done or "+" not in str(font.BaseFont):
                continue
            done.add(font.objgen)
            tagged = pikepdf.Name(f"/{letters}{str(font.BaseFont)[4:]}")
            font.BaseFont = font.FontDescriptor.FontName = tagged


def _target(pdf: Pdf, gathered: Gathered, place: str) -> Any:
    import pikepdf

    page, y = gathered.places[place]
    return pikepdf.Array([pdf.pages[page].obj, pikepdf.Name.XYZ, 0, round(y, 3), 0])


def _link(pdf: Pdf, gathered: Gathered) -> None:
    import pikepdf

    of_page: dict[int, list[Any]] = {}
    for page, area, place in gathered.links:
        note = pikepdf.Dictionary(
            Type=pikepdf.Name.Annot,
            Subtype=pikepdf.Name.Link,
            Rect=[round(edge, 3) for edge in area],
            Border=[0, 0, 0],
            F=4,
            Dest=_target(pdf, gathered, place),
        )
        of_page.setdefault(page, []).append(pdf.make_indirect(note))
    for page, notes in of_page.items():
        pdf.pages[page].obj.Annots = pikepdf.Array(notes)


def _outline(pdf: Pdf, gathered: Gathered, outline: Iterable[tuple[str, str]]) -> None:
    import pikepdf

    with pdf.open_outline() as tree:
        for title, place in outline:
            tree.root.append(pikepdf.OutlineItem(title, destination=_target(pdf, gathered, place)))
    pdf.Root.PageMode = pikepdf.Name.UseOutlines


def _structure(pdf: Pdf, tags: Sequence[Tag]) -> None:
    """Build the structure tree (ISO 32000-1, 14.7): headings, paragraphs and figures in order."""
    import pikepdf

    name = pikepdf.Name
    root = pdf.make_indirect(pikepdf.Dictionary(Type=name.StructTreeRoot))
    whole = pdf.make_indirect(
        pikepdf.Dictionary(Type=name.StructElem, S=name.Document, P=root, K=pikepdf.Array())
    )
    parents: dict[int, list[Any]] = {}
    last: tuple[int, Any] | None = None
    for tag in tags:
        if tag.joins and last and last[0] == tag.page:
            element = last[1]
            element.K.append(tag.number)
        else:
            element = pdf.make_indirect(
                pikepdf.Dictionary(
                    Type=name.StructElem,
                    S=pikepdf.Name(f"/{tag.role}"),
                    P=whole,
                    Pg=pdf.pages[tag.page].obj,
                    K=pikepdf.Array([tag.number]),
                )
            )
            if tag.alt:
                element.Alt = pikepdf.String(tag.alt.encode("utf-8", "replace").decode("utf-8"))
            whole.K.append(element)
        last = (tag.page, element)
        parents.setdefault(tag.page, []).append(element)
    numbers = pikepdf.Array()
    for page, elements in sorted(parents.items()):
        pdf.pages[page].obj.StructParents = page
        pdf.pages[page].obj.Tabs = name.S
        numbers.append(page)
        numbers.append(pdf.make_indirect(pikepdf.Array(elements)))
    root.K = pikepdf.Array([whole])
    root.ParentTree = pdf.make_indirect(pikepdf.Dictionary(Nums=numbers))
    root.ParentTreeNextKey = len(pdf.pages)
    pdf.Root.StructTreeRoot = root
    pdf.Root.MarkInfo = pikepdf.Dictionary(Marked=True)


def _written(pdf: Pdf, out: Path) -> Archive:
    """Write the file as PDF/A-2b, or without that claim where it does not pass."""
    from pikepdf import pdfa

    pdfa.prepare(pdf, FLAVOUR)
    _same_date(pdf)
    pdf.save(out, **pdfa.resolve_save_kwargs(FLAVOUR, deterministic_id=True))
    report = pdfa.validate_written(out, FLAVOUR)
    if report.passed:
        return Archive(True)
    with pdf.open_metadata(set_pikepdf_as_editor=False) as about:
        for key in ("pdfaid:part", "pdfaid:conformance"):
            if key in about:
                del about[key]
    pdf.save(out, deterministic_id=True)
    told = tuple(dict.fromkeys(str(finding) for finding in report.findings))
    return Archive(False, told[:_MOST_TOLD])


def _same_date(pdf: Pdf) -> None:
    """Replace the time of preparing by a fixed one: the same packet gives the same bytes."""
    with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as about:
        about["xmp:MetadataDate"] = _WHEN
