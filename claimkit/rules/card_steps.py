"""How scale cards are printed, checked, cut, taped and photographed, in the order of the work.

Each step has its lines, the name of its drawing, and where it comes from. The limits in them are
those of the photo readings. `{along}`, `{across}`, `{within}` and `{far}` are lengths as the paper
asked for writes them.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.rules.cautions import Caution

PRACTICE = "common practice, no source"
METHOD = "docs/methods.md, scale cards"


@dataclass(frozen=True, slots=True)
class CardStep:
    """One step: its id, title, lines, drawing if it has one, and its source."""

    id: str
    title: str
    lines: tuple[str, ...]
    drawing: str | None = None
    citation: str = METHOD
    mark: str = "M"


STEPS: tuple[CardStep, ...] = (
    CardStep(
        "print",
        "Print at 100 %",
        (
            "In the print window choose “actual size” or 100 %, never “fit” or “shrink to page”: "
            "that makes a print up to about 4.5 % too small, and no photo shows it.",
            "Black on plain white matt paper, the heavier the flatter. Do not laminate: it shines.",
        ),
    ),
    CardStep(
        "measure",
        "Measure both check lines before you cut",
        (
            "With a tape or rule, from tick to tick: {along} along the sheet, {across} across it.",
            "Write both on the sheet and into a record, also where they are right; the lines to "
            "copy stand under “To write down”.",
            "Within {within} passes. Further off, the readings are scaled by it; where the two "
            "lines disagree, the sheet is refused: print it again.",
        ),
        "sheet",
    ),
    CardStep(
        "cut",
        "Cut out the card and its two notches",
        (
            "Along the dashed lines. The seam must show in both notches: they end at the middle "
            "bar.",
            "Leave the four black squares whole, with the white around them.",
        ),
    ),
    CardStep(
        "tape",
        "Tape it flat over its own seam and station",
        (
            "Take pictures 1 and 2 of the next step first.",
            "Across the seam, flat on both panels, both ticks on the seam, the arrow up.",
            "Tape only its four outer corners, best with a strip under the paper. Nothing over a "
            "black square or in a notch. A card that bulges or overhangs cannot be read.",
            "Use tape that comes off clean, and try it on an offcut.",
        ),
        "card",
    ),
    CardStep(
        "photograph",
        "Photograph in this order, every time",
        (
            "1  The whole seam with both pieces, and the loose tag of what is being done: DRY FIT, "
            "FASTENED or CHECK.",
            "2  Close, without the card.",
            "3  Close, with the card and the loose tag: phone held flat to the panels, two fingers "
            "(4 cm, 1 1/2 in) to the left of the seam. The card fills about a third of the "
            "picture's width: with most phones from 20 to 30\u00a0cm (8 to 12\u00a0in), never from "
            "further than {far}.",
            "4  The same from as far to the right.",
            "No flash and no shine on the card; even light from the front. Main lens, no zoom: "
            "where the phone changes to its close-up lens, step back. Tap the card, hold still.",
            "Keep the originals. Copies from a messaging app are made smaller and are refused.",
        ),
        "stand",
    ),
    CardStep(
        "again",
        "Later: the same card at the same station",
        (
            "Leave the card in place, or tape the same one there again, and repeat the pictures "
            "after fastening and before the sealant: a filled joint cannot be read.",
            "With the same card, what is off about its print cancels in the change.",
        ),
    ),
    CardStep(
        "bench",
        "Bench check, once with these cards and this phone",
        (
            "What it is for: until it is on record, photo readings are witnesses and decide "
            "nothing.",
            "Lay two offcuts of the same material and edge flat, with a spacer of known thickness "
            "between them, a card over the joint, and photograph it as in pictures 3 and 4.",
            "Five photos or more, with spacers from the smallest to the largest gap expected. "
            "Measure each spacer with a caliper.",
        ),
        "bench",
    ),
)

AT_THE_SEAM: tuple[Caution, ...] = (
    Caution(
        "ladder",
        "Above reach: a ladder on firm, level ground and a second person, or a rule instead of a "
        "card. Never lean on a panel that is not fastened.",
        "29 CFR 1926.1053(b)(6), ladders on stable and level surfaces, from memory",
        "M",
        "body",
    ),
    Caution(
        "wet-glass",
        "Wet glass and wet trays are slippery, and tape does not hold: dry them first.",
        "common practice, no source",
        "M",
        "body",
    ),
    Caution(
        "sharp-edges",
        "Cut edges of glass, stone and metal are sharp: gloves, and no finger along the seam.",
        "common practice, no source",
        "M",
        "body",
    ),
)
"""What can hurt somebody who tapes and photographs cards; printed with those on glass."""

LENGTHS: dict[str, dict[str, str]] = {
    "letter": {
        "along": "10\u00a0in\u00a0(254\u00a0mm)",
        "across": "7\u00a0in\u00a0(177.8\u00a0mm)",
        "within": "1/32\u00a0in\u00a0(0.8\u00a0mm)",
        "far": "25\u00a0in\u00a0(65\u00a0cm)",
    },
    "a4": {
        "along": "250\u00a0mm",
        "across": "170\u00a0mm",
        "within": "0.8\u00a0mm\u00a0(1/32\u00a0in)",
        "far": "65\u00a0cm\u00a0(25\u00a0in)",
    },
}
"""How the lengths in the steps are written for each paper."""
