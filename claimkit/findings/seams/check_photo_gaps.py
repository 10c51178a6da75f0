"""What is said of gaps read in photos: refused, in no stage, only witnessing, unlike a gauge.

A photo that could not be measured is named with the reason, so that it can be taken again while
the gap is still there. Nothing here judges the gap itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from claimkit.findings.pieces import same_piece
from claimkit.findings.seams.bench import METHOD as BENCH
from claimkit.findings.seams.gaps import seams_of
from claimkit.findings.seams.normal import K_TWO_SIDED
from claimkit.findings.seams.pairs import contradiction
from claimkit.findings.seams.photo_gaps import METHOD, usable
from claimkit.findings.seams.photo_readings import disagree, from_photos
from claimkit.findings.seams.words import STAGE_WORDS, named, place, with_u
from claimkit.model.card import Refusal
from claimkit.model.case import Case, Finding, NotChecked, Standing
from claimkit.model.gap import GapReading, Meaning, PhotoGap
from claimkit.model.measuring import BenchCheck, MarkedPhoto
from claimkit.model.source import Source

Results = tuple[Finding | NotChecked, ...]

MEANINGS = (
    "A gauge meets the panels face to face, a photo shows the opening between their edges: rounded "
    "edges make the second the wider."
)


def not_looked_at(case: Case) -> Results:
    """Say how many photos nobody has looked at for cards, where the job has cards."""
    if not _has_cards(case):
        return ()
    left = sum(1 for photo in case.facts.photos if case.facts.cards_in(photo.sha256) is None)
    if not left:
        return ()
    photos = "1 photo has" if left == 1 else f"{left} photos have"
    why = case.facts.no_cards or "Run claimkit gaps on this job to look at them."
    told = f"{photos} not been looked at for scale cards. {why}"
    return (NotChecked("photo-gap-not-looked-at", "photos", told),)


def refused(case: Case) -> Results:
    """Name each photo whose card gave no gap, with the reason and what to do."""
    return tuple(
        NotChecked("photo-gap-refused", _where(case, gap), f"{gap.refused} {gap.do_next}".strip())
        for gap in case.photo_gaps
        if gap.refused
    )


def no_stage(case: Case) -> Results:
    """Name photos whose gap belongs to no stage that can be claimed."""
    return tuple(
        NotChecked(
            "photo-gap-no-stage",
            _where(case, gap),
            f"{gap.because} Its gap is not compared. Record when the stage began and ended in a "
            "milestone, or correct the camera's clock with a camera_clock record.",
        )
        for gap in case.photo_gaps
        if gap.gap is not None and not gap.refused and gap.stage is None
    )


def only_witnesses(case: Case) -> Results:
    """Say that photo readings decide nothing where no bench check of their camera has passed."""
    held = [gap for gap in case.photo_gaps if usable(gap) is not None and not gap.decides]
    if not held:
        return ()
    reasons = tuple(dict.fromkeys(gap.because for gap in held if gap.because))
    photos = "1 photo reading" if len(held) == 1 else f"{len(held)} photo readings"
    return (
        Finding(
            "photo-gap-only-witnesses",
            Standing.MISSING,
            "photos",
            f"{photos} of gaps stand beside the others and decide nothing. {' '.join(reasons)}",
            "Photograph known spacers between two offcuts with these cards and this camera, five "
            "photos or more, and write a bench_check record.",
            tuple(_source(case, gap) for gap in held),
            BENCH,
        ),
    )


def bench_failed(case: Case) -> Results:
    """Name bench checks that do not pass."""
    return tuple(
        Finding(
            "bench-check-failed",
            Standing.AGAINST,
            bench.source.path or bench.record,
            f"{_camera(bench.camera)}: {bench.because}"
            + "".join(f" {row.photo}: {row.refused}" for row in bench.rows if row.refused),
            "Measure the spacers again, mend what the photos' own reasons say, and repeat it.",
            (bench.source,),
            BENCH,
        )
        for bench in case.benches
        if not bench.passed
    )


def bench_passed(case: Case) -> Results:
    """Name bench checks that pass, with their bias and spread."""
    return tuple(
        Finding(
            "bench-check-passed",
            Standing.SUPPORTS,
            bench.source.path or bench.record,
            f"{_camera(bench.camera)}: {bench.because}",
            "",
            (bench.source,),
            BENCH,
        )
        for bench in case.benches
        if bench.passed
    )


def hand_and_photo_differ(case: Case) -> Results:
    """Name stations where a gauge and a photo of the same episode contradict each other."""
    return tuple(
        Finding(
            "photo-and-hand-differ",
            Standing.AGAINST,
            place(hand.seam, hand.station, hand.piece),
            f"At {named(hand)} {_both(hand, photo)} {MEANINGS}",
            "Read it again with both, side by side, and enter the radius of the panels' edges "
            "(edge_radius).",
            (hand.source, photo.source),
            METHOD,
        )
        for hand, photo in _side_by_side(case)
        if _apart(hand, photo)
    )


def hand_and_photo_agree(case: Case) -> Results:
    """Name stations where a gauge and a photo of the same episode bear each other out."""
    return tuple(
        Finding(
            "photo-and-hand-agree",
            Standing.SUPPORTS,
            place(hand.seam, hand.station, hand.piece),
            f"At {named(hand)} {_both(hand, photo)} They agree within their uncertainty. "
            f"{MEANINGS}",
            "",
            (hand.source, photo.source),
            METHOD,
        )
        for hand, photo in _side_by_side(case)
        if not _apart(hand, photo)
    )


def photos_disagree(case: Case) -> Results:
    """Name photos of one station and episode that differ by more than their uncertainty."""
    return tuple(
        Finding(
            "photo-gaps-disagree",
            Standing.AGAINST,
            place(a.seam or "", a.station),
            f"Two photos at {STAGE_WORDS[a.stage]} differ by more than their uncertainty: "
            f"{with_u(a.gap)} in {_path(case, a)}, {with_u(b.gap)} in {_path(case, b)}. Their "
            "mean is widened by their scatter.",
            "Look at both for a shadow, a loose card or a panel that stands proud, and take two "
            "more from opposite sides.",
            (_source(case, a), _source(case, b)),
            METHOD,
        )
        for a, b in disagree(case)
        if a.gap is not None and b.gap is not None and a.stage is not None
    )


def marked_refused(case: Case) -> Results:
    """Name marked_photo records that gave no gap, and why."""
    found = []
    worked_out = {one.record: one.gap for one in case.facts.marked}
    for record in case.facts.in_force(MarkedPhoto):
        body, gap = record.body, worked_out.get(record.id)
        if not isinstance(body, MarkedPhoto) or (gap is not None and not isinstance(gap, Refusal)):
            continue
        why = gap.sentence if gap is not None else f"There is no photo at {body.photo}."
        found.append(NotChecked("marked-photo-refused", record.path, why))
    return tuple(found)


def _has_cards(case: Case) -> bool:
    named_cards = any(s.card is not None for seam in seams_of(case) for s in seam.station)
    return named_cards or bool(case.facts.in_force(BenchCheck))


def _side_by_side(case: Case) -> Iterator[tuple[GapReading, GapReading]]:
    """Give pairs of a hand's and a photo's reading of one station, piece, stage and local day."""
    hands = [r for r in case.readings if r.meaning is Meaning.FACES and not contradiction(case, r)]
    for photo in (*from_photos(case), *from_photos(case, deciding=False)):
        for hand in hands:
            alike = (hand.seam, hand.station, hand.stage) == (
                photo.seam,
                photo.station,
                photo.stage,
            )
            if alike and same_piece(hand.piece, photo.piece) and named(hand) == named(photo):
                yield hand, photo


def _apart(hand: GapReading, photo: GapReading) -> bool:
    difference = photo.measurement.minus(hand.measurement)
    return abs(difference.value_mm) > K_TWO_SIDED * difference.u_mm


def _both(hand: GapReading, photo: GapReading) -> str:
    difference = photo.measurement.minus(hand.measurement)
    return (
        f"the {hand.instrument} reads {with_u(hand.measurement)} face to face and the "
        f"{photo.instrument} shows an opening of {with_u(photo.measurement)}: a difference of "
        f"{with_u(difference, sign=True)}."
    )


def _where(case: Case, gap: PhotoGap) -> str:
    station = f", {place(gap.seam, gap.station)}" if gap.seam else ""
    return f"{_path(case, gap)}, card {gap.card}{station}"


def _path(case: Case, gap: PhotoGap) -> str:
    photo = case.facts.photo_of(gap.sha256)
    return photo.places[0] if photo else gap.sha256[:12]


def _source(case: Case, gap: PhotoGap) -> Source:
    return Source(path=_path(case, gap), sha256=gap.sha256)


def _camera(name: str | None) -> str:
    return f"Camera {name}" if name else "A camera that its photos do not name"


CHECKS: tuple[tuple[str, str, Callable[[Case], Results]], ...] = (
    ("photo-gap-not-looked-at", "Photos not looked at for scale cards", not_looked_at),
    ("photo-gap-refused", "A card in a photo gives no gap", refused),
    ("photo-gap-no-stage", "A gap read in a photo belongs to no stage", no_stage),
    ("photo-gap-only-witnesses", "Photo readings that decide nothing", only_witnesses),
    ("bench-check-failed", "A bench check does not pass", bench_failed),
    ("bench-check-passed", "A bench check passes", bench_passed),
    ("photo-and-hand-differ", "A photo and a gauge differ", hand_and_photo_differ),
    ("photo-and-hand-agree", "A photo and a gauge agree", hand_and_photo_agree),
    ("photo-gaps-disagree", "Two photos of one gap differ", photos_disagree),
    ("marked-photo-refused", "A gap marked by hand gives no number", marked_refused),
)
