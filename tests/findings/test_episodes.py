"""Episodes: what certainly belongs, what may, and which photos they hold."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from claimkit.findings.seams.reads import read_in_time, sealed_unread
from claimkit.findings.timeline.photos import place
from claimkit.model.answers import Answer
from claimkit.model.case import Case, Episode
from claimkit.model.job import Item, Site, Station
from claimkit.model.moment import Interval, before, inside
from claimkit.model.records import Record
from claimkit.model.stages import Event, Stage
from tests.build import case, facts, job, moment, photo, seam, shipment
from tests.findings.gap_build import fastened, milestone
from tests.findings.work_build import delivery, readings, staged, step, unpacking

TICK = timedelta(microseconds=1)


def of(*records: Record, **more: Any) -> dict[str, Episode]:
    return {e.id: e for e in staged(records, **more).episodes}


def local(text: str) -> datetime:
    """A local time of May 2026 in Chicago, five hours behind UTC."""
    return datetime.fromisoformat(text).replace(tzinfo=UTC) + timedelta(hours=5)


def ends(episode: Episode) -> tuple[datetime | None, datetime | None]:
    return episode.interval.earliest, episode.interval.latest


def test_the_curb_leaves_out_the_minutes_that_are_unsure() -> None:
    found = of(delivery())["at-the-curb-1"]
    # Arrived some time in 09:10, left some time in 09:40.
    assert ends(found) == (local("2026-05-04 09:11") - TICK, local("2026-05-04 09:40"))
    assert found.widest == Interval(
        local("2026-05-04 09:10"), local("2026-05-04 09:41") - TICK, found.widest.basis
    )
    assert found.about == "shipment main"
    assert {s.key_path for s in found.sources} == {"arrived", "signed_at", "driver_left"}


@pytest.mark.parametrize(
    "more, lo, hi",
    [
        # An end that no record states is unknown, unless the signature stands for it.
        ({"driver_left": None, "signed_at": None}, "2026-05-04 09:11", None),
        ({"driver_left": None}, "2026-05-04 09:11", "2026-05-04 09:35"),
        ({"arrived": None}, "2026-05-04 09:36", "2026-05-04 09:40"),
        ({"arrived": None, "signed_at": None}, None, "2026-05-04 09:40"),
        # Written as a day: not certain before the signature.
        ({"arrived": moment("2026-05-04")}, "2026-05-04 09:36", "2026-05-04 09:40"),
    ],
)
def test_an_unstated_end_of_the_curb(more: dict[str, Any], lo: str | None, hi: str | None) -> None:
    found = of(delivery(**more))["at-the-curb-1"]
    assert ends(found) == (local(lo) - TICK if lo else None, local(hi) if hi else None)


@pytest.mark.parametrize(
    "more",
    [
        {"driver_left": moment("2026-05-04 08:40"), "signed_at": None},
        {"signed_at": moment("2026-05-04 09:05")},
        {"signed_at": moment("2026-05-04 09:50")},
        # Days alone bound nothing: some time on that day to some time on that day.
        {"arrived": moment("2026-05-04"), "driver_left": moment("2026-05-04"), "signed_at": None},
    ],
    ids=["left before arrived", "signed before arrived", "signed after left", "days"],
)
def test_where_nothing_is_certain_nothing_is_claimed(more: dict[str, Any]) -> None:
    case = staged([delivery(**more)], [photo("photos/a.jpg", "2026-05-04 09:20:00")])
    assert not case.episodes[0].interval.known
    assert case.photos[0].stage is None


WORK = (
    step(Event.DRY_FIT, "2026-05-05 09:00", "2026-05-05 12:00"),
    step(Event.FASTENED, "2026-05-06 08:00", "2026-05-06 11:00"),
    step(Event.SEALED, "2026-05-08 10:00", "2026-05-08 11:00"),
    step(Event.HANDOVER, "2026-05-09 15:00", "2026-05-09 16:00"),
    step(Event.COMPLAINT, "2026-05-18 15:00", "2026-05-18 16:00"),
)


def test_stages_last_until_the_next_step_where_that_is_certain() -> None:
    found = of(*WORK)
    expected = {
        "dry-fit-1": ("2026-05-05 09:01", "2026-05-05 12:00"),
        "before-fastening-1": ("2026-05-05 12:01", "2026-05-06 08:00"),
        "fastened-1": ("2026-05-06 08:01", "2026-05-08 10:00"),
        "sealed-1": ("2026-05-08 10:01", "2026-05-09 15:00"),
        "handover-1": ("2026-05-09 15:01", "2026-05-09 16:00"),
        "complaint-1": ("2026-05-18 15:01", "2026-05-18 16:00"),
    }
    got = {e: ends(found[e]) for e in found}
    assert got == {e: (local(a) - TICK, local(b)) for e, (a, b) in expected.items()}


@pytest.mark.parametrize(
    "taken, stage",
    [
        ("2026-05-05 10:00:00", Stage.DRY_FIT),
        ("2026-05-05 20:00:00", Stage.BEFORE_FASTENING),
        ("2026-05-07 10:00:00", Stage.FASTENED),
        ("2026-05-09 10:00:00", Stage.SEALED),
        ("2026-05-09 15:30:00", Stage.HANDOVER),
        ("2026-05-12 15:30:00", None),  # between handover and complaint nothing was done
        ("2026-05-18 15:30:00", Stage.COMPLAINT),
        ("2026-05-05 12:00:30", None),  # in the minute in which the dry fit ended
        ("2026-05-05 12:00:00", None),  # its second reaches into that minute
        ("2026-05-05 11:59:59", Stage.DRY_FIT),
    ],
)
def test_a_photo_lies_in_a_stage_only_by_the_whole_of_its_time(
    taken: str, stage: Stage | None
) -> None:
    (found,) = staged(WORK, [photo("photos/a.jpg", taken)]).photos
    assert found.stage is stage
    assert (found.episode is None) is (stage is None)


def test_a_step_written_as_a_day_is_that_day() -> None:
    found = of(step(Event.DRY_FIT, "2026-05-05"), step(Event.FASTENED, "2026-05-06"))
    assert ends(found["dry-fit-1"]) == (local("2026-05-05 00:00"), local("2026-05-06 00:00") - TICK)
    assert ends(found["fastened-1"]) == (
        local("2026-05-06 00:00"),
        local("2026-05-07 00:00") - TICK,
    )
    assert "before-fastening-1" in found


def test_two_steps_on_one_day_without_times_claim_no_photo() -> None:
    steps = (step(Event.DRY_FIT, "2026-05-05"), step(Event.FASTENED, "2026-05-05"))
    (found,) = staged(steps, [photo("photos/a.jpg", "2026-05-05 10:00:00")]).photos
    assert found.stage is None
    assert "It is placed in none" in found.beside[-1]
    assert set(of(*steps)) == {"dry-fit-1", "fastened-1"}, "nothing lies between them"


def test_a_day_of_fastening_begins_where_that_days_dry_fit_ended() -> None:
    steps = (
        step(Event.DRY_FIT, "2026-05-05 12:00", "2026-05-05 14:00"),
        step(Event.FASTENED, "2026-05-05"),
        step(Event.SEALED, "2026-05-07"),
    )
    shots = [
        photo("photos/a.jpg", "2026-05-05 13:00:00"),
        photo("photos/b.jpg", "2026-05-05 16:00:00"),
        photo("photos/c.jpg", "2026-05-06 10:00:00"),  # fastened until it is sealed
    ]
    found = [d.stage for d in staged(steps, shots).photos]
    assert found == [Stage.DRY_FIT, Stage.FASTENED, Stage.FASTENED]


def test_a_reading_dated_past_the_next_step_draws_nothing_out() -> None:
    steps = (
        step(Event.DRY_FIT, "2026-05-05 09:00"),
        step(Event.FASTENED, "2026-05-06 08:00"),
        readings(Stage.DRY_FIT, "2026-05-07 11:00"),
    )
    assert of(*steps)["dry-fit-1"].interval.latest is None


def test_a_reading_that_may_belong_to_either_of_two_steps_is_given_to_none() -> None:
    steps = (
        step(Event.DRY_FIT, "2026-05-05 09:00", record_id="d1"),
        step(Event.DRY_FIT, "2026-05-06 09:00", record_id="d2"),
        readings(Stage.DRY_FIT, "2026-05-06 09:00"),
    )
    found = of(*steps)
    assert [found[e].interval.latest for e in ("dry-fit-1", "dry-fit-2")] == [None, None]


def test_a_day_gives_way_to_a_time_on_that_day() -> None:
    """Delivered 09:10 to 09:40, unpacked 'on that day': the photo at 09:20 is from the curb."""
    records = (delivery(), unpacking(began=moment("2026-05-04"), ended=None))
    shots = [
        photo("photos/a.jpg", "2026-05-04 09:20:00"),
        photo("photos/b.jpg", "2026-05-04 17:00:00"),
    ]
    assert [d.stage for d in staged(records, shots).photos] == [Stage.CURB, Stage.UNPACKING]


@pytest.mark.parametrize(
    "day, hours",
    # 15 USC 260a, from memory: 8 March and 1 November 2026 have 23 and 25 hours in Chicago.
    [("2026-03-08", 23), ("2026-11-01", 25), ("2026-05-04", 24)],
)
def test_a_day_is_as_long_as_the_sites_day(day: str, hours: int) -> None:
    found = of(step(Event.DRY_FIT, day))["dry-fit-1"]
    assert found.interval.latest - found.interval.earliest + TICK == timedelta(hours=hours)


def test_a_step_with_no_end_holds_no_photo() -> None:
    steps = (step(Event.DRY_FIT, "2026-05-05 09:00"),)
    case = staged(steps, [photo("photos/a.jpg", "2026-05-05 09:30:00")])
    assert case.episodes[0].interval.latest is None
    assert case.photos[0].stage is None


def test_readings_draw_out_a_step_with_no_end() -> None:
    steps = (
        step(Event.DRY_FIT, "2026-05-05 09:00"),
        readings(Stage.DRY_FIT, "2026-05-05 11:00"),
    )
    (found,) = staged(steps, [photo("photos/a.jpg", "2026-05-05 09:30:00")]).photos
    assert found.stage is Stage.DRY_FIT


def test_readings_alone_make_an_episode_of_their_day() -> None:
    steps = (
        readings(Stage.DRY_FIT, "2026-05-05 09:00", record_id="r1"),
        readings(Stage.DRY_FIT, "2026-05-05 11:00", record_id="r2"),
        readings(Stage.DRY_FIT, "2026-05-07 11:00", record_id="r3"),
    )
    found = of(*steps)
    assert ends(found["dry-fit-1"]) == (local("2026-05-05 09:00"), local("2026-05-05 11:01") - TICK)
    assert ends(found["dry-fit-2"]) == (local("2026-05-07 11:00"), local("2026-05-07 11:01") - TICK)


def test_a_reading_after_the_stated_end_moves_nothing() -> None:
    late = readings(Stage.DRY_FIT, "2026-05-05 14:00")
    assert ends(of(WORK[0], late)["dry-fit-1"]) == ends(of(WORK[0])["dry-fit-1"])


def test_a_reading_in_the_minute_of_the_stated_end_moves_nothing() -> None:
    last = readings(Stage.DRY_FIT, "2026-05-05 12:00")
    assert ends(of(WORK[0], last)["dry-fit-1"]) == ends(of(WORK[0])["dry-fit-1"])


def test_a_day_of_unpacking_ends_where_the_dry_fit_begins() -> None:
    records = (
        unpacking(began=moment("2026-05-05"), ended=None),
        step(Event.DRY_FIT, "2026-05-05 14:00", "2026-05-05 17:00"),
    )
    shots = [
        photo("photos/a.jpg", "2026-05-05 13:00:00"),
        photo("photos/b.jpg", "2026-05-05 16:00:00"),
    ]
    assert [d.stage for d in staged(records, shots).photos] == [Stage.UNPACKING, Stage.DRY_FIT]


def test_the_curb_of_one_shipment_does_not_shorten_the_day_of_another() -> None:
    shipments = (shipment(), shipment(id="second"))
    records = (
        delivery(shipment="main"),
        unpacking(shipment="second", began=moment("2026-05-04"), ended=None),
    )
    built = facts(job_=job(shipment=shipments, item=(), seam=()), records=records)
    found = {e.stage: e for e in staged(built=built).episodes}
    assert found[Stage.UNPACKING].interval.earliest == local("2026-05-04 00:00")


def test_replacement_pieces_have_their_own_episodes() -> None:
    again = step(
        Event.DRY_FIT, "2026-05-20 09:00", "2026-05-20 10:00", piece="panel 2", record_id="x"
    )
    found = of(*WORK, again)
    assert found["dry-fit-2"].about == "piece panel 2; seam s1"
    assert ends(found["complaint-1"])[1] == local("2026-05-18 16:00")


def test_each_seam_has_its_own_steps_where_they_are_named() -> None:
    seams = (seam(), seam(id="s2"))
    steps = (
        step(Event.DRY_FIT, "2026-05-05 09:00", "2026-05-05 12:00"),
        step(Event.FASTENED, "2026-05-06 08:00", seams=("s1",), record_id="f1"),
        step(Event.FASTENED, "2026-05-07 08:00", seams=("s2",), record_id="f2"),
        step(Event.SEALED, "2026-05-08 08:00", "2026-05-08 09:00"),
    )
    case = staged(built=facts(job_=job(seam=seams), records=steps, photos=[
        photo("photos/a.jpg", "2026-05-06 12:00:00"),  # s1 fastened, s2 not yet
        photo("photos/b.jpg", "2026-05-07 12:00:00"),  # both fastened
    ]))  # fmt: skip
    abouts = {(e.stage, e.about) for e in case.episodes}
    assert (Stage.DRY_FIT, "all seams") in abouts
    assert (Stage.FASTENED, "seam s1") in abouts
    assert (Stage.FASTENED, "seam s2") in abouts
    first, second = case.photos
    assert first.stage is None
    assert (second.stage, second.episode) == (Stage.FASTENED, None)


def test_two_shipments_do_not_mix() -> None:
    shipments = (shipment(), shipment(id="second"))
    items = (Item(id="panel", description="x", shipment="main"),)
    records = (
        delivery(shipment="main"),
        delivery(
            "02-delivery",
            shipment="second",
            arrived=moment("2026-05-05 09:10"),
            driver_left=moment("2026-05-05 09:40"),
            signed_at=None,
        ),
        unpacking(shipment="second", on="2026-05-05", began=moment("2026-05-05"), ended=None),
    )
    built = facts(job_=job(shipment=shipments, item=items, seam=()), records=records)
    found = staged(built=built).episodes
    assert [(e.stage, e.about) for e in found] == [
        (Stage.CURB, "shipment main"),
        (Stage.CURB, "shipment second"),
        (Stage.UNPACKING, "shipment second"),
    ]


def test_contradicting_steps_are_not_sorted_into_an_order() -> None:
    """Sealed before fastened: each step keeps its own written time and nothing lies between."""
    found = of(
        step(Event.FASTENED, "2026-05-08 08:00", "2026-05-08 09:00"),
        step(Event.SEALED, "2026-05-06 08:00", "2026-05-06 09:00"),
        step(Event.DRY_FIT, "2026-05-05 08:00", "2026-05-05 09:00"),
    )
    assert ends(found["sealed-1"]) == (local("2026-05-06 08:01") - TICK, local("2026-05-06 09:00"))
    assert ends(found["fastened-1"])[1] == local("2026-05-08 09:00")
    assert "before-fastening-1" not in found


def test_a_replaced_record_decides_nothing() -> None:
    wrong = delivery("01-wrong", driver_left=moment("2026-05-04 10:40"))
    case = staged(
        [
            replace(wrong, replaced_by="02-right"),
            delivery(
                "02-right",
            ),
        ]
    )
    assert len(case.episodes) == 1
    assert {s.path for s in case.episodes[0].sources} == {"records/02-right.toml"}


def test_without_a_job_records_still_give_episodes() -> None:
    built = replace(facts(records=[delivery(), *WORK]), job=None, job_sha256=None)
    stages = {e.stage for e in staged(built=built).episodes}
    assert {Stage.CURB, Stage.DRY_FIT, Stage.FASTENED, Stage.SEALED} <= stages


def test_an_unknown_zone_does_not_crash() -> None:
    built = facts(job_=job(site=Site(address="x", zone="Nowhere/None")), records=[delivery()])
    assert staged(built=built).episodes[0].interval.known


INSTANTS = st.integers(0, 2000).map(
    lambda m: datetime(2026, 5, 4, tzinfo=UTC) + timedelta(minutes=m)
)


@st.composite
def intervals(draw: st.DrawFn, known: bool = False) -> Interval:
    a, b = sorted([draw(INSTANTS), draw(INSTANTS)])
    if known:
        return Interval(a, b, "")
    return Interval(draw(st.sampled_from([a, None])), draw(st.sampled_from([b, None])), "")


@given(intervals(), intervals())
def test_before_is_never_claimed_both_ways(a: Interval, b: Interval) -> None:
    assert not (before(a, b) is Answer.YES and before(b, a) is Answer.YES)
    if before(a, b) is Answer.YES:
        assert before(b, a) is not Answer.YES
        assert inside(a, b) is Answer.NO
        assert inside(b, a) is Answer.NO


@given(intervals(), intervals(), intervals())
def test_before_and_inside_are_transitive(a: Interval, b: Interval, c: Interval) -> None:
    if before(a, b) is Answer.YES and before(b, c) is Answer.YES and b.known:
        assert before(a, c) is Answer.YES
    if inside(a, b) is Answer.YES and inside(b, c) is Answer.YES:
        assert inside(a, c) is Answer.YES


@given(
    intervals(known=True), intervals(known=True), st.lists(st.floats(0, 1), min_size=2, max_size=2)
)
def test_answers_hold_for_every_instant(a: Interval, b: Interval, at: list[float]) -> None:
    """By a second route: what is claimed of the intervals is true of instants drawn from them."""
    x, y = (i.earliest + (i.latest - i.earliest) * f for i, f in zip((a, b), at, strict=True))
    if before(a, b) is Answer.YES:
        assert x < y
    if inside(a, b) is Answer.YES:
        assert b.earliest <= x <= b.latest
    if inside(a, b) is Answer.NO:
        assert not b.earliest <= x <= b.latest


@given(intervals(known=True), st.lists(st.tuples(intervals(), st.sampled_from(Stage)), max_size=6))
def test_a_photo_is_placed_in_exactly_one_stage_or_none(
    taken: Interval, spans: list[tuple[Interval, Stage]]
) -> None:
    found = tuple(Episode(f"e-{n}", s, i, "x", ()) for n, (i, s) in enumerate(spans))
    stage, episode, _ = place(taken, [], found)
    holding = [
        e
        for e in found
        if e.interval.known
        and e.interval.earliest <= taken.earliest
        and taken.latest <= e.interval.latest
    ]
    assert (stage is not None) is (len({e.stage for e in holding}) == 1)
    assert (episode is not None) is (len(holding) == 1)


MINUTES = st.integers(0, 3 * 24 * 60)


@given(
    st.lists(st.tuples(st.sampled_from(Event), MINUTES, st.one_of(st.none(), MINUTES)), max_size=6)
)
def test_no_combination_of_steps_crashes_or_ends_before_it_begins(
    steps: list[tuple[Event, int, int | None]],
) -> None:
    def written(minutes: int) -> str:
        at = datetime.fromisoformat("2026-05-04") + timedelta(minutes=minutes)
        return f"{at:%Y-%m-%d}" if minutes % 7 == 0 else f"{at:%Y-%m-%d %H:%M}"

    records = [
        step(event, written(a), None if b is None else written(b), record_id=f"m{n}")
        for n, (event, a, b) in enumerate(steps)
    ]
    for episode in staged(records).episodes:
        certain, widest = episode.interval, episode.widest
        assert widest is not None
        if certain.known and widest.known:
            assert widest.earliest <= certain.earliest
            assert certain.latest <= widest.latest


def test_ids_are_unique_and_follow_time() -> None:
    case: Case = staged([*WORK, delivery()])
    assert len({e.id for e in case.episodes}) == len(case.episodes)
    starts = [e.interval.earliest for e in case.episodes]
    assert starts == sorted(starts)


def test_pieces_are_the_same_however_their_name_is_written() -> None:
    """The second panel's steps and readings are one chain, and its seam was read in time."""
    records = [
        milestone(Event.FASTENED, "2026-05-05 09:00", "m-fastened", piece="second panel"),
        fastened(3, piece=" Second  panel"),
        milestone(Event.SEALED, "2026-05-06 09:00", "m-sealed", piece="Second panel"),
    ]
    found = case(facts(job_=job(seam=(seam(station=(Station(id="top"),)),)), records=records))
    assert {e.about for e in found.episodes} == {"piece second panel; seam s1"}
    (end,) = [e.interval.latest for e in found.episodes if e.stage is Stage.FASTENED]
    assert end is not None
    assert sealed_unread(found) == ()
    assert [u.seam for u in read_in_time(found)] == ["s1"]
    # Readings of the first pieces are none of it.
    records[1] = fastened(3)
    found = case(facts(job_=job(seam=(seam(station=(Station(id="top"),)),)), records=records))
    assert [u.stations for u in sealed_unread(found)] == [("top",)]


