"""What a receipt's words count, deny and name, read off short notes one by one.

The expected readings are those of a person who reads the English, typed before the rules were
asked; how receivers count and shorten is common practice, no source.
"""

from __future__ import annotations

import pytest

from claimkit.findings.receipt.counts import Recorded
from claimkit.findings.receipt.grade import grade
from claimkit.findings.receipt.reading import read
from claimkit.model.receipt import Grade

# Words, and each count in them: role, number, of how many, unit.
COUNTED: list[tuple[str, list[tuple[str, int, int | None, str]]]] = [
    # N of M: received, unless damage or good order is said of it; a label names one piece.
    ("rec'd 3 of 4", [("received", 3, 4, "")]),
    ("received 3 out of the 4 ctns", [("received", 3, 4, "carton")]),
    ("got 3 total of 4", [("received", 3, 4, "")]),
    ("3/4 rec'd", [("received", 3, 4, "")]),
    ("rec'd 3/4 skids", [("received", 3, 4, "handling")]),
    ("got only skids 2/3", [("received", 2, 3, "handling")]),
    ("3 of 4 wet", [("bad", 3, 4, "")]),
    ("3 of 4 sets wet", [("bad", 3, 4, "piece")]),
    ("2 of 3 sets here", [("received", 2, 3, "piece")]),
    ("wet: 2 of 6", [("bad", 2, 6, "")]),
    ("3 of 4 ctns wet", [("bad", 3, 4, "carton")]),
    ("4 of 4 ok", [("received", 4, 4, "")]),
    ("3 of 4 ok", [("good", 3, 4, "")]),
    ("only 3 of 4", [("received", 3, 4, "")]),
    ("only 3 of 4 damaged", [("bad", 3, 4, "")]),
    ("only 1 of 6 missing", [("short", 1, 6, "")]),
    ("ctn 3 of 4 crushed", []),
    # Dates, pages, trucks and hours are no goods.
    ("3/14", []),
    ("rec'd 3/14", []),
    ("signed 3/14", []),
    ("del 3/14 by Tom", []),
    ("rec'd 3/14 ctns", [("received", 3, 14, "carton")]),
    ("13/14 rec'd", [("received", 13, 14, "")]),  # no month has that number
    ("truck 3 of 4", []),
    ("page 1 of 2", []),
    ("pg 1/2", []),
    ("2 of 3 hrs waiting", []),
    ("0/0", []),
    ("15 min wait", []),
    ("4 lbs", []),
    ("received by 2 people", []),
    # A number of units: what is said of it decides, else it is all that the note counts.
    ("4 ctns", [("total", 4, None, "carton")]),
    ("4 ctns wet", [("bad", 4, None, "carton")]),
    ("one damaged", [("bad", 1, None, "")]),
    ("this one damaged", []),
    ("ctn no 3 wet", []),
    ("damaged 2 ctns", [("bad", 2, None, "carton")]),
    ("crushed 1 ctn 7 skids", [("bad", 1, None, "carton"), ("named", 7, None, "handling")]),
    ("short, 2 ctns wet", [("bad", 2, None, "carton")]),
    ("4 ctns today", [("total", 4, None, "carton")]),
    ("4 ctns for kitchen", [("named", 4, None, "carton")]),
    ("damaged: 2", [("bad", 2, None, "")]),
    ("2 men, 3 skids", [("named", 3, None, "handling")]),
    ("2 pcs 28 in long", [("named", 2, None, "piece")]),
    ("3 ctns 40 lbs", [("named", 3, None, "carton")]),
    ("1 skid STC 6 ctns", [("named", 1, None, "handling"), ("named", 6, None, "carton")]),
    ("delivered 9 ctns", [("received", 9, None, "carton")]),
    ("9 ctns signed for", [("received", 9, None, "carton")]),
    ("6 ctns off", [("received", 6, None, "carton")]),
    ("6 off the truck", [("received", 6, None, "")]),
    ("six is all we got", [("received", 6, None, "")]),
    ("6 ctns, that's what we received", [("received", 6, None, "carton")]),
    ("rec'd all 4", [("received", 4, None, "")]),
    ("only 2 boxes", [("received", 2, None, "carton")]),
    ("only 2 boxes crushed", [("bad", 2, None, "carton")]),
    ("only 2 boxes here", [("received", 2, None, "carton")]),
    # Short, and of how many.
    ("2 ctns short", [("short", 2, None, "carton")]),
    ("short 2 ctns", [("short", 2, None, "carton")]),
    ("short only 2 ctns", [("short", 2, None, "carton")]),
    ("missing 2 ctns", [("short", 2, None, "carton")]),
    ("missing only 2 ctns", [("short", 2, None, "carton")]),
    ("short 2 of 9", [("short", 2, 9, "")]),
    ("2 short of 9", [("short", 2, 9, "")]),
    ("2 short out of the 9", [("short", 2, 9, "")]),
    ("2 ctns short of 9", [("short", 2, 9, "carton")]),
    ("2 panels short of 9", [("short", 2, 9, "goods")]),
    ("rec'd 8 short 1", [("received", 8, None, ""), ("short", 1, None, "")]),
    ("rec'd 8 - short 1", [("received", 8, None, ""), ("short", 1, None, "")]),
    # What should have come: the bill, an order; the bill's own number is no count.
    ("BOL says 10, got 9", [("expected", 10, None, ""), ("received", 9, None, "")]),
    (
        "BOL 10 ctns, rec'd 9 ctns",
        [("expected", 10, None, "carton"), ("received", 9, None, "carton")],
    ),
    ("s/b 6, got 5", [("expected", 6, None, ""), ("received", 5, None, "")]),
    ("should be 6, got 5", [("expected", 6, None, ""), ("received", 5, None, "")]),
    ("6 on the bill, got 5", [("expected", 6, None, ""), ("received", 5, None, "")]),
    ("6 ordered, 5 received", [("expected", 6, None, ""), ("received", 5, None, "")]),
    ("6 called for, 5 received", [("expected", 6, None, ""), ("received", 5, None, "")]),
    ("6 per paper, 5 received", [("expected", 6, None, ""), ("received", 5, None, "")]),
    ("5 ctns not 6", [("received", 5, None, "carton"), ("expected", 6, None, "")]),
    ("received 5 not 6", [("received", 5, None, ""), ("expected", 6, None, "")]),
    ("5 received instead of 6", [("received", 5, None, ""), ("expected", 6, None, "")]),
    ("4 good order 1 ctn crushed", [("good", 4, None, ""), ("bad", 1, None, "carton")]),
    ("BOL 77120", []),
    ("BOL 999", [("expected", 999, None, "")]),
    ("BOL 1000", []),
    ("freight bill 10", []),
    ("driver says bol 10", []),  # what somebody says of the bill is not the bill
    # A whole and its parts; names in a list are no counts.
    ("total of 14: 9 ctns", [("named", 14, None, ""), ("named", 9, None, "carton")]),
    ("boxes 2, 5 and 7 wet", []),
    ("boxes 2, 5 ctns wet", [("bad", 5, None, "carton")]),
    (
        "8 ctns rec'd. 5 ok, 3 wet",
        [("received", 8, None, "carton"), ("good", 5, None, ""), ("bad", 3, None, "")],
    ),
]


