"""The back of the packet: findings, records, papers, what was not checked, custody, methods."""

from __future__ import annotations

from dataclasses import replace

from claimkit.compose.blocks import of_finding, row, say, table
from claimkit.compose.for_others import NOTHING_ELSE
from claimkit.compose.packet.stamped import timestamps
from claimkit.compose.packet.view import View
from claimkit.compose.phrases import method
from claimkit.findings.claim.recognised import unnamed
from claimkit.findings.seams.rule_names import RULES as SEAM_RULES
from claimkit.model.anchors import Anchors, LogHead, hash_of_list
from claimkit.model.case import Reader
from claimkit.model.document import Block, Paragraphs, Section, Statement
from claimkit.model.facts import CustodyEvent, CustodyLine
from claimkit.model.source import Source

INTAKE_EVENTS = frozenset(
    {
        CustodyEvent.FIRST_SEEN,
        CustodyEvent.CHANGED,
        CustodyEvent.MISSING,
        CustodyEvent.RETURNED,
        CustodyEvent.RECORD_ADDED,
    }
)
HASH_LIMITS = (
    "A hash shows that a copy is the file that was hashed. It does not show when, where or of what "
    "a photo was taken; a witness says that. The chain of a log shows changes before its last head "
    "that stands elsewhere, such as in a packet that was sent; cutting its end off cannot be seen "
    "without one."
)
CUSTOMER_RULES = (*SEAM_RULES, "stage-photos")


def findings(view: View) -> Section | None:
    """List every finding with its next step; in the owner's packet only."""
    if not view.own:
        return None
    lines = [of_finding(f, advice=True) for f in view.findings()]
    if not lines:
        return None
    return Section("findings", "Findings", (Paragraphs(tuple(lines)),), new_page=True)


def records(view: View) -> Section | None:
    """List the records in view, replaced ones too, with who states them."""
    rows = []
    for record in view.records():
        person = view.job.person_named(record.said_by) if view.job else None
        state = f"replaced by {record.replaced_by}" if record.replaced_by else "in force"
        if record.replaces:
            state += f"; replaces {record.replaces}"
            state += f" because {record.reason}" if record.reason else ""
        rows.append(
            row(
                record.id,
                record.kind.replace("_", " "),
                person.name if person else record.said_by,
                state,
                sources=(view.record_source(record),),
            )
        )
    if not rows:
        return None
    body = table(("Record", "Kind", "Stated by", "State"), rows, (2.6, 1.2, 1.6, 2.6), small=True)
    return Section("records", "Records", (body,))


def papers(view: View) -> Section | None:
    """List the documents in the folder and what job.toml says they are."""
    rows = []
    guessed = {one.path: one.paper for one in unnamed(view.case) if one.paper}
    for paper, entry in view.papers():
        guess = f"; by its words: {guessed[paper.path]}" if paper.path in guessed else ""
        what = entry.what if entry else f"not named in job.toml{guess}"
        source = Source(path=paper.path, sha256=paper.sha256)
        cells = (paper.path, what, paper.kind.value, " ".join(paper.flaws) or "–")
        rows.append(row(*cells, sources=(source,)))
    if not rows:
        return None
    body = table(("File", "What it is", "Type", "Remark"), rows, (2.8, 1.8, 0.7, 3), small=True)
    return Section("documents", "Documents", (body,))


def not_checked(view: View) -> Section | None:
    """Say what was not checked and why: silence must not look like a pass.

    That every rule could be applied is said only where that holds of the whole job; a reader from
    whom some of it is kept is told nothing of it.
    """
    customer = view.reader is Reader.CUSTOMER
    rows = [
        row(
            n.rule,
            n.where,
            view.told(n.reason) or NOTHING_ELSE,
            sources=(Source(citation=f"rule {n.rule}"),),
        )
        for n in view.not_checked(*(CUSTOMER_RULES if customer else ()))
    ]
    blocks: list[Block] = []
    if rows:
        blocks.append(table(("Rule", "Where", "Why not"), rows, (1.6, 1.6, 5), small=True))
    blocks += _unread(view)
    if not blocks and view.case.not_checked:
        return None
    if not blocks:
        source = Source(citation="claimkit: register of checks")
        blocks.append(Paragraphs((say("Every rule of the register could be applied.", source),)))
    return Section("not-checked", "What was not checked", tuple(blocks))


def _unread(view: View) -> list[Block]:
    """List files with problems and files left alone; only their number for other readers."""
    facts = view.facts
    if view.own:
        lines = [say(p.sentence(), Source(path=p.file), emphasis="missing") for p in facts.problems]
        lines += [
            say(f"{n.path} was left alone: {n.reason}", Source(path=n.path))
            for n in facts.not_taken
        ]
        return [Paragraphs(tuple(lines))] if lines else []
    files = sorted({p.file for p in facts.problems})
    if not files:
        return []
    text = (
        f"{len(files)} file{'s' if len(files) > 1 else ''} of the job folder could not be used as "
        f"{'they stand' if len(files) > 1 else 'it stands'}; nothing here rests on "
        f"{'them' if len(files) > 1 else 'it'}."
    )
    return [Paragraphs((say(text, Source(citation="claimkit: intake"), emphasis="missing"),))]


