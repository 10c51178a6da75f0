"""Gaps in photos joined to the job: station, stage, bench check, and what is compared with what.

The readings are invented; what is checked is which of them may be claimed, and that what two
photos of one card share cancels in their difference (JCGM 100:2008, 5.2.2 and F.1.2.3).
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from claimkit.findings.seams.bench import _tail
from claimkit.findings.seams.photo_gaps import SHOWS
from claimkit.findings.seams.photo_readings import disagree, marked
from claimkit.findings.seams.reads import sealed_unread
from claimkit.model.answers import Answer
from claimkit.model.card import LooseTag, Refusal, View, Why
from claimkit.model.card_photo import MarkedGap
from claimkit.model.gap import Change, Meaning
from claimkit.model.job import Joint, Station
from claimkit.model.measurement import Measurement
from claimkit.model.measuring import CardSheet, Instrument, MarkedPhoto, Reading
from claimkit.model.stages import Event, Stage
from tests.build import case, celsius, mm, moment, photo, record, sha
from tests.findings.gap_build import dry, handover, milestone
from tests.findings.photo_gap_build import (
    DRY,
    LATER,
    WHEN,
    bench_check,
    both,
    full,
    known,
    measured,
    not_measured,
    shows,
)


def overall(found, how=None):
    return [c for c in found.comparisons if not c.step and (how is None or c.how == how)]


def sheet(**more):
    body = {"along": mm(250), "across": mm(170), "instrument": Instrument.RULE_MM} | more
    return record(f"sheet-{more.get('cards', '')}", CardSheet(paper="a4", **body))


def only(found):
    (gap,) = found.photo_gaps
    return gap


def test_a_card_names_seam_and_station_and_the_photos_time_the_stage() -> None:
    gap = only(full(shows(DRY, measured(3.1))))
    assert (gap.seam, gap.station, gap.stage) == ("s1", "top", Stage.DRY_FIT)
    assert gap.decides


def test_the_same_card_at_both_times_cancels_its_scale_and_the_edges() -> None:
    (compared,) = overall(both(3.0, 5.0))
    assert compared.before
    assert compared.how == "in photos"
    assert compared.change.change is Change.OPENED
    difference = compared.change.difference
    assert difference is not None
    causes = dict(difference.parts)
    assert abs(causes["card lip: card 3"]) < 1e-12
    # the scale's part is proportional to the gap: what is left belongs to the 2 mm of change
    (scale,) = [u for cause, u in causes.items() if cause.startswith("card scale")]
    before = dict(compared.before.measurement.parts)["card scale: card 3"]
    assert scale == pytest.approx(before * 2.0 / 3.0)
    assert difference.u_mm == pytest.approx(math.hypot(0.08, 0.08), abs=0.02)


def test_two_photos_make_one_reading_whose_shared_parts_stay() -> None:
    other = "photos/dry-fit-2.jpg"
    taken = [photo(DRY, WHEN[DRY]), photo(other, "2026-05-04 10:05:00")]
    found = full(shows(DRY, measured(3.0)), shows(other, measured(3.1, other)), photos=taken)
    (reading,) = [r for r in found.readings if r.meaning is Meaning.OPENING]
    assert reading.measurement.value_mm == pytest.approx(3.05)
    parts = dict(reading.measurement.parts)
    assert parts["card lip: card 3"] == pytest.approx(0.1), "shared, so not halved"
    edges = [u for cause, u in parts.items() if cause.startswith("edges")]
    assert edges == pytest.approx([0.04, 0.04]), "each photo's own, halved by the mean"
    assert set(reading.witness) == {sha(DRY), sha(other)}


def test_photos_that_scatter_more_than_they_say_widen_their_mean() -> None:
    other = "photos/dry-fit-2.jpg"
    taken = [photo(DRY, WHEN[DRY]), photo(other, "2026-05-04 10:05:00")]
    found = full(shows(DRY, measured(3.0)), shows(other, measured(3.8, other)), photos=taken)
    (reading,) = [r for r in found.readings if r.meaning is Meaning.OPENING]
    # two readings 0.8 apart: the standard deviation of their mean is 0.4 (JCGM 100:2008, 4.2.3)
    own = [u for c, u in reading.measurement.parts if c.startswith(("between", "edges"))]
    assert math.hypot(*own) == pytest.approx(0.4, rel=0.02)


@pytest.mark.parametrize("tag", SHOWS)
@pytest.mark.parametrize("path", [DRY, LATER])
def test_tag_and_time_that_disagree_claim_neither(tag: str, path: str) -> None:
    gap = only(full(shows(path, measured(3, path), tag=tag)))
    stage = {DRY: Stage.DRY_FIT, LATER: Stage.HANDOVER}[path]
    assert gap.stage == (stage if stage in SHOWS[tag] else None)
    if gap.stage is None:
        assert "neither is claimed" in gap.because
        assert not gap.decides


def test_a_tag_names_the_stage_of_a_dated_photo_outside_every_episode() -> None:
    loose = [photo(DRY, "2026-05-06 10:00:00")]
    assert only(full(shows(DRY, measured(3)), photos=loose)).stage is None
    gap = only(full(shows(DRY, measured(3), tag="FASTENED"), photos=loose))
    assert gap.stage is Stage.FASTENED
    assert only(full(shows(DRY, measured(3), tag="CHECK"), photos=loose)).stage is None


def test_a_tag_alone_does_not_date_a_photo_that_nothing_dates() -> None:
    undated = [photo(DRY, None, make=None, model=None)]
    gap = only(full(shows(DRY, measured(3), tag="DRY FIT"), photos=undated))
    assert gap.stage is None
    assert "nothing dates the photo" in gap.because


def test_without_a_bench_check_a_photo_witnesses_and_is_compared_with_nothing() -> None:
    found = both(3.0, 5.0, benched=False)
    assert [gap.decides for gap in found.photo_gaps] == [False, False]
    assert overall(found) == []
    assert not [r for r in found.readings if r.meaning is Meaning.OPENING]


def test_a_bench_check_counts_for_its_own_camera_only() -> None:
    other = [photo(DRY, WHEN[DRY], model="F9"), photo(LATER, WHEN[LATER])]
    found = full(shows(DRY, measured(3)), shows(LATER, measured(3, LATER)), photos=other)
    assert {gap.sha256: gap.decides for gap in found.photo_gaps} == {
        sha(DRY): False,
        sha(LATER): True,
    }


def test_a_bench_check_counts_for_its_own_print_only() -> None:
    sheets = [sheet(cards=(n,)) for n in (3, 7)]
    station = (Station(id="top", card=7),)
    found = known(shows(DRY, measured(3, card=7)), station=station)
    kept = tuple(r for r in found.records if r.kind != "card_sheet")
    other = case(replace(found, records=(*kept, *sheets)))
    assert not only(other).decides
    assert only(case(found)).decides, "one sheet covers both cards"


def test_a_hand_and_a_photo_are_compared_each_with_itself() -> None:
    found = both(3.0, 3.05, records=[dry(3), handover(5)])
    assert [c.change.change for c in overall(found, "by hand")] == [Change.OPENED]
    assert [c.change.change for c in overall(found, "in photos")] == [Change.UNCHANGED]


def test_a_hand_at_the_dry_fit_and_a_photo_later_are_compared_with_what_is_unknown() -> None:
    found = full(shows(LATER, measured(5, LATER)), records=[dry(3)])
    (compared,) = overall(found)
    assert compared.how == "by hand and in photos"
    assert compared.change.difference
    assert dict(compared.change.difference.parts)["card lip: card 3"] == pytest.approx(0.1)


def test_a_photo_stands_as_the_record_of_its_day_says() -> None:
    records = [dry(3, clamped=False), handover(3)]
    found = both(3.0, 3.0, records=records)
    (compared,) = overall(found, "in photos")
    assert compared.not_comparable, "loose at the dry fit, by the record of that day"


def stood(event: Event, began: str, **said):
    return milestone(event, began, f"n-{event.name}-{said.get('piece', '')}", **said)


def test_a_day_with_photos_alone_stands_as_its_step_says() -> None:
    """Nobody read a gauge that day: the step says how warm and how loose the pieces were."""
    at_dry_fit = stood(
        Event.DRY_FIT, "2026-05-04 09:30", temperature=celsius(5), clamped=False, set_level=True
    )
    found = both(records=[at_dry_fit])
    first = next(r for r in found.readings if r.stage is Stage.DRY_FIT)
    assert first.celsius == 5.0
    assert first.state == ("set level", "not clamped")
    (compared,) = overall(found, "in photos")
    assert compared.not_comparable, "loose at the dry fit, by the step of that day"

    warm = stood(Event.HANDOVER, "2026-05-08 09:30", temperature=celsius(25))
    held = replace(at_dry_fit, body=replace(at_dry_fit.body, clamped=True))
    width = {"material": "acrylic", "panel_width": mm(900)}
    (compared,) = overall(both(records=[held, warm], **width), "in photos")
    assert not compared.not_comparable
    # Wider when cold: 20 K over 900 mm of acrylic at 70e-6 per K (rules/materials) is 1.26 mm.
    assert compared.change.heat_mm == pytest.approx(-20 * 900 * 70e-6, rel=0.15)


@pytest.mark.parametrize(
    "said",
    [
        {"began": "2026-05-03 09:30"},  # another day
        {"event": Event.INSTALLATION_STARTED},  # another step
        {"seams": ("s2",)},  # another seam
    ],
)
def test_a_step_speaks_for_photos_of_its_own_day_stage_and_seam(said) -> None:
    said = {"event": Event.DRY_FIT, "began": "2026-05-04 09:30"} | said
    found = both(records=[stood(said.pop("event"), said.pop("began"), clamped=False, **said)])
    first = next(r for r in found.readings if r.stage is Stage.DRY_FIT)
    assert first.state == ()
    assert first.celsius is None


def test_readings_of_the_day_are_asked_before_its_step() -> None:
    step = stood(Event.DRY_FIT, "2026-05-04 09:30", temperature=celsius(5), clamped=False)
    found = both(records=[step, dry(3, clamped=True)])
    shot = next(r for r in found.readings if "scale card" in r.instrument)
    assert shot.state == ("in the opening", "set level", "clamped")
    assert shot.celsius is None


def test_the_prints_scale_and_the_edges_radius_enter() -> None:
    small = sheet(along=mm("240"), across=mm("163.2"))
    found = known(shows(DRY, measured(3)), benched=False)
    kept = tuple(r for r in found.records if r.kind != "card_sheet")
    gap = only(case(replace(found, records=(*kept, small))))
    assert gap.gap
    assert gap.gap.value_mm == pytest.approx(3 * 0.96)
    rounded = only(full(shows(DRY, measured(3)), edge_radius=mm("1.2")))
    assert rounded.gap
    assert rounded.gap.value_mm < 3, "a rounder edge shows a wider opening than the faces leave"


def test_a_card_that_the_job_does_not_name_is_told_and_chance_tags_are_not() -> None:
    told = only(full(shows(DRY, measured(3, card=9))))
    assert "job.toml names it at no station" in told.refused
    chance = full(shows(DRY, not_measured(card=9, why=Why.TAG_MISSING)))
    assert chance.photo_gaps == ()


@pytest.mark.parametrize("joint", [Joint.CORNER, Joint.INTERLOCKING])
def test_a_card_serves_no_corner_and_no_interlocking_joint(joint: Joint) -> None:
    design = {"design_gap_min": None, "design_gap_max": None}
    gap = only(full(shows(DRY, measured(3)), joint=joint, **design))
    assert gap.refused
    assert gap.gap is None


def test_the_bench_check_adds_what_it_showed_of_the_camera() -> None:
    gap = only(full(shows(DRY, measured(3))))
    assert gap.gap
    errors = (0.05, -0.08, 0.02, 0.1, -0.04)
    bias = sum(errors) / 5
    spread = math.sqrt(sum((e - bias) ** 2 for e in errors) / 4)
    part = dict(gap.gap.parts)["bench check: bench"]
    assert part == pytest.approx(math.hypot(bias, spread / math.sqrt(5)))


@pytest.mark.parametrize(
    "errors, passes",
    [
        ((0.05, -0.08, 0.02, 0.1, -0.04), True),
        ((0.05, -0.08, 0.02, 0.1), False),  # four photos
        ((0.29, 0.3, 0.28, 0.3, 0.29), False),  # a bias that may be over 0.3 mm
        ((0.6, -0.6, 0.5, -0.5, 0.0), False),  # no bias, and most outside their own U
        ((0.4, 0.0, 0.0, -0.1, 0.05), True),  # one of five outside: chance alone gives 23 %
    ],
)
def test_the_bench_check_is_a_gate(errors: tuple[float, ...], passes: bool) -> None:
    records, photos, seen = bench_check(errors)
    found = full(*seen, records=records, photos=photos, benched=False)
    (bench,) = found.benches
    assert bench.passed is passes, bench.because


def bench_of(errors, *changed):
    """The bench check of these errors; `changed` says what photo number n shows instead."""
    records, photos, seen = bench_check(errors)
    shown = list(seen)
    for number, what in changed:
        if what is None:
            photos[number] = photo("photos/elsewhere.jpg", None)
        else:
            shown[number] = replace(shown[number], readings=what)
    return full(*shown, records=records, photos=photos, benched=False).benches[-1]


FIVE = (0.05, -0.08, 0.02, 0.1, -0.04)


def test_the_figures_of_a_bench_check_are_mean_and_scatter() -> None:
    """0.1 and 0.3: mean 0.2, s = 0.2/sqrt(2), s/sqrt(2) = 0.1 (JCGM 100:2008, 4.2)."""
    bench = bench_of((0.1, 0.3))
    assert bench.bias_mm == pytest.approx(0.2)
    assert bench.spread_mm == pytest.approx(0.2 / math.sqrt(2))
    assert bench.u_bias_mm == pytest.approx(0.1)
    assert bench.because.startswith(
        "2 photos of known spacers: mean error +0.20 mm (standard uncertainty 0.10 mm), spread "
        "0.14 mm, 1 of 2 within their own U."
    )
    one = bench_of((0.1,))
    assert (one.bias_mm, one.spread_mm, one.u_bias_mm) == (None, None, None)
    assert one.because == "It does not pass: 1 of its photos could be measured and 5 are needed."


def test_the_bias_counts_with_its_own_uncertainty() -> None:
    """Mean 0.19, s = sqrt(0.072/4), u = s/sqrt(5) = 0.06: 0.19 + 2 * 0.06 = 0.31 mm."""
    bench = bench_of((0.25, 0.25, 0.25, -0.05, 0.25))
    assert bench.outside == 0
    assert not bench.passed
    assert "may be 0.31 mm, more than 0.3 mm" in bench.because


def test_what_a_bench_photo_does_not_show_is_told_and_counts_for_nothing() -> None:
    path = "photos/bench/0.jpg"
    refused = not_measured(path, card=7)
    # A second card that cannot be read takes nothing from the first.
    assert bench_of(FIVE, (0, (measured(4.05, path), refused))).passed
    for readings, told in (
        ((refused,), refused.refusal.sentence),
        ((), "No scale card is seen in it."),
        ((measured(4, path), measured(4, path, card=7)), "It shows 2 cards that can be read"),
    ):
        bench = bench_of(FIVE, (0, readings))
        assert told in bench.rows[0].refused
        assert "4 of its photos could be measured" in bench.because
        assert not bench.passed
    missing = bench_of(FIVE, (4, None))
    assert missing.rows[4].refused == "There is no photo at that path."
    assert not missing.passed


def test_a_card_that_was_checked_counts_though_nobody_measured_its_sheet() -> None:
    found = known(shows(DRY, measured(3)))
    bare = replace(found, records=tuple(r for r in found.records if r.kind != "card_sheet"))
    assert only(case(bare)).decides
    # Another card may be of another print.
    station = (Station(id="top", card=7),)
    found = known(shows(DRY, measured(3, card=7)), station=station)
    bare = replace(found, records=tuple(r for r in found.records if r.kind != "card_sheet"))
    gap = only(case(bare))
    assert not gap.decides
    assert "with card 7 and the camera Fairlight F2" in gap.because


def test_two_loose_tags_in_one_picture_claim_no_stage() -> None:
    both_tags = tuple(LooseTag(sha(DRY), 584 + n, tag) for n, tag in enumerate(SHOWS))[:2]
    gap = only(full(replace(shows(DRY, measured(3)), loose=both_tags)))
    assert gap.stage is None
    assert "stand in one picture" in gap.because


def test_photos_of_one_reading_span_its_time_and_share_its_record() -> None:
    other = "photos/dry-fit-2.jpg"
    taken = [photo(DRY, WHEN[DRY]), photo(other, "2026-05-04 10:05:00")]
    seen = (shows(DRY, measured(3.0)), shows(other, measured(3.0, other)))
    found = full(*seen, photos=taken, records=[dry(3, piece="second")])
    (reading,) = [r for r in found.readings if r.meaning is Meaning.OPENING]
    stands = [d.stands for d in found.photos if d.sha256 in (sha(DRY), sha(other))]
    assert reading.taken.earliest == min(s.earliest for s in stands)
    assert reading.taken.latest == max(s.latest for s in stands)
    assert reading.taken.earliest != stands[0].latest
    assert reading.instrument == "scale card 3 in 2 photos"
    assert reading.piece == "second"
    (single,) = [r for r in full(shows(DRY, measured(3))).readings if r.meaning is Meaning.OPENING]
    assert single.instrument == "scale card 3 in a photo"
    assert single.piece is None


def test_what_photos_scatter_beyond_their_own_uncertainty_is_a_part_of_its_own() -> None:
    """By hand: s of the mean 0.4; own part of each 0.04 * sqrt(2); sqrt(0.16 - 0.0032) = 0.396.

    JCGM 100:2008, 4.2.3; the scale's share in it is below 1e-5 mm.
    """
    other = "photos/dry-fit-2.jpg"
    taken = [photo(DRY, WHEN[DRY]), photo(other, "2026-05-04 10:05:00")]
    found = full(shows(DRY, measured(3.0)), shows(other, measured(3.8, other)), photos=taken)
    (reading,) = [r for r in found.readings if r.meaning is Meaning.OPENING]
    (more,) = [u for cause, u in reading.measurement.parts if cause.startswith("between")]
    assert more == pytest.approx(math.sqrt(0.16 - 0.0032), abs=1e-5)


def test_a_bench_check_whose_camera_is_not_named_does_not_pass() -> None:
    records, photos, seen = bench_check(make=None, model=None)
    (bench,) = full(*seen, records=records, photos=photos, benched=False).benches
    assert not bench.passed
    assert "which camera" in bench.because


def test_the_tail_is_that_of_the_binomial_distribution() -> None:
    """Against the terms summed by hand: 1 - 0.95^5, and less 5 * 0.05 * 0.95^4."""
    assert _tail(5, 1) == pytest.approx(1 - 0.95**5)
    assert _tail(5, 2) == pytest.approx(1 - 0.95**5 - 5 * 0.05 * 0.95**4)
    assert _tail(5, 0) == pytest.approx(1.0)


def test_a_step_that_somebody_read_takes_the_unknown_one_out() -> None:
    """A panel 1 mm proud, seen 0.2 to the side, moves the edge by 0.2 mm (plane geometry)."""
    seen = measured(3.0)
    parts = dict(seen.measurement.parts) if seen.measurement else {}
    unknown = replace(
        seen,
        measurement=Measurement.of(3.0, parts | {f"step: card 3 in photo {sha(DRY)[:12]}": 0.2}),
        view=View(px_per_mm=10, tilt_deg=11, tan_across=0.2, residual_px=0.3, blur_mm=0.1),
    )
    body = replace(dry(3).body, at=(Reading(station="top", gap=(mm(3),), step=mm(1)),))
    told = only(full(shows(DRY, unknown), records=[record("r1-dry", body)]))
    assert told.gap
    assert told.gap.value_mm == pytest.approx(3.2)
    (step,) = [u for cause, u in told.gap.parts if cause.startswith("step")]
    assert step == pytest.approx(0.15 * 0.2)
    without = only(full(shows(DRY, unknown), records=[dry(3)]))
    assert without.gap
    assert without.gap.value_mm == 3.0


def several(*gaps: float, days: dict[int, str] | None = None):
    """Photos of one station, a minute apart, that show these gaps; `days` moves some."""
    paths = [f"photos/dry-{n}.jpg" for n in range(len(gaps))]
    times = [(days or {}).get(n, f"2026-05-04 10:0{n}:00") for n in range(len(gaps))]
    seen = [shows(p, measured(g, p)) for p, g in zip(paths, gaps, strict=True)]
    found = full(*seen, photos=[photo(p, t) for p, t in zip(paths, times, strict=True)])
    value = {sha(p): g for p, g in zip(paths, gaps, strict=True)}
    return [(value[a.sha256], value[b.sha256]) for a, b in disagree(found)]


def test_photos_of_one_station_disagree_beyond_their_own_uncertainty() -> None:
    """Two of u = 0.08 mm each: 1.96 * 0.08 * sqrt(2) = 0.222 mm (the scale adds under 0.001)."""
    assert several(3.0, 3.2) == []
    assert several(3.0, 3.24) == [(3.0, 3.24)]
    assert several(3.24, 3.1, 3.0) == [(3.0, 3.24)], "the two furthest apart"
    assert several(3.0) == []
    # Of another day and stage they are not held against each other; one alone hides no pair.
    later = {0: WHEN[LATER]}
    assert several(4.0, 3.0, days=later) == []
    assert several(4.0, 3.0, 3.5, days=later) == [(3.0, 3.5)]
    later = {1: WHEN[LATER], 2: "2026-05-08 10:01:00"}
    assert several(4.0, 3.0, 3.5, days=later) == [(3.0, 3.5)]


def test_a_photo_that_decides_is_a_reading_before_the_sealant() -> None:
    def unread(path: str, benched: bool = True) -> list[str]:
        records = [
            milestone(Event.FASTENED, "2026-05-05 09:00", "m-f"),
            milestone(Event.SEALED, "2026-05-06 09:00", "m-s"),
        ]
        taken = [photo(DRY, WHEN[DRY]), photo("photos/fixed.jpg", "2026-05-05 12:00:00")]
        found = full(
            shows(path, measured(3, path)),
            records=records,
            photos=taken,
            benched=benched,
            station=(Station(id="top", card=3),),
        )
        return [u.seam for u in sealed_unread(found)]

    assert unread("photos/fixed.jpg") == []
    assert unread("photos/fixed.jpg", benched=False) == ["s1"], "it witnesses only"
    assert unread(DRY) == ["s1"], "of the dry fit"


def by_mark(stage=Stage.DRY_FIT, path=DRY, gap=None, **of_seam):
    body = MarkedPhoto(
        photo=path,
        seam="s1",
        station="top",
        stage=stage,
        rectangle=(mm("85.6"), mm("53.98")),
        corners=(0, 0, 856, 0, 856, 540, 0, 540),
        left=(400, 600),
        right=(440, 600),
    )
    found = known(records=[record("marked", body)], benched=False, **of_seam)
    worked = gap or Measurement.of(4.0, {"marks": 0.5})
    return marked(case(replace(found, marked=(MarkedGap("marked", worked),))))


def test_a_gap_marked_by_hand_is_a_reading_with_its_photos_time() -> None:
    (reading,) = by_mark()
    assert (reading.seam, reading.station, reading.stage) == ("s1", "top", Stage.DRY_FIT)
    assert reading.measurement.value_mm == 4.0
    assert reading.witness == (sha(DRY),)
    assert reading.witness_holds is Answer.YES
    assert reading.taken.earliest is not None
    assert f"{reading.taken.earliest:%H:%M:%S}" == "09:59:59", "10:00, less a second"
    # The photo is of the dry fit by its time, and the record says fastened.
    (other,) = by_mark(stage=Stage.FASTENED)
    assert other.witness_holds is Answer.CANNOT_TELL


def test_what_cannot_be_marked_is_no_reading() -> None:
    assert by_mark(path="photos/none.jpg") == ()
    assert by_mark(gap=Refusal.of(Why.CUT_OFF, places="top left", card=3)) == ()
    design = {"design_gap_min": None, "design_gap_max": None}
    assert by_mark(joint=Joint.CORNER, **design) == (), "two panels that share no plane"


def test_one_bench_photo_named_often_is_one_photo() -> None:
    records, photos, seen = bench_check()
    body = records[0].body
    again = replace(body, spacer=(body.spacer[0],) * 5)
    found = full(*seen, records=[record("bench", again)], photos=photos, benched=False)
    (bench,) = found.benches
    assert not bench.passed
    assert "1 of its photos could be measured" in bench.because


def test_the_later_of_two_bench_checks_decides_whatever_its_name() -> None:
    records, photos, seen = bench_check()
    late, late_photos, late_seen = bench_check((0.5, 0.55, 0.5, 0.6, 0.5), folder="later")
    body = replace(late[0].body, taken=moment("2026-05-04 08:00"))
    found = full(
        shows(DRY, measured(3)),
        *seen,
        *late_seen,
        records=[*records, record("a-later", body)],
        photos=[photo(DRY, WHEN[DRY]), *photos, *late_photos],
        benched=False,
    )
    assert [bench.record for bench in found.benches] == ["bench", "a-later"]
    assert not only(found).decides


@pytest.mark.parametrize(
    "sealed, opened_again, shown",
    [
        (None, None, True),
        ("2026-05-09 10:00", None, True),
        ("2026-05-07 10:00", None, False),
        ("2026-05-07 10:00", "2026-05-07 15:00", True),
    ],
)
def test_a_photo_after_the_sealing_shows_the_sealant(sealed, opened_again, shown) -> None:
    records = [milestone(Event.SEALED, sealed, "m-sealed")] if sealed else []
    if opened_again:
        records.append(milestone(Event.FASTENED, opened_again, "m-again"))
    gap = only(full(shows(LATER, measured(3, LATER)), records=records))
    assert (gap.refused == "") is shown


def test_a_photo_shows_the_pieces_that_stood_there_by_then() -> None:
    new = milestone(Event.DRY_FIT, "2026-05-06 09:00", "m-new", piece="no. 2")
    found = both(3.0, 5.0, records=[new])
    assert {r.stage: r.piece for r in found.readings} == {
        Stage.DRY_FIT: None,
        Stage.HANDOVER: "no. 2",
    }
    assert overall(found, "in photos") == [] or all(
        c.change.change is Change.CANNOT_TELL for c in overall(found)
    )


def test_one_shot_saved_again_is_one_reading() -> None:
    other = "photos/copy of dry-fit.jpg"
    taken = [photo(DRY, WHEN[DRY]), photo(other, WHEN[DRY], size_bytes=1_000_000)]
    found = full(shows(DRY, measured(3.0)), shows(other, measured(3.1, other)), photos=taken)
    (reading,) = [r for r in found.readings if r.meaning is Meaning.OPENING]
    assert reading.witness == (sha(DRY),), "the larger file is nearer to the camera's own"


def test_what_nothing_vouches_for_is_wider_than_what_was_checked() -> None:
    (bare,) = full(shows(DRY, measured(3)), benched=False).photo_gaps
    checked = only(full(shows(DRY, measured(3))))
    assert bare.gap
    assert checked.gap
    assert bare.gap.u_mm == pytest.approx(0.2)
    assert checked.gap.u_mm < 0.2


def test_an_unknown_step_keeps_its_room_when_the_radius_is_known() -> None:
    """Seen 0.3 to the side, U stays at 4.4 mm x (0.3 - 0.05) (rules, step)."""
    seen = measured(3.0)
    parts = dict(seen.measurement.parts) | {f"step: card 3 in photo {sha(DRY)[:12]}": 0.4}
    wide = replace(
        seen,
        measurement=Measurement.of(3.0, parts),
        view=View(px_per_mm=10, tilt_deg=17, tan_across=0.3, residual_px=0.3, blur_mm=0.1),
    )
    gap = only(full(shows(DRY, wide), edge_radius=mm("0.2")))
    without_bench = [u for cause, u in gap.gap.parts if not cause.startswith("bench")]
    assert 2.0 * math.hypot(*without_bench) == pytest.approx(4.4 * 0.25, rel=0.01)


def test_new_pieces_fitted_where_the_old_were_sealed_show_a_gap() -> None:
    records = [
        milestone(Event.SEALED, "2026-05-06 10:00", "m-sealed"),
        milestone(Event.DRY_FIT, "2026-05-07 09:00", "m-new", piece="no. 2"),
    ]
    assert only(full(shows(LATER, measured(3, LATER)), records=records)).refused == ""
