"""Which supporting documents each body of terms asks for, as data, and why.

Marks: S the provision's own wording was read, P a summary, M from memory. A missing paper is
explained, not left out: traditional presentation form of a claim, common practice.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.job import PAPERS, Terms

ALWAYS = "always"
CONCEALED = "hidden damage or loss"
REPAIRED = "a repair is claimed"
FREIGHT_CLAIMED = "freight is claimed"

US, CANADA = Terms.US_INTERSTATE_MOTOR, Terms.CANADA
EVERY = tuple(Terms)
PRACTICE = "common practice, no source"
INVESTIGATION = "49 CFR 370.7: bill of lading, evidence of freight charges, invoice"


@dataclass(frozen=True, slots=True)
class Wanted:
    """One document that terms ask for: its kind in words of `model.job.PAPERS`, and when."""

    id: str
    paper: str
    terms: tuple[Terms, ...]
    when: str
    why: str
    citation: str
    mark: str

    def __post_init__(self) -> None:
        """Refuse a kind of document that job.toml does not know."""
        if self.paper not in PAPERS:
            raise ValueError(f"no document is a {self.paper}")


_REST = tuple(t for t in EVERY if t not in (US, CANADA))

DOCUMENTS: tuple[Wanted, ...] = (
    Wanted("us-bill", "bill of lading", (US,), ALWAYS, "identifies the shipment and its terms",
           INVESTIGATION, "M"),
    Wanted("us-freight-bill", "freight bill", (US,), ALWAYS, "shows the freight charges",
           INVESTIGATION, "M"),
    Wanted("us-invoice", "invoice", (US,), ALWAYS, "shows what the goods cost", INVESTIGATION, "M"),
    Wanted("ca-freight-bill", "freight bill", (CANADA,), ALWAYS,
           "a copy of the paid freight bill goes with the final statement of claim",
           "Uniform Conditions of Carriage, notice of claim (terms of the bill)", "S"),
    Wanted("ca-bill", "bill of lading", (CANADA,), ALWAYS, "states origin, destination and date",
           PRACTICE, "M"),
    Wanted("ca-invoice", "invoice", (CANADA,), ALWAYS, "shows what the goods cost", PRACTICE, "M"),
    Wanted("bill", "bill of lading", _REST, ALWAYS, "identifies the shipment and its terms",
           PRACTICE, "M"),
    Wanted("invoice", "invoice", _REST, ALWAYS, "shows what the goods cost", PRACTICE, "M"),
    Wanted("receipt", "delivery receipt", EVERY, ALWAYS,
           "shows what was noted when the goods were handed over", PRACTICE, "M"),
    Wanted("us-inspection", "inspection report", (US,), CONCEALED,
           "shows what was found: the carrier's, or the consignee's own where it did not inspect",
           "NMFC items 300140 and 300145", "M"),
    Wanted("us-packing", "packing evidence", (US,), CONCEALED,
           "shows the packing and the condition at origin",
           "264 So.2d 646: a clean bill shows only what could be seen", "S"),
    Wanted("packing", "packing evidence", (CANADA, *_REST), CONCEALED,
           "shows the packing and the condition at origin", PRACTICE, "M"),
    Wanted("repair", "repair invoice", EVERY, REPAIRED, "itemises hours, rate and parts",
           PRACTICE, "M"),
    Wanted("freight", "freight bill", _REST, FREIGHT_CLAIMED, "shows the freight charges",
           PRACTICE, "M"),
)  # fmt: skip
