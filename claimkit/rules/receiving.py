"""What is written on the carrier's copy, as phrases and the choices that fill them.

The sheet prints these phrases with blanks, the page fills them from taps and the prompts from
answers: the words stand here and nowhere else. A label is in English and Spanish; what goes onto
the receipt is English, long for paper and short for the few characters of a driver's handheld.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass

PRACTICE = "common practice, no source"
KIND_CODES = "ASC X12 element 853, damage reason codes (list of the codes read)"
LADING_CODES = "ASC X12 element 33, lading exception code: damaged, short, overage, refused (read)"
DECLINED_CODES = (
    "ASC X12 element 548, decline reasons: no opportunity to inspect; "
    "concealed, not reported (read)"
)
GRADES = "claimkit method: grades of a receipt"


@dataclass(frozen=True, slots=True)
class Said:
    """A text for people, in the two languages that crews work in."""

    en: str
    es: str


@dataclass(frozen=True, slots=True)
class Phrase:
    """Words for the carrier's copy with places in braces: on paper, and on a handheld.

    `es` says the same in Spanish to whoever writes it; it never goes onto the receipt.
    """

    long: str
    short: str
    es: str
    citation: str


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to pick: its label, and the words that it puts on the receipt."""

    id: str
    label: Said
    long: str
    short: str


# {which} is one of the phrases of WHICH; {where}, {kind}, {size}, {because} those of the choices.
PHRASES: dict[str, Phrase] = {
    "received": Phrase("Received {list}.", "RECD {list}.", "Recibido: {list}.", LADING_CODES),
    "full": Phrase(
        "{received} of {expected} {many}",
        "{received}/{expected} {many}",
        "{received} de {expected} {many}",
        LADING_CODES,
    ),
    "full alone": Phrase(
        "{received} {many}", "{received} {many}", "{received} {many}", LADING_CODES
    ),
    "short": Phrase(
        "Short {count} {noun}: received {received} of {expected} {many}.",
        "SHORT {count} {noun}, RECD {received} OF {expected} {many}.",
        "Faltan {count} {noun}: se recibieron {received} de {expected} {many}.",
        LADING_CODES,
    ),
    "over": Phrase(
        "Overage {count} {noun}, not on the bill.",
        "OVERAGE {count} {noun} NOT ON BILL.",
        "Sobran {count} {noun}, no están en el documento.",
        LADING_CODES,
    ),
    "in the wrap": Phrase(
        "{Many} inside the wrap not counted.",
        "{many} IN WRAP NOT COUNTED.",
        "Las {many} dentro del emplaye no se contaron.",
        PRACTICE,
    ),
    "damage": Phrase("{which}: {found}.", "{which} {found}.", "{which}: {found}.", KIND_CODES),
    "refused": Phrase(
        "Refused {which}: {found}.",
        "REFUSED {which}: {found}.",
        "Se rechaza {which}: {found}.",
        LADING_CODES,
    ),
    "found": Phrase("{where} {kind}", "{where} {kind}", "{where}, {kind}", KIND_CODES),
    "found with size": Phrase(
        "{where} {kind}, {size}", "{where} {kind} {size}", "{where}, {kind}, {size}", KIND_CODES
    ),
    "wrap": Phrase(
        "Stretch wrap or seal broken on {which}.",
        "WRAP OR SEAL BROKEN ON {which}.",
        "Emplaye o sello roto en {which}.",
        PRACTICE,
    ),
    "tilt": Phrase(
        "Tilt indicator tripped on {which}.",
        "TILT IND TRIPPED ON {which}.",
        "Indicador de inclinación activado en {which}.",
        GRADES,
    ),
    "shock": Phrase(
        "Shock indicator tripped on {which}.",
        "SHOCK IND TRIPPED ON {which}.",
        "Indicador de golpe activado en {which}.",
        GRADES,
    ),
    "opened": Phrase(
        "Opened and inspected before signing.",
        "OPENED AND INSPECTED BEFORE SIGNING.",
        "Abierto y revisado antes de firmar.",
        PRACTICE,
    ),
    "outside": Phrase(
        "Outside only inspected; contents subject to further inspection.",
        "CONTENTS SUBJ TO FURTHER INSP.",
        "Revisado solo por fuera; el contenido queda sujeto a revisión posterior.",
        GRADES,
    ),
    "not inspected": Phrase(
        "Not inspected before signing: {because}. Subject to further inspection.",
        "NOT INSPECTED, {because}. SUBJ TO FURTHER INSP.",
        "Sin revisar antes de firmar: {because}. Sujeto a revisión posterior.",
        DECLINED_CODES,
    ),
    "not answered": Phrase(
        "Subject to further inspection.",
        "SUBJ TO FURTHER INSP.",
        "Sujeto a revisión posterior.",
        DECLINED_CODES,
    ),
    "declined": Phrase(
        "Driver declined to sign.",
        "DRIVER DECLINED TO SIGN.",
        "El chofer no quiso firmar.",
        PRACTICE,
    ),
    "left": Phrase(
        "Driver left without signing.",
        "DRIVER LEFT WITHOUT SIGNING.",
        "El chofer se fue sin firmar.",
        PRACTICE,
    ),
}

