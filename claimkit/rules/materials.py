"""How far pieces move with temperature: coefficients of linear expansion with their ranges.

A panel that warms grows into its gap and the gap closes; a panel that cools opens it. The range
counts as equally likely throughout, so a material that varies widens a comparison by as much.
Where heat is not what moves a material most, no coefficient stands here and the reason does.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.job import Material

TABLES = "general tables of linear expansion near 20 °C, read in two or more web tables"
MEMORY = "general engineering tables, from memory"

TEMPERATURE_LIMIT_K = 1.0
"""How far a stated temperature may be off, either way (common practice, no source)."""

UNRECORDED_LIMIT_K = 10.0
"""How far two unrecorded temperatures are taken to differ, either way (our own convention)."""

NEAR_ENOUGH_K = 2.0
"""Recorded temperatures that differ by no more than this need no correction (our convention)."""


@dataclass(frozen=True, slots=True)
class Expansion:
    """One material: range of its coefficient in 1/K, or why there is none. Mark as elsewhere."""

    material: Material
    low_per_k: float | None
    high_per_k: float | None
    why_none: str
    citation: str
    mark: str


ROWS: tuple[Expansion, ...] = (
    Expansion(
        Material.ACRYLIC,
        65e-6,
        75e-6,
        "",
        f"{TABLES}: 68 to 75 · 10⁻⁶/K and 70 · 10⁻⁶/K for acrylic sheet (a sheet backed with "
        "glass fibre moves less)",
        "P",
    ),
    Expansion(
        Material.GLASS_REINFORCED_POLYESTER,
        20e-6,
        35e-6,
        "",
        "makers' summaries: 20 to 35 · 10⁻⁶/K with glass content",
        "P",
    ),
    Expansion(Material.GLASS, 8.5e-6, 9.5e-6, "", f"{TABLES}: plate glass 9.0 · 10⁻⁶/K", "P"),
    Expansion(
        Material.STONE,
        4e-6,
        14e-6,
        "",
        f"{MEMORY}: granite about 8, marble 5 to 14, limestone 4 to 8 · 10⁻⁶/K",
        "M",
    ),
    Expansion(
        Material.STEEL,
        10.5e-6,
        17.5e-6,
        "",
        f"{TABLES}: carbon steel 10.8 to 12, austenitic stainless steel 17 · 10⁻⁶/K",
        "P",
    ),
    Expansion(Material.ALUMINIUM, 21e-6, 24e-6, "", f"{TABLES}: 21 to 24 · 10⁻⁶/K", "P"),
    Expansion(
        Material.WOOD,
        None,
        None,
        "wood moves with moisture far more than with temperature, and the moisture is not recorded",
        f"{TABLES}: 4 along the grain, 58 · 10⁻⁶/K across it; moisture: common practice, no source",
        "P",
    ),
    Expansion(
        Material.OTHER,
        None,
        None,
        "no coefficient of expansion is known for a material entered as other",
        "common practice, no source",
        "M",
    ),
)

BY_MATERIAL: dict[Material, Expansion] = {row.material: row for row in ROWS}
