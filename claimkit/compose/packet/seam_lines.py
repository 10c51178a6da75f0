"""Each seam as a whole in the packet: its stations judged together, and how it runs along."""

from __future__ import annotations

from collections.abc import Iterator

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import method
from claimkit.findings.seams.taper import (
    angle_text,
    change_text,
    notes,
    offset_text,
    rests_on,
    slope_text,
    state_text,
)
from claimkit.findings.seams.words import named
from claimkit.model.case import Reader
from claimkit.model.document import Block, Paragraphs, Statement
from claimkit.model.job import Seam
from claimkit.model.seam_line import SeamLine, TaperAnswer
from claimkit.model.source import Source

ALONG = method("gaps along a seam (JCGM 100:2008)")
TOGETHER = method("comparing gaps (JCGM 106:2012)")
HEADS = ("When", "Gap at the middle", "Taper, mm/m", "Taper, degrees", "Answer")
WIDTHS = (1.9, 1.5, 1.4, 1.5, 3.2)


def blocks(view: View, seam: Seam, design: Source) -> list[Block]:
    """Compose what a seam's stations say together; nothing for a seam read at one station."""
    found: list[Block] = []
    for line in view.case.lines:
        if line.seam == seam.id and not line.step and (line.together or _rows(line)):
            found += _line(view, line, (*line.sources, design))
    return found


def _line(view: View, line: SeamLine, sources: tuple[Source, ...]) -> Iterator[Block]:
    head: list[Statement] = []
    if line.together:
        judged = f"Seam {line.named}: {view.told(line.together.because)}"
        head.append(say(judged, *sources, TOGETHER))
    rows = _rows(line)
    usual = next((rests_on(a.line) for _, a, _ in rows if a.line), "")
    if usual:
        along = f"Seam {line.named} along its length, from {usual}:"
        head.append(say(along, *sources, ALONG))
    yield Paragraphs(tuple(head), bulleted=False)
    if rows:
        cells = [
            row(*_cells(name, answer, usual, change=change), sources=(*sources, ALONG))
            for name, answer, change in rows
        ]
        yield table(HEADS, cells, WIDTHS, small=True)
    told = tuple(say(text, *sources, ALONG) for text in _notes(view, line))
    if told:
        yield Paragraphs(told)


def _rows(line: SeamLine) -> list[tuple[str, TaperAnswer, bool]]:
    rows: list[tuple[str, TaperAnswer, bool]] = []
    if line.before:
        rows.append((named(line.before), line.at_first, False))
    if line.after:
        rows.append((named(line.after), line.now, False))
    rows.append(("the change", line.change, True))
    return [one for one in rows if one[1].line is not None]


def _cells(name: str, answer: TaperAnswer, usual: str, *, change: bool) -> tuple[str, ...]:
    line = answer.line
    if line is None:
        return (name, "–", "–", "–", answer.because)
    words = change_text(answer) if change else state_text(answer)
    if answer.limit_mm_per_m is None:
        words = "not judged: no tolerance"
    if rests_on(line) != usual:
        words = f"from {rests_on(line)}: {words}"
    slope = slope_text(line).removesuffix(" mm/m")
    return name, offset_text(line, sign=change), slope, angle_text(line), words


def _notes(view: View, line: SeamLine) -> tuple[str, ...]:
    """Give what a line leaves unchecked; what it is consistent with is not for the customer."""
    rows = _rows(line)
    told = [*notes((name, answer) for name, answer, _ in rows)]
    if view.reader is not Reader.CUSTOMER:
        told += [answer.meaning for _, answer, _ in rows if answer.meaning]
    told += [f"Station {name} is not on the line: {why}." for name, why in line.left_out]
    return tuple(dict.fromkeys(told))
