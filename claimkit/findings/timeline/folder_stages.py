"""What a folder's name says of its photos' stage, and where their dates say otherwise.

People sort photos into folders named for a stage of the work. A photo dated in another stage, or
certainly outside every episode of the one named, stands in the wrong folder or has a wrong clock.
"""

from __future__ import annotations

import re
from pathlib import PurePosixPath

from claimkit.findings.timeline.photos import OPEN, unclear
from claimkit.model.answers import Answer
from claimkit.model.case import Case, DatedPhoto, Episode
from claimkit.model.moment import Interval, before
from claimkit.model.source import Source
from claimkit.model.stages import Stage
from claimkit.rules.capture import FOLDER_WORDS, SHIFTING_WORDS

Mismatch = tuple[str, str, list[DatedPhoto], tuple[Source, ...]]


def named_stages(folder: str) -> frozenset[Stage]:
    """Give the stages that a folder's path names; the deepest folder with such a name decides.

    Empty where no part of it names a stage, or where a word such as "before" or "not" turns a
    name round that no rule knows whole.
    """
    for part in reversed(PurePosixPath(folder).parts):
        name = f" {' '.join(re.sub(r'[^a-z]+', ' ', part.casefold()).split())} "
        found: set[Stage] = set()
        for row in FOLDER_WORDS:
            for phrase in row.words:
                if f" {phrase} " in name:
                    found |= set(row.stages)
                    name = name.replace(f" {phrase} ", "  ")
        if found:
            return frozenset() if SHIFTING_WORDS & set(name.split()) else frozenset(found)
    return frozenset()


def mismatches(case: Case) -> tuple[Mismatch, ...]:
    """Give the folders with photos dated elsewhere: folder, where dated, photos, sources."""
    groups: dict[tuple[str, str], list[DatedPhoto]] = {}
    sources: dict[tuple[str, str], dict[Source, None]] = {}
    for dated in case.photos:
        photo = case.facts.photo_of(dated.sha256)
        if photo is None or not dated.taken.known or unclear(dated, OPEN):
            continue
        for folder in dict.fromkeys(str(PurePosixPath(p).parent) for p in photo.places):
            told = _elsewhere(case, dated, named_stages(folder))
            if told is not None:
                words, episodes = told
                groups.setdefault((folder, words), []).append(dated)
                known = sources.setdefault((folder, words), {})
                known.update(dict.fromkeys(s for e in episodes for s in e.sources))
    return tuple(
        (folder, words, photos, tuple(sources[folder, words]))
        for (folder, words), photos in groups.items()
    )


def _elsewhere(
    case: Case, dated: DatedPhoto, stages: frozenset[Stage]
) -> tuple[str, tuple[Episode, ...]] | None:
    if not stages or dated.stage in stages:
        return None
    own = tuple(e for e in case.episodes if e.stage in stages)
    if dated.stage is not None:
        held = tuple(e for e in case.episodes if e.id == dated.episode)
        # It may as well belong to the stage that the folder names.
        if any(_outside(dated.stands, e) is None for e in own):
            return None
        return f"in another stage, {dated.stage.value}", held
    if unclear(dated) or not own:
        return None
    sides = {_outside(dated.stands, e) for e in own}
    if len(sides) != 1:
        return None
    side = sides.pop()
    return (f"{side} that stage", own) if side else None


def _outside(taken: Interval, episode: Episode) -> str | None:
    """Tell on which side of an episode a time lies, None where it may belong to it."""
    widest = episode.widest or episode.interval
    if before(taken, widest) is Answer.YES:
        return "before"
    if before(widest, taken) is Answer.YES:
        return "after"
    return None
