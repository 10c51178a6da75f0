"""Photos with a card measured: gaps that the renderer knows, and every refusal by its cause."""

from __future__ import annotations

import io
import math
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from claimkit.model.card import CardReading, Marks, Refusal, Why, Window
from claimkit.model.gap import Meaning
from claimkit.model.measurement import Measurement
from claimkit.pixels import opencv
from claimkit.pixels.cards import read_cards, read_grey
from claimkit.pixels.grey import GreyPicture
from claimkit.pixels.scale import PictureNotDrawn
from claimkit.rules import card_layout as layout
from tests.seams.photos import SMALL, SQUARE, TURNED, both, needs_opencv, photo, seen, smaller
from tests.seams.random_scenes import KINDS, good
from tests.seams.random_scenes import scene as drawn
from tests.seams.render_photo import (
    Card,
    Fill,
    Panels,
    Scene,
    project,
    render_grey,
)

PLAIN = Scene(panels=Panels(gap=3.0, texture=0.01), camera=TURNED)
SHA = "0" * 64


def with_panels(**changes):
    return replace(PLAIN, panels=replace(PLAIN.panels, **changes))


def with_card(**changes):
    return replace(PLAIN, card=replace(PLAIN.card, **changes))


def refusal(scene, **options):
    readings = read_cards(photo(scene), limits=SMALL, **options).readings
    return {r.window: r.refusal.why if r.refusal else None for r in readings}


# --- what is measured ------------------------------------------------------------------------


@needs_opencv
@pytest.mark.parametrize(
    "scene",
    [
        with_panels(gap=0.9),  # five pixels
        PLAIN,
        with_panels(gap=8.0, taper=0.25, slant=0.04),  # wide, tapering, askew
        with_panels(gap=2.0, albedo=(0.18, 0.2), gloss=0.8),  # dark and glossy
        replace(PLAIN, camera=replace(SQUARE, roll=math.pi / 2)),  # held upright
    ],
)
def test_a_known_gap_is_inside_the_interval(scene):
    for reading, true in zip(seen(scene).readings, (*scene.truth(), scene.panels.gap), strict=True):
        assert reading.refusal is None, reading
        assert reading.measurement is not None
        error = reading.measurement.value_mm - true
        assert abs(error) <= 2.0 * reading.measurement.u_mm
        assert abs(error) <= 0.2


@needs_opencv
def test_the_three_readings_of_a_card():
    top, bottom, mean = seen(PLAIN).readings
    assert [r.window for r in (top, bottom, mean)] == [Window.TOP, Window.BOTTOM, Window.BOTH]
    assert {r.card for r in (top, bottom, mean)} == {12}
    assert top.measurement
    assert bottom.measurement
    assert mean.measurement
    assert mean.measurement.value_mm == pytest.approx(
        (top.measurement.value_mm + bottom.measurement.value_mm) / 2.0
    )


@needs_opencv
def test_how_the_card_was_seen_is_what_the_camera_did():
    view = both(PLAIN).view
    assert view is not None
    assert view.tilt_deg == pytest.approx(14.0, abs=1.0)
    assert view.tan_across == pytest.approx(math.tan(math.radians(14.0)) * math.cos(0.6), abs=0.02)
    u, v = project(TURNED, np.array([45.5, 46.5]), np.array([40.0, 40.0]))
    assert view.px_per_mm == pytest.approx(math.hypot(u[1] - u[0], v[1] - v[0]), rel=0.01)


@needs_opencv
def test_the_edges_are_marked_where_the_renderer_put_them():
    top = seen(PLAIN).readings[0]
    assert top.marks is not None
    half = PLAIN.panels.gap_at(14.0) / 2.0
    for side, points in ((-1.0, top.marks.left), (1.0, top.marks.right)):
        u, v = project(TURNED, np.array([46.0 + side * half] * 2), np.array([4.0, 24.0]))
        line = np.array([u[1] - u[0], v[1] - v[0]]) / math.hypot(u[1] - u[0], v[1] - v[0])
        for x, y in points:
            off = (x - u[0]) * line[1] - (y - v[0]) * line[0]
            assert abs(off) < 1.5  # pixels; a third of a millimetre
    corners = np.array(top.marks.card)
    expected = np.stack(project(TURNED, *np.array(layout.CARD.corners).T), axis=1)
    assert np.abs(corners - expected).max() < 2.0


