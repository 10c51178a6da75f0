"""Source numbers: one number a file or text, in the order of first use, nothing left unnamed."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from claimkit.model.document import Document, Paragraphs, PlateRow, Section, Statement, Table
from claimkit.model.source import Source, cited
from claimkit.render.sources import Numbers, numbered
from tests.render.sample_document import document, photo_source, plate, record, sha


def with_sources(*statements: tuple[Source, ...], **more: object) -> Document:
    """Give a document whose statements have these sources."""
    told = Paragraphs(tuple(Statement("x", sources) for sources in statements))
    section = Section("part", "Part", (told, *more.pop("blocks", ())))  # type: ignore[misc]
    return replace(document(12), sections=(section,), **more)  # type: ignore[arg-type]


def tags(numbers: Numbers, *sources: Source) -> list[str]:
    """Give the tags of some sources as printed."""
    return [text for text, _ in numbers.tags(sources)]


def test_kinds_are_numbered_in_the_order_of_first_use() -> None:
    sources = (
        record("b"), record("a"), Source(path="documents/x.pdf", sha256=sha("x")),
        Source(path="job.toml", sha256=sha("j")), Source(path="custody/office.jsonl"),
        Source(path="notes.txt"), cited("a text"), record("b", "words"), photo_source(4),
    )  # fmt: skip
    numbers = numbered(with_sources(sources))
    expected = ["R1", "R2", "D1", "J1", "L1", "F1", "C1", "R1", "P4"]
    assert [numbers.of(source).number for source in sources] == expected
    assert [entry.number for entry in numbers.entries] == [
        "P4", "R1", "R2", "D1", "J1", "L1", "F1", "C1",
    ]  # fmt: skip


def test_keys_and_pages_of_one_file_share_its_number() -> None:
    paper = Source(path="documents/x.pdf", sha256=sha("x"))
    pages = [replace(paper, page=page) for page in (4, 2, 4)]
    numbers = numbered(with_sources((record("a", "words"), record("a", "arrived")), tuple(pages)))
    entry = numbers.of(record("a", "words"))
    assert entry.keys == ("words", "arrived")
    assert tags(numbers, record("a", "words"), record("a", "arrived")) == ["R1"]
    assert tags(numbers, *pages) == ["D1 p. 4, 2"]


def test_a_file_without_its_hash_is_the_file_with_it() -> None:
    bare = Source(path="records/a.toml")
    numbers = numbered(with_sources((bare,), (record("a"),)))
    assert numbers.of(bare) == numbers.of(record("a"))
    assert numbers.of(bare).sha256 == record("a").sha256


def test_the_same_bytes_in_two_places_are_one_source() -> None:
    one, two = (Source(path=f"photos/{name}.jpg", sha256=sha("same")) for name in "ab")
    numbers = numbered(with_sources((one, two)))
    assert numbers.of(one).paths == ("photos/a.jpg", "photos/b.jpg")
    assert tags(numbers, one, two) == ["F1"]


def test_photos_in_a_row_are_a_run_and_two_are_not() -> None:
    photos = [photo_source(n) for n in (9, 3, 5, 4, 12, 11)]
    numbers = numbered(with_sources(tuple(photos)))
    assert tags(numbers, *photos) == ["P9", "P3–", "P5", "P12", "P11"]
    leads = [number for _, number in numbers.tags(photos)]
    assert leads == ["P9", "P3", "P5", "P12", "P11"]


def test_a_photo_without_a_plate_leads_to_its_line() -> None:
    row = PlateRow((plate(1),))
    numbers = numbered(with_sources((photo_source(1), photo_source(2)), blocks=(row,)))
    assert numbers.place("P1") == "plate-P1"
    assert numbers.place("P2") == "source-P2"


def test_files_that_only_a_list_names_have_no_line() -> None:
    rows = tuple((Statement("x", (record(name),)),) for name in ("only listed", "cited"))
    listing = Table(("a",), rows, (1,), lists_files=True)
    numbers = numbered(with_sources((record("cited"),), blocks=(listing,)))
    assert [entry.paths[0] for entry in numbers.entries] == ["records/cited.toml"]
    assert numbers.of(record("cited")).number == "R1"
    plain = numbered(
        with_sources((record("cited"),), blocks=(replace(listing, lists_files=False),))
    )
    assert len(plain.entries) == 2


sources = st.one_of(
    st.builds(photo_source, st.integers(1, 8)),
    st.builds(record, st.sampled_from("abc"), st.sampled_from([None, "k", "l"])),
    st.builds(cited, st.sampled_from(["x", "y"])),
)


@given(st.lists(st.lists(sources, min_size=1, max_size=5).map(tuple), min_size=1, max_size=8))
def test_every_source_has_a_tag_and_a_place(statements: list[tuple[Source, ...]]) -> None:
    numbers = numbered(with_sources(*statements))
    listed = {entry.number for entry in numbers.entries}
    files = {s.citation or s.sha256 for one in statements for s in one}
    assert len(listed) == len(files)
    for one in statements:
        shown = numbers.tags(one)
        named = {number for _, number in shown}
        assert named <= listed
        runs = [(int(a[1:-1]), int(b[1:])) for (a, _), (b, _) in pairwise(shown)
                if a.endswith("–")]  # fmt: skip
        for source in one:
            number = numbers.of(source).number
            inside = any(a <= int(number[1:]) <= b for a, b in runs) and number[0] == "P"
            assert number in named or inside
