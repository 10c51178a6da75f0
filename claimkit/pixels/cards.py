"""Scale cards in a photo: found, laid into their plane, and both windows measured or refused.

Each guard that is not passed becomes a refusal by name. A measurement carries its parts under the
names of their causes: what belongs to the card at its station (the scale of its print, the lips
of the panels' edges) is shared by every photo of it and cancels in a difference.
"""

from __future__ import annotations

import hashlib
import math
from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from claimkit.model.card import CardReading, LooseTag, Marks, Refusal, View, Why, Window
from claimkit.model.measurement import Measurement
from claimkit.pixels.opencv import needed
from claimkit.rules import card_layout as layout
from claimkit.rules import card_limits as rules
from claimkit.rules.card_limits import LIMITS, Limits

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from claimkit.pixels.grey import GreyPicture
    from claimkit.pixels.plane import Plane
    from claimkit.pixels.tags import Light, TagSeen
    from claimkit.pixels.windows import Laid, WindowFit

    Array = NDArray[np.float64]

_MIDDLE = layout.CARD.centre
_MARGIN_PX = 24
_BETTER_PLANES = 2
_ROUNDED_TOLD = 0.15  # mm
_COARSE = {Why.FAR: "few pixels", Why.TILT: "tilt"}
"""Cautions that widen the interval by a part of their own."""


@dataclass(frozen=True, slots=True)
class CardsSeen:
    """All that one photo's cards and loose tags say."""

    readings: tuple[CardReading, ...] = ()
    loose: tuple[LooseTag, ...] = ()


def read_cards(  # noqa: PLR0913 - how a photo is read, by name
    data: bytes,
    *,
    orientation: int | None = None,
    upright_when_decoded: bool = False,
    registered: Collection[int] | None = None,
    radius_mm: float | None = None,
    limits: Limits = LIMITS,
    photo_sha: str | None = None,
) -> CardsSeen:
    """Read every card in a photo's bytes; three readings a card: top, bottom and both windows.

    `orientation` and `upright_when_decoded` are as for scaled_jpeg. `registered` are the numbers
    of the job's cards: others are refused and a single tag of one is told; without it every card
    counts. `radius_mm` is the rounding of the panels' edges where it is known, else they are taken
    as usual and the interval is wider. `photo_sha` saves hashing the bytes again. Raises
    CannotMeasure without OpenCV, and PictureNotDrawn for a damaged picture.
    """
    needed()
    from claimkit.pixels.grey import decoded_grey

    sha = photo_sha or hashlib.sha256(data).hexdigest()
    grey = decoded_grey(data, orientation=orientation, upright_when_decoded=upright_when_decoded)
    return read_grey(grey, sha, registered=registered, radius_mm=radius_mm, limits=limits)


def read_grey(
    grey: GreyPicture,
    photo_sha: str,
    *,
    registered: Collection[int] | None = None,
    radius_mm: float | None = None,
    limits: Limits = LIMITS,
) -> CardsSeen:
    """Read every card in a decoded picture; otherwise like read_cards."""
    from claimkit.pixels.tags import find_tags

    tags = find_tags(grey.pixels)
    words = dict(layout.LOOSE_TAGS)
    loose = tuple(LooseTag(photo_sha, tag.id, words[tag.id]) for tag in tags if tag.id in words)
    found: list[CardReading] = []
    for card, seen in _by_card(tags, registered):
        photo = _Photo(grey, photo_sha, card, radius_mm, limits)
        found += _read_card(photo, seen, registered)
    return CardsSeen(tuple(found), loose)


def _by_card(
    tags: Iterable[TagSeen], registered: Collection[int] | None
) -> list[tuple[int, list[TagSeen]]]:
    """Group tags by card; one lone tag of a card that nobody named is left out as chance."""
    cards: dict[int, list[TagSeen]] = {}
    for tag in tags:
        card = layout.card_of(tag.id)
        if card is not None:
            cards.setdefault(card, []).append(tag)
    ours = registered or ()
    return [(c, seen) for c, seen in sorted(cards.items()) if c in ours or len(seen) > 1]


@dataclass(frozen=True)
class _Photo:
    """One card in one photo, and how it is to be read."""

    grey: GreyPicture
    sha: str
    card: int
    radius_mm: float | None
    limits: Limits

    def refused(
        self, refusal: Refusal, view: View | None = None, marks: Marks | None = None
    ) -> list[CardReading]:
        """Refuse all three readings for one reason."""
        return [
            CardReading(self.sha, self.card, w, None, refusal, view=view, marks=marks)
            for w in Window
        ]


