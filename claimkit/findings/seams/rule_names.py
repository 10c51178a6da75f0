"""Which rules speak of seams: the commands and packets that show gaps show all of them."""

from __future__ import annotations

RULES = (
    "gap-",
    "photo-gap",
    "photo-and-hand",
    "bench-check",
    "marked-photo",
    "card-",
    "seam-",
    "opening-",
    "stage-gaps",
    "stage-photo-gaps",
)