@pytest.mark.parametrize("words, counted", COUNTED, ids=[words for words, _ in COUNTED])
def test_what_is_counted(words: str, counted: list[tuple[str, int, int | None, str]]) -> None:
    found = read(words, Recorded()).counts
    assert [(c.role, c.value, c.of, c.unit) for c in found] == counted


@pytest.mark.parametrize(
    "words, wholes",  # of each count in the words
    [
        ("total 14", [True]),
        ("total of 14 ctns", [True]),
        ("6 total", [True]),
        ("14 total ctns", [True]),
        ("3 skids, that is all", [True]),
        ("3 skids, thats everything", [True]),
        ("3 skids", [False]),
        ("3 skids, that is Tom's truck", [False]),
        # The total is the other number's.
        ("9 ctns, total 14", [False, True]),
        ("9 ctns total, 5 wet", [True, False]),
        ("6 total, 2 wet", [True, False]),
    ],
)
def test_the_whole_is_told_from_a_part(words: str, wholes: list[bool]) -> None:
    assert [count.whole for count in read(words, Recorded()).counts] == wholes


DENIED = [
    *("no damage", "damage: none", "damage - none", "damage none", "damage = none", "damage: 0"),
    *("no dents, no scratches", "no dents, scratches or holes", "no crushed or wet ctns"),
    *("not crushed or wet", "neither crushed nor wet", "not crushed and not wet"),
    *("free of damage", "damage free", "clear of dents", "devoid of scratches", "without dents"),
    *("no ctns crushed", "no box was crushed", "not one box crushed", "0 crushed"),
    *("none of the 8 boxes crushed", "0 of 6 crushed", "none crushed", "nothing crushed"),
    *("unable to find damage", "failed to find any damage", "no sign of damage"),
    *("no visible signs of any damage", "no cosmetic damage", "damage not seen"),
    *("damage was not found", "dents: nil", "dents there were none", "scratches 0"),
    *("dont see no dents", "never wet", "wasn't crushed", "crushed: no", "crushed? n"),
    *("no damage or shortage", "damage? no", "damage? none"),
    *("damage? n shortage? n", "damage y/n n", "no damage. yes, signed", "damaged: 0 ctns"),
    *("driver did not help. no damage", "looks crushed but it is not", "damage has not been seen"),
]  # fmt: skip
AFFIRMED = [
    *("not only crushed", "nothing but dents", "not undamaged", "not without dents"),
    *("no help, box crushed", "no one home, box crushed", "no driver help crushed"),
    *("no, crushed", "no. crushed", "nothing, box crushed", "crushed, no photos"),
    *("crushed no photos", "no ctns crushed, 2 wet", "no dents, dent on side"),
    *("not dented, scratched", "not crushed, wet", "not crushed - wet", "no shortage 2 ctns wet"),
    *("no wet or crushed ctns, 1 torn", "no cosmetic issue, broken", "failed seal, damaged"),
    *("ctn no 3 crushed", "No. 2 crate crushed", "2 of 6 crushed", "sub zero freezer damaged"),
    *("damage not repaired", "dent free of charge", "free of charge, dented", "scratches 2"),
    *("damage: yes", "damage? yes", "damage ? Y", "damage y/n y", "is it damaged? yes"),
    *("no shortage, damage: yes", "no shortage, damage? yes", "damage? n, shortage? y"),
    *("damage? y shortage? n", "shortage? yes", "looks crushed but not opened"),
    *("no signature, and dents in box", "no photos taken boxes crushed", "no tape, or dents"),
]  # fmt: skip


