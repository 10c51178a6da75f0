"""What was seen at the curb becomes the words for the carrier's copy, long and short.

The words themselves are the phrases of `rules.receiving`; here they are only chosen and filled.
The receiving page does the same with the same phrases, and a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from claimkit.model.job import Job, Shipment
from claimkit.rules.receiving import (
    CARTON,
    JOINS,
    KINDS,
    PHRASES,
    REASONS,
    SHORT_UNITS,
    SIZES,
    WHERES,
    WHICH,
    Choice,
    plural,
    unit_words,
)

Form = Literal["long", "short", "es"]
UNIT, CARTONS = "unit", "carton"
_LONG_NAME, _SHORT_NAME = 60, 24
_CHOICES: dict[str, dict[str, Choice]] = {
    "kind": {c.id: c for c in KINDS},
    "where": {c.id: c for c in WHERES},
    "size": {c.id: c for choices in SIZES.values() for c in choices},
    "because": {c.id: c for c in REASONS},
}


@dataclass(frozen=True, slots=True)
class Name:
    """What a thing is called on the receipt, one and many: on paper, on a handheld, in Spanish."""

    one: str
    many: str
    short_one: str
    short_many: str
    es_one: str
    es_many: str

    def of(self, form: Form) -> tuple[str, str]:
        """Give one and many in a form."""
        if form == "long":
            return self.one, self.many
        return (self.short_one, self.short_many) if form == "short" else (self.es_one, self.es_many)


@dataclass(frozen=True, slots=True)
class Counts:
    """Handling units or cartons: expected and counted, None where not known."""

    expected: int | None = None
    received: int | None = None

    @property
    def total(self) -> int | None:
        """How many there are to number."""
        return self.expected or self.received or None


@dataclass(frozen=True, slots=True)
class Seen:
    """One damage: on units, cartons or an item (`on` is its id), and what, where, how big.

    `kind`, `where` and `size` are ids of choices or words of one's own. `numbers` say which,
    `count` how many where the pieces have no numbers.
    """

    on: str
    kind: str
    numbers: tuple[int, ...] = ()
    count: int = 1
    where: str | None = None
    size: str | None = None
    refused: bool = False


@dataclass(frozen=True, slots=True)
class AtTheCurb:
    """All that decides the words. `inspected` is opened, outside, no, or None: not answered."""

    units: Counts = Counts()
    cartons: Counts = Counts()
    cartons_in_wrap: bool = False
    seen: tuple[Seen, ...] = ()
    wrap_broken: tuple[int, ...] = ()
    tilt: tuple[int, ...] = ()
    shock: tuple[int, ...] = ()
    inspected: str | None = None
    because: str | None = None


@dataclass(frozen=True, slots=True)
class Names:
    """How things of one shipment are called on the receipt: units, cartons, items by id."""

    unit: Name
    carton: Name = Name(*CARTON)
    items: dict[str, tuple[Name, int]] = field(default_factory=dict)

    def of(self, on: str) -> Name:
        """Give the name of units, cartons or an item."""
        if on == UNIT:
            return self.unit
        return self.carton if on == CARTONS else self.items[on][0]


def names_of(job: Job, shipment: Shipment | None) -> Names:
    """Give the names for one shipment and its items; typed text on one line and not too long."""
    noun = _cut(shipment.handling_unit if shipment else "skid", _LONG_NAME)
    short = SHORT_UNITS.get(noun.lower(), _cut(noun, _SHORT_NAME).upper())
    several = plural(short.lower()).upper()
    unit = Name(noun, plural(noun), short, several, *unit_words(noun, "es"))
    items = {
        item.id: (_item_name(item.description), item.quantity)
        for item in job.item
        if shipment is None or job.shipment_named(item.shipment) in (shipment, None)
    }
    return Names(unit, items=items)


def _item_name(description: str) -> Name:
    name, short = _cut(description, _LONG_NAME), _cut(description, _SHORT_NAME).upper()
    return Name(name, name, short, short, name, name)


def _cut(text: str, most: int) -> str:
    """Put a text on one line, cut at the last word that fits."""
    line = " ".join(text.split())
    return line if len(line) <= most else line[: most + 1].rpartition(" ")[0] or line[:most]


def words(curb: AtTheCurb, names: Names, form: Form) -> str:
    """Give the words for the carrier's copy: for paper the long form, for a handheld the short.

    Exceptions come first, the reservation last. Full counts are left out where another count is
    short or over, and in the short form where there is anything else to say.
    """
    on = _Receipt(curb, names, form)
    counts, found = on.counts(), on.found()
    full = "" if counts or (found and form == "short") else on.full()
    sentences = (*counts, *found, full, on.in_the_wrap(), on.inspection())
    return " ".join(sentence for sentence in sentences if sentence)


def which_words(curb: AtTheCurb, names: Names, seen: Seen) -> str:
    """Say which pieces one damage is on, as the words for paper do: "Carton 2 of 4"."""
    return _Receipt(curb, names, "long")._which(seen, inside=False)


def chosen(what: str, value: str | None, form: Form) -> str:
    """Give the words of a choice; words of one's own stay as they are."""
    if not value:
        return ""
    choice = _CHOICES[what].get(value)
    if choice is None:
        own = " ".join(value.split())
        return own.upper() if form == "short" else own
    if form == "es":
        return choice.label.es.lower()
    return choice.long if form == "long" else choice.short


