"""What the daily commands print: plain lines for an 80-column terminal, readable without colour.

Each function takes a case and gives lines. A standing is always a word, never only a colour.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC

from claimkit.compose.claim_words import liability_lines, life_lines
from claimkit.compose.phrases import day, site_zone, stretch
from claimkit.compose.terminal import opening_lines
from claimkit.compose.terminal.last_chance_lines import last_chance, told_elsewhere
from claimkit.compose.terminal.text import WIDTH, section, wrapped
from claimkit.findings.limits.next_move import next_move
from claimkit.findings.news import summary
from claimkit.findings.register import CHECKS
from claimkit.findings.unread import may_stand_in, unused_told
from claimkit.findings.wording import counted
from claimkit.model.case import Case, DatedPhoto, Finding, NotChecked, Standing
from claimkit.model.limit import LimitState, TimeLimit
from claimkit.model.moment import Interval
from claimkit.model.receipt import Receipt
from claimkit.model.records import Delivery
from claimkit.rules.marks import marked

SENTENCE_END = re.compile(r"(?<=[.?!]) (?=[A-Z“])")
OF_TERMS = ("limit-", "liability-", "claim-")
LONGEST_HEAD = 80
# What these say differs from place to place, and no title holds it: each is printed whole.
EACH = frozenset(
    {
        "gap-seam-together",
        "limit-terms-of-sale",
        "opening-mend-first",
        "photo-clock-would-fit",
        "receipt-refused",
    }
)
WORDS = {
    Standing.SUPPORTS: "FOR",
    Standing.AGAINST: "AGAINST",
    Standing.MISSING: "MISSING",
    Standing.NOTE: "NOTE",
}


def head(case: Case, part: str) -> list[str]:
    """Give the head of every command's output."""
    title = case.facts.job.title if case.facts.job else case.facts.folder_name
    right = f"{part}, as of {day(case.as_of)}"
    left = textwrap.shorten(title, max(WIDTH - len(right) - 2, 20), placeholder="…")
    lines = [f"{left}{right:>{WIDTH - len(left)}}", "─" * WIDTH]
    unused = unused_told(case.facts)
    if unused and case.facts.job:
        where = "" if part == "status" else " claimkit status says why."
        lines += ["", *wrapped(unused + where)]
    return lines


def no_job(case: Case, part: str) -> list[str]:
    """Print that job.toml cannot be used, with all problems, and nothing that rests on it."""
    lines = [
        *wrapped(
            "job.toml cannot be read: everything rests on it, so nothing is said of the job, "
            "neither what is known nor what is missing. Mend what stands below and run this again.",
            "",
        ),
        "",
        *head(case, part),
    ]
    if part == "status":
        lines += section("Next", wrapped(next_move(case).line(case.as_of)))
    return [*lines, *section("Files with problems", problems(case))]


def told(case: Case, part: str, whole: Callable[[Case], list[str]]) -> list[str]:
    """Print a part of a case, or why there is none."""
    return whole(case) if case.facts.job else no_job(case, part)


def finding(found: Finding) -> list[str]:
    """Print one finding: how it stands, where, what, what next, and its rule."""
    label = WORDS[found.standing] + (" NOW" if found.urgent else "")
    lines = wrapped(f"{found.where}: {found.message}", " " * 14, f"  {label:<12}")
    if found.do_next:
        lines += wrapped(found.do_next, " " * 14, f"{'do':>12}  ")
    return [*lines, f"{'':14}[{found.rule}]"]


def _places(members: list[Finding]) -> list[str]:
    """Name each place once; with what is said of it where a place has several, or a limit runs."""
    told: dict[str, list[str]] = {}
    for found in members:
        told.setdefault(found.where, []).append(_head(found.message))
    several = any(len(heads) > 1 for heads in told.values())
    if not several and not members[0].rule.startswith("limit-"):
        return list(told)
    named = {place: [h for h in dict.fromkeys(heads) if h] for place, heads in told.items()}
    return [f"{place} ({', '.join(heads)})" if heads else place for place, heads in named.items()]


