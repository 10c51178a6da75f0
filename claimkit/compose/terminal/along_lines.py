"""Lines on a seam as a whole: its stations judged together, and how it runs along its length."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from claimkit.compose.terminal.text import section, wrapped
from claimkit.findings.seams.taper import change_text, notes, rests_on, short_text, state_text
from claimkit.findings.seams.together import grouped
from claimkit.findings.seams.words import listed, named
from claimkit.model.case import Case
from claimkit.model.seam_line import SeamLine, Taper, TaperAnswer

Words = Callable[[TaperAnswer], str]
TURNED = (Taper.TOWARD_FIRST, Taper.TOWARD_LAST)


def along(case: Case) -> list[str]:
    """Print each seam that was read at two stations or more, as a whole and along its length."""
    lines: list[str] = []
    for line in case.lines:
        if line.step or not (line.together or _fits(line)):
            continue
        lines += section(f"Seam {line.named}, as a whole", _seam(case, line))
    return lines


def _fits(line: SeamLine) -> list[TaperAnswer]:
    return [a for a in (line.at_first, line.now, line.change) if a.line is not None]


def _seam(case: Case, line: SeamLine) -> Iterator[str]:
    if line.together:
        judged = line.together
        told = (
            f"{judged.answer.value.upper()}, {len(judged.stations)} stations judged together "
            f"(k = {judged.factor:.2f}): {grouped(judged.stations)}"
        )
        if judged.not_compared:
            told += f"; not compared: {listed(judged.not_compared)}"
        yield from wrapped(told, " " * 6, "  ")
    rows: list[tuple[str, TaperAnswer, Words, bool]] = []
    if line.before:
        rows.append((named(line.before), line.at_first, state_text, False))
    if line.after:
        rows.append((named(line.after), line.now, state_text, False))
    if line.before and line.after:
        rows.append(("change", line.change, change_text, True))
    usual = next((rests_on(a.line) for a in _fits(line) if a.line), "")
    if usual:
        yield from wrapped(f"Along it, from {usual}:", " " * 6, "  ")
    for name, answer, words, sign in rows:
        yield from _row(name, answer, words, usual, sign=sign)
    for step in case.lines:
        if step.step and step.named == line.named and step.change.taper in TURNED:
            yield from _row(f"between {step.between}", step.change, change_text, usual, sign=True)
    below = (*notes((name, a) for name, a, _, _ in rows), *(a.meaning for a in _fits(line)))
    for text in filter(None, dict.fromkeys(below)):
        yield from wrapped(text, " " * 6)
    for station, why in line.left_out:
        yield from wrapped(f"Station {station} is not on the line: {why}.", " " * 6)


def _row(name: str, answer: TaperAnswer, words: Words, usual: str, *, sign: bool) -> Iterator[str]:
    if answer.line is None:
        yield from wrapped(f"{name}: {answer.because}", " " * 8, " " * 6)
        return
    told = f"{name}: {short_text(answer.line, sign=sign)}"
    if rests_on(answer.line) != usual:
        told += f", from {rests_on(answer.line)}"
    if answer.limit_mm_per_m is not None:
        told += f"; {words(answer)}"
    yield from wrapped(told, " " * 8, " " * 6)