@dataclass(frozen=True, slots=True)
class _Receipt:
    """One receipt being worded."""

    curb: AtTheCurb
    names: Names
    form: Form

    def counts(self) -> list[str]:
        """Say what is short or over."""
        found = []
        for counts, name in self._counted():
            if counts.expected is None or counts.received is None:
                continue
            missing = counts.expected - counts.received
            if missing:
                values = self._nouns(name, abs(missing)) | {
                    "many": self._nouns(name, counts.expected)["noun"],
                    "count": abs(missing),
                    "received": counts.received,
                    "expected": counts.expected,
                }
                found.append(self._phrase("short" if missing > 0 else "over", values))
        return found

    def full(self) -> str:
        """Say what was received as listed, or counted where nothing was listed."""
        parts = []
        for counts, name in self._counted():
            if not counts.received or counts.expected not in (None, counts.received):
                continue
            noun = self._nouns(name, counts.received)["noun"]
            values = {"received": counts.received, "expected": counts.expected, "many": noun}
            key = "full alone" if counts.expected is None else "full"
            parts.append(self._phrase(key, values))
        between = JOINS["short counts" if self.form == "short" else self.form][0]
        return self._phrase("received", {"list": between.join(parts)}) if parts else ""

    def found(self) -> list[str]:
        """Say each damage, then broken wrap and tripped indicators."""
        said = [self._damage(seen) for seen in self.curb.seen]
        rest = (
            ("wrap", self.curb.wrap_broken),
            ("tilt", self.curb.tilt),
            ("shock", self.curb.shock),
        )
        for key, numbers in rest:
            if numbers:
                units = Seen(UNIT, key, numbers)
                said.append(self._phrase(key, {"which": self._which(units, inside=True)}))
        return said

    def in_the_wrap(self) -> str:
        """Say that cartons inside the wrap could not be counted."""
        if not self.curb.cartons_in_wrap:
            return ""
        return self._phrase("in the wrap", self._nouns(self.names.carton))

    def inspection(self) -> str:
        """Say how far the goods were inspected, and reserve the rest."""
        curb = self.curb
        if curb.inspected == "no" and curb.because:
            values = {"because": chosen("because", curb.because, self.form)}
            return self._phrase("not inspected", values)
        answered = curb.inspected in ("opened", "outside")
        return self._phrase(str(curb.inspected) if answered else "not answered", {})

    def _counted(self) -> tuple[tuple[Counts, Name], ...]:
        return (self.curb.units, self.names.unit), (self.curb.cartons, self.names.carton)

    def _damage(self, seen: Seen) -> str:
        values: dict[str, object] = {
            "where": chosen("where", seen.where, self.form),
            "kind": chosen("kind", seen.kind, self.form),
            "size": chosen("size", seen.size, self.form),
        }
        key = "found with size" if values["size"] else "found"
        found = self._phrase(key, values).lstrip(" ,").rstrip()
        which = self._which(seen, inside=seen.refused)
        key = "refused" if seen.refused else "damage"
        return self._phrase(key, {"which": which, "found": found})

    def _which(self, seen: Seen, *, inside: bool) -> str:
        """Say which pieces are meant: "Carton 2 of 4", "2 cartons (1 and 3)"."""
        count = len(set(seen.numbers)) or seen.count
        if seen.on in self.names.items:
            name, quantity = self.names.items[seen.on]
            item = name.of(self.form)[0]
            key = "item" if quantity == 1 else "some of an item"
            return self._which_phrase(key, {"name": item, "count": count})
        total = (self.curb.units if seen.on == UNIT else self.curb.cartons).total
        numbers = (1,) if total == 1 else tuple(sorted(set(seen.numbers)))
        nouns = self._nouns(self.names.of(seen.on), count)
        listed = self._listed(numbers)
        values: dict[str, object] = {
            **nouns,
            "One": nouns["one" if inside else "One"],
            "count": count,
            "total": total,
            "number": listed,
            "numbers": listed,
        }
        key = _which_key(numbers, count, total)
        return self._which_phrase("all inside" if key == "all" and inside else key, values)

    def _nouns(self, name: Name, count: int = 2) -> dict[str, object]:
        one, many = name.of(self.form)
        return {
            "one": one,
            "many": many,
            "noun": one if count == 1 else many,
            "One": _capital(one),
            "Many": _capital(many),
        }

    def _listed(self, numbers: tuple[int, ...]) -> str:
        between, last = JOINS[self.form]
        said = [str(n) for n in numbers]
        return last.join([between.join(said[:-1]), said[-1]]) if len(said) > 1 else "".join(said)

    def _phrase(self, key: str, values: Mapping[str, object]) -> str:
        return _filled(getattr(PHRASES[key], self.form), values)

    def _which_phrase(self, key: str, values: Mapping[str, object]) -> str:
        return _filled(getattr(WHICH[key], self.form), values)


def _which_key(numbers: tuple[int, ...], count: int, total: int | None) -> str:
    if total is None:
        return {0: "some alone", 1: "one alone"}.get(len(numbers), "several")
    if total == 1:
        return "one"
    if count == total:
        return "all"
    return {0: "some", 1: "one"}.get(len(numbers), "several")


def _capital(text: str) -> str:
    """Begin with a capital where the first letter is a plain one."""
    return text[:1].upper() + text[1:] if text[:1].isascii() else text


def _filled(phrase: str, values: Mapping[str, object]) -> str:
    """Fill the places of a phrase in one pass: braces in what a user typed mean nothing."""
    first, *parts = phrase.split("{")
    filled = [first]
    for part in parts:
        place, _, rest = part.partition("}")
        filled.append(f"{values[place]}{rest}")
    return "".join(filled)
