"""The print of scale cards read back: by pdfium and OpenCV, and from the file's own coordinates.

OpenCV's own dictionary of AprilTag 36h11 finds every tag; where it must stand is typed here from
the layout that was agreed on, by another route than the code's.
"""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pytest
from pikepdf import pdfa

from claimkit.compose.sheets.cards import CardBook, compose_cards
from claimkit.findings.seams.card_plan import card_plan
from claimkit.model.case import Case
from claimkit.model.job import Job, Joint, Station
from claimkit.render.cards import render_cards
from tests.build import AS_OF, NOW, facts, job, mm, seam
from tests.findings.cases_check_cards import sheet
from tests.render.reading import page_texts
from tests.seams.photos import needs_opencv

PAPERS = ("letter", "a4")
MM = 72.0 / 25.4
SIZE = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
# Half of what two cards of 92 mm, and three of 80 mm, leave of the paper.
FIRST_CARD = {"letter": (15.95, 19.7), "a4": (13.0, 28.5)}
CHECK = {"letter": (254.0, 177.8), "a4": (250.0, 170.0)}
DPI = 254  # ten pixels a millimetre, so that both papers are whole pixels


def stations(*places: tuple[str, int | None, int | None]) -> tuple[Station, ...]:
    """Stations as (id, mm from the start, card)."""
    return tuple(
        Station(id=name, at=mm(at) if at is not None else None, card=card)
        for name, at, card in places
    )


def a_job(**more: Any) -> Job:
    """A butt seam of five stations of which one has a card, one of two, and a corner."""
    five = stations(
        ("s1", 50, None), ("s2", 450, None), ("s3", 1040, None), ("s4", 1500, None), ("s5", 2000, 7)
    )
    values: dict[str, Any] = {
        "seam": (
            seam(id="back", station=five),
            seam(id="side", station=stations(("left", None, None), ("right", None, None))),
            seam(id="corner", joint=Joint.CORNER, station=stations(("top", 0, None))),
        )
    }
    return job(**(values | more))


def book(paper: str, the_job: Job | None = None, *, everything: bool = False) -> CardBook:
    known = the_job or a_job()
    return compose_cards(Case(facts(job_=known), AS_OF, NOW), known, paper, everything=everything)


def printed(a_book: CardBook, folder: Path) -> bytes:
    out = folder / "cards.pdf"
    assert render_cards(a_book, out).passed
    return out.read_bytes()


@cache
def usual(paper: str) -> bytes:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        return printed(book(paper), Path(folder))


def grey(pdf: bytes, page: int) -> Any:
    import numpy as np

    with pypdfium2.PdfDocument(pdf) as document:
        return np.array(document[page].render(scale=DPI / 72.0).to_pil().convert("L"))


def tags_on(pdf: bytes, page: int) -> dict[int, Any]:
    """Every tag that OpenCV finds on a page: its corners in mm from the paper's top left."""
    import cv2

    family = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_APRILTAG_36h11)
    settings = cv2.aruco.DetectorParameters()
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    quads, ids, _ = cv2.aruco.ArucoDetector(family, settings).detectMarkers(grey(pdf, page))
    if ids is None:
        return {}
    assert len(set(ids.ravel().tolist())) == len(ids)
    # The middle of the first pixel is half a pixel from the edge.
    return {
        int(i): (q.reshape(4, 2) + 0.5) * 25.4 / DPI
        for i, q in zip(ids.ravel(), quads, strict=True)
    }


def square(x: float, y: float, side: float) -> list[tuple[float, float]]:
    return [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]


