"""Cautions that stand beside the work: what can hurt a person or cost a right.

Each is a row with its source. Local codes, licensed trades, the maker's instructions, the
carrier's tariff and a lawyer come first; claimkit replaces none of them.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: its text, its source and mark, and whether it concerns a right or a body."""

    id: str
    text: str
    citation: str
    mark: str
    concerns: str


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "not-legal-advice",
        "This is no legal advice. The carrier's tariff, the signed bill of lading and the law of "
        "the place come first; where money or a right depends on it, ask a lawyer.",
        "common practice, no source",
        "M",
        "right",
    ),
    Caution(
        "lifting",
        "Large panels and trays are lifted by two or more people or with a cart; nobody stands on "
        "or under a moving tailgate.",
        "revised NIOSH lifting equation, DHHS (NIOSH) 94-110: 23 kg (51 lb) under ideal conditions",
        "M",
        "body",
    ),
    Caution(
        "glass",
        "Cracked glass can fail later without warning: gloves, eye protection, and keep it "
        "standing in its frame or crate.",
        "common practice, no source",
        "M",
        "body",
    ),
    Caution(
        "straps",
        "Straps and bands are under tension: stand aside when cutting, and cut nothing that holds "
        "a leaning load.",
        "common practice, no source",
        "M",
        "body",
    ),
    Caution(
        "water-and-electrics",
        "Water and electric supply are shut off, tested dead and connected by licensed trades as "
        "the local code requires.",
        "local plumbing and electrical codes",
        "M",
        "body",
    ),
    Caution(
        "power-tools",
        "Cutting, drilling and grinding: eye and ear protection and a dust mask, hands clear of "
        "the blade, and no drilling before pipes and cables in the wall are found.",
        "common practice, no source",
        "M",
        "body",
    ),
    Caution(
        "makers-instructions",
        "Packing, shimming, fastening and sealing follow the maker's instructions; where they "
        "differ from this record, they come first.",
        "common practice, no source",
        "M",
        "body",
    ),
)
