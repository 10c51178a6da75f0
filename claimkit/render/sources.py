"""The numbers by which a packet names its sources: P3 a photo, R2 a record, D1 a paper, C4 a text.

Every statement ends with the numbers of its sources, and the list at the end says what each number
is. Numbers run in the order in which the packet first names a source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from claimkit.model.document import (
    Block,
    Document,
    Plate,
    PlateRow,
    Statement,
    Table,
    statements,
)
from claimkit.model.source import Source

KINDS: tuple[tuple[str, str], ...] = (
    ("P", "photo"),
    ("R", "record"),
    ("D", "paper"),
    ("J", "job file"),
    ("L", "custody log"),
    ("F", "other file"),
    ("C", "text or method"),
)
_FOLDERS = {"records": "R", "documents": "D", "custody": "L"}


@dataclass(frozen=True, slots=True)
class Entry:
    """One source as the list at the end names it. `keys` are key paths in the order of use."""

    number: str
    paths: tuple[str, ...]
    sha256: str | None
    citation: str | None
    keys: tuple[str, ...]
    pages: tuple[int, ...]

    @property
    def place(self) -> str:
        """Name the place of this entry in the document, for links."""
        return f"source-{self.number}"


@dataclass(frozen=True, slots=True)
class Numbers:
    """All sources of a document: entries in the order of the list, and a lookup."""

    entries: tuple[Entry, ...]
    by_source: Mapping[Source, Entry]
    plates: frozenset[str]

    def of(self, source: Source) -> Entry:
        """Give the entry of a source that the document names."""
        return self.by_source[source]

    def place(self, number: str) -> str:
        """Name the place that a number leads to: its plate, else its line in the list."""
        return f"plate-{number}" if number in self.plates else f"source-{number}"

    def tags(
        self, sources: Iterable[Source], own: frozenset[str] = frozenset()
    ) -> tuple[tuple[str, str], ...]:
        """Give (what is printed, number it leads to) for sources, without those in `own`.

        Pages follow their number; three or more consecutive photos become a run, P3–P7, as two
        tags of which the first ends in a dash.
        """
        pages: dict[str, list[int]] = {}
        for source in sources:
            number = self.of(source).number
            if number in own:
                continue
            seen = pages.setdefault(number, [])
            if source.page and source.page not in seen:
                seen.append(source.page)
        plain = {number for number, seen in pages.items() if number[0] == "P" and not seen}
        done: set[str] = set()
        tags: list[tuple[str, str]] = []
        for number, seen in pages.items():
            if number in done:
                continue
            if number in plain:
                run = _run(int(number[1:]), plain)
                if len(run) > 2:
                    done.update(run)
                    tags += [(f"{run[0]}–", run[0]), (run[-1], run[-1])]
                    continue
            tags.append((_with_pages(number, seen), number))
        return tuple(tags)


def _run(number: int, held: set[str]) -> tuple[str, ...]:
    first, last = number, number
    while f"P{first - 1}" in held:
        first -= 1
    while f"P{last + 1}" in held:
        last += 1
    return tuple(f"P{n}" for n in range(first, last + 1))


def _with_pages(number: str, pages: list[int]) -> str:
    return f"{number} p. {', '.join(str(page) for page in pages)}" if pages else number


def file_row(block: Block) -> bool:
    """Tell whether a block is a list of files, whose rows need no source tags."""
    return isinstance(block, Table) and block.lists_files


@dataclass(slots=True)
class _Gathered:
    paths: list[str] = field(default_factory=list)
    keys: list[str] = field(default_factory=list)
    pages: list[int] = field(default_factory=list)
    sha256: str | None = None
    citation: str | None = None


def numbered(document: Document) -> Numbers:
    """Give every source of a document its number; the same document gives the same.

    Files that only a list of files names come last and have no line of their own in the list of
    sources unless another statement names them too.
    """
    photo_no = dict(document.photo_numbers)
    used = tuple(_used(document))
    sha_of_path = {s.path: s.sha256 for _, s in used if s.path and s.sha256}
    found: dict[tuple[str, str], _Gathered] = {}
    key_of: dict[Source, tuple[str, str]] = {}
    for _, source in used:
        key = _key(source, sha_of_path)
        key_of[source] = key
        _gather(found.setdefault(key, _Gathered()), source, sha_of_path)
    counts: dict[str, int] = {}
    entries: dict[tuple[str, str], Entry] = {}
    for key, got in found.items():
        number = _number(got, photo_no, counts)
        entries[key] = Entry(
            number, tuple(got.paths), got.sha256, got.citation, tuple(got.keys), tuple(got.pages)
        )
    listed = {key_of[source] for only_listed, source in used if not only_listed}
    plates = frozenset(f"P{plate.photo_no}" for plate in _plates(document))
    return Numbers(
        tuple(sorted((entries[key] for key in listed), key=_order)),
        {source: entries[key] for source, key in key_of.items()},
        plates,
    )


def _used(document: Document) -> Iterator[tuple[bool, Source]]:
    """Yield (only in a list of files, source), those of lists of files last."""
    blocks = [block for section in document.sections for block in section.blocks]
    listing = {id(s) for block in blocks if file_row(block) for s in _cells(block)}
    every = [statement for _, statement in statements(document)]
    for wanted in (False, True):
        for statement in every:
            if (id(statement) in listing) is wanted:
                for source in statement.sources:
                    yield wanted, source


def _cells(block: Block) -> Iterator[Statement]:
    if isinstance(block, Table):
        for row in block.rows:
            yield from row


def _plates(document: Document) -> Iterator[Plate]:
    for section in document.sections:
        for block in section.blocks:
            if isinstance(block, PlateRow):
                yield from block.plates


def _key(source: Source, sha_of_path: Mapping[str, str | None]) -> tuple[str, str]:
    if source.citation:
        return "text", source.citation
    sha = source.sha256 or sha_of_path.get(source.path or "")
    return ("file", sha) if sha else ("path", source.path or "")


def _gather(got: _Gathered, source: Source, sha_of_path: Mapping[str, str | None]) -> None:
    got.citation = source.citation
    got.sha256 = got.sha256 or source.sha256 or sha_of_path.get(source.path or "")
    for held, value in ((got.paths, source.path), (got.keys, source.key_path)):
        if value and value not in held:
            held.append(value)
    if source.page and source.page not in got.pages:
        got.pages.append(source.page)


def _number(got: _Gathered, photo_no: Mapping[str, int], counts: dict[str, int]) -> str:
    if got.sha256 in photo_no:
        return f"P{photo_no[got.sha256 or '']}"
    path = got.paths[0] if got.paths else ""
    kind = "C" if got.citation else _FOLDERS.get(path.partition("/")[0], "F")
    if path == "job.toml":
        kind = "J"
    counts[kind] = counts.get(kind, 0) + 1
    return f"{kind}{counts[kind]}"


def _order(entry: Entry) -> tuple[int, int]:
    return [kind for kind, _ in KINDS].index(entry.number[0]), int(entry.number[1:])