def _head(message: str) -> str:
    """Give what a message is about: its words before the colon, or "" where it has none."""
    head, colon, _ = message.partition(": ")
    head = re.sub(r"^No (.+) is named in job\.toml$", r"\1", head)
    return head if colon and len(head) <= LONGEST_HEAD and ". " not in head else ""


def findings(case: Case, *prefixes: str) -> list[str]:
    """Print the findings whose rules begin with one of the prefixes, urgent ones first."""
    chosen = [f for f in case.findings if f.rule.startswith(prefixes or ("",))]
    order = [Standing.MISSING, Standing.AGAINST, Standing.SUPPORTS, Standing.NOTE]
    chosen.sort(key=lambda f: (not f.urgent, order.index(f.standing)))
    return grouped(chosen)


def grouped(chosen: list[Finding]) -> list[str]:
    """Print findings; those that say the same of several places, once with the places."""
    titles = {check.id: check.title for check in CHECKS}
    groups: dict[tuple[str, Standing, bool], list[Finding]] = {}
    for found in chosen:
        groups.setdefault((found.rule, found.standing, found.urgent), []).append(found)
    lines: list[str] = []
    for members in groups.values():
        first = members[0]
        if len(members) == 1 or first.rule in EACH:
            lines += [line for found in members for line in finding(found)]
            continue
        several = len({f.where for f in members}) < len(members)
        if several and not all(_head(f.message) for f in members):
            lines += [line for told in _by_place(members) for line in finding(told)]
            continue
        places = "; ".join(_places(members))
        title = titles.get(first.rule, first.rule).rstrip(".")
        told = replace(first, where=title, message=f"{places}.", do_next=_nexts(members))
        lines += finding(told)
    return lines


def _by_place(members: list[Finding]) -> list[Finding]:
    """Give one finding for each place, with all that is said of it; none loses what it says."""
    places: dict[str, list[Finding]] = {}
    for found in members:
        places.setdefault(found.where, []).append(found)
    return [
        replace(
            same[0],
            message=" ".join(dict.fromkeys(f.message for f in same)),
            do_next=_nexts(same),
        )
        for same in places.values()
    ]


def _nexts(members: list[Finding]) -> str:
    """Join what is to be done: no sentence twice, and an opening that all share once."""
    texts = list(dict.fromkeys(f.do_next for f in members if f.do_next))
    opening = texts[0].partition(": ")[0] + ": " if texts and ": " in texts[0] else ""
    shared = opening if len(texts) > 1 and all(t.startswith(opening) for t in texts) else ""
    rest = (SENTENCE_END.split(text.removeprefix(shared)) for text in texts)
    return shared + " ".join(dict.fromkeys(sentence for text in rest for sentence in text))


def not_checked(case: Case, *prefixes: str) -> list[str]:
    """Print what was not checked and why."""
    chosen = [n for n in case.not_checked if n.rule.startswith(prefixes or ("",))]
    return [
        line for n in chosen for line in wrapped(f"{n.where}: {n.reason} [{n.rule}]", "    ", "  ")
    ]


def problems(case: Case) -> list[str]:
    """Print every problem of the folder's files."""
    return [line for p in case.facts.problems for line in wrapped(p.sentence(), "    ", "  ")]


def left_alone(case: Case) -> list[str]:
    """Print which files and folders were left alone, and why."""
    lines: list[str] = []
    for left in case.facts.not_taken:
        lines += wrapped(f"{left.path} was left alone: {left.reason}", "    ", "  ")
    return lines


def status(case: Case) -> list[str]:
    """Print what is known, the next date and move, and what is missing."""
    lines = head(case, "status")
    lines += section("Next", wrapped(next_move(case).line(case.as_of)))
    lines += section("Files with problems", problems(case))
    lines += section("Known", _known(case))
    lines += section("New since last time", _news(case))
    lines += section("Claim", (x for text in life_lines(case) for x in wrapped(text, "    ", "  ")))
    lines += section("The carrier's limit, beside the full loss", _liability(case))
    lines += section("Last chance to read a gap", last_chance(case))
    others = told_elsewhere(case)
    urgent = [f for f in others if f.urgent]
    rest = [f for f in others if not f.urgent]

    def of(standing: Standing) -> list[str]:
        return grouped([f for f in rest if f.standing is standing])

    lines += section("Can only be mended now", grouped(urgent))
    lines += section("Missing", of(Standing.MISSING))
    lines += section("Does not support you", of(Standing.AGAINST))
    lines += section("Supports you", of(Standing.SUPPORTS))
    lines += section("To know", of(Standing.NOTE))
    lines += section("Not checked", not_checked(case))
    lines += section("Left alone", left_alone(case))
    return lines


