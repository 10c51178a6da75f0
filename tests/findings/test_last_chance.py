"""The last chance to read a gap: each station once, at the milestone that comes next for it.

That loose pieces are read before fastening and a joint before its sealant is common practice, no
source; a filled joint shows no gap.
"""

from __future__ import annotations

import pytest

from claimkit.compose.terminal.gap_lines import gaps
from claimkit.compose.terminal.last_chance_lines import last_chance, told_elsewhere
from claimkit.compose.terminal.lines import status
from claimkit.findings.limits.next_move import moves
from claimkit.findings.seams.last_chance import RULES, last_chances
from claimkit.findings.seams.reads import read_in_time, sealed_unread, still_unread
from claimkit.model.case import Standing
from claimkit.model.job import Joint, Seam
from claimkit.model.stages import Event, Stage
from tests.build import case, facts, job, moment, seam
from tests.findings.gap_build import fastening, milestone
from tests.findings.line_build import all_read, at_places, dry_fit, fixed, handed_over
from tests.findings.work_build import delivery

PAIR = at_places(0, 1000)
SEALED = milestone(Event.SEALED, "2026-05-06 09:00", "m-sealed")
STARTED = milestone(Event.INSTALLATION_STARTED, "2026-05-04 08:00", "m-started")


def of(*records, seams: tuple[Seam, ...] | None = None):
    return case(facts(job_=job(seam=seams or (seam(station=PAIR),)), records=records))


def told(whole):
    return [(c.before, c.gone, c.open_now, c.stations) for c in last_chances(whole)]


@pytest.mark.parametrize(
    "records, expected",
    [
        # Nothing read, nothing begun: both stations before fastening.
        ((), [("fastening", False, False, ("a", "b"))]),
        # The work has begun: the fastening may come any day.
        ((STARTED,), [("fastening", False, True, ("a", "b"))]),
        # One of two read: the other before fastening, while they stand together.
        (
            (dry_fit(3),),
            [("fastening", False, True, ("b",)), ("the sealant", False, False, ("a",))],
        ),
        # Both read, not fastened: after it, before the sealant.
        ((dry_fit(3, 3),), [("the sealant", False, False, ("a", "b"))]),
        # Fastened and not read since: now.
        ((dry_fit(3, 3), fastening()), [("the sealant", False, True, ("a", "b"))]),
        # One of two read since.
        ((dry_fit(3, 3), fastening(), fixed(3)), [("the sealant", False, True, ("b",))]),
        # Read and not sealed: nothing is left to lose.
        ((dry_fit(3, 3), fastening(), fixed(3, 3)), []),
        # Sealed with one unread: gone.
        ((dry_fit(3, 3), fastening(), fixed(3), SEALED), [("the sealant", True, False, ("b",))]),
        # Fastened without a dry fit: gone; the sealant still waits.
        (
            (fastening(),),
            [("the sealant", False, True, ("a", "b")), ("fastening", True, False, ("a", "b"))],
        ),
        # Handed over without a word of sealant, and read there: nothing is left to lose.
        ((dry_fit(3, 3), fastening(), handed_over(3, 3)), []),
        # One of two read there: the other is asked for, not as today's move.
        (
            (dry_fit(3, 3), fastening(), handed_over(3)),
            [("the sealant", False, False, ("b",))],
        ),
    ],
)
def test_each_seam_at_its_next_milestone(records, expected):
    assert told(of(*records)) == expected


def test_an_interlocking_joint_is_not_asked_for():
    assert told(of(seams=(seam(station=PAIR, joint=Joint.INTERLOCKING),))) == []


def test_seams_stand_in_their_order_and_what_is_gone_comes_last():
    two = (
        seam(id="s1", station=PAIR),
        seam(id="s2", station=PAIR),
        seam(id="s3", station=PAIR),
    )
    whole = of(
        dry_fit(3, 3, seam_id="s1"),
        milestone(Event.FASTENED, "2026-05-05 09:00", "m-f1", seams=("s1", "s2")),
        milestone(Event.SEALED, "2026-05-06 09:00", "m-sealed", seams=("s1",)),
        seams=two,
    )
    assert [(c.seam, c.before, c.gone) for c in last_chances(whole)] == [
        ("s3", "fastening", False),
        ("s2", "the sealant", False),
        ("s2", "fastening", True),
        ("s1", "the sealant", True),
    ]


