"""Gaps seen in photos: the card laid square with the edges found, the dry fit beside the latest.

Both cards are drawn at one scale, so that the eye can compare what the numbers say; the photos
themselves stand below. What was refused is named with its reason.
"""

from __future__ import annotations

from collections.abc import Iterator

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet.plates import plate
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import gap as said
from claimkit.compose.phrases import job_source, method, stretch
from claimkit.findings.seams.photo_gaps import usable
from claimkit.model.card import CardReading
from claimkit.model.case import DatedPhoto
from claimkit.model.document import Block, Paragraphs, Plate, PlateRow, Section, Statement
from claimkit.model.gap import Bench, PhotoGap
from claimkit.model.source import Source
from claimkit.model.stages import Stage

RULE = method("gaps read in photos")
BENCH = method("bench check of photo readings")
ORDER = {stage: number for number, stage in enumerate(Stage)}

HEADS = ("Photo", "Card", "Station", "Stage", "When", "Opening ± U (k = 2)", "Seen at", "Counts as")
BENCH_HEADS = ("Photo", "Card", "Spacer", "Measured ± U (k = 2)", "Error")


def section(view: View) -> Section | None:
    """Compose pairs of cards, the table of readings, the refused photos and the bench checks."""
    shown = [gap for gap in view.case.photo_gaps if gap.sha256 in view.numbers]
    measured = [gap for gap in shown if usable(gap) is not None]
    refused = [gap for gap in shown if gap.refused and gap.station is not None]
    if not measured and not refused:
        return None
    blocks: list[Block] = [_intro(view, measured)] if measured else []
    chosen = list(_pairs(measured))
    for pair in chosen:
        blocks += _side_by_side(view, pair)
    rest = [gap for gap in measured if not any(gap in pair for pair in chosen)]
    rows = [rest[i : i + 2] for i in range(0, len(rest), 2)]
    blocks += [PlateRow(tuple(_card(view, gap) for gap in two)) for two in rows]
    if measured:
        blocks.append(table(HEADS, [_row(view, g) for g in measured], _WIDTHS, small=True))
    if refused:
        blocks.append(Paragraphs(tuple(_refused(view, gap) for gap in refused)))
    for bench in view.case.benches:
        blocks += _bench(bench)
    return Section("gap-photos", "Gaps seen in photos", tuple(blocks), new_page=True)


_WIDTHS = (0.7, 0.6, 1.3, 1.2, 2.0, 1.7, 1.4, 1.3)


def _intro(view: View, measured: list[PhotoGap]) -> Block:
    """Say what a photo shows, and how far its numbers go."""
    told = [
        say(
            "A printed card of known size is taped across the seam. Its picture is laid square "
            "and the two edges of the gap are found in both notches. A photo shows the opening "
            "between the edges; a gauge meets the panels face to face. The two differ where edges "
            "are rounded.",
            RULE,
        )
    ]
    if any(not gap.decides for gap in measured):
        told.append(
            say(
                "Readings without a passed bench check of their camera and cards are shown and "
                f"decide nothing. {' '.join(_reasons(measured))}",
                BENCH,
                *(_source(view, gap) for gap in measured if not gap.decides),
                emphasis="caution",
            )
        )
    return Paragraphs(tuple(told), bulleted=False)


def _reasons(measured: list[PhotoGap]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(g.because for g in measured if not g.decides and g.because))


def _pairs(measured: list[PhotoGap]) -> Iterator[tuple[PhotoGap, ...]]:
    """Give for each station its first photo of the dry fit and its last later one, where any."""
    stations = dict.fromkeys((gap.seam, gap.station, gap.card) for gap in measured)
    for key in stations:
        here = [g for g in measured if (g.seam, g.station, g.card) == key]
        here.sort(key=lambda g: (ORDER[g.stage] if g.stage else 0, _begins(g)))
        dry = [g for g in here if g.stage is Stage.DRY_FIT]
        later = [g for g in here if g.stage and ORDER[g.stage] > ORDER[Stage.DRY_FIT]]
        chosen = [*dry[:1], *later[-1:]] or here[:1]
        yield tuple(chosen)


