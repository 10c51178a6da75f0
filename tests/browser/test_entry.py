"""A whole delivery entered with a thumb, offline, and read back by intake."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pypdfium2
import pytest

from claimkit.findings.receipt.grade import grade
from claimkit.intake.metadata.photo import read_bytes
from claimkit.model.photo import FileKind, OtherFile
from claimkit.model.receipt import Grade, Reservation
from claimkit.model.records import ReceiptForm, Wrap
from tests.browser.phone import (
    Phone,
    clean_delivery,
    delivery,
    phone,
    read_saved,
    two_damages,
    write_page,
)


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    return write_page(tmp_path_factory.mktemp("page")).as_uri()


def test_a_clean_delivery_takes_under_25_taps(chromium: Any, address: str) -> None:
    with phone(chromium, address) as user:
        user.thumb = True
        clean_delivery(user)
        assert user.page.inner_text("#open") == "Nothing is open."
        saved = user.save()
        assert user.errors == []
    assert user.taps == 23  # as docs/receiving.md says; under 25
    records, problems = read_saved(saved)
    assert problems == ()
    found = delivery(records)
    assert (found.units_received, found.cartons_received) == (2, 4)
    assert found.wrap is Wrap.INTACT
    assert found.receipt is ReceiptForm.PAPER
    assert found.signed is True
    assert found.driver_signed is True
    # 09:10, 09:22 and 09:30 in Chicago, typed from the zone's offset of -05:00 in May.
    assert found.arrived is not None
    assert found.arrived.at == datetime(2026, 5, 4, 14, 10, tzinfo=UTC)
    assert found.arrived.written == "2026-05-04 09:10:00-05:00"
    assert found.signed_at is not None
    assert found.signed_at.at == datetime(2026, 5, 4, 14, 22, tzinfo=UTC)
    assert found.driver_left is not None
    assert found.driver_left.at == datetime(2026, 5, 4, 14, 30, tzinfo=UTC)
    reading = grade(found.words, units_expected=2, units_received=2)
    assert (reading.grade, reading.reservation) == (Grade.RESERVATION_ONLY, Reservation.FULL)


def test_two_damages_take_under_45_taps(chromium: Any, address: str) -> None:
    with phone(chromium, address) as user:
        user.thumb = True
        two_damages(user)
        saved = user.save()
        assert user.errors == []
    assert user.taps == 36  # as docs/receiving.md says; under 45
    records, problems = read_saved(saved)
    assert problems == ()
    found = delivery(records)
    assert found.words == (
        "CTN 2/4 LOWER LEFT CORNER CRUSHED 4IN. 2 CTNS (1,3) BOTTOM WET 12IN. "
        "CONTENTS SUBJ TO FURTHER INSP. DRIVER DECLINED TO SIGN."
    )
    assert found.receipt is ReceiptForm.DEVICE
    assert found.driver_signed is False
    assert found.inspected is False
    assert grade(found.words).grade is Grade.SPECIFIC


def sign(user: Phone) -> None:
    """Draw two strokes in the field, as a finger does."""
    user.tap("open-pad")
    box = user.page.locator("canvas").bounding_box()
    for offset in (0.2, 0.6):
        user.page.mouse.move(box["x"] + 30, box["y"] + box["height"] * offset)
        user.page.mouse.down()
        for step in range(1, 6):
            user.page.mouse.move(box["x"] + 30 + 50 * step, box["y"] + box["height"] * 0.5)
        user.page.mouse.up()
    user.tap("pad-done")


def test_the_drivers_signature_is_a_dated_page_beside_the_record(
    chromium: Any, address: str
) -> None:
    with phone(chromium, address) as user:
        clean_delivery(user)
        user.tap("back")
        sign(user)
        assert "09:30" in user.page.inner_text(".signature")
        user.tap("next")
        saved = user.save(files=2)
        assert user.errors == []
    names = [name for name, _ in saved]
    assert names[0].endswith(".toml")
    assert names[1] == names[0].removesuffix(".toml") + "-signature.pdf"
    records, problems = read_saved(saved)
    assert problems == ()
    assert delivery(records).photos == (f"records/{names[1]}",)
    # It is a paper, whole, and no photo: a drawing must never stand for a photo from the curb.
    paper = read_bytes(saved[1][1], names[1])
    assert isinstance(paper, OtherFile)
    assert (paper.kind, paper.flaws) == (FileKind.PDF, ())
    document = pypdfium2.PdfDocument(saved[1][1])
    assert document.get_metadata_value("CreationDate") == "D:20260504093000-05'00'"
    assert [page.get_size() for page in document] == [(612, 792)]


def test_the_signature_and_the_words_are_on_the_page(chromium: Any, address: str) -> None:
    """A reader that knows nothing of the page sees ink where it was drawn and none elsewhere."""
    with phone(chromium, address) as user:
        clean_delivery(user)
        user.tap("back")
        sign(user)
        user.tap("next")
        saved = user.save(files=2)
    drawn = pypdfium2.PdfDocument(saved[1][1])[0].render(scale=1).to_pil().convert("L")
    assert drawn.size == (612, 792)
    words, blank, field = (drawn.crop(box) for box in ((0, 0, 612, 140), (0, 300, 612, 440),
                                                       (36, 475, 576, 750)))  # fmt: skip
    assert words.getextrema()[0] < 80
    assert blank.getextrema()[0] > 230
    dark = sum(field.histogram()[:128])
    assert 300 < dark < field.width * field.height // 10  # two strokes, not a black field


def test_saving_again_corrects_what_was_saved(chromium: Any, address: str) -> None:
    with phone(chromium, address) as user:
        clean_delivery(user)
        first = user.save()
        user.at(25)
        user.tap("left-now")
        second = user.save()
        # Where the first never reached the folder, the second stands for itself.
        user.at(26)
        user.tap("corrects")
        third = user.save()
    records, problems = read_saved([*first, *second])
    assert problems == ()
    assert len(records) == 2
    kept = delivery(records)
    assert kept.driver_left is not None
    assert kept.driver_left.at == datetime(2026, 5, 4, 14, 35, tzinfo=UTC)
    alone, problems = read_saved(third)
    assert problems == ()
    assert alone[0].replaces is None


def test_a_phone_of_another_zone_stamps_its_own_offset(chromium: Any, address: str) -> None:
    """New York keeps -04:00 in May; intake gives the same instants at the site."""
    with phone(chromium, address, timezone_id="America/New_York") as user:
        assert "UTC-04:00" in user.page.inner_text(".notice")
        user.tap("zone-differs-close")
        assert user.page.locator(".notice").count() == 0
        clean_delivery(user)
        saved = user.save()
    records, problems = read_saved(saved)
    assert problems == ()
    found = delivery(records)
    assert found.arrived is not None
    assert found.arrived.written == "2026-05-04 10:10:00-04:00"
    assert found.arrived.at == datetime(2026, 5, 4, 14, 10, tzinfo=UTC)
    assert found.arrived.at.hour == 9  # at the site


def test_a_clock_before_the_page_was_made_is_said(chromium: Any, address: str) -> None:
    with phone(chromium, address) as user:
        user.page.clock.set_fixed_time(datetime(2015, 1, 1, 12, 0, tzinfo=UTC))
        user.page.reload()
        assert "2026-05-01" in user.page.inner_text(".notice")
        user.tap("clock-behind-close")
        assert user.page.locator(".notice").count() == 0


def test_sharing_sends_plain_text_files_that_the_folder_takes(chromium: Any, address: str) -> None:
    """A stub stands for the phone's own menu; what it is given is kept and read by intake."""
    stub = """
        window.sent = [];
        navigator.canShare = (what) => what.files.every((f) => f.type === 'text/plain'
            || f.type === 'application/pdf');
        navigator.share = async (what) => {
            for (const file of what.files) {
                const bytes = new Uint8Array(await file.arrayBuffer());
                window.sent.push([file.name, Array.from(bytes)]);
            }
        };
    """
    with phone(chromium, address, script=stub) as user:
        two_damages(user)
        user.tap("back")
        sign(user)
        user.tap("next", "share")
        user.until("window.sent.length === 2")
        sent = [(name, bytes(data)) for name, data in user.page.evaluate("window.sent")]
    assert sent[0][0].endswith(".toml.txt")
    records, problems = read_saved(sent)
    assert problems == ()
    assert delivery(records).units_received == 2


