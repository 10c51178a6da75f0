"""Drafts for people who testify: a witness statement and certificates, filled from the record.

Nothing is put into anybody's mouth: each sentence names the record or file that it comes from, and
the witness strikes or corrects what is not so. What only the person can say is left blank.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from claimkit.compose.blocks import row, say, table
from claimkit.compose.packet import back
from claimkit.compose.packet.testimony_facts import facts_of
from claimkit.compose.packet.view import View, view
from claimkit.compose.phrases import day, job_source, method, stretch
from claimkit.model.case import Case, DatedPhoto, Reader
from claimkit.model.document import Block, Document, Paragraphs, Section, Statement
from claimkit.model.facts import CustodyEvent
from claimkit.model.job import Person
from claimkit.model.records import Record
from claimkit.model.source import Source
from claimkit.model.stop import CannotGoOn
from claimkit.rules import testimony as rules
from claimkit.rules.testimony import Provision

BLANK = "__________"
_MADE_FOR_A_CLAIM = (
    "Records that were made with a claim in view may fall outside this rule. The dates above let "
    "that be judged."
)
METHOD = "drafts for people who testify"


@dataclass(frozen=True, slots=True)
class _Witness:
    """A person of the job with what the record has from them, as one reader's packet numbers it."""

    view: View
    number: int  # among [[person]] in job.toml, from 1
    person: Person
    photos: tuple[DatedPhoto, ...]
    records: tuple[Record, ...]

    def source(self, key: str) -> Source:
        """Name a key of the person in job.toml."""
        return job_source(self.view.case, f"person[{self.number}].{key}")


def draft(
    case: Case,
    of: str,
    reader: Reader,
    *,
    shipment: str | None = None,
    versions: tuple[tuple[str, str], ...] = (),
) -> Document:
    """Compose the drafts for one person, named by id or name.

    Photos carry the numbers of the packet for `reader`. Raises CannotGoOn for somebody whom the job
    does not name, or from whom the record has nothing.
    """
    witness = _witness(view(case, reader, shipment, versions), of)
    job = case.facts.job
    sections = [
        _caution(witness),
        _statement(witness),
        _photos(witness),
        _declaration(),
        _copies(witness),
        _regular(witness),
        _parts(),
        back.custody(witness.view),
    ]
    return Document(
        reader=Reader.OWN,
        title=f"Draft: statement of {witness.person.name}",
        subtitle=f"{job.title if job else ''}; not signed, to be read by a lawyer",
        made=f"as of {day(case.as_of)}",
        sections=tuple(section for section in sections if section),
        photo_numbers=tuple(witness.view.numbers.items()),
        versions=versions,
        anchors=back.anchors(witness.view).words(),
    )


def _witness(seen: View, of: str) -> _Witness:
    people = seen.job.person if seen.job else ()
    wanted = of.casefold()
    for number, person in enumerate(people, start=1):
        if wanted in (person.id.casefold(), person.name.casefold()):
            photos = tuple(d for d in seen.photos if d.by == person.id)
            records = tuple(r for r in seen.records() if r.said_by == person.id and r.in_force)
            if not photos and not records:
                raise CannotGoOn(
                    f"The record has nothing from {person.name}: no record is said_by {person.id}, "
                    "and no photo names that person's camera. Enter the camera in job.toml, or "
                    "write a record."
                )
            return _Witness(seen, number, person, photos, records)
    known = ", ".join(f"{person.id} ({person.name})" for person in people) or "nobody"
    raise CannotGoOn(f"job.toml names no person “{of}”. It names: {known}.")


def provided(text: str, provision: Provision) -> Statement:
    """Say something that rests on a provision."""
    return say(text, Source(citation=provision.citation))


