"""Every method that a packet cites is described in docs/methods.md, and none unused."""

from __future__ import annotations

import re

from claimkit.compose.letters.book import compose_letter
from claimkit.compose.packet.order import compose
from claimkit.compose.packet.testimony import draft
from claimkit.model.case import Reader
from claimkit.model.document import statements
from claimkit.model.letter import LetterKind
from tests.compose.jobs import JOBS, ROOT, sample_case
from tests.findings.photo_gap_build import both as gaps_in_photos


def test_cited_methods_are_described() -> None:
    text = (ROOT / "docs" / "methods.md").read_text(encoding="utf-8")
    described = set(re.findall(r"^## (.+)$", text, re.M))
    cited = {
        source.citation.removeprefix("claimkit method: ").partition(" (")[0]
        for name in JOBS
        for reader in Reader
        for _, statement in (
            *statements(compose(sample_case(name), reader, versions=(("x", "1"),))),
            *statements(compose_letter(sample_case(name), LetterKind.CLAIM).document),
            *statements(draft(sample_case("ready-to-file"), "inez", Reader.OWN)),
            *statements(compose(gaps_in_photos(), reader, shipment="main")),
        )
        for source in statement.sources
        if source.citation and source.citation.startswith("claimkit method: ")
    }
    assert cited == described