@needs_opencv
@pytest.mark.parametrize("paper", PAPERS)
def test_every_tag_stands_where_it_must(paper: str) -> None:
    """All 24 tags of the sheet to 0.2 mm, each the right way up: first corner at the top left."""
    import numpy as np

    found = tags_on(usual(paper), len(page_texts(usual(paper))) - 2)
    cards = [card.card for card in book(paper).sheets[0]]
    left, top = FIRST_CARD[paper]
    assert len(found) == 24
    for place, card in enumerate(cards):
        x, y = left + 92.0 * (place % 2), top + 80.0 * (place // 2)
        corners = ((3.0, 3.0), (65.0, 3.0), (3.0, 53.0), (65.0, 53.0))
        for number, (dx, dy) in enumerate(corners):
            expected = np.array(square(x + dx, y + dy, 24.0))
            assert np.abs(found[4 * card + number] - expected).max() <= 0.2


@needs_opencv
@pytest.mark.parametrize("paper", PAPERS)
def test_the_loose_tags_are_all_there_and_large(paper: str) -> None:
    import numpy as np

    found = tags_on(usual(paper), len(page_texts(usual(paper))) - 1)
    assert sorted(found) == [584, 585, 586]
    left = (SIZE[paper][0] - 3 * 60.0) / 2.0
    for tag, corners in found.items():
        x = left + 60.0 * (tag - 584) + 6.0
        assert np.abs(corners - np.array(square(x, 51.0, 48.0))).max() <= 0.2


@needs_opencv
def test_the_drawings_hold_no_real_tag() -> None:
    """Else a photo of the open instructions would be read as one of a card."""
    texts = page_texts(usual("letter"))
    for page in range(len(texts) - 2):
        assert tags_on(usual("letter"), page) == {}


def strokes(pdf: bytes, page: int) -> list[tuple[float, float, float, float]]:
    """Every straight stroke of a page in mm from its top left, from the file's own coordinates."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        at = document.pages[page]
        high = float(at.MediaBox[3])
        found, here = [], (0.0, 0.0)
        moved = [False]  # whether the coordinates are the page's own, for each saved state
        for step in pikepdf.parse_content_stream(at):
            operator, values = str(step.operator), list(step.operands)
            if operator == "q":
                moved.append(moved[-1])
            elif operator == "Q":
                moved.pop()
            elif operator == "cm":
                moved[-1] = moved[-1] or [float(v) for v in values] != [1, 0, 0, 1, 0, 0]
            elif operator == "m":
                here = (float(values[0]), float(values[1]))
            elif operator == "l":
                assert not moved[-1]
                x, y = float(values[0]), float(values[1])
                found.append((here[0] / MM, (high - here[1]) / MM, x / MM, (high - y) / MM))
                here = (x, y)
        return found


@pytest.mark.parametrize("paper", PAPERS)
def test_both_check_lines_have_their_lengths_in_the_file(paper: str) -> None:
    page = len(page_texts(usual(paper))) - 2
    along, across = CHECK[paper]
    lines = strokes(usual(paper), page)
    upright = [s for s in lines if s[0] == s[2] and abs(abs(s[3] - s[1]) - along) < 0.01]
    level = [s for s in lines if s[1] == s[3] and abs(abs(s[2] - s[0]) - across) < 0.01]
    assert len(upright) == len(level) == 1
    high = SIZE[paper][1]
    # Clear of the cards and of the 6.35 mm (1/4 in) that printers leave white (common practice).
    left, top = FIRST_CARD[paper]
    assert 6.35 < upright[0][0] < left - 2.0
    assert top + 240.0 + 2.0 < level[0][1] < high - 6.35
    # A tick at each end, across the line, and the line ends in its middle.
    for x, y in (upright[0][:2], upright[0][2:]):
        assert [s for s in lines if s[1] == s[3] and abs(s[1] - y) < 0.01 and s[0] < x < s[2]]
    for x, y in (level[0][:2], level[0][2:]):
        ticks = [s for s in lines if s[0] == s[2] and abs(s[0] - x) < 0.01]
        assert [s for s in ticks if min(s[1], s[3]) < y < max(s[1], s[3])]


@pytest.mark.parametrize("paper", PAPERS)
def test_notches_and_ticks_are_drawn_where_they_must(paper: str) -> None:
    """Notches 26 wide and 28 deep in the middle of top and bottom; ticks of 3 mm at 46 mm."""
    page = len(page_texts(usual(paper))) - 2
    lines = [tuple(round(v, 2) for v in s) for s in strokes(usual(paper), page)]
    left, top = FIRST_CARD[paper]
    for place in range(6):
        x, y = left + 92.0 * (place % 2), top + 80.0 * (place // 2)
        wanted = [(33, 0, 33, 28), (59, 0, 59, 28), (33, 28, 59, 28)]
        wanted += [(33, 80, 33, 52), (59, 80, 59, 52), (33, 52, 59, 52)]
        wanted += [(46, 28, 46, 31), (46, 49, 46, 52)]
        for a, b, c, d in wanted:
            ends = (x + a, y + b, x + c, y + d)
            assert any(max(abs(p - q) for p, q in zip(s, ends, strict=True)) < 0.02 for s in lines)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_file_is_an_archive_that_asks_for_full_size(paper: str) -> None:
    """PDF/A-2b by pikepdf's validator; PrintScaling None is ISO 32000-1, table 150."""
    pdf = usual(paper)
    assert pdfa.validate_written(io.BytesIO(pdf), "2b").passed
    with pikepdf.open(io.BytesIO(pdf)) as document:
        assert document.Root.ViewerPreferences.PrintScaling == pikepdf.Name("/None")
        for page in document.pages:
            assert [float(v) / MM for v in page.MediaBox[2:]] == pytest.approx(
                SIZE[paper], abs=0.01
            )
        alts = [str(e.Alt) for e in document.Root.StructTreeRoot.K[0].K if "/Alt" in e]
    assert "Scale card 7 for seam back, station s5." in alts


def test_the_same_cards_give_the_same_bytes(tmp_path: Path) -> None:
    assert printed(book("letter"), tmp_path) == usual("letter")
    assert printed(book("letter", a_job(title="Other")), tmp_path) != usual("letter")


def one_line(text: str) -> str:
    return " ".join(text.replace("\u00a0", " ").split())


@pytest.mark.parametrize("paper", PAPERS)
def test_the_words_are_there(paper: str) -> None:
    pages = [one_line(text) for text in page_texts(usual(paper))]
    first, second, third, sheet, loose = pages
    for words in ("Print at 100 %", "tick to tick", "four outer corners", "a ladder on firm"):
        assert words in first
    for words in ("whole seam", "messaging app", "No flash", "witnesses and decide", "bench_check"):
        assert words in second
    assert "add: card = 0" in third
    assert 'kind = "card_sheet"' in third
    assert "No card at seam corner, station top: a card cannot lie flat" in third
    for words in ("card 7", "seam back", "station s5", "2000 mm from start", "spare", "cut out"):
        assert words in sheet
    along, across = (
        ("10 in (254 mm)", "7 in (177.8 mm)")
        if paper == "letter"
        else (
            "250 mm",
            "170 mm",
        )
    )
    assert f"check line along the sheet: {along}" in sheet
    assert f"check line across the sheet: {across}" in sheet
    for words in ("DRY FIT", "FASTENED", "CHECK"):
        assert words in loose


def test_a_print_is_black_and_grey() -> None:
    """A card has no colour to lose on a black printer."""
    with pypdfium2.PdfDocument(usual("letter")) as document:
        for page in document:
            picture = page.render(scale=0.7).to_pil().convert("RGB")
            spread = [max(colour) - min(colour) for _, colour in picture.getcolors(1 << 24) or []]
            assert max(spread) <= 2


def test_names_of_any_kind_leave_the_number_in_place(tmp_path: Path) -> None:
    name = "wall-" * 30 + "</b>面板"
    long = job(
        title=name,
        seam=(seam(id=name, station=(Station(id=name * 2, card=12), Station(id="b"))),),
    )
    pages = page_texts(printed(book("a4", long), tmp_path))
    assert "card 12" in pages[-2]
    assert "…" in pages[-2]
    assert f"add: card = {0}" in one_line(pages[2])


def chosen(the_job: Job, *, everything: bool = False) -> list[tuple[str, str, int, bool]]:
    plan = card_plan(the_job, everything=everything)
    return [(p.seam, p.station, p.card, p.named) for p in plan.places]


def test_ends_and_middle_are_worth_a_card() -> None:
    """The middle is the station nearest to half way: 1040 of 50 to 2000, half way 1025."""
    assert chosen(a_job()) == [
        ("back", "s1", 0, False),
        ("back", "s3", 1, False),
        ("back", "s5", 7, True),
        ("side", "left", 2, False),
        ("side", "right", 3, False),
    ]


def test_all_means_every_station_at_which_a_card_can_lie_flat() -> None:
    plan = card_plan(a_job(), everything=True)
    assert [p.station for p in plan.places] == ["s1", "s2", "s3", "s4", "s5", "left", "right"]
    assert [(left.seam, left.station) for left in plan.left_out] == [("corner", "top")]


@pytest.mark.parametrize(
    "places,expected",
    [
        # One, two and three stations: all of them.
        ([("a", 0, None)], ["a"]),
        ([("a", 0, None), ("b", 9, None)], ["a", "b"]),
        ([("a", 0, None), ("b", 9, None), ("c", 20, None)], ["a", "b", "c"]),
        # Written out of order: the distance decides, not the order.
        ([("m", 500, None), ("z", 1000, None), ("a", 0, None), ("q", 900, None)], ["m", "z", "a"]),
        # One states no distance: the order decides; of four the third is the middle.
        ([("a", 0, None), ("b", None, None), ("c", 20, None), ("d", 30, None)], ["a", "c", "d"]),
        # Two cards stand already: one more, at the first end that has none.
        ([("a", 0, None), ("b", 9, 4), ("c", 20, 5), ("d", 30, None)], ["a", "b", "c"]),
        # Four stand already: they are printed, none is added.
        (
            [("a", 0, 1), ("b", 9, 2), ("c", 20, 3), ("d", 30, 4), ("e", 40, None)],
            ["a", "b", "c", "d"],
        ),
    ],
)
def test_which_stations_are_worth_it(places: Any, expected: list[str]) -> None:
    one = job(seam=(seam(id="x", station=stations(*places)),))
    assert [station for _, station, _, _ in chosen(one)] == expected


@pytest.mark.parametrize("joint", [Joint.CORNER, Joint.LAP, Joint.INTERLOCKING])
def test_other_joints_get_no_card_and_a_reason(joint: Joint) -> None:
    plan = card_plan(job(seam=(seam(joint=joint),)))
    assert plan.places == ()
    assert [left.station for left in plan.left_out] == ["top", "bottom"]
    assert all(left.why for left in plan.left_out)
    named = job(seam=(seam(joint=joint, station=(Station(id="top", card=5),)),))
    assert [(p.card, bool(p.caution)) for p in card_plan(named).places] == [(5, True)]


def test_a_seam_without_stations_is_told_what_to_write() -> None:
    bare = book("letter", job(seam=(seam(id="x", station=()),)))
    (snippet,) = [one for one in bare.snippets if one.file == "job.toml"]
    assert snippet.lines.count("[[seam.station]]") == 3
    assert any("Seam x has no station" in text for text in bare.remarks)
    assert len(bare.sheets) == 1  # six spares, for the bench check
    assert {card.seam for card in bare.sheets[0]} == {None}


@pytest.mark.parametrize(
    "measured,listed,replaces",
    [
        ((), "cards = [0, 1, 2, 3, 7, 145]", False),
        # Those on record are left out: a second record of the same card could contradict it.
        ((0, 1), "cards = [2, 3, 7, 145]", False),
        ((0, 1, 2, 3, 7, 145), "cards = [0, 1, 2, 3, 7, 145]", True),
    ],
)
def test_the_record_to_write_knows_what_is_on_record(
    measured: tuple[int, ...], listed: str, replaces: bool
) -> None:
    records = [sheet("old", cards=measured)] if measured else []
    known = a_job()
    made = compose_cards(Case(facts(job_=known, records=records), AS_OF, NOW), known, "letter")
    (snippet,) = [one for one in made.snippets if one.file.startswith("records/")]
    assert listed in snippet.lines
    assert ('replaces = "old"' in snippet.lines) is replaces


def test_numbers_are_never_given_twice_and_run_out_with_a_word() -> None:
    many = tuple(
        seam(id=f"s{n}", station=stations(("a", 0, 2 * n if n < 70 else None), ("b", 9, None)))
        for n in range(80)
    )
    plan = card_plan(job(seam=many))
    numbers = [place.card for place in plan.places] + list(plan.spares)
    assert len(set(numbers)) == len(numbers) == 146
    assert max(numbers) == 145
    assert len(plan.left_out) == 160 - 146
    assert "146 numbers" in plan.left_out[0].why


def test_spares_fill_the_last_sheet_from_the_other_end_of_the_numbers() -> None:
    assert [len(cards) for cards in card_plan(a_job()).sheets] == [6]
    assert card_plan(a_job()).spares == (145,)
    full = job(seam=tuple(seam(id=f"s{n}") for n in range(3)))
    assert card_plan(full).spares == ()


@needs_opencv
@pytest.mark.parametrize("left_over", [0.0, 0.3], ids=["cut well", "dashes left in the notches"])
def test_a_printed_card_laid_over_a_gap_is_read(left_over: float) -> None:
    """The first card of the sheet, its notches cut out, over a drawn gap of 4 mm between panels."""
    import cv2
    import numpy as np

    from claimkit.model.card import Window
    from claimkit.pixels.cards import read_cards
    from tests.seams.photos import SMALL

    page = grey(usual("letter"), len(page_texts(usual("letter"))) - 2)
    x, y = round(159.5), 197
    card = page[y : y + 800, x : x + 920] * 0.85 + 10.0
    scene = np.full((1600, 2000), 190.0)
    scene[:, 980:1020] = 8.0  # ten pixels a millimetre
    paper = np.ones((800, 920), bool)
    inside = round(left_over * 10)
    for rows in (slice(0, 280 - inside), slice(520 + inside, 800)):
        paper[rows, 330 + inside : 590 - inside] = False
    scene[400:1200, 540:1460][paper] = card[paper]
    seen = cv2.GaussianBlur(scene, (0, 0), 1.2) + np.random.default_rng(1).normal(0, 2, scene.shape)
    _, jpeg = cv2.imencode(".jpg", np.clip(seen, 0, 255).astype("u1"))
    readings = read_cards(jpeg.tobytes(), limits=SMALL).readings
    (both,) = (r.measurement for r in readings if r.window is Window.BOTH)
    assert both is not None
    assert abs(both.value_mm - 4.0) <= 2.0 * both.u_mm
    assert {r.card for r in readings} == {0}