def _news(case: Case) -> list[str]:
    told = summary(case)
    return wrapped(f"{told}. See: claimkit news") if told else []


def open_limits(case: Case) -> list[TimeLimit]:
    """Give the limits that still ask for something, by their act-by day."""
    states = (LimitState.RUNNING, LimitState.DUE_PASSED)
    running = [t for t in case.limits if t.state in states and t.act_by]
    return sorted(running, key=lambda t: (t.act_by or case.as_of, t.clause.id))


def _liability(case: Case) -> list[str]:
    return [x for text in liability_lines(case) for x in wrapped(text, "    ", "  ")]


def _known(case: Case) -> list[str]:
    facts, zone = case.facts, site_zone(case)
    lines: list[str] = []
    for shipment in facts.job.shipment if facts.job else ():
        party = facts.job.party_named(shipment.carrier) if facts.job else None
        pro = f", PRO {shipment.pro_number}" if shipment.pro_number else ""
        lines += wrapped(
            f"shipment {shipment.id}: {party.name if party else shipment.carrier}{pro}",
            "    ",
            "  ",
        )
    for record in facts.in_force(Delivery):
        if isinstance(record.body, Delivery) and record.body.arrived:
            when = stretch(record.body.arrived.interval(""), zone)
            lines += wrapped(f"truck arrived {when} ({record.id})", "    ", "  ")
    lines += [f"  receipt {r.shipment or ''}: {r.reading.grade.value}" for r in case.receipts]
    dated = [p for p in case.photos if p.taken.known]
    lines.append(
        f"  {counted(len(facts.photos), 'photo')}, {len(dated)} dated; "
        f"{counted(len(facts.records), 'record')}; {counted(len(facts.papers), 'document')}"
    )
    if case.readings:
        read = counted(len(case.readings), "gap reading")
        lines.append(f"  {read}, {counted(len(case.comparisons), 'comparison')}")
    lines += opening_lines.summary(case)
    return lines


def timeline(case: Case) -> list[str]:
    """Print episodes and photos in the order of their instants, undated ones last."""
    zone = site_zone(case)
    lines = head(case, "timeline")
    episodes = sorted(
        case.episodes, key=lambda e: (e.interval.earliest is None, _key(e.interval), e.id)
    )
    lines += section(
        "Episodes",
        (
            line
            for e in episodes
            for line in wrapped(
                f"{e.stage.value}: {stretch(e.interval, zone)}"
                + (f" ({e.about})" if e.about else ""),
                "      ",
                "  ",
            )
        ),
    )
    dated = sorted(
        (d for d in case.photos if d.taken.known), key=lambda d: (_key(d.stands), d.sha256)
    )
    rest = [d for d in case.photos if not d.taken.known]
    lines += section("Photos", (x for d in dated for x in _photo(case, d)))
    videos = [d for d in case.videos if d.taken.known]
    lines += section("Videos", (x for d in videos for x in _photo(case, d)))
    lines += section("Photos without a usable time", (x for d in rest for x in _photo(case, d)))
    prefixes = ("photo-", "video-", "custody-", "file-")
    lines += section("Findings", findings(case, *prefixes))
    lines += section(
        "Not checked", not_checked(case, "photo-", "video-", "stage-photos", "stage-episodes")
    )
    return lines


def _key(interval: Interval) -> str:
    return interval.earliest.astimezone(UTC).isoformat() if interval.earliest else ""


