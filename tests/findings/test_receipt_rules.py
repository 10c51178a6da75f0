"""Every wording rule is data with a citation and examples, and every example is run."""

from __future__ import annotations

import dataclasses
import json
import re

import pytest

from claimkit.findings.receipt.counts import Recorded
from claimkit.findings.receipt.match import ASIDE, mark
from claimkit.findings.receipt.reading import read
from claimkit.findings.receipt.text import mend, read_tokens
from claimkit.rules.wording import book as wording
from claimkit.rules.wording.row import WordingRule

WHATS = {
    "kind of damage", "shortage", "which piece", "how many", "where on it", "extent",
    "reservation", "good order", "refusal", "indicator", "count", "small print", "negated",
    "something else",
}  # fmt: skip


def speaks(rule: WordingRule, text: str) -> bool:
    """Tell whether the rule finds its words in the text and they are not denied."""
    taken = read(text, Recorded())
    if rule.effect == "not a negation":
        return bool(taken.marked.no_denial)
    if rule.effect in ("denies on", "denies back"):
        return bool(taken.marked.denied_zone)
    if rule.effect == "names goods":
        return bool(taken.marked.named)
    if rule.effect in ASIDE:
        return any(hit.rule is rule for hit in taken.marked.asides)
    said = taken.said
    affirmed = [
        *(e.hit for e in said.exceptions if e.category == e.hit.rule.effect or e.category in (
            "indicator", "suspicion")),
        *(g.hit for g in said.good if not g.denies),
        *(r.hit for r in said.reservations if r.denied is (rule.effect == "no reservation")),
        *((said.refusal,) if said.refusal else ()),
        *(taken.marked.reasons if said.refusal else ()),
        *(hit for hit in taken.marked.hits if hit.rule.effect == "indicator"),
    ]  # fmt: skip
    return any(hit.rule is rule for hit in affirmed)


EXAMPLES = [
    (rule, text, expected)
    for rule in wording.RULES
    for texts, expected in ((rule.must_flag, True), (rule.must_pass, False))
    for text in texts
]


@pytest.mark.parametrize(
    "rule, text, expected", EXAMPLES, ids=[f"{r.id}: {t[:30]}" for r, t, _ in EXAMPLES]
)
def test_example(rule: WordingRule, text: str, expected: bool) -> None:
    assert speaks(rule, text) is expected


@pytest.mark.parametrize("rule", wording.RULES, ids=lambda rule: rule.id)
def test_rule_is_complete(rule: WordingRule) -> None:
    assert rule.citation.strip()
    assert rule.why.strip().endswith(".")
    assert rule.mark in ("S", "P", "M")
    assert rule.must_flag
    assert rule.must_pass
    assert rule.phrases
    assert rule.what in WHATS
    values = dataclasses.asdict(rule).values()
    assert all(isinstance(v, str | tuple) for v in values), "a rule holds text only"


def test_ids_are_unique() -> None:
    ids = [rule.id for rule in wording.RULES]
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch(r"[a-z -]+", rule) for rule in ids)


def test_every_phrase_can_be_read() -> None:
    for rule in wording.RULES:
        for phrase in rule.phrases:
            items = phrase.split()
            named = re.findall(r"<([^>]+)>", phrase)
            unknown = [
                n for n in named if n not in wording.CLASSES and n not in wording.SORT_CLASSES
            ]
            assert not unknown, (rule.id, phrase)
            assert any(not i.endswith("?") and not i.startswith("~") for i in items), phrase
            assert not items[-1].startswith("~"), phrase


def test_every_phrase_finds_itself() -> None:
    """A phrase without classes, written out in its first words, must be found by its own rule."""
    lost = []
    for rule in wording.RULES:
        for phrase in rule.phrases:
            items = [i for i in phrase.split() if not i.startswith("~") and not i.endswith("?")]
            if "<" in phrase or "$" in items or rule.effect in ("reason", "tripped"):
                continue
            text = " ".join(item.lstrip("^").split("|")[0] for item in items) + " x"
            marked = mark(read_tokens(text))
            found = {hit.rule.id for hit in (*marked.asides, *marked.hits)}
            quiet = marked.named or marked.no_denial or marked.denied_zone
            if rule.id not in found and not quiet and not marked.covered and not found:
                lost.append((rule.id, text))
    assert lost == []


def test_the_rules_can_be_dumped() -> None:
    dumped = json.loads(json.dumps(wording.rules_as_json()))
    assert [rule["id"] for rule in dumped["rules"]] == [rule.id for rule in wording.RULES]
    assert set(dumped["classes"]) == set(wording.CLASSES)


def test_no_ordinary_word_is_one_of_the_rules() -> None:
    assert not wording.ORDINARY & wording.VOCABULARY


@pytest.mark.parametrize(
    "ordinary, damage",
    # Ordinary English words one letter from a word of damage; a speller must leave them alone.
    [
        ("went", "bent"), ("ship", "chip"), ("tone", "torn"), ("brushed", "crushed"),
        ("trust", "rust"), ("weak", "leak"), ("thirty", "dirty"), ("trained", "stained"),
        ("stuff", "scuff"), ("towed", "bowed"), ("dump", "damp"), ("rented", "dented"),
        ("cooked", "crooked"), ("snipped", "snapped"), ("tracing", "cracking"),
        ("whole", "hole"), ("sort", "short"), ("shot", "short"), ("kissing", "missing"),
        ("flushed", "crushed"), ("batter", "shatter"), ("mission", "missing"),
    ],
)  # fmt: skip
def test_an_ordinary_word_is_not_mended(ordinary: str, damage: str) -> None:
    kinds = {hit.rule.id for hit in mark(read_tokens(f"ctn 2 {damage}")).hits}
    assert kinds
    assert mend(ordinary) in (None, ordinary)


@pytest.mark.parametrize(
    "written, meant",
    # As a scanner or a cold hand writes them: 0/O, 1/l/I, 5/S, rn/m, one letter off, run together.
    [
        ("darnaged", "damaged"), ("c0rner", "corner"), ("5hort", "short"), ("1ower", "lower"),
        ("crused", "crushed"), ("subjcct", "subject"), ("inspecti0n", "inspection"),
        ("recevied", "received"), ("cartonn", "carton"), ("undamgaed", "undamaged"),
        ("ndamaged", "undamaged"), ("withuot", "without"), ("Al1", "all"), ("p1t", "plt"),
    ],
)  # fmt: skip
def test_a_slip_is_mended(written: str, meant: str) -> None:
    assert read_tokens(written)[0].word == meant


@pytest.mark.parametrize(
    "text, words",
    [
        ("subjecttofurtherinspection", ["subject", "to", "further", "inspection"]),
        ("nodamage", ["no", "damage"]),
        ("3ctns", ["3", "ctns"]),
        ("crushe d", ["crushed"]),
        ("D A M A G E D", ["damaged"]),
        ("re-wrapped", ["rewrapped"]),
        ("S.T.I.", ["sti"]),
        ("rec'd", ["recd"]),
        ("dam-\naged", ["damaged"]),
    ],
)
def test_torn_and_joined_words(text: str, words: list[str]) -> None:
    assert [token.word for token in read_tokens(text)] == words


@pytest.mark.parametrize(
    "text, values",
    # Digits are never mended into other digits.
    [("rec'd l0 of l2", [10, 12]), ("2 of 3", [2, 3]), ("7 ctns", [7]), ("ctn 1", [1])],
)
def test_numbers(text: str, values: list[int]) -> None:
    assert [t.value for t in read_tokens(text) if t.value is not None] == values
