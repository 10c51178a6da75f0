"""The wiring of what pictures look like: kept from before for every run, worked out for a packet.

Comparing needs every picture decoded, which no everyday run waits for. Until a packet is made the
checks say that the pictures have not been compared.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from claimkit.model.case import Case
from claimkit.model.facts import Facts

NAME = "looks.json"


def with_kept_looks(facts: Facts) -> Facts:
    """Give the facts with the looks that the cache holds from before; nothing is decoded."""
    from claimkit.intake.places import cache_folder
    from claimkit.pixels.looks import kept_looks

    return replace(facts, looks=kept_looks(facts.photos, cache_folder() / NAME))


def with_all_looks(
    case: Case, folder: Path, progress: Callable[[int, int], None] | None = None
) -> Case:
    """Give the case reasoned anew over the looks of all photos, where some were missing."""
    from claimkit.findings.reason import reason
    from claimkit.intake.paths import on_disk
    from claimkit.intake.places import cache_folder
    from claimkit.pixels.looks import all_looks

    facts = case.facts
    if len(facts.looks) == len(facts.photos):
        return case
    looks = all_looks(
        facts.photos,
        lambda photo: on_disk(folder, photo.places[0]).read_bytes(),
        cache_folder() / NAME,
        workers=os.cpu_count() or 1,
        copies=cache_folder() / "pictures",
        progress=progress,
    )
    return reason(replace(facts, looks=looks), case.as_of, case.now)
