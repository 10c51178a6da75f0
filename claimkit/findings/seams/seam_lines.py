"""Each seam along its length: a line at the dry fit, a line now, and a line of what changed.

Stations are put on one line only where they were read in the same two episodes and the job says
where along the seam they stand. The stations' own answers are judged together beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.answers import tolerance_of
from claimkit.findings.seams.gaps import is_past, overall, seam_sources, seams_of
from claimkit.findings.seams.line import Point, line_through
from claimkit.findings.seams.pairs import same_episode
from claimkit.findings.seams.taper import judged, meaning_of, u_to_decide
from claimkit.findings.seams.together import judged_together
from claimkit.findings.seams.words import between, listed, named
from claimkit.model.case import Case
from claimkit.model.gap import Comparison, GapReading
from claimkit.model.job import Seam
from claimkit.model.measurement import Measurement
from claimkit.model.seam_line import LineFit, SeamLine, TaperAnswer

Pick = Callable[[Comparison], GapReading | None]
NO_PLACE = "its place along the seam (at) is not entered in job.toml"


def work_out(case: Case) -> Case:
    """Fill the lines along the seams."""
    return replace(case, lines=tuple(_lines(case)))


def places_of(seam: Seam) -> dict[str, float]:
    """Give the distance of each station from the seam's start in mm, where it is entered."""
    return {s.id: float(s.at.mm) for s in seam.station if s.at is not None}


def _lines(case: Case) -> Iterator[SeamLine]:
    steps = [c for c in case.comparisons if c.step]
    for seam in seams_of(case):
        for group in _groups(seam, overall(case)):
            yield _line(case, seam, group, step=False)
        for group in _groups(seam, steps):
            for part in _by_episodes(group):
                if len(part) > 1:
                    yield _line(case, seam, part, step=True)


def _groups(seam: Seam, found: list[Comparison]) -> list[list[Comparison]]:
    """Part a seam's comparisons by set of pieces and by how they were read."""
    groups: list[list[Comparison]] = []
    for c in found:
        if c.seam != seam.id:
            continue
        mine = [g for g in groups if same_piece(g[0].piece, c.piece) and g[0].how == c.how]
        if mine:
            mine[0].append(c)
        else:
            groups.append([c])
    return groups


def _by_episodes(group: list[Comparison]) -> list[list[Comparison]]:
    parts: list[list[Comparison]] = []
    for c in group:
        same = [p for p in parts if _same(p[0].before, c.before) and _same(p[0].after, c.after)]
        if same:
            same[0].append(c)
        else:
            parts.append([c])
    return parts


def _same(a: GapReading | None, b: GapReading | None) -> bool:
    return a is b if a is None or b is None else same_episode(a, b)


def _line(case: Case, seam: Seam, group: list[Comparison], *, step: bool) -> SeamLine:
    first, last = _episode(group, _earlier), _episode(group, _later)
    before = _in_episode(group, _earlier, first)
    after = _in_episode(group, _later, last)
    both = [c for c in before if c in after and c.change.difference is not None]
    past = first is not None and is_past(case, first)
    at_first = _answer(
        seam,
        _through(seam, [(c.station, _measured(c.before)) for c in before]),
        None if past or step else 0.0,
        first,
    )
    now = _answer(seam, _through(seam, [(c.station, _measured(c.after)) for c in after]), 0.0, last)
    alone = _through(seam, [(c.station, _measured(c.before)) for c in both])
    fixed = 0.0 if isinstance(alone, str) else alone.slope.u_mm
    moved = _answer(
        seam, _through(seam, [(c.station, c.change.difference) for c in both]), fixed, last
    )
    readings = [r for c in group for r in (c.before, c.after) if r is not None]
    sources = (*(r.source for r in readings), *seam_sources(case, seam.id))
    return SeamLine(
        seam=seam.id,
        piece=group[0].piece,
        before=first,
        after=last,
        between=between(first, last),
        step=step,
        at_first=replace(at_first, meaning=meaning_of(seam.joint, at_first, change=False)),
        now=now,
        change=replace(moved, meaning=meaning_of(seam.joint, moved, change=True)),
        sources=tuple(dict.fromkeys(sources)),
        together=None if step else judged_together(group, _planned(seam, group)),
        left_out=tuple(dict.fromkeys(_left_out(seam, group, first, last))),
        how=group[0].how,
    )


