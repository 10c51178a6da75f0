"""The timeline's plan and scale: every mark once, nothing over another, ticks at local times."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from dateutil import tz
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.model.document import TimelineMark
from claimkit.render.clockface import DIVISIONS, division, ticks
from claimkit.render.lanes import Set, Spot, in_lanes, joined
from claimkit.render.style import CHART
from claimkit.render.text import Span
from claimkit.render.timeplan import SHORTEST, items_of, plan, seconds
from tests.render.sample_document import DAY, ZONE, band, crowded_timeline, mark, usual_timeline

minutes = st.one_of(st.floats(0, 90), st.floats(0, 60 * DAY), st.sampled_from([0.0, 30.0, 9e6]))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(minutes, st.sampled_from([0, 0.1, 30, DAY])), min_size=1, max_size=60))
def test_every_mark_stands_in_exactly_one_strip(times: list[tuple[float, float]]) -> None:
    marks = [mark(at, f"m{n}", n + 1, wide) for n, (at, wide) in enumerate(times)]
    strips = plan(items_of(marks, [band(0, 80, "delivery")], ZONE))
    shown = [item.what for strip in strips for item in strip.items if not item.is_band]
    assert sorted(id(m) for m in shown) == sorted(id(m) for m in marks)
    for strip in strips:
        assert strip.ends - strip.begins >= SHORTEST - 0.01
        for item in strip.items:
            if not item.is_band:
                assert strip.begins <= item.begins <= item.ends <= strip.ends


@settings(max_examples=60, deadline=None)
@given(st.lists(minutes, min_size=1, max_size=60))
def test_a_letter_counts_what_its_strips_show(times: list[float]) -> None:
    marks = [mark(at, f"m{n}", n + 1 if n % 3 else None) for n, at in enumerate(times)]
    strips = plan(items_of(marks, [band(0, 80, "delivery")], ZONE))
    by_letter = {strip.letter: strip for strip in strips}
    assert len(by_letter) == len(strips)

    def count(letter: str) -> int:
        strip = by_letter[letter]
        own = sum(not item.is_band for item in strip.items)
        return own + sum(count(part.letter) for part in strip.enlarged)

    assert count("") == len(marks)
    for strip in strips:
        for part in strip.enlarged:
            assert count(part.letter) == part.photos + part.others
            assert by_letter[part.letter].times > strip.times


def test_months_and_the_delivery_hour_are_both_seen() -> None:
    """The handover is in the whole period, the curb photos in a strip of their own."""
    block = usual_timeline()
    strips = plan(items_of(block.marks, block.bands, ZONE))
    whole, last = strips[0], strips[-1]
    labels = {item.what.label for item in whole.items}
    assert {"Handover", "Sealed"} <= labels
    assert "photo 1" not in labels
    assert {f"photo {n}" for n in range(1, 17)} <= {item.what.label for item in last.items}
    assert last.ends - last.begins < 2 * 3600
    assert last.times > 100


@pytest.mark.parametrize("count", [1, 40, 200])
def test_evenly_spread_photos_need_no_enlarging(count: int) -> None:
    block = crowded_timeline(count)
    assert [s.letter for s in plan(items_of(block.marks, block.bands, ZONE))] == [""]


def test_a_camera_with_a_wrong_year_does_not_hide_the_rest() -> None:
    lost = mark(-26 * 365 * DAY, "photo 99", 99)
    block = usual_timeline()
    strips = plan(items_of((lost, *block.marks), block.bands, ZONE))
    assert "photo 99" in {item.what.label for item in strips[0].items}
    assert strips[-1].ends - strips[-1].begins < 2 * 3600


def test_undated_marks_are_on_no_strip() -> None:
    block = usual_timeline()
    assert [m.label for m in block.marks if m.kind == "undated"] == ["photo 25"]
    assert "photo 25" not in {i.what.label for i in items_of(block.marks, block.bands, ZONE)}


def extent(one: Set) -> tuple[float, float, float, float]:
    """Give what a placed mark covers: left, right, down, foot."""
    widest = max(line.width for line in one.lines)
    left = min(one.spot.left, one.label_x)
    right = max(one.spot.right, one.label_x + widest)
    rows = len(one.lines) + one.label_below
    return left, right, one.down, one.down + rows * CHART.leading


def spot(left: float, wide: float, label: str) -> Spot:
    """Give a mark to place."""
    return Spot(left, min(500.0, left + wide), "record", (Span(label, CHART),))


spots = st.lists(
    st.builds(
        spot,
        st.floats(0, 500),
        st.sampled_from([0.0, 3.0, 80.0, 500.0]),
        st.text("abc defgh", min_size=1, max_size=90),
    ),
    max_size=50,
)


@settings(deadline=None)
@given(spots)
def test_no_label_prints_over_another_or_outside(found: list[Spot]) -> None:
    sets, high = in_lanes(found, 500, CHART)
    areas = [extent(one) for one in sets]
    for i, (left, right, down, foot) in enumerate(areas):
        assert left >= -0.01
        assert right <= 500.01
        assert foot <= high + 0.01
        for a, b, c, d in areas[:i]:
            apart = right <= a or b <= left or foot <= c + 0.01 or d <= down + 0.01
            assert apart


@given(st.lists(st.floats(0, 400), max_size=60), st.floats(0.5, 500))
def test_joining_keeps_every_mark(lefts: list[float], near: float) -> None:
    found = [Spot(left, left, "photo", (Span("x", CHART),)) for left in sorted(lefts)]
    groups: list[int] = []

    def label(group: object) -> tuple[Span, ...]:
        groups.append(len(group))  # type: ignore[arg-type]
        return (Span("several", CHART),)

    made = joined(found, near, label)
    single = sum(spot.label[0].text == "x" for spot in made)
    assert single + sum(groups) == len(found)
    assert all(spot.right - spot.left <= near + 0.01 for spot in made)


@pytest.mark.parametrize("zone", ["America/Chicago", "Europe/Berlin", "Australia/Lord_Howe", "UTC"])
@pytest.mark.parametrize(
    "first, hours",
    [
        ("2026-03-08 00:00", 30),  # US clocks go forward
        ("2026-11-01 00:00", 30),  # and back
        ("2026-04-04 12:00", 40),  # Lord Howe goes back by half an hour
        ("2026-03-28 20:00", 14),
        ("2026-05-04 08:51", 1.5),
        ("2026-01-01 00:00", 24 * 400),
        ("2026-05-04 00:00", 24 * 40),
    ],
)  # fmt: skip
def test_a_tick_stands_where_a_clock_shows_its_label(zone: str, first: str, hours: float) -> None:
    """Oracle: dateutil's zones read the local clock at each tick's instant."""
    begins = seconds(datetime.fromisoformat(first), ZoneInfo(zone))
    ends = begins + hours * 3600
    step = division(ends - begins, 9)
    made = list(ticks(begins, ends, step, ZoneInfo(zone)))
    assert 2 <= len(made) <= 11
    assert [at for at, _ in made] == sorted({at for at, _ in made})
    for at, label in made:
        clock = datetime.fromtimestamp(at, tz.gettz(zone))
        told = {f"{clock:%H:%M}", f"{clock.day} {clock:%b}", f"{clock:%b}", f"{clock.year}"}
        assert label in told
        assert clock.minute % min(step.count, 60) == 0 if step.unit == "minute" else True
        if step.unit != "minute":
            assert f"{clock:%H:%M}" == "00:00"


def test_divisions_grow() -> None:
    lengths = [d.seconds for d in DIVISIONS]
    assert lengths == sorted(lengths)
    assert division(10 * 3600, 9).words() == "2 hours"
    assert division(40 * 86400, 9).words() == "7 days"
    assert division(1e12, 9) == DIVISIONS[-1]


def test_a_time_without_an_offset_is_local() -> None:
    aware = datetime(2026, 5, 4, 9, 0, tzinfo=ZONE)
    assert seconds(aware.replace(tzinfo=None), ZONE) == aware.timestamp()


def test_ends_in_the_wrong_order_are_turned() -> None:
    turned = mark(10, "m", 1)
    swapped = TimelineMark(
        turned.latest + timedelta(minutes=5), turned.earliest, "m", "photo", turned.statement, 1
    )
    (item,) = items_of([swapped], [], ZONE)
    assert item.begins < item.ends