def test_without_an_arrival_the_truck_came_within_the_day_before() -> None:
    """A day at most where unsaid: signed 09:35, so not before 09:35 of 3 May."""
    found = of(delivery(arrived=None, driver_left=None))["at-the-curb-1"]
    assert found.widest.earliest == local("2026-05-03 09:35")
    assert found.widest.latest == local("2026-05-05 09:36") - TICK
    assert found.interval.basis.startswith("signed at 2026-05-04 09:35")


def test_a_delivery_without_times_says_so() -> None:
    found = of(delivery(arrived=None, signed_at=None, driver_left=None))["at-the-curb-1"]
    assert ends(found) == (None, None)
    assert "the delivery record states no times" in found.interval.basis


@pytest.mark.parametrize(
    "times, lo, hi, keys",
    [
        ({"began": None}, None, "2026-05-04 15:00", {"ended"}),
        ({"ended": None}, "2026-05-04 13:01", None, {"began"}),
        ({}, "2026-05-04 13:01", "2026-05-04 15:00", {"began", "ended"}),
    ],
)
def test_an_unpacking_with_one_end_is_an_episode(
    times: dict[str, None], lo: str | None, hi: str | None, keys: set[str]
) -> None:
    found = of(unpacking(**times))["unpacking-1"]
    first, last = ends(found)
    assert first == (local(lo) - TICK if lo else None)
    assert last == (local(hi) if hi else None)
    assert {s.key_path for s in found.sources} == keys
    assert "unpacking-1" not in of(unpacking(began=None, ended=None))