# Which pieces. No total stands after a list of numbers: "1 and 3 of 4" would say "3 of 4".
WHICH: dict[str, Phrase] = {
    "one": Phrase(
        "{One} {number} of {total}", "{one} {number}/{total}", "{One} {number} de {total}", PRACTICE
    ),
    "one alone": Phrase("{One} {number}", "{one} {number}", "{One} {number}", PRACTICE),
    "several": Phrase(
        "{count} {many} ({numbers})",
        "{count} {many} ({numbers})",
        "{count} {many} ({numbers})",
        PRACTICE,
    ),
    "all": Phrase("All {total} {many}", "ALL {total} {many}", "Todo: {total} {many}", PRACTICE),
    "all inside": Phrase(
        "all {total} {many}", "ALL {total} {many}", "todo: {total} {many}", PRACTICE
    ),
    "some": Phrase(
        "{count} of {total} {many}",
        "{count} OF {total} {many}",
        "{count} de {total} {many}",
        PRACTICE,
    ),
    "some alone": Phrase("{count} {noun}", "{count} {noun}", "{count} {noun}", PRACTICE),
    "item": Phrase("{name}", "{name}", "{name}", PRACTICE),
    "some of an item": Phrase(
        "{name}, {count} pcs", "{name} {count} PCS", "{name}, {count} piezas", PRACTICE
    ),
}
# How lists are joined: between entries, and before the last one.
JOINS = {
    "long": (", ", " and "),
    "short": (",", ","),
    "es": (", ", " y "),
    "short counts": (" ", " "),
}

# Handling units and cartons: one, many, and for a handheld. Other names get a plural by rule.
CARTON = ("carton", "cartons", "CTN", "CTNS", "caja", "cajas")
SHORT_UNITS = {"skid": "SKID", "pallet": "PLT", "crate": "CRATE", "bundle": "BDL", "box": "BOX"}

# What crews call them in Spanish; names that are not here stay as the job has them.
UNITS_ES = {
    "skid": ("tarima", "tarimas"),
    "pallet": ("tarima", "tarimas"),
    "crate": ("huacal", "huacales"),
    "bundle": ("atado", "atados"),
    "box": ("caja", "cajas"),
}

