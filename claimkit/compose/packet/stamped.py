"""What the timestamps of a job say in a packet, as they were checked when they were taken in."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

from claimkit.compose.blocks import say
from claimkit.compose.packet.view import View
from claimkit.model.document import Statement
from claimkit.model.facts import CustodyEvent, CustodyLine
from claimkit.model.source import Source


def timestamps(view: View, originals: tuple[tuple[str, str, str], ...]) -> list[Statement]:
    """Say of each timestamp who states what, and how many of these originals it covers.

    An original is covered where a log had it before the line that the timestamp has kept.
    """
    told = []
    for line in view.facts.custody.lines:
        said = _said(line)
        if said is None:
            continue
        heads = {writer: number for writer, (number, _) in said["heads"].items()}
        covered = sum(_covered(view, sha256, heads) for _, _, sha256 in originals)
        text = (
            f"{said['authority']} states in a timestamp (RFC 3161) that a list of hashes existed "
            f"before {datetime.fromisoformat(said['at']):%Y-%m-%d %H:%M:%S} UTC; {covered} of the "
            f"{len(originals)} originals listed here were in it. The list has the SHA-256 "
            f"{said['list']}. The reply was checked when it was taken in, against the certificate "
            f"with the SHA-256 {said['certificate']}. It does not show when a photo was taken."
        )
        told.append(say(text, Source(path=line.path, sha256=line.sha256)))
    return told


def _said(line: CustodyLine) -> dict[str, Any] | None:
    if line.event is not CustodyEvent.TIMESTAMPED or line.path is None:
        return None
    try:
        said: dict[str, Any] = json.loads(line.detail or "")
        dict(said["heads"]), str(said["authority"]), said["at"], said["list"], said["certificate"]
    except (ValueError, KeyError, TypeError):
        return None
    return said


def _covered(view: View, sha256: str, heads: dict[str, int]) -> bool:
    return any(
        line.sha256 == sha256
        and line.number <= heads.get(line.writer, 0)
        and line.event in (CustodyEvent.FIRST_SEEN, CustodyEvent.RECORD_ADDED, CustodyEvent.CHANGED)
        for line in view.facts.custody.lines
    )