def _caution(witness: _Witness) -> Section:
    source = method(METHOD)
    name = witness.person.name
    texts = (
        "This is a draft, made from the job's records and files. A lawyer reads it before anybody "
        "signs; the forum decides which form it takes.",
        f"{name} reads every sentence, strikes or corrects what is not so from own knowledge, and "
        f"fills the blanks. A sentence that {name} does not remember is struck, even where a "
        "record says it.",
        "Nobody signs for another. It is best read while memory is fresh.",
    )
    told = tuple(say(text, source, emphasis="caution") for text in texts)
    return Section("draft", "Draft, not to be signed as it stands", (Paragraphs(told),))


def _statement(witness: _Witness) -> Section:
    told = [say(text, *sources) for text, sources in _about(witness)]
    for record in witness.records:
        source = witness.view.record_source(record)
        told += [say(text, source) for text in facts_of(witness.view, record)]
    numbered = tuple(
        Statement(f"{number}. {one.text}", one.sources) for number, one in enumerate(told, start=1)
    )
    return Section(
        "statement",
        f"Statement of {witness.person.name}",
        (Paragraphs(numbered, bulleted=False),),
    )


def _about(witness: _Witness) -> Iterator[tuple[str, tuple[Source, ...]]]:
    person = witness.person
    task = f"On this job: {person.task}." if person.task else f"My part in this job: {BLANK}."
    own = (witness.source("name"), witness.source("task"))
    yield f"I am {person.name}. {task} I work for {BLANK} as {BLANK}.", own
    job = witness.view.job
    if job:
        site = job_source(witness.view.case, "site.address")
        yield f"This is about {job.title}, at {job.site.address}.", (site,)


def _photos(witness: _Witness) -> Section | None:
    """State which photos name the person's camera, and leave the rest to the person."""
    if not witness.photos:
        return None
    seen = witness.view
    cameras = " or ".join(witness.person.cameras)
    files = tuple(seen.photo_source(seen.photo(dated)) for dated in witness.photos)
    count = len(files)
    told = (
        say(
            f"The job file says that I photograph with {cameras}; {count} "
            f"{'file states' if count == 1 else 'files state'} that camera. I took these photos "
            "myself. (Strike those that you did not take.)",
            witness.source("cameras"),
            *files,
        ),
        provided(
            "Each of them shows fairly and accurately what I saw when I took it. (Strike those of "
            "which you cannot say that.)",
            rules.WITNESS,
        ),
        say(
            "The times below are those that the camera wrote into the files, with what they rest "
            "on. I state them from memory only where I say so here: "
            f"{BLANK}.",
            method("times of photos"),
        ),
    )
    rows = []
    for dated in witness.photos:
        photo = seen.photo(dated)
        stage = dated.stage.value if dated.stage else "in no stage that can be asserted"
        when = f"{stretch(dated.taken, seen.zone)} ({dated.basis.value})"
        cells = (f"P{seen.numbers[dated.sha256]}", photo.places[0], when, stage, BLANK)
        rows.append(row(*cells, sources=(seen.photo_source(photo),)))
    heads = ("Photo", "File", "Time in the file", "Stage", "It shows")
    blocks: list[Block] = [
        Paragraphs(told, bulleted=False),
        table(heads, rows, (0.6, 2.2, 2.6, 1.4, 1.5), small=True),
    ]
    return Section("photos", "Photos that name this person's camera", tuple(blocks))


def _declaration() -> Section:
    told = [
        say(
            "Of the two forms, strike the one that does not fit the place of signing.",
            method(METHOD),
        )
    ]
    for form in (rules.DECLARATION_WITHIN, rules.DECLARATION_OUTSIDE):
        text = form.text.replace("(date)", BLANK).replace("(Signature)", f"Signature: {BLANK * 2}")
        told.append(provided(text, form))
    return Section("declaration", "Declaration", (Paragraphs(tuple(told), bulleted=False),))


