"""Every statement of every packet names a source that leads to a file of the job or a citation."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from claimkit.compose.letters.book import compose_letter
from claimkit.compose.packet.order import compose
from claimkit.model.case import Case, Reader
from claimkit.model.document import Document, Statement, statements
from claimkit.model.letter import LetterKind
from tests.compose.jobs import JOBS, sample_case


def unsourced(document: Document, case: Case) -> list[str]:
    """Name every statement that no source leads back from, with its section."""
    facts = case.facts
    known = {"job.toml"} | {r.path for r in facts.records} | {p.path for p in facts.papers}
    known |= {place for photo in facts.photos for place in photo.places}
    known |= {n.path for n in facts.not_taken} | {p.file for p in facts.problems}
    hashes = {r.path: r.sha256 for r in facts.records} | {p.path: p.sha256 for p in facts.papers}
    hashes |= {place: photo.sha256 for photo in facts.photos for place in photo.places}
    hashes["job.toml"] = facts.job_sha256 or ""

    def leads(source: Any) -> bool:
        if source.citation:
            return bool(source.citation.strip())
        if source.path and source.path.startswith("custody"):
            return True
        if source.path not in known:
            return False
        return source.sha256 is None or source.sha256 == hashes.get(source.path)

    return [
        f"{section}: {statement.text}"
        for section, statement in statements(document)
        if not statement.sources or not all(leads(s) for s in statement.sources)
    ]


def without_source(node: Any, target: Statement) -> Any:
    """Copy a document tree with one statement's sources taken away."""
    if node is target:
        return replace(node, sources=())
    if isinstance(node, tuple):
        return tuple(without_source(child, target) for child in node)
    if is_dataclass(node) and not isinstance(node, Statement):
        changes = {}
        for field in fields(node):
            old = getattr(node, field.name)
            new = without_source(old, target)
            if new is not old:
                changes[field.name] = new
        return replace(node, **changes) if changes else node  # type: ignore[type-var]
    return node


@pytest.mark.parametrize("reader", list(Reader))
@pytest.mark.parametrize("job", JOBS)
def test_every_statement_has_a_source(job: str, reader: Reader) -> None:
    case = sample_case(job)
    document = compose(case, reader)
    found = list(statements(document))
    assert len(found) > 15
    assert unsourced(document, case) == []


@pytest.mark.parametrize("reader", list(Reader))
@pytest.mark.parametrize("job", JOBS)
def test_removing_any_one_source_names_the_statement(job: str, reader: Reader) -> None:
    case = sample_case(job)
    document = compose(case, reader)
    everything = [statement for _, statement in statements(document)]
    for target in everything[:: max(len(everything) // 60, 1)]:
        broken = without_source(document, target)
        named = unsourced(broken, case)
        assert any(line.endswith(target.text) for line in named), target.text


def test_a_statement_without_a_source_is_refused_where_it_is_made() -> None:
    from claimkit.compose.blocks import say

    with pytest.raises(ValueError, match="without a source: nobody said this"):
        say("nobody said this")


@pytest.mark.parametrize("kind", list(LetterKind), ids=lambda kind: kind.value)
@pytest.mark.parametrize("job", JOBS)
def test_every_sentence_of_a_letter_leads_back_and_its_loss_is_named(
    job: str, kind: LetterKind
) -> None:
    case = sample_case(job)
    document = compose_letter(case, kind).document
    assert unsourced(document, case) == []
    for _, target in list(statements(document))[::5]:
        broken = without_source(document, target)
        assert any(line.endswith(target.text) for line in unsourced(broken, case)), target.text