def _read_card(
    photo: _Photo, seen: list[TagSeen], registered: Collection[int] | None
) -> list[CardReading]:
    refusal = _tags_refused(photo.card, seen, registered)
    if refusal:
        return photo.refused(refusal)
    laid = _laid(photo, seen)
    if isinstance(laid, Refusal):
        return photo.refused(laid)
    card, view = laid
    refusal = _view_refused(photo, view)
    if refusal:
        return photo.refused(refusal, view, Marks(_outline(card, layout.CARD)))
    return _read_windows(photo, card, view)


def _tags_refused(
    card: int, seen: list[TagSeen], registered: Collection[int] | None
) -> Refusal | None:
    if registered is not None and card not in registered:
        return Refusal.of(Why.NOT_OURS, card=card)
    counts = Counter(tag.id for tag in seen)
    if max(counts.values()) > 1:
        return Refusal.of(Why.TWICE, card=card)
    places = zip(layout.tags_of(card), layout.TAG_PLACES, strict=True)
    missing = [name for tag, (name, _) in places if tag not in counts]
    return Refusal.of(Why.TAG_MISSING, places=" and ".join(missing)) if missing else None


def _laid(photo: _Photo, seen: list[TagSeen]) -> tuple[Laid, View] | Refusal:
    """Lay the card: a rough plane from the tags as found, then better ones from their borders."""
    import numpy as np

    from claimkit.pixels.tags import linear_light, rough_plane

    grey, no_card = photo.grey, Refusal.of(Why.NOT_A_CARD, card=photo.card)
    found = rough_plane(seen, photo.card, grey.size, grey.focal_35)
    if found is None:
        return no_card
    plane, residual = found
    if residual > photo.limits.not_a_card_mm * plane.px_per_mm(*_MIDDLE):
        return no_card
    around = plane.pixels(np.array(layout.CARD.corners))
    if not ((around > 0.0) & (around < np.array(grey.size) - 1.0)).all():
        return Refusal.of(Why.CUT_OFF)
    light = linear_light(grey.pixels, around, _MARGIN_PX)
    return _better(grey, light, plane) or no_card


def _better(grey: GreyPicture, light: Light, plane: Plane) -> tuple[Laid, View] | None:
    """Lay the plane through the located borders, and locate them anew from there."""
    from claimkit.pixels.plane import plane_of
    from claimkit.pixels.tags import corners_mm, locate_borders
    from claimkit.pixels.windows import Laid

    residual = math.inf
    borders = locate_borders(light, plane)
    for _ in range(_BETTER_PLANES):
        if borders is None:
            return None
        found = plane_of(corners_mm(), borders.corners, grey.size, grey.focal_35)
        if found is None:
            return None
        plane, residual = found
        borders = locate_borders(light, plane)
    if borders is None:
        return None
    view = View(
        px_per_mm=plane.px_per_mm(*_MIDDLE),
        tilt_deg=plane.tilt_deg(*_MIDDLE),
        tan_across=plane.tangents(*_MIDDLE)[0],
        residual_px=residual,
        blur_mm=borders.blur_mm[0],
    )
    return Laid(plane, borders, light), view


def _outline(laid: Laid, box: layout.Box) -> tuple[tuple[float, float], ...]:
    """Give the corners of a box on the card in pixels."""
    import numpy as np

    return _points(laid.plane.pixels(np.array(box.corners)))


def _points(px: Array) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in px)


def _view_refused(photo: _Photo, view: View) -> Refusal | None:
    limits = photo.limits
    wide, high = photo.grey.size
    if max(wide, high) <= limits.copy_long_side_px:
        return Refusal.of(Why.COPY, wide=wide, high=high)
    if view.px_per_mm < limits.least_px_per_mm:
        return Refusal.of(Why.FAR, px_per_mm=view.px_per_mm, least=limits.good_px_per_mm)
    if view.tilt_deg > limits.most_tilt_deg:
        return Refusal.of(Why.TILT, tilt=view.tilt_deg, most=limits.tilt_deg)
    if view.residual_px > limits.flat_px:
        return Refusal.of(Why.NOT_FLAT, residual=view.residual_px)
    return None