def _begins(gap: PhotoGap) -> float:
    return gap.taken.earliest.timestamp() if gap.taken.earliest else 0.0


def _side_by_side(view: View, pair: tuple[PhotoGap, ...]) -> list[Block]:
    first = pair[0]
    head = say(
        f"Seam {first.seam}, station {first.station}, card {first.card}: the card laid square, at "
        "one scale, above the photos it is cut from.",
        *(_source(view, gap) for gap in pair),
        RULE,
    )
    cards = tuple(_card(view, gap) for gap in pair)
    photos = tuple(_photo(view, gap) for gap in pair)
    return [Paragraphs((head,), bulleted=False, heads=True), PlateRow(cards), PlateRow(photos)]


def _dated(view: View, gap: PhotoGap) -> DatedPhoto:
    return next(dated for dated in view.photos if dated.sha256 == gap.sha256)


def _card(view: View, gap: PhotoGap) -> Plate:
    """Draw the card of a photo laid square."""
    whole = plate(view, _dated(view, gap))
    source = _source(view, gap)
    stage = gap.stage.value if gap.stage else ""
    text = f"{stage}: {said(gap.gap)}" if gap.gap else gap.refused
    lines = [say(text, source, RULE), say(stretch(gap.taken, view.zone), source)]
    return Plate(
        whole.photo_no,
        whole.sha256,
        whole.path,
        whole.orientation,
        whole.upright_when_decoded,
        tuple(lines),
        f"Card {gap.card} of photo {whole.photo_no} laid square, opening {text}",
        card=_windows(view, gap),
        again=True,
    )


def _windows(view: View, gap: PhotoGap) -> tuple[CardReading, ...]:
    seen = view.facts.cards_in(gap.sha256)
    return tuple(r for r in (seen.readings if seen else ()) if r.card == gap.card)


def _photo(view: View, gap: PhotoGap) -> Plate:
    """Show the photo itself, small, under the number that its own plate has."""
    whole = plate(view, _dated(view, gap))
    return Plate(
        whole.photo_no,
        whole.sha256,
        whole.path,
        whole.orientation,
        whole.upright_when_decoded,
        whole.caption[:2],
        whole.alt,
        again=True,
    )


def _row(view: View, gap: PhotoGap) -> tuple[Statement, ...]:
    seen = gap.reading.view
    looked = f"{seen.px_per_mm:.0f} px/mm, {seen.tilt_deg:.0f}° off square" if seen else "–"
    return row(
        f"P{view.numbers[gap.sha256]}",
        str(gap.card),
        f"{gap.seam}, {gap.station}",
        gap.stage.value if gap.stage else "–",
        stretch(gap.taken, view.zone),
        said(gap.gap) if gap.gap else "–",
        looked,
        "reading" if gap.decides else "witness only",
        sources=(_source(view, gap), RULE),
    )


def _refused(view: View, gap: PhotoGap) -> Statement:
    advice = f" {gap.do_next}" if view.own else ""
    return say(
        f"P{view.numbers[gap.sha256]}, card {gap.card}, seam {gap.seam}, station {gap.station}: "
        f"not measured. {gap.refused}{advice}",
        _source(view, gap),
        RULE,
        emphasis="missing",
    )


def _bench(bench: Bench) -> list[Block]:
    camera = f"Camera {bench.camera}" if bench.camera else "A camera that its photos do not name"
    head = say(f"Bench check {bench.record}. {camera}: {bench.because}", bench.source, BENCH)
    rows = [
        row(
            found.photo,
            str(found.card) if found.card is not None else "–",
            f"{found.known_mm:g} mm",
            said(found.measured) if found.measured else found.refused,
            f"{found.error_mm:+.2f} mm" if found.error_mm is not None else "–",
            sources=(bench.source, BENCH),
        )
        for found in bench.rows
    ]
    return [
        Paragraphs((head,), bulleted=False, heads=True),
        table(BENCH_HEADS, rows, (2.4, 0.6, 0.9, 2.4, 0.9), small=True),
    ]


def _source(view: View, gap: PhotoGap) -> Source:
    photo = view.facts.photo_of(gap.sha256)
    if photo is None:
        return job_source(view.case, "seam")
    return view.photo_source(photo)
