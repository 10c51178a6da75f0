"""What a seam tells along its length: a taper that was there, one that changed, what is unchecked.

A taper at the dry fit was there before the work and is told as that; only a change of it shows
that something moved. Two stations give a line that nothing checks, and a station without its
place gives none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from claimkit.findings.seams import check_corners
from claimkit.findings.seams.gaps import seam_sources, seams_of
from claimkit.findings.seams.line import not_straight
from claimkit.findings.seams.seam_lines import places_of
from claimkit.findings.seams.taper import change_text, numbers_text, state_text
from claimkit.findings.seams.words import listed, named, place, plain_mm
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.job import Seam
from claimkit.model.seam_line import LineFit, SeamLine, Taper, TaperAnswer
from claimkit.model.source import Source

Results = tuple[Finding | NotChecked, ...]

ALONG = "claimkit method: gaps along a seam (JCGM 100:2008)"
TURNED = (Taper.TOWARD_LAST, Taper.TOWARD_FIRST)


def taper_at_dry_fit(case: Case) -> Results:
    """Say that a gap tapered at the dry fit already: that was there, and shows no movement."""
    return tuple(
        _finding(
            "seam-taper-at-dry-fit",
            Standing.NOTE,
            line,
            f"The gap was {state_text(line.at_first)} at {named(line.before)}: "
            f"{numbers_text(line.at_first.line)}. It was there before anything was fastened and "
            f"is no movement. {line.at_first.meaning}",
        )
        for line in _overall(case)
        if line.before and line.at_first.line and line.at_first.taper in TURNED
    )


def taper_changed(case: Case) -> Results:
    """Say that a seam's taper changed between two episodes, and by how much."""
    do = (
        "Look at what holds the pieces at the end that moved: base, supports, fixings. Check plumb "
        "and level there and record it as an opening_check."
    )
    return tuple(
        _finding("seam-taper-changed", Standing.AGAINST, line, _changed(line), do_next=do)
        for line in _overall(case)
        if line.change.taper in TURNED
    )


def taper_unchanged(case: Case) -> Results:
    """Say that a seam's taper did not change by more than its tolerance over its length."""
    return tuple(
        _finding("seam-taper-unchanged", Standing.SUPPORTS, line, _changed(line))
        for line in _overall(case)
        if line.change.taper is Taper.EVEN
    )


def taper_cannot_tell(case: Case) -> Results:
    """Say where the readings cannot decide whether a taper changed, and what would."""
    return tuple(
        _finding(
            "seam-taper-cannot-tell",
            Standing.MISSING,
            line,
            _changed(line),
            do_next=f"For the taper of seam {line.named}: {line.change.settle}",
        )
        for line in _overall(case)
        if line.change.taper is Taper.CANNOT_TELL and line.change.p_even is not None
    )


def two_places(case: Case) -> Results:
    """Say where a line rests on two places, so that nothing checks that the seam is straight."""
    found = []
    for line in _overall(case):
        fit = _widest(line)
        if fit is None or fit.places > 2:
            continue
        names = listed(dict.fromkeys(fit.stations))
        told = (
            f"The line along the seam rests on two places only ({names}): two-point, straightness "
            "unchecked. A bow between them is not seen."
        )
        do = _third_station(case, line, fit.stations)
        found.append(_finding("seam-line-two-points", Standing.NOTE, line, told, do_next=do))
    return tuple(found)


def _third_station(case: Case, line: SeamLine, read: Sequence[str]) -> str:
    """Say what a third place needs: to be entered, its distance, or only to be read."""
    seam = next((s for s in seams_of(case) if s.id == line.seam), None)
    others = [s for s in seam.station if s.id not in read] if seam else []
    if not others:
        return "Enter a third station between them in job.toml and read it with the others."
    names = listed(s.id for s in others)
    word = f"station{'s' if len(others) > 1 else ''} {names}"
    if any(s.at is not None for s in others):
        return f"Read {word} with the others: job.toml has it, and this line has no reading of it."
    return f"Enter the distance (at) of {word} in job.toml, and read it with the others."