@needs_opencv
def test_what_photos_of_one_card_share_cancels_in_their_difference():
    later = with_panels(gap=3.4)
    first, second = both(PLAIN).measurement, both(later).measurement
    assert first
    assert second
    change = second.minus(first)
    parts = {cause.split(":")[0]: part for cause, part in change.parts}
    assert parts["card lip"] == 0.0
    assert parts["card scale"] == pytest.approx(0.004 * change.value_mm)
    assert change.value_mm == pytest.approx(0.4, abs=0.05)


@needs_opencv
def test_the_parts_are_named_by_cause():
    measurement = seen(PLAIN).readings[0].measurement
    assert measurement
    photo_id = seen(PLAIN).readings[0].photo_sha[:12]
    assert [cause for cause, _ in measurement.parts if cause != "rounded edges: card 12"] == [
        "card lip: card 12",
        "card scale: card 12",
        f"edges: card 12 in photo {photo_id}",
        f"scatter: card 12 in photo {photo_id}, top window",
        f"step: card 12 in photo {photo_id}",
    ]


@needs_opencv
def test_what_seems_rounded_in_one_window_counts_in_both():
    # The windows show the same two edges; the lower gap alone would be read as sharp-edged.
    readings = seen(with_panels(radius=(1.0, 1.0))).readings
    parts = [dict(r.measurement.parts)["rounded edges: card 12"] for r in readings if r.measurement]
    assert len(parts) == 3
    assert len(set(parts)) == 1
    assert parts[0] > 0.3


@needs_opencv
def test_a_little_too_far_from_square_is_read_wide_and_with_a_caution():
    for azimuth, why in ((1.571, Why.TILT), (0.0, Why.ACROSS)):
        tilt = {Why.TILT: 26.0, Why.ACROSS: 21.5}[why]
        camera = replace(TURNED, tilt=math.radians(tilt), azimuth=azimuth)
        reading = both(replace(with_panels(gap=5.0), camera=camera))
        assert reading.measurement is not None, reading.refusal
        assert why in [caution.why for caution in reading.cautions]
        assert 2.0 * reading.measurement.u_mm >= 0.5
        assert abs(reading.measurement.value_mm - 5.0) <= 2.0 * reading.measurement.u_mm


@needs_opencv
def test_a_lit_floor_beside_a_shadow_is_not_taken_for_panel():
    # The phone's lamp lights a floor that is lighter than the panels: of a gap of 5.5 mm only the
    # shadow, half a millimetre wide, is dark.
    lit = drawn("flash", np.random.default_rng((11, KINDS.index("flash"), 18)))
    assert lit.panels.gap > 5.0
    reading = both(smaller(lit))
    assert reading.refusal is not None
    assert reading.refusal.why is Why.SECOND_LINE


@needs_opencv
def test_the_step_part_has_the_sign_of_the_side_it_was_seen_from():
    # Two photos from opposite sides: the mean then holds less of it.
    other = replace(PLAIN, camera=replace(TURNED, azimuth=math.pi - 0.6))
    steps = []
    for scene in (PLAIN, other):
        measurement = both(scene).measurement
        assert measurement
        steps += [part for cause, part in measurement.parts if cause.startswith("step: ")]
    assert steps[0] > 0.0 > steps[1]


@needs_opencv
def test_a_panel_standing_proud_stays_inside_the_interval():
    for step in (-1.2, 1.2):
        scene = with_panels(step=step)
        measurement = both(scene).measurement
        assert measurement
        assert abs(measurement.value_mm - 3.0) <= 2.0 * measurement.u_mm


@needs_opencv
def test_tags_printed_half_a_turn_round_are_read_alike():
    # The family's authors draw each tag turned by half a turn against OpenCV.
    turned, plain = both(with_card(turned=True)).measurement, both(PLAIN).measurement
    assert turned
    assert plain
    assert turned.value_mm == pytest.approx(plain.value_mm, abs=0.02)


@needs_opencv
def test_one_photo_always_gives_the_same_readings():
    assert read_cards(photo(PLAIN), limits=SMALL) == seen(PLAIN)


