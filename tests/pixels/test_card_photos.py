"""Photos looked at for cards once: what is kept, what is made anew, what stops nothing."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest
from msgspec import structs
from PIL import Image

from claimkit.model.photo import Photo
from claimkit.pixels import card_photos
from claimkit.pixels.card_photos import all_cards, kept_cards
from claimkit.pixels.opencv import available
from tests.build import photo
from tests.compose.jobs import ROOT, sample_folder

needs_opencv = pytest.mark.skipif(available() is not None, reason="OpenCV is not installed")
PATH = "photos/dry fit/F2_0041.jpg"


def of_sample() -> tuple[Photo, bytes]:
    """A drawn photo with card 0 over a gap of 3.05 mm."""
    import hashlib

    data = (sample_folder("cold-garage") / PATH).read_bytes()
    sha256 = hashlib.sha256(data).hexdigest()
    return structs.replace(photo(PATH), sha256=sha256), data


@needs_opencv
def test_a_photo_is_looked_at_once(tmp_path: Path) -> None:
    shot, data = of_sample()
    place = tmp_path / "cache" / "cards.json"
    assert kept_cards([shot], place) == ()
    told: list[tuple[int, int]] = []
    (seen,) = all_cards([shot], lambda _: data, place, progress=lambda *n: told.append(n))
    assert told == [(1, 1)]
    assert {r.card for r in seen.readings} == {0}
    (both,) = [r for r in seen.readings if r.window.value == "both"]
    assert both.measurement
    assert abs(both.measurement.value_mm - 3.05) < 2 * both.measurement.u_mm

    def never(_: Photo) -> bytes:
        raise AssertionError("opened again")

    assert all_cards([shot], never, place) == (seen,), "exactly as it was measured"
    assert kept_cards([shot], place) == (seen,)


@needs_opencv
def test_a_damaged_cache_and_changed_code_hold_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shot, data = of_sample()
    place = tmp_path / "cards.json"
    (seen,) = all_cards([shot], lambda _: data, place)
    held = json.loads(place.read_text(encoding="utf-8"))
    for broken in (b"", b"{", b"[]", json.dumps(held | {"rows": {shot.sha256: {}}}).encode()):
        place.write_bytes(broken)
        assert kept_cards([shot], place) == ()
        assert all_cards([shot], lambda _: data, place) == (seen,)
    monkeypatch.setattr(card_photos, "_code", lambda: "other code")
    assert kept_cards([shot], place) == ()


@needs_opencv
def test_what_cannot_be_read_or_drawn_stops_no_other(tmp_path: Path) -> None:
    shot, data = of_sample()
    out = io.BytesIO()
    Image.new("L", (64, 64), 128).save(out, "JPEG")
    cut = out.getvalue()[:200]
    import hashlib

    broken = structs.replace(photo("b.jpg"), sha256=hashlib.sha256(cut).hexdigest())
    gone, changed = photo("gone.jpg"), photo("changed.jpg")

    def read(one: Photo) -> bytes:
        if one is gone:
            raise FileNotFoundError
        return {shot.sha256: data, broken.sha256: cut}.get(one.sha256, b"other bytes")

    seen = all_cards([gone, changed, broken, shot], read, tmp_path / "cards.json", workers=2)
    assert [one.sha256 for one in seen] == [broken.sha256, shot.sha256]
    assert seen[0].failed


def test_without_opencv_nothing_is_opened(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(card_photos, "available", lambda: "Install it.")
    shot, _ = of_sample()
    assert all_cards([shot], lambda _: 1 / 0, tmp_path / "cards.json") == ()  # type: ignore[arg-type, return-value]


@needs_opencv
def test_opencv_is_loaded_before_threads_ask_for_it(tmp_path: Path) -> None:
    """While it loads, other threads find it absent: two new photos then said “not installed”."""
    code = """
import sys
from pathlib import Path
from claimkit.pixels import card_photos
from tests.build import photo
told = []
card_photos._seen = lambda one, read: told.append("cv2" in sys.modules)
assert "cv2" not in sys.modules
card_photos.all_cards([photo("a.jpg")], lambda _: b"", Path(sys.argv[1]) / "cards.json", workers=2)
print(told)
"""
    run = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)],
        cwd=ROOT, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert run.stdout.strip() == "[True]"
