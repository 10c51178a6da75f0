"""What is the last chance to read a gap: before fastening, before the sealant, or gone for good.

Loose pieces are read at the dry fit and never again once they are fastened; a fastened joint is
read before the sealant fills it. Each station is told once, at the milestone that comes next for
it, and what was fastened or sealed unread is named as gone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from claimkit.findings.delivery.impossible_steps import impossible_steps
from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.gaps import of_station, seam_sources, seams_of, stations_of
from claimkit.findings.seams.pairs import milestones
from claimkit.findings.seams.reads import Unread, sealed_unread, still_unread
from claimkit.findings.seams.states import FIXED_STAGES
from claimkit.findings.seams.words import listed, place
from claimkit.model.case import Case
from claimkit.model.job import Joint, Seam
from claimkit.model.source import Source
from claimkit.model.stages import Event, Stage

FASTENING = "fastening"
SEALANT = "the sealant"
NO_DRY_FIT, NO_LATER = "gap-no-dry-fit", "gap-no-later-reading"
TO_READ, SEALED_UNREAD = "work-read-before-sealing", "work-sealed-unread"
RULES = (NO_DRY_FIT, NO_LATER, TO_READ, SEALED_UNREAD)
"""The rules whose findings a last chance stands for, so that nothing is said twice."""
AFTER_SEALING = (Stage.SEALED, Stage.HANDOVER, Stage.COMPLAINT)


@dataclass(frozen=True, slots=True)
class DryFitLacking:
    """Stations of a seam of one set of pieces without a usable reading at the dry fit.

    `stations` is empty where the seam names none. `fixed` where the pieces are fastened;
    `doubtful` is the record that says so at an impossible time, where nothing else does.
    """

    seam: Seam
    piece: str | None
    stations: tuple[str, ...]
    fixed: bool
    doubtful: str | None = None


@dataclass(frozen=True, slots=True)
class LastChance:
    """Stations of one seam and the milestone before which they must be read.

    `gone` where that milestone is past. `open_now` where it may come any day: the work has begun
    and the seam is not fastened, or it is fastened and nothing says sealed or handed over.
    `text` is one sentence that ends with what is to be done, `rule` the id of the rule whose
    finding it stands for.
    """

    seam: str
    piece: str | None
    stations: tuple[str, ...]
    before: str
    gone: bool
    open_now: bool
    text: str
    rule: str
    sources: tuple[Source, ...]

    def where(self) -> str:
        """Name seam, set of pieces and stations: seam s1, stations top and bottom."""
        named = place(self.seam, None, self.piece)
        if not self.stations:
            return named
        word = "station" if len(self.stations) == 1 else "stations"
        return f"{named}, {word} {listed(self.stations)}"

    def names(self, seam: str, station: str, piece: str | None) -> bool:
        """Tell whether it is about this station; without stations it is about the whole seam."""
        mine = self.seam == seam and same_piece(self.piece, piece)
        return mine and (not self.stations or station in self.stations)


def last_chances(case: Case) -> tuple[LastChance, ...]:
    """Give every last chance: before fastening, before the sealant, gone; seams in their order."""
    order = {seam.id: number for number, seam in enumerate(seams_of(case))}
    found = [*_loose(case), *_fastened(case), *_sealed(case)]

    def key(chance: LastChance) -> tuple[bool, bool, int, str]:
        late = chance.before != FASTENING
        return chance.gone, late, order.get(chance.seam, len(order)), chance.piece or ""

    return tuple(sorted(found, key=key))


def dry_fit_lacking(case: Case) -> Iterator[DryFitLacking]:
    """Give the seams with stations unread at the dry fit; an interlocking joint shows no gap."""
    impossible = impossible_steps(case)
    for seam in seams_of(case):
        if seam.joint is Joint.INTERLOCKING:
            continue
        for piece in _pieces(case, seam):
            stations = _stations(case, seam, piece)
            lacking = [s for s in stations if Stage.DRY_FIT not in _read_in(case, seam, s, piece)]
            if lacking or not stations:
                said = [r.id for r, _ in milestones(case, Event.FASTENED, seam.id, piece)]
                sure = [name for name in said if name not in impossible]
                fixed = bool(sure) or any(
                    _read_in(case, seam, s, piece) & FIXED_STAGES for s in lacking
                )
                doubtful = said[0] if said and not fixed else None
                yield DryFitLacking(seam, piece, tuple(lacking), fixed, doubtful)


def _loose(case: Case) -> Iterator[LastChance]:
    """Give what was not read at the dry fit, and what waits for the fastening to be read."""
    for one in dry_fit_lacking(case):
        text = (
            "fastened with no usable reading at the dry fit. Whether the gap was there before the "
            "work cannot be told from readings. Enter any reading or photo with a scale from "
            "that day."
            if one.fixed
            else "no usable reading at the dry fit. Set the pieces together, level and clamped, "
            "and read them with a photo of each."
        )
        if one.doubtful:
            text = (
                f"no usable reading at the dry fit, and record {one.doubtful} says fastened at a "
                "time that cannot be. Mend that record; read them if they still stand loose."
            )
        yield LastChance(
            seam=one.seam.id,
            piece=one.piece,
            stations=one.stations,
            before=FASTENING,
            gone=one.fixed,
            open_now=not one.fixed and _begun(case, one),
            text=text,
            rule=NO_DRY_FIT,
            sources=seam_sources(case, one.seam.id),
        )
    for seam in seams_of(case):
        for piece in _pieces(case, seam):
            yield from _to_come(case, seam, piece)


def _begun(case: Case, lacking: DryFitLacking) -> bool:
    """Tell whether these pieces are being fitted: the work has begun, or they stood together."""
    events = (Event.INSTALLATION_STARTED, Event.DRY_FIT)
    if any(milestones(case, event, lacking.seam.id, lacking.piece) for event in events):
        return True
    return any(
        r.seam == lacking.seam.id
        and same_piece(r.piece, lacking.piece)
        and r.stage is Stage.DRY_FIT
        for r in case.readings
    )


def _to_come(case: Case, seam: Seam, piece: str | None) -> Iterator[LastChance]:
    """Give the stations read at the dry fit that are not fastened yet, as far as is known."""
    if milestones(case, Event.FASTENED, seam.id, piece):
        return
    read = [(s, _read_in(case, seam, s, piece)) for s in _stations(case, seam, piece)]
    if any(stages & FIXED_STAGES for _, stages in read):
        return
    stations = tuple(s for s, stages in read if Stage.DRY_FIT in stages)
    if stations:
        text = "not fastened yet. Read them after fastening, with the instrument of the dry fit."
        sources = seam_sources(case, seam.id)
        yield LastChance(seam.id, piece, stations, SEALANT, False, False, text, NO_LATER, sources)


def _fastened(case: Case) -> Iterator[LastChance]:
    for unread in still_unread(case):
        text = (
            f"{unread.step.named()}, not sealed, no reading since. Read them with the instrument "
            "of the dry fit and a photo of each."
        )
        open_now = not _handed_over(case, unread)
        yield _of_unread(unread, gone=False, open_now=open_now, text=text, rule=TO_READ)


def _sealed(case: Case) -> Iterator[LastChance]:
    for unread in sealed_unread(case):
        text = (
            f"{unread.step.named()} with no reading after fastening. What the gap was then cannot "
            "be read any more. Read what can still be seen, as stage sealed, and say that it was "
            "read over the sealant."
        )
        yield _of_unread(unread, gone=True, open_now=False, text=text, rule=SEALED_UNREAD)


def _of_unread(unread: Unread, *, gone: bool, open_now: bool, text: str, rule: str) -> LastChance:
    sources = (unread.step.source(), *unread.sources)
    return LastChance(
        unread.seam, unread.piece, unread.stations, SEALANT, gone, open_now, text, rule, sources
    )


def _handed_over(case: Case, unread: Unread) -> bool:
    """Tell whether something says that the seam was finished, though no record says sealed."""
    later = any(
        r.seam == unread.seam and same_piece(r.piece, unread.piece) and r.stage in AFTER_SEALING
        for r in case.readings
    )
    return later or bool(milestones(case, Event.HANDOVER, unread.seam, unread.piece))


def _pieces(case: Case, seam: Seam) -> list[str | None]:
    """Give the pieces that readings name, the first pieces always among them."""
    found: list[str | None] = [None]
    for _, piece in stations_of(case, seam):
        if not any(same_piece(piece, known) for known in found):
            found.append(piece)
    return found


def _stations(case: Case, seam: Seam, piece: str | None) -> list[str]:
    read = [s for s, p in stations_of(case, seam) if same_piece(p, piece)]
    planned = [station.id for station in seam.station] if piece is None else []
    return list(dict.fromkeys([*planned, *read]))


def _read_in(case: Case, seam: Seam, station: str, piece: str | None) -> set[Stage]:
    """Give the stages in which a station was read."""
    return {r.stage for r in of_station(case, seam.id, station, piece)}
