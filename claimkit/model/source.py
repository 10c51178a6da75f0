"""Where a fact or a rule comes from: a record's key, a photo's bytes, a page, a published text.

Every statement that claimkit prints carries at least one of these, so that a reader can go
from any sentence to the original and its hash.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    """One origin of a statement.

    `path` is relative to the job folder, with forward slashes. `sha256` is that of the whole
    file, 64 hexadecimal digits. `key_path` names the key in a TOML file, `page` a page of a
    document (from 1). `citation` names a published text or one of claimkit's own methods and
    stands alone.
    """

    path: str | None = None
    sha256: str | None = None
    key_path: str | None = None
    page: int | None = None
    citation: str | None = None

    def __post_init__(self) -> None:
        """Refuse a source that names nothing."""
        if not (self.path or self.citation or self.sha256):
            raise ValueError("a source names a file, a hash or a citation")

    def label(self) -> str:
        """Name the source in a few words, for print."""
        if self.citation:
            return self.citation
        name = self.path or f"sha256 {(self.sha256 or '')[:12]}"
        if self.key_path:
            return f"{name}: {self.key_path}"
        if self.page:
            return f"{name}, page {self.page}"
        return name


def cited(citation: str) -> Source:
    """Name a published text as a source."""
    return Source(citation=citation)
