"""Positions: in the owner's packet alone, in none on request, and in no scaled picture."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest
from click.testing import CliRunner
from msgspec import structs
from PIL import Image

from claimkit.cli import app
from claimkit.compose.packet.order import compose
from claimkit.compose.packet.places import without_location
from claimkit.model.case import Case, Reader
from claimkit.model.document import statements
from claimkit.model.photo import Gps
from claimkit.model.stop import DONE
from tests.compose.jobs import JOBS, copy_of, sample_case
from tests.compose.test_sources import unsourced


def text_of(found: Case, reader: Reader) -> str:
    return "\n".join(s.text for _, s in statements(compose(found, reader)))


def everywhere(found: Case) -> Case:
    """Give every photo of a case a position of its own."""
    photos = tuple(
        structs.replace(
            photo, gps=structs.replace(photo.gps or Gps(), latitude=39.84 + n, longitude=-88.95 - n)
        )
        for n, photo in enumerate(found.facts.photos)
    )
    return replace(found, facts=replace(found.facts, photos=photos))


def parts_of(found: Case) -> list[str]:
    """Give what would show a position: degrees to two places, of every photo."""
    spots = [p.gps for p in found.facts.photos if p.gps and p.gps.latitude is not None]
    numbers = [abs(n) for g in spots for n in (g.latitude, g.longitude) if n is not None]
    return [f"{number:.2f}" for number in numbers]


@pytest.mark.parametrize("reader", list(Reader))
@pytest.mark.parametrize("name", JOBS)
def test_a_position_stands_in_the_owners_packet_alone(name: str, reader: Reader) -> None:
    found = everywhere(sample_case(name))
    secrets = parts_of(found)
    assert len(secrets) >= 8
    text = text_of(found, reader)
    shown = [secret for secret in secrets if secret in text]
    assert shown == (secrets if reader is Reader.OWN else [])


@pytest.mark.parametrize("reader", list(Reader))
@pytest.mark.parametrize("name", JOBS)
def test_on_request_no_packet_holds_a_position_or_the_address(name: str, reader: Reader) -> None:
    found = everywhere(sample_case(name))
    assert found.facts.job
    hidden = without_location(found)
    text = text_of(hidden, reader)
    assert not [secret for secret in parts_of(found) if secret in text]
    assert found.facts.job.site.address not in text
    for shipment in found.facts.job.shipment:
        assert not shipment.destination or f"{shipment.destination}\n" not in text
    assert unsourced(compose(hidden, reader), found) == []


def test_the_address_would_be_seen() -> None:
    """The job whose packet falls back on the site's address: the request is what hides it."""
    found = sample_case("ready-to-file")
    assert found.facts.job
    bare = replace(
        found.facts.job, shipment=(replace(found.facts.job.shipment[0], destination=None),)
    )
    found = replace(found, facts=replace(found.facts, job=bare))
    address = bare.site.address
    assert address in text_of(found, Reader.CARRIER)
    assert address not in text_of(without_location(found), Reader.CARRIER)


def segments(jpeg: bytes) -> set[int]:
    """Give the markers of a JPEG up to its first scan (ISO/IEC 10918-1, annex B)."""
    found, at = set(), 2
    assert jpeg[:2] == b"\xff\xd8"
    while jpeg[at + 1] != 0xDA:
        assert jpeg[at] == 0xFF
        found.add(jpeg[at + 1])
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
    return found


def test_scaled_pictures_in_a_packet_carry_no_metadata(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From originals with Exif and a position: no application segment but JFIF, no comment."""
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path / "cache"))
    monkeypatch.setenv("CLAIMKIT_WRITER", "test")
    root = tmp_path / "job"
    copy_of("ready-to-file", root)
    held = []
    for file in root.rglob("*.jpg"):
        with Image.open(file) as image:
            held.append(image.getexif().get_ifd(0x8825))
    assert any(held)  # the originals do hold a position
    options = ["packet", str(root), "--for", "own", "--as-of", "2026-10-20", "--without-location"]
    result = CliRunner().invoke(app, options)
    assert result.exit_code == DONE, result.output
    pictures = 0
    with pikepdf.open(root / "out" / "own-2026-10-20.pdf") as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Image":
                pictures += 1
                found = segments(thing.read_raw_bytes())
                assert not found & {*range(0xE1, 0xF0), 0xFE}
    assert pictures >= 7
