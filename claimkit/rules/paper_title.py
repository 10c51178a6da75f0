"""One kind of paper as data: its titles, the words that stand on it, its examples."""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.model.job import PAPERS

PRACTICE = "common practice, no source"

# What may stand beside a title in its line without changing what the paper is.
BESIDE = (
    r"original|copy|duplicate|customer(?:'s)? copy|consignee(?:'s)? copy|shipper(?:'s)? copy|"
    r"carrier(?:'s)? copy|file copy|not negotiable|non-?negotiable|short form|long form|form|"
    r"page \d+(?: of \d+)?|final|paid|cmr|kopie|copie|copia|duplikat|the"
)
# A title with a number names a paper: this one, or another that it refers to. The number may be
# that of its shipment or claim.
NUMBER = (
    r"(?:\s*(?:pro|b/l|bol|shipment|claim)\b)?"
    r"(?:\s*(?:no\b\.?|number|nr\b\.?|n\.?[o°º]\b\.?|№|#|num[eé]ro|id|ref\b\.?))?"
    r"\s*[:#.]?\s*(?=[\w./-]*\d)[\w./-]+(?:\s+(?:of|dated|date|vom|du|del)\b.{0,24})?"
)


@dataclass(frozen=True, slots=True)
class PaperWords:
    """One kind of paper: its name, the word of `model.job.PAPERS` for it, and its wording.

    All patterns are matched in small letters with single spaces. `titles` stand as a heading, with
    `need` of `words` anywhere; `shared` titles belong to other kinds too and need `need_shared`.
    `never` is wording that rules the kind out. `by_mail` is True where an e-mail can be it. A row
    with the paper "other" is a guard: where its title comes first the text is none of the kinds.
    """

    name: str
    paper: str
    titles: tuple[str, ...]
    words: tuple[str, ...]
    must: tuple[str, ...]
    must_not: tuple[str, ...]
    need: int = 2
    shared: tuple[str, ...] = ()
    need_shared: int = 3
    never: tuple[str, ...] = ()
    by_mail: bool = False
    citation: str = PRACTICE

    def __post_init__(self) -> None:
        """Refuse a kind of document that job.toml does not know."""
        if self.paper not in PAPERS:
            raise ValueError(f"no document is a {self.paper}")

    @property
    def guard(self) -> bool:
        """True where the row only says what a text is not."""
        return self.paper == "other"
