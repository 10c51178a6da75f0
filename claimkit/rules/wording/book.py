"""The wording rules of delivery receipts put together: classes of words, rows, and their spelling.

Everything here is data. `rules_as_json` gives the same rows to a page that has to grade a receipt
without Python. The guard list holds the ordinary words that lie one slip of the pen from a word of
the rules and must not be mended into it.
"""

from __future__ import annotations

import re
from dataclasses import asdict

from claimkit.rules.wording.asides import ASIDES
from claimkit.rules.wording.damage import DAMAGE
from claimkit.rules.wording.elsewhere import ELSEWHERE
from claimkit.rules.wording.exceptions import EXCEPTIONS
from claimkit.rules.wording.goods import GOODS
from claimkit.rules.wording.guard_a import GUARD_A_TO_L
from claimkit.rules.wording.guard_m import GUARD_M_TO_Z
from claimkit.rules.wording.homonyms import HOMONYMS
from claimkit.rules.wording.row import WordingRule
from claimkit.rules.wording.statements import STATEMENTS
from claimkit.rules.wording.words import NUMBERS, PLAIN_WORDS, READING

# Asides are looked for in this order and the first to cover a word keeps it: print and other goods,
# then words of another meaning, then labels and cases.
FIRST = ("small-print", "print-until-noted", "small-print-sentence", "other-goods", "denies-back")
RULES: tuple[WordingRule, ...] = (
    *(rule for rule in ASIDES if rule.id in FIRST),
    *HOMONYMS,
    *ELSEWHERE,
    *(rule for rule in ASIDES if rule.id not in FIRST),
    *STATEMENTS,
    *EXCEPTIONS,
    *DAMAGE,
)

NUMBER_WORDS = NUMBERS
ORDINARY = frozenset(f"{GUARD_A_TO_L} {GUARD_M_TO_Z}".split())


def _plurals(singular: str) -> frozenset[str]:
    words = set(singular.split())
    for word in singular.split():
        if word.endswith(("s", "sh", "ch", "x")):
            words.add(word + "es")
        elif word.endswith("y") and word[-2:-1] not in "aeiou":
            words.add(word[:-1] + "ies")
        else:
            words.add(word + "s")
    return frozenset(words)


CLASSES: dict[str, frozenset[str]] = {
    **{name: frozenset(words.split()) for name, words in PLAIN_WORDS.items()},
    "goods": _plurals(GOODS),
}
READ_AS: dict[str, frozenset[str]] = {
    name: frozenset(words.split()) for name, words in READING.items()
}
GLUED, DENYING = READ_AS["glued"], READ_AS["denying"]
# Classes that the reader of tokens decides by the token's sort, not by its word.
SORT_CLASSES = ("number", "time", "any", "unknown", "zip")


def _literals(rules: tuple[WordingRule, ...]) -> frozenset[str]:
    items = {item for rule in rules for phrase in rule.phrases for item in phrase.split()}
    found: set[str] = set()
    for item in items:
        if not item.startswith("~"):
            found.update(re.sub(r"<[^>]*>|[\^?]", "", item).split("|"))
    return frozenset(found - {"", "$"})


_LITERALS = _literals(RULES)
VOCABULARY = _LITERALS | frozenset().union(*CLASSES.values()) | frozenset(NUMBERS)
_MENDED_CLASSES = (
    *("no", "not", "rest", "outside", "handling", "carton", "piece", "places", "took", "all"),
    *("exceptive", "generic", "perhaps", "site", "people", "papers", "inspector", "goods"),
)
MENDABLE: tuple[str, ...] = tuple(
    sorted(
        word
        for word in _LITERALS.union(*(CLASSES[name] for name in _MENDED_CLASSES))
        if len(word) >= 5 and word.isalpha()
    )
)


def rules_as_json() -> dict[str, object]:
    """Give the whole rule set as values that `json.dumps` takes, classes and guard included."""
    return {
        "classes": {name: sorted(words) for name, words in CLASSES.items()},
        "reading": {name: sorted(words) for name, words in READ_AS.items()},
        "numbers": dict(NUMBER_WORDS),
        "mendable": list(MENDABLE),
        "ordinary": sorted(ORDINARY),
        "denying": sorted(DENYING),
        "glued": sorted(GLUED),
        "rules": [
            {key: list(v) if isinstance(v, tuple) else v for key, v in asdict(rule).items()}
            for rule in RULES
        ],
    }