@pytest.mark.parametrize("words", DENIED)
def test_what_is_denied(words: str) -> None:
    said = read(words, Recorded()).said
    assert said.exceptions == ()
    assert said.denials or said.good


def test_a_thought_that_was_wrong_is_no_damage() -> None:
    assert read("thought it was broken but its not", Recorded()).said.exceptions == ()
    assert read("thought it was ok but its broken", Recorded()).said.exceptions != ()


@pytest.mark.parametrize("words", AFFIRMED)
def test_what_is_not_denied(words: str) -> None:
    assert read(words, Recorded()).said.exceptions


@pytest.mark.parametrize("words", ["damage?", "damaged? Y / N", "damage? y/n", "damage? yes no"])
def test_a_question_or_the_boxes_of_a_form_say_nothing(words: str) -> None:
    said = read(words, Recorded()).said
    assert (said.exceptions, said.denials) == ((), ())


# Words, and the parts that make an exception specific.
NAMED: list[tuple[str, list[tuple[str, str]]]] = [
    ("ctn 4 crushed", [("which piece", "ctn 4")]),
    ("ctn #4 crushed", [("which piece", "ctn #4")]),
    ("crate no 2 wet", [("which piece", "crate no 2")]),
    ("box A12 crushed", [("which piece", "box A12")]),
    ("box B torn", [("which piece", "box B")]),
    ("box a crushed", [("which piece", "box a")]),
    ("box a bit wet", []),
    ("a box crushed", []),
    ("box one wet", [("which piece", "box one")]),
    ("first ctn wet", [("which piece", "first ctn")]),
    ("big box crushed", [("which piece", "big box")]),
    # Names in a list go up: "boxes 10, 8 ok" are counts.
    ("boxes 2, 5 wet", [("which piece", "boxes 2"), ("which piece", "5")]),
    (
        "boxes 2, 5 and 7 wet",
        [("which piece", "boxes 2"), ("which piece", "5"), ("which piece", "7")],
    ),
    ("skids 1 & 2 wet", [("which piece", "skids 1"), ("which piece", "2")]),
    ("boxes 2, 5 ctns wet", [("which piece", "boxes 2"), ("how many", "5 ctns")]),
    ("ctn 4, 5 wet", [("which piece", "ctn 4"), ("how many", "5")]),
    ("ctns 10, 8 ok, 2 wet", [("which piece", "ctns 10"), ("how many", "2")]),
    ("2 ctns crushed", [("how many", "2 ctns")]),
    ("2 ctns - wet", [("how many", "2 ctns")]),
    ("2 box wet", [("how many", "2 box")]),
    ("one box crushed", [("how many", "one box")]),
    ("this one box crushed", [("how many", "one box")]),
    ("one piece damaged", [("how many", "one piece")]),
    ("this one damaged", []),
    ("both crushed", [("how many", "both")]),
    ("everything wet", [("how many", "everything")]),
    ("all boxes wet", [("how many", "all")]),
    ("every ctn wet", [("how many", "every")]),
    ("all wet", []),
    ("each wet", []),
    ("0 ctns wet", []),
    ("9999 ctns wet", [("how many", "9999 ctns")]),
    ("10000 ctns wet", []),
    ("3 lbs wet", []),
    ("3 men damaged", []),
    ("seal 4417 broken", []),
    ("gate 3 damaged", []),
    ("at 4 damaged", []),
    ("PRO 774 damaged", []),
    ("call 5551234 damaged", []),
    ("6 in tear", [("extent", "6 in")]),
    ("left side crushed", [("where on it", "left"), ("where on it", "side")]),
    ("left at dock, damaged", []),
    ("right away damaged", []),
    ("credenza cracked", [("which piece", "credenza")]),
    ("loom cracked", [("which piece", "loom")]),
    ("credenza was cracked", [("which piece", "credenza")]),
    ("delivered quickly damaged", []),
    ("mr smith damaged", []),
    ("for kitchen, damaged", []),
]


