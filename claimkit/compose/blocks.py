"""Short ways to make statements and table rows, so that no sentence goes without a source."""

from __future__ import annotations

from claimkit.model.case import Finding, Standing
from claimkit.model.document import Statement, Table
from claimkit.model.source import Source


def say(text: str, *sources: Source, emphasis: str = "") -> Statement:
    """Make a statement; without a source it is refused."""
    if not sources:
        raise ValueError(f"a statement without a source: {text}")
    return Statement(text, tuple(dict.fromkeys(sources)), emphasis)


def row(*cells: str, sources: tuple[Source, ...], emphasis: str = "") -> tuple[Statement, ...]:
    """Make a table row whose cells all rest on the same sources."""
    return tuple(say(cell, *sources, emphasis=emphasis) for cell in cells)


def table(
    heads: tuple[str, ...],
    rows: list[tuple[Statement, ...]],
    widths: tuple[float, ...],
    *,
    small: bool = False,
) -> Table:
    """Make a table and refuse ragged rows."""
    if any(len(cells) != len(heads) for cells in rows) or len(widths) != len(heads):
        raise ValueError("every row has a cell under every head")
    return Table(heads, tuple(rows), widths, small)


EMPHASIS = {
    Standing.SUPPORTS: "supports",
    Standing.AGAINST: "does not support",
    Standing.MISSING: "missing",
    Standing.NOTE: "",
}


def of_finding(finding: Finding, *, advice: bool) -> Statement:
    """Print a finding; with its next step only in the owner's own packet."""
    text = f"{finding.message} {finding.do_next}".strip() if advice else finding.message
    if advice and finding.where not in text:
        text = f"{finding.where}: {text}"
    sources = finding.evidence or ()
    return say(
        text,
        *sources,
        Source(citation=f"rule {finding.rule}: {finding.citation}"),
        emphasis=EMPHASIS[finding.standing],
    )
