"""Printed forms on a receipt: tick boxes, blanks to fill in, Y/N questions.

Only what was ticked or filled in is said. The rest of a form is blanked letter for letter, so that
every span still points into the text as given.
"""

from __future__ import annotations

import re

_BOX = re.compile(
    r"\[\s*(?P<square>[x✓✔√*]?)\s*\]|\(\s*(?P<round>[x✓✔√]?)\s*\)|(?P<sign>[☐☒☑□✓✔])"
    r"|(?<!\w)_+\s?(?P<line>[x✓✔√]?)\s?_+(?!\w)",
    re.IGNORECASE,
)
_TICKED = frozenset("☒☑✓✔")
_YES_OR_NO = re.compile(
    r"(?P<asked>[^\n.;,?]*?)[(\[]?\b(?:y\s*/\s*n|yes\s*/\s*no)\b[)\]]?(?P<answer>[\s:?=-]+(?:y|n|yes|no)\b)?",
    re.IGNORECASE,
)
_ANSWER = re.compile(r"\b(yes|no|y|n)\s*$", re.IGNORECASE)
# What parts a label from the words before it: a stop, or the answer to another question.
_PARTED = re.compile(r"[.;]\s|:\s*(?!(?:y|n|yes|no)\b)\S+\s+(?=\S)", re.IGNORECASE)
_TWICE = re.compile(r"\b(?P<word>[a-z]+)\s*(?P<number>\(\d+\))", re.IGNORECASE)
# "Exceptions (if any):" and "Any exceptions?" only label what is written behind them.
_IF_ANY = re.compile(
    r"\b(exceptions?|damages?|shortages?|discrepancy|discrepancies|remarks|defects?)"
    r"(\s*\(\s*if any\s*\)|,?\s*if any(?=\s*(?:[:–—=>-]|$)))",
    re.IGNORECASE,
)
_ASKED = re.compile(r"(?<=exceptions)\?(?=\s*(?:none|nil|no|n/a)\b)", re.IGNORECASE)
# A row of a tally, "over 0 short 3 damaged 0": each number stands behind its label.
_TALLY = re.compile(
    r"\b(?:over(?:ages?)?|short(?:ages?)?|shtg|damage[ds]?|dmgd?|missing)\s*[:=-]*\s*"
    r"(?:\d+|none|nil|zero)\b",
    re.IGNORECASE,
)
_NUMBERED = re.compile(r"\d\s*[a-z]*\s*$", re.IGNORECASE)
FEWEST_BLANKS = FEWEST_LABELS = 2


def filled_in(words: str, numbers: dict[str, int]) -> str:
    """Blank what a form asks and nobody answered, and a number in brackets behind its word."""
    flat = _TWICE.sub(lambda m: _once(m, numbers), words)
    flat = _YES_OR_NO.sub(_answered, flat)
    flat = _IF_ANY.sub(lambda m: m[1] + " " * len(m[2]), flat)
    flat = _ASKED.sub(":", flat)
    return "\n".join(_tallied(_line(line)) for line in flat.split("\n"))


def _once(found: re.Match[str], numbers: dict[str, int]) -> str:
    whole, number = found.group(), found["number"]
    same = numbers.get(found["word"].lower()) == int(number.strip("()"))
    return whole[: -len(number)] + " " * len(number) if same else whole


def _answered(found: re.Match[str]) -> str:
    asked, answer = found["asked"], found["answer"]
    if answer is None:
        return " " * len(found.group())
    middle = len(found.group()) - len(asked) - len(answer)
    return asked + " " * (middle - 1) + ": " + answer[1:]


def _line(line: str) -> str:
    boxes = list(_BOX.finditer(line))
    only_blanks = all(box.group().startswith("_") for box in boxes)
    if not boxes or (only_blanks and len(boxes) < FEWEST_BLANKS and ":" not in line):
        return line
    lead = line[: boxes[0].start()].rstrip()
    asked_first = lead.endswith(("?", ":")) and bool(line[boxes[-1].end() :].strip())
    before = bool(lead.strip()) and not asked_first
    spans = [_label(line, boxes, i, before=before) for i in range(len(boxes))]
    out = list(line)
    for i, box in enumerate(boxes):
        first, last = spans[i]
        answer = _ANSWER.search(line[first:last])
        if answer and answer.start() and _either_ticked(line, boxes, spans, i):
            first += answer.start()
        _blank(out, box.start(), box.end())
        if not _is_ticked(box):
            _blank(out, first, last)
        alone = _ANSWER.fullmatch(line[slice(*spans[i])].strip())
        out[box.start()] = " " if alone else ","
    if asked_first and not any(map(_is_ticked, boxes)):
        _blank(out, 0, len(lead))
    return "".join(out)


def _tallied(line: str) -> str:
    """Part the labels of a tally, so that no number is read with the label behind it."""
    labels = list(_TALLY.finditer(line))
    if len(labels) < FEWEST_LABELS or _NUMBERED.search(line[: labels[0].start()]):
        return line
    out = list(line)
    for label in labels[1:]:
        out[label.start() - 1] = ";"
    return "".join(out)


def _blank(out: list[str], first: int, last: int) -> None:
    out[first:last] = " " * (last - first)


def _is_ticked(box: re.Match[str]) -> bool:
    return bool(box["square"] or box["round"] or box["line"] or box["sign"] in _TICKED)


def _either_ticked(
    line: str, boxes: list[re.Match[str]], spans: list[tuple[int, int]], at: int
) -> bool:
    """Tell whether this answer, or the other one to the same question, is ticked."""
    other = at + 1 < len(boxes) and _ANSWER.fullmatch(line[slice(*spans[at + 1])].strip())
    return _is_ticked(boxes[at]) or bool(other and _is_ticked(boxes[at + 1]))


def _label(line: str, boxes: list[re.Match[str]], at: int, *, before: bool) -> tuple[int, int]:
    """Give the span of the words that a box belongs to, before or after it."""
    if before:
        start = boxes[at - 1].end() if at else 0
        stops = list(_PARTED.finditer(line[start : boxes[at].start()]))
        return start + (stops[-1].end() if stops else 0), boxes[at].start()
    start = boxes[at].end()
    end = boxes[at + 1].start() if at + 1 < len(boxes) else len(line)
    stop = re.search(r"\S([.;,]|\s{2,})", line[start:end].rstrip())
    return start, start + stop.start() + 1 if stop else end
