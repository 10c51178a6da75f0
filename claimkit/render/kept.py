"""What a packet's file keeps of custody in its own description, read back from the PDF."""

from __future__ import annotations

from pathlib import Path

from claimkit.model.anchors import Anchors, anchors_in


def in_packet(file: Path) -> Anchors | None:
    """Read what a packet's own description keeps of custody; None where it keeps nothing."""
    import pikepdf

    try:
        with pikepdf.open(file) as pdf:
            words = str(pdf.docinfo.get("/Keywords", ""))
    except Exception:  # a damaged PDF fails in more ways than can be listed
        return None
    return anchors_in(words)