@pytest.mark.parametrize(
    "records",
    [
        (),
        (dry_fit(3),),
        (dry_fit(3, 3),),
        (dry_fit(3, 3), fastening()),
        (dry_fit(3, 3), fastening(), fixed(3), SEALED),
        (fastening(),),
    ],
    ids=["nothing", "one dry", "both dry", "fastened", "sealed", "no dry fit"],
)
def test_nothing_is_said_twice(records):
    """Every finding of these rules is in the lines above the others, and in none below them."""
    whole = of(*records)
    mine = [f for f in whole.findings if f.rule in RULES]
    assert mine, "the case has something to lose"
    assert not [f for f in told_elsewhere(whole) if f.rule in RULES]
    # Every line of the lines belongs to a rule that has a finding: none is invented.
    assert {c.rule for c in last_chances(whole)} == {f.rule for f in mine}
    for page in (status(whole), gaps(whole)):
        text = "\n".join(page)
        for rule in {f.rule for f in mine}:
            texts = {c.text for c in last_chances(whole) if c.rule == rule}
            assert text.count(f"[{rule}]") == len(texts)
        assert all(len(line) <= 80 for line in page)


def test_the_lines_name_milestone_seam_station_and_what_to_do():
    lines = " ".join(" ".join(last_chance(of(dry_fit(3, 3), fastening(), fixed(3)))).split())
    assert lines.startswith("BEFORE THE SEALANT: seam s1, station b: fastened 2026-05-05 09:00")
    gone = " ".join(" ".join(last_chance(of(dry_fit(3, 3), fastening(), SEALED))).split())
    assert gone.startswith("GONE FOR GOOD: seam s1, stations a and b: sealed 2026-05-06")
    assert "cannot be read any more" in gone


def test_it_is_the_next_move_while_the_milestone_may_come_any_day():
    first = moves(of(dry_fit(3, 3), fastening()))[0]
    assert first.text == "Read before the sealant: seam s1, stations a and b."
    assert first.to == "Marl & Sons (your own people)"
    assert [s.path for s in first.sources] == ["records/m-fastened.toml"]
    loose = moves(of(dry_fit(3)))[0]
    assert loose.text == "Read before fastening: seam s1, station b."
    done = moves(of(dry_fit(3, 3), fastening(), fixed(3, 3), handed_over(3, 3)))
    assert not [m for m in done if m.text.startswith("Read before")]


def test_a_replacement_piece_has_its_own_chance():
    new = all_read(Stage.FASTENED, 3, piece="panel 2", record_id="r-new")
    whole = of(dry_fit(3, 3), fastening(), fixed(3, 3), new)
    assert [(c.piece, c.before, c.gone, c.stations) for c in last_chances(whole)] == [
        ("panel 2", "fastening", True, ("a",))
    ]


def test_no_line_is_longer_than_a_terminal():
    many = tuple(seam(id=f"long-seam-name-{n}", station=at_places(0, 500, 1000)) for n in range(9))
    assert all(len(line) <= 80 for line in last_chance(of(seams=many)))


@pytest.mark.parametrize(
    "records, unread",
    [
        # Called fastened and of the day of the sealing: its date does not contradict it.
        ((fastening(), fixed(3, 3, taken=moment("2026-05-06")), SEALED), ()),
        ((fastening(), fixed(3, 3, taken=moment("2026-05-06 09:01")), SEALED), ("a", "b")),
        # Of a later stage it counts only where its date shows that it came before.
        ((fastening(), handed_over(3, 3, taken=moment("2026-05-06 08:59")), SEALED), ()),
        ((fastening(), handed_over(3, 3, taken=moment("2026-05-06")), SEALED), ("a", "b")),
        ((fastening(), dry_fit(3, 3), SEALED), ("a", "b")),  # loose pieces
        ((fastening(), fixed(3, 3, seam_id="s2"), SEALED), ("a", "b")),  # of another seam
    ],
)
def test_a_reading_before_the_sealant_is_one_that_its_record_and_date_allow(records, unread):
    whole = of(*records, seams=(seam(station=PAIR), seam(id="s2", station=PAIR)))
    mine = [u for u in sealed_unread(whole) if u.seam == "s1"]
    assert [u.stations for u in mine] == ([unread] if unread else [])
    assert ("s1" in {u.seam for u in read_in_time(whole)}) is not bool(unread)