def test_refused_and_short_are_written_and_recorded(chromium: Any, address: str) -> None:
    with phone(chromium, address) as user:
        user.tap("arrived-stamp", "next", "next", "units-all")
        user.tap("cartons-all", "cartons-less", "next")
        user.tap("inspected-no", "because-dark", "add-damage")
        user.tap("which-1", "kind-broken", "where-front", "refused", "damage-done", "next")
        user.tap("form-paper", "wrote-this", "next", "next")
        saved = user.save()
    records, problems = read_saved(saved)
    assert problems == ()
    found = delivery(records)
    assert found.words == (
        "Short 1 carton: received 3 of 4 cartons. Refused carton 1 of 4: front broken. "
        "Not inspected before signing: too dark to see. Subject to further inspection."
    )
    assert found.refused == "Carton 1 of 4: front broken."
    assert found.not_inspected_because == "too dark to see"
    assert (found.cartons_expected, found.cartons_received) == (4, 3)


def test_wrap_and_indicators_name_their_unit(chromium: Any, address: str) -> None:
    with phone(chromium, address) as user:
        user.tap("next", "next", "units-all", "next", "wrap-broken", "indicators-shock")
        assert "open-which" not in user.page.inner_text("main")
        user.tap("wrapUnits-2", "shock-1", "shock-2", "inspected-outside", "next")
        words = user.page.inner_text(".receipt-words.large")
    assert words.splitlines()[0].strip() == "Stretch wrap or seal broken on skid 2 of 2."
    assert "Shock indicator tripped on all 2 skids." in words


def test_what_was_really_written_is_what_is_kept(chromium: Any, address: str) -> None:
    with phone(chromium, address) as user:
        user.tap("next", "next", "next", "next", "form-paper", "wrote-other")
        user.page.fill('[data-key="own-words"]', 'ctn 2 torn 3"\ndriver "Lee" saw it')
        user.tap("next", "next")
        saved = user.save()
        user.tap("back", "back", "wrote-nothing", "next", "next")
        user.at(3)
        nothing = user.save()
    records, problems = read_saved(saved)
    assert problems == ()
    assert delivery(records).words == 'ctn 2 torn 3"\ndriver "Lee" saw it'
    records, problems = read_saved([*saved, *nothing])
    assert problems == ()
    assert delivery(records).words == ""  # written, and it was nothing: not the same as unknown