def off_the_line(case: Case) -> Results:
    """Say where stations lie off one straight line by more than their uncertainty explains."""
    found = []
    for line in _overall(case):
        for what, answer in _answers(line):
            if answer.line and not_straight(answer.line):
                told = f"{what}: {numbers_text(answer.line)}. {answer.because}"
                do = (
                    "Look for a bowed edge, a panel that is not flat, or a station read elsewhere "
                    "than before. The stations' own answers stand."
                )
                found.append(_finding("seam-not-straight", Standing.NOTE, line, told, do_next=do))
    return tuple(found)


def without_place(case: Case) -> Results:
    """Name stations of a seam that were read and whose place along it is not entered."""
    found: list[Finding | NotChecked] = []
    for seam in seams_of(case):
        read = list(dict.fromkeys(r.station for r in case.readings if r.seam == seam.id))
        lacking = [name for name in read if name not in places_of(seam)]
        if len(read) < 2 or not lacking:
            continue
        word = "Station" if len(lacking) == 1 else "Stations"
        found.append(
            Finding(
                "seam-station-without-place",
                Standing.MISSING,
                place(seam.id),
                f"{word} {listed(lacking)} of the seam: not on the line along it, because no "
                "place is entered.",
                'Write its distance from the seam\'s start in job.toml, such as at = "300 mm".',
                _sources(case, seam, lacking),
                ALONG,
            )
        )
    return tuple(found)


def same_place(case: Case) -> Results:
    """Name stations that job.toml enters at one and the same place of a seam."""
    found: list[Finding | NotChecked] = []
    for seam in seams_of(case):
        by_place: dict[float, list[str]] = {}
        for name, at in places_of(seam).items():
            by_place.setdefault(at, []).append(name)
        for at, names in by_place.items():
            if len(names) > 1:
                found.append(
                    Finding(
                        "seam-stations-same-place",
                        Standing.NOTE,
                        place(seam.id),
                        f"Stations {listed(names)} are both entered at {plain_mm(at)} of the "
                        "seam. On the line along it they count as one place.",
                        "Correct the distance in job.toml where one of them stands elsewhere.",
                        seam_sources(case, seam.id),
                        ALONG,
                    )
                )
    return tuple(found)


def _overall(case: Case) -> list[SeamLine]:
    return [line for line in case.lines if not line.step]


def _answers(line: SeamLine) -> Iterator[tuple[str, TaperAnswer]]:
    if line.before:
        yield f"At {named(line.before)}", line.at_first
    if line.after:
        yield f"At {named(line.after)}", line.now
    yield f"Change between {line.between}", line.change


def _widest(line: SeamLine) -> LineFit | None:
    fits = [a.line for _, a in _answers(line) if a.line]
    return max(fits, key=lambda fit: fit.places, default=None)


def _changed(line: SeamLine) -> str:
    if line.change.line is None:
        return line.change.because
    told = change_text(line.change)
    parts = [
        f"{told[:1].upper()}{told[1:]} between {line.between}: "
        f"{numbers_text(line.change.line, sign=True)}.",
        line.change.because,
        line.change.meaning,
    ]
    return " ".join(part for part in parts if part)


def _sources(case: Case, seam: Seam, stations: list[str]) -> tuple[Source, ...]:
    read = [r.source for r in case.readings if r.seam == seam.id and r.station in stations]
    return (*dict.fromkeys(read), *seam_sources(case, seam.id))


def _finding(
    rule: str, standing: Standing, line: SeamLine, message: str, *, do_next: str = ""
) -> Finding:
    return Finding(
        rule, standing, f"seam {line.named}", message.strip(), do_next, line.sources, ALONG
    )


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("seam-taper-at-dry-fit", "A gap tapered at the dry fit already", taper_at_dry_fit),
    ("seam-taper-changed", "The taper of a seam changed after the dry fit", taper_changed),
    (
        "seam-taper-unchanged",
        "The taper of a seam did not change by more than matters",
        taper_unchanged,
    ),
    (
        "seam-taper-cannot-tell",
        "Whether a taper changed cannot be told",
        taper_cannot_tell,
    ),
    ("seam-line-two-points", "A line along a seam that nothing checks", two_places),
    ("seam-not-straight", "Stations lie off one straight line", off_the_line),
    ("seam-station-without-place", "A station read has no place along its seam", without_place),
    ("seam-stations-same-place", "Two stations are entered at one place", same_place),
    *check_corners.CHECKS,
)
