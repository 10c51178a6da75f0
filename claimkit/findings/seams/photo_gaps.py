"""Cards in photos joined to the job: which station, which episode, which gap, and may it decide.

The card's number names seam and station. The episode follows from the photo's time and from a
loose tag in view; where the two disagree neither is claimed. Without a passed bench check a
reading stands beside the others as a witness and decides nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from claimkit.findings.seams.bench import bench_for, benches, whole, with_bench
from claimkit.findings.seams.beside import last_step, local_day, step_beside
from claimkit.findings.seams.known import with_radius, with_scale, with_step
from claimkit.findings.seams.print_scale import PrintScale, print_scale
from claimkit.findings.seams.words import STAGE_WORDS, listed
from claimkit.model.card import CardReading, Why
from claimkit.model.card_photo import PhotoCards
from claimkit.model.case import Case, DatedPhoto
from claimkit.model.gap import PhotoGap
from claimkit.model.job import Seam, Station
from claimkit.model.measurement import Measurement
from claimkit.model.stages import Event, Stage
from claimkit.rules.card_sheet import NO_CARD

METHOD = "claimkit method: gaps read in photos"

SHOWS: dict[str, frozenset[Stage]] = {
    "DRY FIT": frozenset({Stage.DRY_FIT, Stage.BEFORE_FASTENING}),
    "FASTENED": frozenset({Stage.FASTENED, Stage.SEALED}),
    "CHECK": frozenset({Stage.FASTENED, Stage.SEALED, Stage.HANDOVER, Stage.COMPLAINT}),
}
"""The stages that agree with each loose tag."""
BY_TAG_ALONE = {"DRY FIT": Stage.DRY_FIT, "FASTENED": Stage.FASTENED}
"""What a tag says of a dated photo that lies in no recorded episode."""

SEALED = "The seam had been sealed by then: the photo shows the sealant, not the gap."
U_UNTESTED_MM = 0.2
"""Least standard uncertainty of a reading without a bench check: ±0.4 mm, more than one that has
passed may claim."""
U_STEP_READ_MM = 0.15
"""Standard uncertainty of a step read with a rule and a straight edge (no source)."""
RADIUS_SHARE, LEAST_U_RADIUS_MM = 0.1, 0.05
"""Standard uncertainty of an entered radius: a part of it, at least a gauge's (no source)."""


def work_out(case: Case) -> Case:
    """Fill the case's bench checks and the gaps that its photos show."""
    case = replace(case, benches=benches(case))
    return replace(case, photo_gaps=tuple(_gaps(case)))


def station_of_card(case: Case, card: int) -> tuple[Seam, Station] | None:
    """Give the seam and station where job.toml says that a card is taped, or None."""
    for seam in case.facts.job.seam if case.facts.job else ():
        for station in seam.station:
            if station.card == card:
                return seam, station
    return None


def bench_photos(case: Case) -> frozenset[str]:
    """Give the hashes of the photos that belong to a bench check."""
    return frozenset(row.sha256 for b in case.benches for row in b.rows if row.sha256)


def _gaps(case: Case) -> Iterator[PhotoGap]:
    of_bench = bench_photos(case)
    for dated in case.photos:
        seen = case.facts.cards_in(dated.sha256)
        if seen is None or dated.sha256 in of_bench:
            continue
        for _, reading in sorted(whole(seen.readings).items()):
            found = _gap(case, dated, seen, reading)
            if found is not None:
                yield found


def _gap(case: Case, dated: DatedPhoto, seen: PhotoCards, reading: CardReading) -> PhotoGap | None:
    card = reading.card
    gap = PhotoGap(dated.sha256, card, reading, dated.stands)
    place = station_of_card(case, card)
    if place is None:
        # Two or three marks that look like tags of a card that nobody named are chance.
        if reading.refusal and reading.refusal.why is Why.TAG_MISSING:
            return None
        return replace(
            gap,
            refused=f"Card {card} stands in the picture and job.toml names it at no station.",
            do_next=f"Write card = {card} at the station where it is taped.",
        )
    seam, station = place
    gap = replace(gap, seam=seam.id, station=station.id)
    scale = print_scale(case, card)
    why_not = _why_not(case, seam, dated, reading, scale)
    if why_not is not None:
        refused, do_next = why_not
        return replace(gap, refused=refused, do_next=do_next)
    stage, why = _stage(dated, seen)
    reading = _known(with_scale(reading, scale.factor, scale.u_relative), seam)
    if stage is not None:
        reading = _stepped(case, reading, (seam.id, station.id), stage, dated)
    measured = reading.measurement
    gap = replace(gap, gap=measured, stage=stage, because=why)
    return _gated(case, gap) if measured is not None and stage is not None else gap