def test_a_reading_at_the_unpacking_gives_way_to_the_record_of_it() -> None:
    read = readings(Stage.UNPACKING, "2026-05-06 10:00")
    assert [e.id for e in staged([read]).episodes] == ["unpacking-1"]
    both = [e for e in staged([read, unpacking()]).episodes if e.stage is Stage.UNPACKING]
    assert [s.path for e in both for s in e.sources] == ["records/02-unpacking.toml"] * 2


@pytest.mark.parametrize(
    "seams, shipments, about",
    [
        (("s1",), ("main",), "seam s1"),
        (("s1", "s2"), ("main",), "seams s1, s2"),
        ((), ("main",), "all seams"),
        (("s1", "s2", "s3"), ("main",), "all seams"),
        (("s1",), ("main", "second"), "shipment main; seam s1"),
    ],
)
def test_what_a_step_is_about(
    seams: tuple[str, ...], shipments: tuple[str, ...], about: str
) -> None:
    job_ = job(
        seam=tuple(seam(id=name) for name in ("s1", "s2", "s3")),
        shipment=tuple(shipment(id=name) for name in shipments),
    )
    fixed = step(Event.FASTENED, "2026-05-05 09:00", seams=seams, shipment="main")
    found = staged(built=facts(job_=job_, records=[fixed])).episodes
    assert [e.about for e in found if e.stage is Stage.FASTENED] == [about]
