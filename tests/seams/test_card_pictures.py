"""The annotated picture: the card square and to scale, marks where they belong, words in full."""

from __future__ import annotations

import io
import math
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from claimkit.model.card import CardReading, Refusal, Why, Window
from claimkit.model.measurement import Measurement
from claimkit.pixels import card_pictures, opencv
from claimkit.pixels.card_pictures import annotated, say_mm
from claimkit.pixels.scale import PictureNotDrawn
from claimkit.rules import card_layout as layout
from tests.seams.photos import TURNED, needs_opencv, photo, seen
from tests.seams.test_read_cards import PLAIN, REFUSED

SCALE, MARGIN = 10.0, 8.0


def drawn(scene, **options):
    data = annotated(photo(scene), seen(scene).readings, px_per_mm=SCALE, **options)
    return np.asarray(Image.open(io.BytesIO(data)).convert("L")).astype(int)


def at(picture, x, y, half=4):
    """Give the mean grey around a place on the card, in mm."""
    u, v = round((x + MARGIN) * SCALE), round((y + MARGIN) * SCALE)
    return picture[v - half : v + half, u - half : u + half].mean()


@needs_opencv
@pytest.mark.parametrize(
    "camera",
    [TURNED, replace(TURNED, azimuth=3.5, roll=2.0), replace(TURNED, distance=300.0)],
)
def test_the_card_stands_square_and_to_scale_whatever_the_photo(camera):
    picture = drawn(replace(PLAIN, camera=camera))
    assert picture.shape[1] == round((92.0 + 2 * MARGIN) * SCALE)
    # Every cell of every tag is where the layout has it.
    for tag, (_, box) in zip(layout.tags_of(12), layout.TAG_PLACES, strict=True):
        for row, cells in enumerate(layout.cells(tag)):
            for column, white in enumerate(cells):
                grey = at(picture, box.x + 3.0 * column + 1.5, box.y + 3.0 * row + 1.5)
                assert (grey > 120) == white


@needs_opencv
def test_dark_is_between_the_marked_edges():
    picture = drawn(PLAIN)
    for y in (6.0, 22.0, 58.0, 74.0):
        assert at(picture, 46.0, y) < 110
        assert at(picture, 46.0 - 3.0, y) > 120
        assert at(picture, 46.0 + 3.0, y) > 120


@needs_opencv
def test_a_refused_window_is_crossed_out():
    # The cross goes through the panel beside the gap, where a measured window shows none.
    refused = next(scene for name, scene, _ in REFUSED if name == "grey filler")
    assert {r.refusal is None for r in seen(refused).readings} == {False}
    x, y = 33.0 + 26.0 * 0.25, 28.0 * 0.25
    plain, crossed = drawn(PLAIN), drawn(refused)
    u, v = round((x + MARGIN) * SCALE), round((y + MARGIN) * SCALE)
    assert crossed[v - 6 : v + 6, u - 6 : u + 6].min() < 60
    assert plain[v - 6 : v + 6, u - 6 : u + 6].min() > 120


@needs_opencv
def test_the_words_below(monkeypatch):
    told = []
    monkeypatch.setattr(
        card_pictures, "_with_text", lambda picture, lines, px: told.extend(lines) or picture
    )
    annotated(photo(PLAIN), seen(PLAIN).readings, title="East seam, top: dry fit")
    mean = seen(PLAIN).readings[2].measurement
    assert mean is not None
    assert told[0] == "East seam, top: dry fit"
    assert told[1] == f"Card 12, both windows: {say_mm(mean)} (k = 2)"
    assert [line.split(":")[0] for line in told[2:]] == [
        "Card 12, top window",
        "Card 12, bottom window",
    ]


def reading(window, why=None, value=3.0):
    refusal = Refusal.of(why) if why else None
    measurement = None if why else Measurement.of(value, {"a": 0.15})
    return CardReading("aa" * 32, 12, window, measurement, refusal)


def test_one_reason_for_all_is_told_once(monkeypatch):
    told = []
    monkeypatch.setattr(
        card_pictures, "_with_text", lambda picture, lines, px: told.extend(lines) or picture
    )
    blank = io.BytesIO()
    Image.new("RGB", (400, 300), "white").save(blank, "JPEG")
    annotated(blank.getvalue(), [reading(w, Why.CUT_OFF) for w in Window])
    assert told == [f"Card 12: not measured. {Refusal.of(Why.CUT_OFF).sentence}"]
    told.clear()
    mixed = [reading(Window.TOP), reading(Window.BOTTOM, Why.DARK), reading(Window.BOTH, Why.DARK)]
    annotated(blank.getvalue(), mixed)
    assert [line.split(":")[0] for line in told] == [
        "Card 12, both windows",
        "Card 12, top window",
        "Card 12, bottom window",
    ]


@pytest.mark.parametrize(
    "value,u,printed",
    [
        (3.0, 0.15, "3.00 ± 0.30 mm"),
        (2.346, 0.1501, "2.35 ± 0.31 mm"),  # U is rounded up
        (0.8, 0.5, "0.80 ± 1.00 mm"),
    ],
)
def test_numbers_are_rounded_once_and_u_upwards(value, u, printed):
    assert say_mm(Measurement.of(value, {"a": u})) == printed


def test_it_is_drawn_without_opencv(monkeypatch):
    monkeypatch.setattr(opencv, "has", lambda module: False)
    blank = io.BytesIO()
    Image.new("RGB", (400, 300), "white").save(blank, "JPEG")
    data = annotated(blank.getvalue(), [reading(w, Why.CUT_OFF) for w in Window])
    wide, high = Image.open(io.BytesIO(data)).size
    assert wide == 400
    assert high > 300  # the words stand below the picture


def test_damaged_photos_and_mixed_readings_are_errors():
    with pytest.raises(PictureNotDrawn):
        annotated(b"no picture", [reading(Window.TOP)])
    other = replace(reading(Window.TOP), card=13)
    with pytest.raises(ValueError, match="one card"):
        annotated(b"", [reading(Window.TOP), other])
    with pytest.raises(ValueError, match="one card"):
        annotated(b"", [])


def test_lines_break_at_the_width_and_lose_no_word():
    text = "Take away what casts a shadow or draws a line along the seam " * 3
    font = card_pictures._font(20)
    lines = card_pictures._broken(text, font, 300)
    assert " ".join(lines).split() == text.split()
    assert all(font.getlength(line) <= 300 for line in lines)
    assert math.ceil(font.getlength(text) / 300) <= len(lines)