@needs_opencv
@pytest.mark.parametrize("kind", ["PNG", "WEBP", "TIFF"])
def test_other_kinds_of_picture_are_measured_too(kind):
    image = Image.open(io.BytesIO(photo(PLAIN)))
    out = io.BytesIO()
    image.save(out, kind, **({"lossless": True} if kind == "WEBP" else {}))
    again = read_cards(out.getvalue(), limits=SMALL).readings[2].measurement
    first = both(PLAIN).measurement
    assert again
    assert first
    assert again.value_mm == pytest.approx(first.value_mm, abs=0.01)


@needs_opencv
def test_a_stored_turn_changes_the_marks_and_not_the_gap():
    image = Image.open(io.BytesIO(photo(PLAIN))).convert("L").transpose(Image.Transpose.ROTATE_90)
    out = io.BytesIO()
    image.save(out, "PNG")
    upright = read_cards(out.getvalue(), limits=SMALL, orientation=6).readings[2]
    lying = read_cards(out.getvalue(), limits=SMALL, orientation=6, upright_when_decoded=True)
    first = both(PLAIN)
    assert upright.measurement
    assert first.measurement
    assert upright.measurement.value_mm == pytest.approx(first.measurement.value_mm, abs=0.01)
    assert upright.marks
    assert first.marks
    assert np.array(upright.marks.card) == pytest.approx(np.array(first.marks.card), abs=0.5)
    turned = lying.readings[2].measurement
    assert turned
    assert turned.value_mm == pytest.approx(first.measurement.value_mm, abs=0.02)


@needs_opencv
def test_the_focal_length_that_a_camera_states_is_used():
    # A doubled focal length from twice as far: only the statement tells the two cameras apart.
    camera = replace(TURNED, focal_35=52.0, distance=2.0 * TURNED.distance)
    image = Image.open(io.BytesIO(photo(replace(PLAIN, camera=camera))))
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0xA405] = 52
    out = io.BytesIO()
    image.save(out, "JPEG", quality=95, exif=exif)
    view = read_cards(out.getvalue(), limits=SMALL).readings[2].view
    assert view is not None
    true = math.tan(math.radians(14.0)) * math.cos(0.6)
    assert view.tan_across == pytest.approx(true, abs=0.02)


# --- what is refused -------------------------------------------------------------------------

FAR_CAMERA = replace(SQUARE, distance=SQUARE.distance * 2.4)
REFUSED = [
    # name, scene, why: one guard each
    ("copy", replace(PLAIN, develop=replace(PLAIN.develop, long_side=960)), Why.COPY),
    ("far", replace(PLAIN, camera=FAR_CAMERA), Why.FAR),
    ("tilt", replace(PLAIN, camera=replace(TURNED, tilt=0.6, azimuth=1.571)), Why.TILT),
    (
        "from the side",
        replace(PLAIN, camera=replace(TURNED, tilt=0.46, azimuth=0.0)),
        Why.ACROSS,
    ),
    ("tag covered", with_card(covered=2), Why.TAG_MISSING),
    ("tags swapped", with_card(tags=(48, 49, 51, 50)), Why.NOT_A_CARD),
    ("card bent up", with_card(curl=7.0), Why.NOT_FLAT),
    ("blurred", replace(PLAIN, develop=replace(PLAIN.develop, blur=2.2)), Why.BLURRED),
    ("overexposed", replace(PLAIN, develop=replace(PLAIN.develop, exposure=1.5)), Why.BRIGHT),
    ("narrow", with_panels(gap=0.45), Why.NARROW),
    ("wide", replace(with_panels(gap=17.5, depth=60.0), camera=SQUARE), Why.WIDE),
    ("off centre", with_panels(gap=6.0, offset=8.6), Why.OFF_CENTRE),
    ("askew", with_panels(slant=0.13), Why.SLANTED),
    ("white filler", with_panels(fill=Fill(0.7, 0.3, 0.2)), Why.CONTRAST),
    ("grey filler", with_panels(fill=Fill(0.2, 0.3, 0.2)), Why.FILLED),
    ("black filler over the edges", with_panels(fill=Fill(0.07, 0.3, 0.2, 0.5)), Why.FILLED),
    ("windows differ", with_panels(taper=0.9), Why.WINDOWS_DIFFER),
]