@pytest.mark.parametrize("words, named", NAMED, ids=[words for words, _ in NAMED])
def test_what_is_named(words: str, named: list[tuple[str, str]]) -> None:
    taken = read(words, Recorded())
    told = [*taken.parts, *(p for e in taken.said.exceptions for p in e.parts)]
    assert list(dict.fromkeys((p.what, taken.text(p.first, p.last)) for p in told)) == named


@pytest.mark.parametrize(
    "words, record, expected",
    [
        # "Only" counts what came, or what is damaged: what follows tells which.
        ("only 2 boxes", {"cartons_expected": 6, "cartons_received": 2}, Grade.SPECIFIC),
        ("only 2 skids received, 1 wet", {"units_expected": 3, "units_received": 2},
         Grade.SPECIFIC),
        ("only 2 boxes", {"cartons_expected": 6, "cartons_received": 6}, Grade.CONTRADICTORY),
        ("only 2 boxes were crushed", {"cartons_expected": 6, "cartons_received": 6},
         Grade.SPECIFIC),
        ("only 2 boxes have dents", {"cartons_expected": 6, "cartons_received": 6},
         Grade.SPECIFIC),
        ("only 3 of the 4 ctns were wet", {"cartons_expected": 4, "cartons_received": 4},
         Grade.SPECIFIC),
        ("only 1 skid wet", {"units_expected": 4, "units_received": 4}, Grade.SPECIFIC),
        ("only got 2 boxes, crushed", {"cartons_expected": 6, "cartons_received": 2},
         Grade.SPECIFIC),
        ("missing only 2 ctns", {"cartons_expected": 6, "cartons_received": 4}, Grade.SPECIFIC),
        ("missing only 2 ctns", {"cartons_expected": 6, "cartons_received": 2},
         Grade.CONTRADICTORY),
        ("short only 2", {"units_expected": 4, "units_received": 2}, Grade.SPECIFIC),
        # A total belongs to the number that it is said of.
        ("rec'd 9 ctns, 5 pcs, total 14", {}, Grade.CLEAR),
        ("9 ctns, 4 ctns, total 14", {}, Grade.CONTRADICTORY),
        ("total of 14: 9 ctns, 4 ctns", {}, Grade.CONTRADICTORY),
        ("total of 14: 9 ctns, 5 ctns", {}, Grade.NOT_STATED),
        # One piece is a number; in one piece is whole.
        ("one piece damaged, rest ok", {}, Grade.SPECIFIC),
        ("all in one piece", {}, Grade.CLEAR),
        # A form's question is answered.
        ("damage? yes, ctn 2", {}, Grade.SPECIFIC),
        ("damage? n, shortage? y", {}, Grade.TOO_VAGUE),
        ("no shortage, damage: yes", {}, Grade.TOO_VAGUE),
        ("damage? n shortage? n", {}, Grade.CLEAR),
        ("damage = none", {}, Grade.CLEAR),
    ],
)  # fmt: skip
def test_what_a_note_comes_to(words: str, record: dict[str, int], expected: Grade) -> None:
    assert grade(words, **record).grade is expected