def custody(view: View) -> Section:
    """List every original in view with its whole hash and when it was first seen."""
    rows = [_original(view, label, path, sha256) for label, path, sha256 in originals(view)]
    blocks: list[Block] = []
    if rows:
        heads = ("What", "File", "SHA-256 of the original", "First seen (UTC), log line")
        blocks.append(replace(table(heads, rows, (0.9, 2.3, 4, 2), small=True), lists_files=True))
    blocks.append(Paragraphs(tuple(_log_statements(view))))
    return Section("custody", "Custody: originals and their hashes", tuple(blocks), new_page=True)


def originals(view: View) -> tuple[tuple[str, str, str], ...]:
    """Give what it is, path and hash of every original in view, in print order."""
    found = []
    for dated in view.photos:
        photo = view.photo(dated)
        label = f"Photo {view.numbers[dated.sha256]}"
        found.append((label, photo.places[0], photo.sha256))
    found += [("Document", p.path, p.sha256) for p, _ in view.papers()]
    found += [("Record", r.path, r.sha256) for r in view.records()]
    if view.facts.job_sha256:
        found.append(("Job", "job.toml", view.facts.job_sha256))
    return tuple(found)


def anchors(view: View) -> Anchors:
    """Give what this packet keeps of the logs and of its list of originals."""
    heads = tuple(
        LogHead(writer, line.number, line.line_sha256) for writer, line in _heads(view).items()
    )
    files = [(path, sha256) for _, path, sha256 in originals(view)]
    return Anchors(heads, hash_of_list(files) if files else None)


def _original(view: View, label: str, path: str, sha256: str) -> tuple[Statement, ...]:
    line = view.facts.custody.first_seen(sha256) or _record_line(view, sha256)
    seen = f"{line.at:%Y-%m-%d %H:%M:%S}, {line.writer} {line.number}" if line else "not logged"
    return row(label, path, sha256, seen, sources=(Source(path=path, sha256=sha256),))


def _record_line(view: View, sha256: str) -> CustodyLine | None:
    lines = (line for line in view.facts.custody.lines if line.sha256 == sha256)
    added = [line for line in lines if line.event is CustodyEvent.RECORD_ADDED]
    return min(added, key=lambda line: (line.at, line.writer), default=None)


def _heads(view: View) -> dict[str, CustodyLine]:
    """Give each log's last intake line, in order of writers."""
    heads: dict[str, CustodyLine] = {}
    for line in view.facts.custody.lines:
        if line.event in INTAKE_EVENTS and (
            line.writer not in heads or line.number > heads[line.writer].number
        ):
            heads[line.writer] = line
    return dict(sorted(heads.items()))


def _log_statements(view: View) -> list[Statement]:
    custody = view.facts.custody
    told = [
        say(
            f"Log {writer}, line {line.number} ({line.at:%Y-%m-%d %H:%M:%S} UTC) is the last "
            f"intake line known to this packet; its SHA-256 is {line.line_sha256}.",
            Source(path=f"custody/{writer}.jsonl"),
        )
        for writer, line in _heads(view).items()
    ]
    whole = anchors(view).originals
    if whole:
        told.append(
            say(
                "Written as lines of hash, two spaces and file, in the order of the files' names, "
                f"the list of these originals has the SHA-256 {whole}.",
                method("custody"),
            )
        )
    told += timestamps(view, originals(view))
    log = Source(path="custody")
    told += [say(text, log, emphasis="does not support") for text in custody.breaks]
    told += [say(text, log, emphasis="missing") for text in custody.recovered]
    return [*told, say(HASH_LIMITS, Source(citation="claimkit method: custody"))]


def methods(view: View) -> Section:
    """State how the results were found, their limits, and the versions that made them."""
    told = [
        (
            "Times are read from each file's Exif block by two independent readers; where they "
            "differ, neither is used. A date without its own UTC offset is taken as local time at "
            "the site, and says so. File names and a file's other clocks only corroborate.",
            "claimkit method: times of photos",
        ),
        (
            "A gap is the mean of its repeats; its standard uncertainty combines resolution, "
            "repeats, operator, instrument scale and temperature (JCGM 100:2008). Intervals are "
            "expanded with k = 2. An answer is given at 95 % probability (JCGM 106:2012), else "
            "“cannot tell”.",
            "claimkit method: gap readings and their uncertainty",
        ),
        (
            "Pictures in this packet are scaled copies, turned upright. The originals were not "
            "changed; each is found by its hash.",
            "claimkit method: pictures",
        ),
        (
            "Tables of times, readings and hashes are summaries of the originals; timeline and "
            "plots are illustrations of them.",
            "FRE 1006 and FRE 107, as of 2024-12-01",
        ),
    ]
    lines = [say(text, Source(citation=citation)) for text, citation in told]
    if view.reader is not Reader.CUSTOMER:
        lines.append(
            say(
                "Receipts are graded by their words with claimkit's own convention: contradictory, "
                "specific, reservation only, too vague, clear, not stated.",
                Source(citation="claimkit method: grades of a receipt"),
            )
        )
    rows = [
        row(name, version, sources=(Source(citation="claimkit method: versions"),))
        for name, version in view.versions
    ]
    blocks: list[Block] = [Paragraphs(tuple(lines))]
    if rows:
        blocks.append(table(("Made with", "Version"), rows, (1, 1), small=True))
    return Section("methods", "Methods and limits", tuple(blocks))