@needs_opencv
@pytest.mark.parametrize("scene,why", [r[1:] for r in REFUSED], ids=[r[0] for r in REFUSED])
def test_each_guard_refuses_by_name(scene, why):
    reading = both(scene)
    assert reading.measurement is None
    assert reading.refusal is not None
    assert reading.refusal.why is why, reading.refusal.found
    assert reading.refusal.found.endswith(".")
    assert reading.refusal.do_next.endswith(".")


@needs_opencv
def test_a_card_of_another_job_is_refused():
    assert set(refusal(PLAIN, registered={3}).values()) == {Why.NOT_OURS}
    assert set(refusal(PLAIN, registered={12}).values()) == {None}


@needs_opencv
def test_mixed_tags_are_two_cards_with_tags_missing():
    scene = with_card(tags=(48, 49, 50, 99))
    readings = read_cards(photo(scene), limits=SMALL).readings
    assert {(r.card, r.refusal and r.refusal.why) for r in readings} == {(12, Why.TAG_MISSING)}
    named = read_cards(photo(scene), limits=SMALL, registered={12, 24}).readings
    assert {r.card for r in named} == {12, 24}
    assert {r.refusal and r.refusal.why for r in named} == {Why.TAG_MISSING}


@needs_opencv
def test_two_cards_of_one_number_are_refused_and_two_numbers_are_both_read():
    left = render_grey(replace(PLAIN, camera=SQUARE), samples=2)
    other = replace(PLAIN, camera=SQUARE, card=Card(number=13))
    right = render_grey(other, samples=2)
    twice = read_grey(GreyPicture(np.hstack([left, left]), None), SHA, limits=SMALL)
    assert {r.refusal and r.refusal.why for r in twice.readings} == {Why.TWICE}
    two = read_grey(GreyPicture(np.hstack([left, right]), None), SHA, limits=SMALL)
    assert [r.card for r in two.readings] == [12, 12, 12, 13, 13, 13]


@needs_opencv
def test_a_card_cut_off_is_refused():
    picture = render_grey(replace(PLAIN, camera=SQUARE), samples=2)
    left = project(SQUARE, np.array([1.0]), np.array([40.0]))[0]
    cut = GreyPicture(picture[:, round(float(left[0])) :], None)
    readings = read_grey(cut, SHA, limits=SMALL).readings
    assert {r.refusal and r.refusal.why for r in readings} == {Why.CUT_OFF}


@needs_opencv
def test_far_but_not_too_far_is_read_wide_and_with_a_caution():
    scene = replace(
        PLAIN, camera=replace(SQUARE, distance=SQUARE.distance * 1.3), panels=Panels(gap=5.0)
    )
    reading = both(scene)
    assert reading.measurement is not None
    assert [c.why for c in reading.cautions] == [Why.FAR]
    assert 2.0 * reading.measurement.u_mm >= 0.5
    assert abs(reading.measurement.value_mm - 5.0) <= 2.0 * reading.measurement.u_mm


@needs_opencv
def test_well_rounded_edges_are_read_wide_and_with_a_caution():
    reading = both(with_panels(radius=(1.0, 1.0)))
    assert reading.measurement is not None
    assert Why.ROUNDED in [c.why for c in reading.cautions]
    assert 2.0 * reading.measurement.u_mm >= 0.5
    assert abs(reading.measurement.value_mm - 3.0) <= 2.0 * reading.measurement.u_mm


@needs_opencv
def test_a_radius_that_was_entered_is_used():
    scene = with_panels(radius=(0.9, 0.9))
    read = read_cards(photo(scene), limits=SMALL, radius_mm=0.9).readings[2]
    assert read.measurement
    assert read.cautions == ()
    assert read.measurement.value_mm == pytest.approx(3.0, abs=0.2)


# --- what is no card -------------------------------------------------------------------------


@needs_opencv
def test_a_photo_without_cards_says_nothing():
    empty = replace(PLAIN, card=Card(number=None))
    assert seen(empty).readings == ()
    assert seen(empty).loose == ()


def with_tag(picture, tag, x, y, cell=14):
    """Lay one tag with a white border into a picture."""
    cells = np.pad(np.array(layout.cells(tag)), 1, constant_values=True)
    block = np.kron(cells, np.ones((cell, cell))) * 200 + 20
    picture[y : y + block.shape[0], x : x + block.shape[1]] = block.astype(np.uint8)