def _planned(seam: Seam, group: list[Comparison]) -> tuple[str, ...]:
    """Give the stations that job.toml names; a replacement piece has those that were read."""
    return () if group[0].piece else tuple(station.id for station in seam.station)


def _earlier(c: Comparison) -> GapReading | None:
    return c.before


def _later(c: Comparison) -> GapReading | None:
    return c.after


def _measured(reading: GapReading | None) -> Measurement | None:
    return reading.measurement if reading else None


def _episode(group: list[Comparison], pick: Pick) -> GapReading | None:
    """Give a reading of the episode in which most stations were read; of equals the later."""
    readings = [r for c in group if (r := pick(c)) is not None]

    def rank(reading: GapReading) -> tuple[int, float]:
        begins = reading.taken.earliest
        count = sum(same_episode(reading, other) for other in readings)
        return count, begins.timestamp() if begins else 0.0

    return max(readings, key=rank, default=None)


def _in_episode(group: list[Comparison], pick: Pick, chosen: GapReading | None) -> list[Comparison]:
    return [c for c in group if (r := pick(c)) is not None and chosen and same_episode(r, chosen)]


def _through(seam: Seam, found: list[tuple[str, Measurement | None]]) -> LineFit | str:
    places = places_of(seam)
    known = [(name, m) for name, m in found if m is not None]
    points = [Point(name, places[name], m) for name, m in known if name in places]
    if len(points) < 2 <= len(known):
        without = [name for name, _ in known if name not in places]
        return f"the place of {listed(without)} along the seam is not entered"
    return line_through(tuple(points))


def _left_out(
    seam: Seam, group: list[Comparison], first: GapReading | None, last: GapReading | None
) -> Iterator[tuple[str, str]]:
    """Name the stations that a line leaves out, each with the reason."""
    places = places_of(seam)
    for c in group:
        if c.station not in places:
            yield c.station, NO_PLACE
        for reading, chosen in ((c.before, first), (c.after, last)):
            if reading is not None and chosen is not None and not same_episode(reading, chosen):
                yield c.station, _elsewhere(reading, chosen)
        if first is not None and c.before is None:
            yield c.station, f"not read at {named(first)}"
        if last is not None and c.after is None:
            yield c.station, f"not read at {named(last)}"
        if c.not_comparable:
            yield c.station, f"no change of it is told: {'; '.join(c.not_comparable)}"


def _elsewhere(reading: GapReading, chosen: GapReading) -> str:
    if named(reading) != named(chosen):
        return f"read at {named(reading)}, the others at {named(chosen)}"
    stood = listed(reading.state) or "not recorded"
    return f"read in another state ({stood}) than the others"


def _answer(
    seam: Seam, line: LineFit | str, fixed: float | None, reading: GapReading | None
) -> TaperAnswer:
    answer = judged(line, tolerance_of(seam))
    return replace(answer, settle=_settle(answer, fixed, reading))


def _settle(answer: TaperAnswer, fixed: float | None, reading: GapReading | None) -> str:
    """Say what would decide a taper. `fixed` is the part of u that no new reading can narrow.

    None where the episode itself is past.
    """
    need = u_to_decide(answer)
    if need is None or answer.line is None or reading is None:
        return ""
    line = answer.line
    bound = f"a standard uncertainty of at most {need:.2f} mm/m; it is {line.u_slope:.2f}."
    if line.widened_by > 1.0:
        return (
            f"It would take {bound} The stations scatter about the line more than their "
            "uncertainty says: repeat their readings, and look for what is not straight."
        )
    if fixed is None:
        return f"It would take {bound} {named(reading).capitalize()} cannot be read again."
    if need <= fixed:
        return (
            f"It would take {bound} No later reading can settle it: the earlier readings alone "
            f"leave {fixed:.2f} mm/m."
        )
    more = "at three stations or more, as far apart as the seam allows, best with a finer gauge"
    return f"It would take {bound} Read the seam again {more}."