KINDS: tuple[Choice, ...] = (
    Choice("crushed", Said("Crushed", "Aplastado"), "crushed", "CRUSHED"),
    Choice("torn", Said("Torn", "Roto, rasgado"), "torn", "TORN"),
    Choice("punctured", Said("Hole in it", "Perforado"), "punctured", "PUNCTURED"),
    Choice("wet", Said("Wet", "Mojado"), "wet", "WET"),
    Choice("dented", Said("Dented", "Abollado"), "dented", "DENTED"),
    Choice("broken", Said("Broken", "Quebrado"), "broken", "BROKEN"),
    Choice("cracked", Said("Cracked", "Agrietado"), "cracked", "CRACKED"),
    Choice("bent", Said("Bent", "Doblado"), "bent", "BENT"),
    Choice("scratched", Said("Scratched", "Rayado"), "scratched", "SCRATCHED"),
    Choice("rattles", Said("Rattles inside", "Suena suelto"), "contents rattle", "CONTENTS RATTLE"),
    Choice("strap", Said("Strap broken", "Fleje roto"), "strap broken", "STRAP BROKEN"),
    Choice(
        "resealed", Said("Opened, retaped", "Abierto y pegado"), "opened and resealed",
        "OPENED, RESEALED",
    ),
    Choice("tipped", Said("Tipped over", "Volcado"), "tipped over", "TIPPED OVER"),
)  # fmt: skip
WHERES: tuple[Choice, ...] = (
    Choice("upper-left", Said("Upper left corner", "Esquina superior izquierda"),
           "upper left corner", "UPPER LEFT CORNER"),
    Choice("top", Said("Top", "Arriba"), "top", "TOP"),
    Choice("upper-right", Said("Upper right corner", "Esquina superior derecha"),
           "upper right corner", "UPPER RIGHT CORNER"),
    Choice("left", Said("Left side", "Lado izquierdo"), "left side", "LEFT SIDE"),
    Choice("front", Said("Front", "Frente"), "front", "FRONT"),
    Choice("right", Said("Right side", "Lado derecho"), "right side", "RIGHT SIDE"),
    Choice("lower-left", Said("Lower left corner", "Esquina inferior izquierda"),
           "lower left corner", "LOWER LEFT CORNER"),
    Choice("bottom", Said("Bottom", "Abajo"), "bottom", "BOTTOM"),
    Choice("lower-right", Said("Lower right corner", "Esquina inferior derecha"),
           "lower right corner", "LOWER RIGHT CORNER"),
    Choice("back", Said("Back", "Atrás"), "back", "BACK"),
    Choice("edge", Said("Edge", "Canto"), "edge", "EDGE"),
    Choice("all-sides", Said("All sides", "Todos los lados"), "all sides", "ALL SIDES"),
)  # fmt: skip


def _sizes(unit: str, steps: tuple[int, ...]) -> tuple[Choice, ...]:
    exact = tuple(
        Choice(
            f"{n}{unit}", Said(f"{n} {unit}", f"{n} {unit}"), f"{n} {unit}", f"{n}{unit.upper()}"
        )
        for n in steps
    )
    n = steps[-1]
    more = Choice(
        f"over-{n}{unit}",
        Said(f"over {n} {unit}", f"más de {n} {unit}"),
        f"over {n} {unit}",
        f"OVER {n}{unit.upper()}",
    )
    return (*exact, more)


# How big, by the unit that people at the site measure in.
SIZES: dict[str, tuple[Choice, ...]] = {
    "in": _sizes("in", (1, 2, 4, 6, 12, 24)),
    "cm": _sizes("cm", (2, 5, 10, 15, 30, 60)),
}
INCH_COUNTRIES = frozenset({"US", "CA"})

REASONS: tuple[Choice, ...] = (
    Choice("would-not-wait", Said("Driver would not wait", "El chofer no quiso esperar"),
           "driver would not wait", "DRIVER WOULD NOT WAIT"),
    Choice("wrapped", Said("Wrapped or crated", "Envuelto o en huacal"),
           "goods in wrap or crates", "GOODS IN WRAP OR CRATE"),
    Choice("not-allowed", Said("Carrier allows no opening", "El transportista no deja abrir"),
           "carrier allows no opening", "CARRIER ALLOWS NO OPENING"),
    Choice("weather", Said("Rain or snow", "Lluvia o nieve"), "rain or snow", "RAIN OR SNOW"),
    Choice("dark", Said("Too dark", "Demasiado oscuro"), "too dark to see", "TOO DARK"),
    Choice("no-room", Said("No safe place to open", "No hay lugar seguro para abrir"),
           "no safe place to open", "NO SAFE PLACE TO OPEN"),
)  # fmt: skip