def _copies(witness: _Witness) -> Section:
    """Draft the certificate that copies are what was hashed (FRE 902(14))."""
    custody = witness.view.facts.custody
    lines = [line for line in custody.lines if line.event in back.INTAKE_EVENTS]
    log = Source(path="custody")
    told = [
        say(
            f"I, {BLANK}, certify what follows. I am qualified to do so because {BLANK}.",
            method(METHOD),
        ),
        provided(
            "The files listed under Custody are identified by their hash, SHA-256 (FIPS 180-4). "
            "A copy whose hash agrees is the same data; that does not show when, where or of what "
            "a photo was taken.",
            rules.DIGITAL_COPY,
        ),
    ]
    if lines:
        first, last = min(line.at for line in lines), max(line.at for line in lines)
        writers = ", ".join(sorted({line.writer for line in lines}))
        made = ", ".join(_tools(witness.view)) or "claimkit"
        told.append(
            say(
                f"They were first read and hashed between {first:%Y-%m-%d %H:%M:%S} and "
                f"{last:%Y-%m-%d %H:%M:%S} UTC with {made}, on the computer or computers that "
                f"write the logs named {writers}; the logs were written then, and each line "
                "carries the hash of the line before it.",
                log,
            )
        )
    told += [
        say(
            f"On {BLANK} I hashed the copies that are offered, with {BLANK}, and compared each "
            f"with that list; all agreed except: {BLANK}. (Do this before signing: claimkit "
            "verify, or the page in the bundle.)",
            method("custody"),
        ),
        provided(f"Notice was given on {BLANK} to {BLANK}.", rules.NOTICE),
        say(f"Executed on {BLANK}. Signature: {BLANK * 2}", method(METHOD)),
    ]
    told += [say(text, log, emphasis="does not support") for text in custody.breaks]
    return Section(
        "copies",
        "Certificate: copies by hash, FRE 902(14)",
        (Paragraphs(tuple(told), bulleted=False),),
        new_page=True,
    )


def _tools(seen: View) -> list[str]:
    runs = [line for line in seen.facts.custody.lines if line.event is CustodyEvent.RUN]
    return sorted({(line.detail or "").partition(";")[0] for line in runs} - {""})


def _regular(witness: _Witness) -> Section | None:
    """Draft the certificate of regular records, with how soon each came into a log."""
    if not witness.records:
        return None
    seen = witness.view
    told = (
        say(
            f"I, {BLANK}, am the custodian of these records, or qualified to speak of them "
            f"because {BLANK}.",
            method(METHOD),
        ),
        provided(
            f"{rules.REGULAR_RECORD.text} (Confirm each, or strike it.)", rules.REGULAR_RECORD
        ),
        say(f"Executed on {BLANK}. Signature: {BLANK * 2}", method(METHOD)),
    )
    rows = []
    for record in witness.records:
        line = seen.facts.custody.first_seen(record.sha256)
        written = (
            stretch(record.written.interval(""), seen.zone) if record.written else "not stated"
        )
        logged = f"{line.at:%Y-%m-%d %H:%M:%S} UTC, {line.writer} {line.number}" if line else "–"
        cells = (record.id, record.kind.replace("_", " "), written, logged)
        rows.append(row(*cells, sources=(seen.record_source(record),)))
    heads = ("Record", "Kind", "Written, as it states", "In a log since")
    blocks: list[Block] = [
        Paragraphs(told, bulleted=False),
        table(heads, rows, (2.4, 1, 2.2, 2.2), small=True),
        Paragraphs((say(_MADE_FOR_A_CLAIM, method(METHOD), emphasis="caution"),)),
    ]
    title = "Certificate: regular records, FRE 902(11)"
    return Section("regular", title, tuple(blocks))


def _parts() -> Section:
    rows = [
        row(part, what, provision.text, sources=(Source(citation=provision.citation),))
        for part, what, provision in rules.PARTS
    ]
    body = table(("Part of the packet", "What it is", "Rule"), rows, (2, 2, 3), small=True)
    return Section("parts", "What is a summary, what an illustration", (body,))