def test_a_sealed_joint_without_a_gap_and_a_seam_that_job_toml_lacks():
    joints = (seam(station=PAIR, joint=Joint.INTERLOCKING),)
    assert sealed_unread(of(SEALED, seams=joints)) == ()
    other = milestone(Event.SEALED, "2026-05-06 09:00", "m-other", seams=("s9",))
    (unknown,) = sealed_unread(of(other))
    assert (unknown.seam, unknown.stations) == ("s9", ())


def test_taken_apart_and_fastened_again_it_is_open_once_more():
    again = milestone(Event.FASTENED, "2026-05-07 09:00", "m-again")
    assert still_unread(of(fastening(), SEALED)) == ()
    assert [u.seam for u in still_unread(of(fastening(), SEALED, again))] == ["s1"]


def test_a_last_chance_names_its_own_stations_and_pieces():
    (chance,) = [c for c in last_chances(of(dry_fit(3))) if c.before == "fastening"]
    assert chance.stations == ("b",)
    assert chance.names("s1", "b", None)
    assert not chance.names("s1", "a", None)
    assert not chance.names("s2", "b", None)
    assert not chance.names("s1", "b", "panel 2")
    bare = seam(station=())
    (whole_seam,) = last_chances(of(seams=(bare,)))
    assert whole_seam.stations == ()
    assert whole_seam.names("s1", "anything", None)


def test_read_after_the_fastening_nothing_waits_for_it_though_no_milestone_dates_it():
    told_now = [(c.before, c.stations) for c in last_chances(of(dry_fit(3, 3), fixed(3)))]
    assert ("the sealant", ("a", "b")) not in told_now


def test_the_pieces_that_stood_together_have_begun_and_others_have_not():
    new = dry_fit(3, piece="panel 2", record_id="r-new")
    found = {(c.piece, c.before): c.open_now for c in last_chances(of(new))}
    assert found[(None, "fastening")] is False
    assert found[("panel 2", "the sealant")] is False
    begun = dry_fit(3)
    assert {c.open_now for c in last_chances(of(begun)) if c.before == "fastening"} == {True}


@pytest.mark.parametrize(
    "sealed, gone",
    [
        ("2026-05-06 09:00", True),  # two days after the truck came
        ("2026-04-28 09:00", False),  # a week before it: the date cannot be
        ("2026-05-04 12:00", False),  # before anything was fastened
    ],
)
def test_a_seal_at_an_impossible_time_makes_nothing_gone(sealed: str, gone: bool) -> None:
    records = (delivery(), dry_fit(3, 3), fastening(), milestone(Event.SEALED, sealed, "m-sealed"))
    whole = of(*records)
    assert any(chance.gone for chance in last_chances(whole)) is gone
    assert bool(sealed_unread(whole)) is gone
    told_of = [f for f in whole.findings if f.rule == "work-order"]
    assert bool(told_of) is not gone
    assert all(f.standing is Standing.MISSING and f.do_next for f in told_of)
    printed = " ".join(" ".join(status(whole)).split())
    assert ("m-sealed) is before" in printed) is not gone
    assert ("GONE FOR GOOD" in printed) is gone


def test_a_fastening_at_an_impossible_time_makes_nothing_gone() -> None:
    whole = of(delivery(), fastening("2026-04-28 09:00"))
    (chance,) = [c for c in last_chances(whole) if c.before == "fastening"]
    assert not chance.gone
    assert "record m-fastened says fastened at a time that cannot be" in chance.text
    (after,) = [c for c in last_chances(of(delivery(), fastening())) if c.before == "fastening"]
    assert after.gone
