"""How far a photo of a card is trusted: the limits of each guard, and the parts of its uncertainty.

Every limit that is passed becomes a refusal that says what to do, or a caution and a wider
interval. The figures come from rendered photos with known gaps, ours and others; no real photo
stands behind them, which is why a bench check with known spacers comes before any use.
"""

from __future__ import annotations

from dataclasses import dataclass

CITATION = "docs/rules.md, photo readings: claimkit's own method, from rendered photos only"


@dataclass(frozen=True, slots=True)
class Limits:
    """When a photo's gap is refused, or given wider. Angles in degrees, lengths as named."""

    copy_long_side_px: int = 2560
    """A picture with no longer side than this is taken as a downsized copy; phones have made
    larger ones for many years (common practice, no source)."""
    least_px_per_mm: float = 2.0
    good_px_per_mm: float = 4.0
    coarse_u_mm: float = 0.25
    """Standard uncertainty added between the two, so that ±0.5 mm is claimed."""
    tilt_deg: float = 25.0
    tan_across: float = 0.36
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
    wall_cost: float = 5.0
    """A floor less black than this where no wall is seen (a fit no better by this) is a fill."""
    blackest_floor: float = 0.04
    wall_in_view_mm: float = 0.4
    """So is one less black than this where so much of an open joint's wall would be in view."""
    second_share: float = 0.4
    """A second dark line of this part of the gap's own darkness makes it doubtful."""
    uneven_mm: float = 0.3
    windows_differ_mm: float = 0.4
    bright: float = 0.97
    dark: float = 0.01


LIMITS = Limits()

EDGE_RADIUS_MM = 0.2
"""The rounding that panel edges are taken to have where none is entered."""

LIP_SLOPE = 0.46
"""How far a gap reads too wide for each mm that the edges' radius was taken too small."""

U_LIP_MM = 0.1
"""What the rounding of the edges and their gloss may do, shared by a card at its station."""

U_LIP_KNOWN_MM = 0.05
"""What is left of it where the radius is known: gloss, and two edges that are not alike."""

ROUNDED_RADIUS_MM = 0.9
ROUNDED_COST = 20.0
U_LIP_ROUNDED_MM = 0.35
"""Where a cut fits this much better with edges of this radius, the gap is read so much wider."""

U_LIGHT_MM = 0.055
"""What the light of one photo does to its edges beyond what the fit knows of."""

U_SCALE = 0.004
"""Relative scale of a print that nobody measured (within 0.7 % either way, rectangular)."""

STEP_MM = 2.0
"""Where nobody said how flush the panels are, the interval is widened until one that stands this
far proud, either way, would not carry the gap out of it: × tangent of the view, as U (k = 2)."""

U_STEP_MM = 0.15
"""The least that an unknown step counts, as a standard uncertainty; × tangent of the view."""
