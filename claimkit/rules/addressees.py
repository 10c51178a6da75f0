"""Whom to ask, as data: what each addressee answers for, and words that point to the making.

A carrier answers for goods that it took in good order and delivered damaged or short; a seller for
goods that are not those ordered; a maker for flaws of the making; an insurer for what its policy
covers. Words of defects are common practice, no source, and only ever point to the maker beside
other facts.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from claimkit.model.case import Asked
from claimkit.model.job import Job
from claimkit.rules.governing import PRACTICE, law_named, sale_in_us

NON_CONFORMING = "UCC 2-601, 2-607(3)(a): goods that do not conform; 2-607(3)(a) read, rest memory"
POLICY = "the policy that job.toml names"
MAKING = "claimkit method: whom to ask"
OWN = "claimkit method: whom to ask"


@dataclass(frozen=True, slots=True)
class DefectWord:
    """A word of a flaw of the making, with one text it must find and one that it must not."""

    pattern: str
    must_flag: str
    must_pass: str


DEFECTS: tuple[DefectWord, ...] = (
    DefectWord(r"\bdelaminat", "edge delaminated", "dented"),
    DefectWord(r"\b(air )?(bubble|blister|void)s?\b", "air bubble in the gelcoat", "bubble wrap"),
    DefectWord(r"\bmis-?(drilled|cut|routed|punched)\b", "mis-drilled hinge holes", "missing"),
    DefectWord(r"\b(wrongly|badly) (drilled|cut|routed|punched)\b", "wrongly cut", "badly crushed"),
    DefectWord(r"\bunpolished\b|\bnot polished\b", "face unpolished", "polished edge chipped"),
    DefectWord(r"\bmou?ld(ing)? (flaw|mark|line)s?\b", "mould flaw", "moulding crushed"),
)
_NOT_A_FLAW = re.compile(r"\bbubble[- ]?(wrap|foil|pack)", re.IGNORECASE)

_CARRIERS = (Asked.ORIGIN_CARRIER, Asked.DELIVERING_CARRIER, Asked.LAST_MILE_CARRIER)
_OTHERS: dict[Asked, str] = {
    Asked.MAKER: MAKING,
    Asked.INSURER: POLICY,
    Asked.OWN_WORK: OWN,
}


def citation(who: Asked, job: Job | None, shipment: str | None) -> str:
    """Name the text by which one is asked: a carrier's by the terms, a seller's by the country."""
    if who in _CARRIERS:
        return law_named(job, shipment).answers
    if who is Asked.SELLER:
        return NON_CONFORMING if sale_in_us(job) else PRACTICE
    return _OTHERS[who]


def flaw_of_the_making(text: str) -> str | None:
    """Give the word of a text that names a flaw of the making, to its end, or None."""
    plain = _NOT_A_FLAW.sub("", text)
    for word in DEFECTS:
        found = re.search(rf"(?:{word.pattern})\w*", plain, re.IGNORECASE)
        if found:
            return found[0]
    return None