@needs_opencv
def test_loose_tags_are_told_with_their_words():
    picture = render_grey(PLAIN, samples=2).copy()
    with_tag(picture, 585, 20, 20)
    found = read_grey(GreyPicture(picture, None), SHA, limits=SMALL)
    assert [(tag.tag, tag.words) for tag in found.loose] == [(585, "FASTENED")]
    assert found.readings[2].measurement is not None


@needs_opencv
def test_a_lone_tag_is_told_only_of_a_card_of_the_job():
    picture = np.full((1200, 1600), 180, np.uint8)
    with_tag(picture, 200, 300, 300)
    grey = GreyPicture(picture, None)
    assert read_grey(grey, SHA, limits=SMALL).readings == ()
    named = read_grey(grey, SHA, limits=SMALL, registered={50})
    assert {r.refusal and r.refusal.why for r in named.readings} == {Why.TAG_MISSING}
    assert "top right" in named.readings[0].refusal.found


@needs_opencv
def test_a_damaged_picture_is_an_error_with_its_reason():
    with pytest.raises(PictureNotDrawn, match="ends before"):
        read_cards(photo(PLAIN)[:20000], limits=SMALL)
    with pytest.raises(PictureNotDrawn):
        read_cards(b"no picture at all", limits=SMALL)


# --- without OpenCV --------------------------------------------------------------------------


def test_without_opencv_the_message_says_what_to_install(monkeypatch):
    monkeypatch.setattr(opencv, "has", lambda module: module != "cv2")
    assert opencv.available() == (
        "Gaps in photos are not measured: OpenCV is not installed. "
        'Install with: pip install "claimkit[measure]"'
    )
    with pytest.raises(opencv.CannotMeasure) as told:
        read_cards(b"")
    assert told.value.reason == opencv.available()


def test_the_heavy_libraries_load_only_when_a_photo_is_measured():
    code = (
        "import sys, claimkit.pixels.cards, claimkit.pixels.card_pictures, claimkit.model.card, "
        "claimkit.pixels.by_hand, claimkit.findings.seams.known, claimkit.pixels.guards; "
        "print([m for m in ('cv2', 'numpy', 'PIL') if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert out.stdout.strip() == "[]"


# --- the types -------------------------------------------------------------------------------


def test_a_reading_has_a_measurement_or_a_refusal_and_not_both():
    refused, measured = Refusal.of(Why.NO_GAP), Measurement.of(1.0, {"a": 0.1})
    for both_or_none in ((measured, refused), (None, None)):
        with pytest.raises(ValueError, match="either"):
            CardReading(SHA, 1, Window.TOP, *both_or_none)


def test_a_reading_says_that_it_met_the_visible_opening():
    reading = CardReading(SHA, 1, Window.TOP, Measurement.of(1.0, {"a": 0.1}), None)
    assert reading.meaning == Meaning.OPENING


def test_every_reason_has_sentences_that_say_what_to_do():
    from claimkit.model.card import SENTENCES

    assert set(SENTENCES) == set(Why)
    for found, do_next in SENTENCES.values():
        assert found.endswith(".")
        assert do_next.endswith(".")
        assert do_next.split()[0][0].isupper()


# --- a seeded slice of the accuracy study ----------------------------------------------------


@needs_opencv
def test_a_slice_of_random_photos_keeps_its_intervals():
    errors, refused = [], []
    for n in range(6):
        scene = smaller(good(np.random.default_rng((77, n))))
        reading = both(scene)
        if reading.measurement is None:
            refused.append(reading.refusal)
            continue
        error = reading.measurement.value_mm - scene.panels.gap
        assert abs(error) <= 3.0 * 2.0 * reading.measurement.u_mm
        errors.append(abs(error) <= 2.0 * reading.measurement.u_mm)
    angle = [refusal for refusal in refused if refusal.why in (Why.TILT, Why.ACROSS)]
    assert len(errors) >= 4
    assert len(refused) - len(angle) <= 1, refused
    assert sum(errors) >= len(errors) - 1


@needs_opencv
def test_a_slice_of_filled_joints_gives_no_number():
    for n in range(3):
        reading = both(smaller(drawn("caulk", np.random.default_rng((78, n)))))
        assert reading.measurement is None
        assert reading.refusal is not None


def test_marks_without_a_window_are_those_of_a_refused_card():
    assert Marks(((0.0, 0.0),) * 4).window == ()