# What a record says of goods whose outside alone was seen: the goods were not inspected. Why they
# were not is nobody's word here, so no reason is given.
OUTSIDE_ONLY = "only the outside was looked at"

# First and last note of a record of the page. A file that lost its end on the way is still TOML,
# with fewer keys and perhaps half a number: where the first stands, the last must.
RECORD_BEGINS = (
    "Made with the receiving page, by taps at the curb. The last line says that it is whole."
)
RECORD_ENDS = "End of the record."


@dataclass(frozen=True, slots=True)
class Situation:
    """What the sheet prints for one situation: phrases to write, with blanks in their places.

    `phrases` are keys of PHRASES. `grade` is what the words amount to once the blanks are filled.
    `of_units` where the words are about handling units, not cartons.
    """

    id: str
    title: Said
    phrases: tuple[str, ...]
    grade: str
    of_units: bool = False


SITUATIONS: tuple[Situation, ...] = (
    Situation(
        "damage",
        Said("Damage you see", "Daño que usted ve"),
        ("damage",),
        "specific",
    ),
    Situation(
        "short",
        Said("Fewer than on the bill", "Menos de lo que dice el documento"),
        ("short",),
        "specific",
    ),
    Situation(
        "outside",
        Said("You saw only the outside", "Solo vio el exterior"),
        ("outside",),
        "reservation only",
    ),
    Situation(
        "not-inspected",
        Said("You could not look at all", "No pudo revisar nada"),
        ("not inspected",),
        "reservation only",
    ),
    Situation(
        "wrap",
        Said("Wrap or seal broken", "Emplaye o sello roto"),
        ("wrap",),
        "specific",
        of_units=True,
    ),
    Situation(
        "indicator",
        Said("Tilt or shock indicator tripped", "Indicador activado"),
        ("tilt",),
        "specific",
        of_units=True,
    ),
    Situation(
        "refused",
        Said("A piece that you refuse", "Una pieza que rechaza"),
        ("refused",),
        "specific",
    ),
)


def plural(noun: str) -> str:
    """Give the English plural of the name of a handling unit, by the ordinary spelling rule."""
    lower = noun.lower()
    if lower.endswith(("s", "sh", "ch", "x", "z")):
        return f"{noun}es"
    if lower.endswith("y") and lower[-2:-1] not in ("a", "e", "i", "o", "u"):
        return f"{noun[:-1]}ies"
    return f"{noun}s"


def unit_words(noun: str, language: str) -> tuple[str, str]:
    """Give what handling units are called for people: one and many."""
    named = UNITS_ES.get(noun.lower()) if language == "es" else None
    return named or (noun, plural(noun))


def as_data() -> dict[str, object]:
    """Give phrases and choices as values that `json.dumps` takes, for the page."""
    return {
        "phrases": {key: [p.long, p.short, p.es] for key, p in PHRASES.items()},
        "which": {key: [p.long, p.short, p.es] for key, p in WHICH.items()},
        "joins": {key: list(pair) for key, pair in JOINS.items()},
        "kinds": [asdict(choice) for choice in KINDS],
        "wheres": [asdict(choice) for choice in WHERES],
        "sizes": {unit: [asdict(c) for c in choices] for unit, choices in SIZES.items()},
        "reasons": [asdict(choice) for choice in REASONS],
        "outside_only": OUTSIDE_ONLY,
        "record_begins": RECORD_BEGINS,
        "record_ends": RECORD_ENDS,
    }