def _photo(case: Case, dated: DatedPhoto) -> list[str]:
    photo = case.facts.photo_of(dated.sha256)
    video = next((p.path for p in case.facts.papers if p.sha256 == dated.sha256), "")
    path = photo.places[0] if photo else video
    when = stretch(dated.taken, site_zone(case)) if dated.taken.known else dated.why
    stage = f", {dated.stage.value}" if dated.stage else ""
    lines = wrapped(f"{when}{stage}", "      ", "  ")
    lines += wrapped(f"{path} ({dated.basis.value})", "      ", "      ")
    if dated.corrected and dated.correction:
        decides = "" if dated.correction.holds else "; both times are kept open"
        said = f"corrected: {stretch(dated.corrected, site_zone(case))}"
        lines += wrapped(f"{said} ({dated.correction.basis.value}{decides})", "      ", "      ")
    return lines


def exceptions(case: Case) -> list[str]:
    """Print each receipt's words, grade, what decided, and the words to add."""
    lines = head(case, "exceptions")
    for receipt in case.receipts:
        lines += section(f"Receipt, shipment {receipt.shipment or '–'}", _receipt(receipt))
    if not case.receipts:
        text = "No delivery record states what was written on the receipt."
        lines += ["", *wrapped(f"{text} {may_stand_in(case.facts)}".rstrip())]
    lines += section("Findings", findings(case, "receipt-", "delivery-"))
    lines += section("Not checked", not_checked(case, "receipt-", "stage-receipts"))
    return lines


def _receipt(receipt: Receipt) -> list[str]:
    reading = receipt.reading
    words = "not recorded" if receipt.words is None else f"“{receipt.words.strip()}”"
    if receipt.words is not None and not receipt.words.strip():
        words = "none written"
    lines = wrapped(words, " " * 15, f"  {'words':<13}")
    lines.append(f"  {'grade':<13}{reading.grade.value}")
    lines.append(f"  {'reservation':<13}{reading.reservation.value}")
    for match in reading.matches:
        lines += wrapped(f"“{match.text}”: {match.what}", " " * 17, f"  {'':<13}")
    for text in reading.because:
        lines += wrapped(text, " " * 15, f"  {'':<13}")
    if receipt.our_words is not None:
        lines += wrapped(f"“{receipt.our_words}”", " " * 15, f"  {'our copy':<13}")
        lines.append(f"  {'differs':<13}{receipt.copies_differ.value}")
    if reading.write_long:
        lines += wrapped(reading.write_long, " " * 15, f"  {'write, paper':<13}")
        lines += wrapped(reading.write_short, " " * 15, f"  {'handheld':<13}")
    return lines


def deadlines(case: Case) -> list[str]:
    """Print every time limit by its act-by day, with its steps."""
    lines = head(case, "deadlines")
    running = open_limits(case)
    rest = [t for t in case.limits if t not in running]
    lines += section("Open", (x for t in running for x in _limit(t)))
    lines += section("Others", (x for t in rest for x in _limit(t)))
    if not case.limits:
        text = "No time limit could be worked out; see below."
        lines += ["", *wrapped(f"{text} {may_stand_in(case.facts)}".rstrip())]
    lines += section("The carrier's limit, beside the full loss", _liability(case))
    lines += section("Findings", findings(case, *OF_TERMS))
    lines += section("Not checked", not_checked(case, *OF_TERMS, "stage-li"))
    lines += [
        "",
        *wrapped(
            "The carrier's tariff or the signed bill of lading can shorten or change a period: "
            "enter it in job.toml (shipment.override). This is no legal advice."
        ),
    ]
    return lines


def _limit(limit: TimeLimit) -> list[str]:
    clause = limit.clause
    title = f"{clause.title} ({limit.shipment}; {clause.whose.value})"
    lines = wrapped(title, "    ", "  ")
    dates = f"act by {day(limit.act_by)}   last day {day(limit.nominal)}"
    state = limit.state.value + (f" {day(limit.met_on)}" if limit.met_on else "")
    lines.append(f"      {dates}   {state}" if limit.nominal else f"      {state}")
    for text in limit.steps():
        lines += wrapped(text, "        ", "      ")
    return [*lines, *wrapped(marked(clause.citation, clause.mark), "        ", "      ")]


def crashed(case: Case) -> list[NotChecked]:
    """Give the rules that failed through a defect of claimkit itself."""
    return [n for n in case.not_checked if n.crashed]