def _why_not(
    case: Case, seam: Seam, dated: DatedPhoto, reading: CardReading, scale: PrintScale
) -> tuple[str, str] | None:
    """Say why a card at its own station gives no gap, and what to do; None where it gives one."""
    if seam.joint in NO_CARD:
        told = f"Seam {seam.id}: {NO_CARD[seam.joint]}."
        return told, "Take the card's number off that station."
    if reading.refusal is not None:
        return reading.refusal.found, reading.refusal.do_next
    step = last_step(case, seam.id, dated.stands)
    if step is not None and step.event is Event.SEALED:
        return SEALED, "A gap under sealant cannot be read any more."
    return (scale.refused, "Print and measure a new sheet.") if scale.refused else None


def _known(reading: CardReading, seam: Seam) -> CardReading:
    """Put in the radius of the panels' edges, where the job states it."""
    if seam.edge_radius is None:
        return reading
    radius = float(seam.edge_radius.mm)
    return with_radius(reading, radius, max(RADIUS_SHARE * radius, LEAST_U_RADIUS_MM))


def _stepped(
    case: Case, reading: CardReading, place: tuple[str, str], stage: Stage, dated: DatedPhoto
) -> CardReading:
    """Put in how far one panel stood proud, where a readings record of that day says it."""
    step = step_beside(case, place, stage, local_day(case, dated.stands))
    return reading if step is None else with_step(reading, step, U_STEP_READ_MM)


def _gated(case: Case, gap: PhotoGap) -> PhotoGap:
    """Let a reading decide where a bench check of its camera and card has passed."""
    photo = case.facts.photo_of(gap.sha256)
    camera = photo.camera.name() if photo else None
    bench = bench_for(case, camera, gap.card)
    if bench is None:
        which = f"the camera {camera}" if camera else "a camera that the file does not name"
        why = f"No bench check was made with card {gap.card} and {which}: it witnesses."
        return replace(gap, because=why, gap=_untested(gap))
    if not bench.passed or gap.gap is None:
        why = f"Bench check {bench.record}: {bench.because} It witnesses."
        return replace(gap, because=why, gap=_untested(gap))
    return replace(gap, gap=with_bench(gap.gap, bench), decides=True)


def _untested(gap: PhotoGap) -> Measurement | None:
    """Widen what no bench check vouches for to U_UNTESTED_MM at least."""
    if gap.gap is None:
        return None
    left = U_UNTESTED_MM**2 - gap.gap.u_mm**2
    if left <= 0.0:
        return gap.gap
    return gap.gap.plus(Measurement.of(0.0, {"no bench check": left**0.5}))


def _stage(dated: DatedPhoto, seen: PhotoCards) -> tuple[Stage | None, str]:
    """Give the stage that photo time and loose tags agree on, or None and why not."""
    words = tuple(dict.fromkeys(tag.words for tag in seen.loose))
    if len(words) > 1:
        return None, f"The loose tags {listed(words)} stand in one picture: no stage is claimed."
    if not words and dated.stands.earliest is None and dated.stands.latest is None:
        return None, "Nothing dates the photo: ask for the original from the phone."
    if not words:
        why = "" if dated.stage else "The photo lies in no recorded stage of the work."
        return dated.stage, why
    (word,) = words
    if dated.stage is None:
        return _by_tag(dated, word)
    if dated.stage in SHOWS[word]:
        return dated.stage, ""
    return None, (
        f"The loose tag says {word} and the photo's time lies in {STAGE_WORDS[dated.stage]}: "
        "neither is claimed."
    )


def _by_tag(dated: DatedPhoto, word: str) -> tuple[Stage | None, str]:
    stage = BY_TAG_ALONE.get(word)
    if dated.stands.earliest is None or dated.stands.latest is None:
        return None, f"The loose tag says {word} and nothing dates the photo: no stage is claimed."
    if stage is None:
        return None, (
            f"The loose tag says {word} and the photo lies in no recorded stage of the work."
        )
    return stage, ""


def usable(gap: PhotoGap) -> Measurement | None:
    """Give the measurement of a joined gap that has a stage; None for all others."""
    return gap.gap if gap.stage is not None and not gap.refused else None