def _cautions(photo: _Photo, view: View) -> tuple[Refusal, ...]:
    limits = photo.limits
    found = []
    if view.px_per_mm < limits.good_px_per_mm:
        far = Refusal.of(Why.FAR, px_per_mm=view.px_per_mm, least=limits.good_px_per_mm)
        found.append(far)
    if view.tilt_deg > limits.tilt_deg:
        found.append(Refusal.of(Why.TILT, tilt=view.tilt_deg, most=limits.tilt_deg))
    if view.residual_px > limits.residual_px:
        found.append(Refusal.of(Why.NOT_FLAT, residual=view.residual_px))
    return tuple(found)


def _read_windows(photo: _Photo, laid: Laid, view: View) -> list[CardReading]:
    from claimkit.pixels.windows import read_window

    cautions, card = _cautions(photo, view), _outline(laid, layout.CARD)
    radius = rules.EDGE_RADIUS_MM if photo.radius_mm is None else photo.radius_mm
    fits = [read_window(laid, box, radius, photo.limits) for box in layout.NOTCHES]
    # Both windows show the same edges: what one of them tells of their rounding counts for both.
    rounded = max((fit.rounded for fit in fits if not isinstance(fit, Refusal)), default=0.0)
    if rounded > _ROUNDED_TOLD:
        cautions = (*cautions, Refusal.of(Why.ROUNDED))
    readings: list[CardReading] = []
    for name, box, fit in zip((Window.TOP, Window.BOTTOM), layout.NOTCHES, fits, strict=True):
        marks = Marks(card, _outline(laid, box))
        measured, refused, care = None, None, cautions
        if isinstance(fit, Refusal):
            refused = fit
        else:
            care = (*cautions, fit.caution) if fit.caution else cautions
            coarse = [_COARSE[caution.why] for caution in care if caution.why in _COARSE]
            measured = _measured(photo, name, replace(fit, rounded=rounded), coarse)
            marks = replace(marks, left=_points(fit.left), right=_points(fit.right))
        readings.append(
            CardReading(photo.sha, photo.card, name, measured, refused, care, view, marks)
        )
    return [*readings, _both(photo, readings)]


def _measured(photo: _Photo, window: Window, fit: WindowFit, coarse: list[str]) -> Measurement:
    """Give the gap with its parts, each under the name of its cause."""
    card = f"card {photo.card}"
    shot = f"{card} in photo {photo.sha[:12]}"
    known = photo.radius_mm is not None
    lip = (
        (rules.U_LIP_KNOWN_MM, rules.LIP_SLOPE * rules.U_RADIUS_MM) if known else (rules.U_LIP_MM,)
    )
    parts = {
        f"card scale: {card}": rules.U_SCALE * fit.gap_mm,
        f"card lip: {card}": math.hypot(*lip),
        f"edges: {shot}": math.hypot(fit.u_fit_mm, rules.U_LIGHT_MM),
        f"scatter: {shot}, {window.value} window": fit.u_scatter_mm,
    }
    if fit.rounded > 0.0:
        parts[f"rounded edges: {card}"] = fit.rounded
    parts[f"step: {shot}"] = rules.step_part(fit.tangent, math.hypot(*parts.values()), known=known)
    for kind in coarse:
        parts[f"{kind}: {shot}"] = photo.limits.coarse_u_mm
    return Measurement.of(fit.gap_mm, parts)


def _both(photo: _Photo, readings: list[CardReading]) -> CardReading:
    """Give the mean of both windows, or why not."""
    first = readings[0]
    cautions = tuple({care.why: care for reading in readings for care in reading.cautions}.values())
    marks = Marks(first.marks.card) if first.marks else None
    both = replace(first, window=Window.BOTH, cautions=cautions, marks=marks)
    top, bottom = (reading.measurement for reading in readings)
    if top is None and bottom is None:
        return both
    if top is None or bottom is None:
        return replace(both, measurement=None, refusal=Refusal.of(Why.OTHER_WINDOW))
    differ, most = abs(top.value_mm - bottom.value_mm), photo.limits.windows_differ_mm
    if differ > most:
        refusal = Refusal.of(Why.WINDOWS_DIFFER, by=differ, most=most)
        return replace(both, measurement=None, refusal=refusal)
    return replace(both, measurement=top.plus(bottom).scaled(0.5), refusal=None)
