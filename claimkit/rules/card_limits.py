"""How far a photo of a card is trusted: the limits of each guard, and the parts of its uncertainty.

Every limit that is passed becomes a refusal that says what to do, or a caution and a wider
interval. The figures come from rendered photos with known gaps, ours and others; no real photo
stands behind them, which is why a bench check with known spacers comes before any use.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

CITATION = "docs/methods.md, gaps read in photos: claimkit's own method, from rendered photos only"


@dataclass(frozen=True, slots=True)
class Limits:
    """When a photo's gap is refused, or given wider. Angles in degrees, lengths as named."""

    copy_long_side_px: int = 2560
    """A picture with no longer side than this is taken as a downsized copy; phones have made
    larger ones for many years (common practice, no source)."""
    least_px_per_mm: float = 2.0
    good_px_per_mm: float = 4.0
    coarse_u_mm: float = 0.25
    """Standard uncertainty added between the two, so that ±0.5 mm is claimed; as well where a
    photo is tilted a little too far."""
    tilt_deg: float = 25.0
    most_tilt_deg: float = 27.5
    tan_across: float = 0.36
    most_tan_across: float = 0.466
    """Between the two of each, the gap is given wider and with a caution: past the second (the
    last is tan 25°) it is refused."""
    residual_px: float = 1.2
    flat_px: float = 2.5
    not_a_card_mm: float = 1.2
    blur_mm: float = 0.3
    blur_of_gap: float = 0.6
    least_gap_px: float = 3.0
    most_gap_mm: float = 16.0
    border_mm: float = 2.0
    slant_deg: float = 6.0
    contrast: float = 0.65
    signal_to_misfit: float = 35.0
    floor: float = 0.09
    floor_per_mm: float = 0.02
    """An open joint's floor is darker than this, of the panels' light, by the gap's width."""
    black_floor: float = 0.06
    wall_in_view_mm: float = 0.2
    blackest_floor: float = 0.02
    """A floor less black than the first needs a wall to be seen, or is taken for a fill; than the
    last, where so much of an open joint's wall would be in view."""
    grey_floor: float = 0.04
    wall_hint: float = 1.0
    wall_cost: float = 5.0
    """How much better the cut fits with a wall than without: enough for a floor as black as the
    first, and enough for any."""
    second_share: float = 0.4
    second_edge: float = 0.22
    """A second dark line, or a step of light beside the gap, of this part of the gap's own darkness
    makes it doubtful."""
    uneven_mm: float = 0.3
    windows_differ_mm: float = 0.4
    bright: float = 0.97
    dark: float = 0.01


LIMITS = Limits()

EDGE_RADIUS_MM = 0.2
"""The rounding that panel edges are taken to have where none is entered."""

LIP_SLOPE = 0.57
"""How far a gap reads too wide for each mm that the edges' radius was taken too small: 0.57 and 0.6
in the renders of two programs."""

U_LIP_MM = 0.135
"""What the rounding of the edges and their gloss may do, shared by a card at its station."""

U_LIP_KNOWN_MM = 0.05
U_RADIUS_MM = 0.1
"""What is left of it where the radius is known: gloss, two edges that are not alike; and how well
a radius is taken to be known where nobody said."""

ROUNDED_RADII_MM = (0.35, 0.5, 0.7, 0.9)
U_PER_ROUNDED_MM = 0.55
ROUNDED_FREE_MM = 0.15
"""Of these radii, and the one that is taken, that whose edges fit a cut best: for each mm that it
is larger than the one taken and this, the gap is read so much wider, as a standard uncertainty."""

ROUNDED_MISFIT = (0.01, 0.016)
U_UNLIKE_MM = 0.2
"""A cut unlike every edge that is fitted, by its misfit: widened not at all at the first figure,
by so much at the second."""

ROUNDED_LEFT = 0.7
"""The part of it that is left where the radius is told after the photo was measured."""

U_LIGHT_MM = 0.055
"""What the light of one photo does to its edges beyond what the fit knows of."""

U_SCALE = 0.004
"""Relative scale of a print that nobody measured (within 0.7 % either way, rectangular)."""

STEP_MM = 4.4
STEP_FREE_TANGENT = 0.14
STEP_FREE_KNOWN_TANGENT = 0.05
"""Where nobody said how flush the panels are, the interval is widened by this much × what the
tangent of the view has over the second figure, as U (k = 2); over the third where the edges' radius
is known and the other parts are small. Below that they cover a panel that stands proud, and from
about 0.3 on the whole covers one of about 2 mm, either way."""

U_STEP_MM = 0.15
"""The least that an unknown step counts, as a standard uncertainty; × tangent of the view."""


def step_part(tangent: float, u_others: float, *, known: bool = False) -> float:
    """Give the part for a step that nobody told, in mm, with the sign of the side it is seen from.

    It fills up what the other parts, `u_others` together, leave of the interval that STEP_MM asks
    for. `known` where the edges' radius is.
    """
    free = STEP_FREE_KNOWN_TANGENT if known else STEP_FREE_TANGENT
    wanted = STEP_MM / 2.0 * max(abs(tangent) - free, 0.0)
    left_over = math.sqrt(max(wanted**2 - u_others**2, 0.0))
    return math.copysign(max(left_over, U_STEP_MM * abs(tangent)), tangent)
