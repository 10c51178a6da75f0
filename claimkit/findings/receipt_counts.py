"""Counts that a receipt states, and whether they clash with each other or with those recorded.

"Rec'd 3 of 4" is a shortage of one; "ctn 3 of 4" names a carton; "3 of 4 wet" says how many.
Handling units and cartons are kept apart: "1 skid, short 2 ctns" is no contradiction.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.findings.receipt_match import Marked, sentence_end, sentence_start
from claimkit.findings.receipt_parts import UNITS, is_count, is_label
from claimkit.findings.receipt_text import LINK, NO_STOP, SOFT, Token


@dataclass(frozen=True, slots=True)
class Recorded:
    """Counts as the delivery record has them; None where nobody recorded one."""

    units_expected: int | None = None
    units_received: int | None = None
    cartons_expected: int | None = None
    cartons_received: int | None = None


@dataclass(frozen=True, slots=True)
class Count:
    """A count in the words. `role` is received, expected, short, bad, good or total.

    `unit` is handling, carton, piece or "" where no unit is named. `of` is the whole where the
    words say "N of M".
    """

    role: str
    value: int
    of: int | None
    unit: str
    first: int
    last: int


def pair_at(tokens: tuple[Token, ...], at: int) -> tuple[int, int, int] | None:
    """Read "3/4", "3 of 4", "3 out of 4", "3 of the 4" at a token: part, whole, next token."""
    token = tokens[at]
    if token.sort == "pair" and token.value is not None and token.of is not None:
        return token.value, token.of, at + 1
    if token.value is None or token.sort not in ("number", "word"):
        return None
    after = at + 1
    while after < len(tokens) and tokens[after].stop == NO_STOP and (
        tokens[after].word in ("out", "total") or (after == at + 1 and tokens[after].classes & UNITS)
    ):
        after += 1
    if after >= len(tokens) or tokens[after].word != "of" or tokens[after].stop > NO_STOP:
        return None
    after += 1
    while after < len(tokens) and tokens[after].classes & {"the"}:
        after += 1
    if after < len(tokens) and tokens[after].value is not None and tokens[after].sort in ("number", "word"):
        return int(token.value), int(tokens[after].value or 0), after + 1
    return None


def unit_near(tokens: tuple[Token, ...], last: int) -> tuple[str, int]:
    """Give the unit named after a count and the token after it; "" where none is."""
    for at in range(last, min(last + 3, len(tokens))):
        if tokens[at].stop > NO_STOP:
            break
        for name in ("handling", "carton", "piece"):
            if name in tokens[at].classes:
                return name, at + 1
        if tokens[at].sort != "word" or tokens[at].classes & {"no", "not", "took", "people"}:
            break
    return "", last


def counts(
    marked: Marked, bad_at: frozenset[int], good_at: frozenset[int], short_at: frozenset[int],
    recorded: Recorded,
) -> tuple[Count, ...]:
    """Read every count. `bad_at`, `good_at`, `short_at` are tokens of affirmed statements."""
    tokens = marked.tokens
    found: list[Count] = []
    skip = 0
    for at in range(len(tokens)):
        if at < skip or at in marked.covered:
            continue
        pair = pair_at(tokens, at)
        if pair is not None:
            part, whole, last = pair
            count = _pair_count(marked, at, (part, whole, last), bad_at, good_at, short_at, recorded)
            skip = last
        elif is_count(tokens, at) or _on_the_bill(tokens, at):
            count = _single(marked, at, bad_at, good_at, short_at)
        else:
            continue
        if count is not None:
            found.append(count)
    return tuple(found)


def _pair_count(
    marked: Marked,
    at: int,
    pair: tuple[int, int, int],
    bad_at: frozenset[int],
    good_at: frozenset[int],
    short_at: frozenset[int],
    recorded: Recorded,
) -> Count | None:
    tokens = marked.tokens
    part, whole, last = pair
    slashed = tokens[at].sort == "pair"
    if whole == 0 or _elsewhere(tokens, at):
        return None
    if last < len(tokens) and tokens[last].stop == NO_STOP and tokens[last].classes & {"measures"}:
        if not tokens[last].classes & UNITS:
            return None
    unit, beyond = unit_near(tokens, last)
    role = _role(marked, at, beyond, bad_at, good_at, short_at)
    if is_label(tokens, at) and not (role == "received" and _took_before(tokens, at, 3)):
        return None
    if role == "" and (unit or not slashed or _as_recorded(part, whole, recorded)):
        sentence = range(sentence_start(tokens, at), sentence_end(tokens, at))
        role = "bad" if any(i in bad_at for i in sentence if i >= last) and unit else "received"
    if role == "received" and slashed and not unit and not _as_recorded(part, whole, recorded):
        near = _took_before(tokens, at, 4) or _near_words(tokens, at, last)
        if not near:
            return None
    if role == "":
        return None
    if not unit:
        unit = _unit_before(tokens, at)
    return Count(role, part, whole, unit, at, last)


def _on_the_bill(tokens: tuple[Token, ...], at: int) -> bool:
    """Tell whether a number after "BOL" or "bill" is a count and not the paper's own number."""
    before = tokens[at - 1] if at else None
    small = tokens[at].value is not None and int(tokens[at].value or 0) < 1000
    return small and before is not None and "expected" in before.classes and before.word != "#"


def _near_words(tokens: tuple[Token, ...], at: int, last: int) -> bool:
    around = [tokens[i] for i in (at - 1, last) if 0 <= i < len(tokens)]
    return any(
        t.classes & (UNITS | {"goods", "took", "all"}) or t.word in ("count", "total", "ok", "short", "only")
        for t in around
    )


def _elsewhere(tokens: tuple[Token, ...], at: int) -> bool:
    words = [tokens[i].word for i in range(max(0, at - 1), at)]
    return any(w in ("load", "page", "trip", "stop", "truck", "trailer", "day", "driver", "part", "bol", "pro", "po", "on", "apt", "since", "dated", "date", "w") for w in words)


def _as_recorded(part: int, whole: int, recorded: Recorded) -> bool:
    return (part, whole) in (
        (recorded.units_received, recorded.units_expected),
        (recorded.cartons_received, recorded.cartons_expected),
    )


def _took_before(tokens: tuple[Token, ...], at: int, reach: int) -> bool:
    for before in range(at - 1, max(-1, at - 1 - reach), -1):
        if tokens[before + 1].stop >= SOFT:
            return False
        if "took" in tokens[before].classes:
            return True
        if tokens[before].value is not None:
            return False
    return False


def _took_after(tokens: tuple[Token, ...], last: int) -> bool:
    for after in range(last, min(last + 3, len(tokens))):
        if tokens[after].stop >= SOFT or tokens[after].value is not None:
            return False
        if "took" in tokens[after].classes or tokens[after].word in ("off", "total"):
            return True
    return False


def _role(
    marked: Marked,
    at: int,
    last: int,
    bad_at: frozenset[int],
    good_at: frozenset[int],
    short_at: frozenset[int],
) -> str:
    tokens = marked.tokens
    taken = _took_before(tokens, at, 3)
    for after in range(last, min(last + 5, len(tokens))):
        if tokens[after].stop >= SOFT or (after > last and tokens[after].value is not None):
            break
        if taken and tokens[after].stop >= LINK:
            break
        if after in short_at:
            own = after + 1 < len(tokens) and tokens[after + 1].value is not None
            return "received" if taken and own else "short"
        if after in bad_at:
            return "bad"
        if after in good_at:
            return "received" if _took_before(tokens, at, 4) else "good"
        if "took" in tokens[after].classes and tokens[after].word not in ("have", "get", "signed"):
            return "received"
        if "no" in tokens[after].classes or "not" in tokens[after].classes:
            break
    for before in range(at - 1, max(-1, at - 5), -1):
        if tokens[before + 1].stop >= SOFT:
            break
        if before in short_at:
            return "short"
        if before in bad_at:
            return "bad"
        if "took" in tokens[before].classes:
            return "received"
        if tokens[before].value is not None:
            break
    return ""


def _unit_before(tokens: tuple[Token, ...], at: int) -> str:
    if at and tokens[at].stop <= LINK:
        for name in ("handling", "carton", "piece"):
            if name in tokens[at - 1].classes:
                return name
    return ""


def _single(
    marked: Marked, at: int, bad_at: frozenset[int], good_at: frozenset[int], short_at: frozenset[int]
) -> Count | None:
    tokens = marked.tokens
    value = int(tokens[at].value or 0)
    unit, last = unit_near(tokens, at + 1)
    if _expected(tokens, at, last):
        return Count("expected", value, None, unit, at, last)
    role = _single_role(marked, at, last, bad_at, good_at, short_at)
    if role in ("received", "total") and not unit and not _took_before(tokens, at, 2):
        if not (_took_after(tokens, last)):
            return None
    return Count(role, value, None, unit, at, last) if role else None


def _single_role(
    marked: Marked, at: int, last: int, bad_at: frozenset[int], good_at: frozenset[int], short_at: frozenset[int]
) -> str:
    tokens = marked.tokens
    if at in short_at:
        inside = [hit for hit in marked.hits if hit.head <= at < hit.last]
        only = any(tokens[i].classes & {"only"} for h in inside for i in range(h.first, h.last))
        return "received" if only else "short"
    role = _role(marked, at, last, bad_at, good_at, short_at)
    before = tokens[at - 1] if at else None
    if before is not None and tokens[at].stop <= LINK and (
        (at - 1) in short_at
    ):
        return "short"
    if role == "received" and before is not None and before.word == "all":
        return "received"
    if role == "" and _took_after(tokens, last):
        return "received"
    return role


def _expected(tokens: tuple[Token, ...], at: int, last: int) -> bool:
    before = [tokens[i] for i in range(max(0, at - 3), at) if all(tokens[j].stop < SOFT for j in range(i + 1, at + 1))]
    words = [t.word for t in before]
    numbers = [i for i, t in enumerate(before) if t.value is not None]
    before = before[numbers[-1] + 1 :] if numbers else before
    words = [t.word for t in before]
    if any(t.classes & {"expected"} for t in before) and not any(
        t.classes & {"took"} and t.word not in ("have", "del", "delivered", "get") for t in before
    ):
        return not ("says" in words and "driver" in words) and "freight" not in words
    if "instead" in words or (words[-1:] == ["be"] and "should" in words):
        return True
    after = [tokens[i] for i in range(last, min(last + 3, len(tokens))) if tokens[i].stop <= NO_STOP]
    return len(after) >= 2 and after[0].word in ("on", "per", "listed", "ordered", "expected", "called") and (
        after[0].word in ("ordered", "expected", "listed") or bool(after[1].classes & {"expected"}) or after[1].word == "for"
    )


def missing_by_count(found: tuple[Count, ...]) -> Count | None:
    """Give the count that shows a shortage: "rec'd 3 of 4", or BOL 10 against 9 received."""
    for count in found:
        if count.role == "received" and count.of is not None and count.value < count.of:
            return count
    expected = [c for c in found if c.role == "expected"]
    for count in found:
        if count.role == "received" and count.of is None:
            for due in expected:
                same = not due.unit or not count.unit or due.unit == count.unit
                if same and count.value < due.value:
                    return count
    return None


def clashes(
    found: tuple[Count, ...],
    full: bool,
    short: bool,
    recorded: Recorded,
    said_to_contain: bool,
) -> tuple[str, ...]:
    """Say in sentences which counts clash; empty where none do.

    `full` where the words state a full count, `short` where they state a shortage.
    """
    out: list[str] = []
    received = [c for c in found if c.role == "received"]
    shorts = [c for c in found if c.role == "short"]
    by_count = missing_by_count(found)
    if full and by_count is not None:
        out.append(
            f"the words state a full count, and {by_count.value} received of "
            f"{by_count.of or 'more'}"
        )
    for count in received:
        out.extend(_against_shorts(count, shorts, found, short))
    out.extend(_sums(found))
    out.extend(_against_record(found, full, recorded, said_to_contain))
    return tuple(dict.fromkeys(out))


def _same_unit(a: Count, b: Count) -> bool:
    if not a.unit or not b.unit or a.unit == b.unit:
        return True
    return {a.unit, b.unit} == {"carton", "piece"}


def _against_shorts(
    count: Count, shorts: list[Count], found: tuple[Count, ...], short: bool
) -> list[str]:
    whole = count.of
    if whole is None:
        due = [c for c in found if c.role == "expected" and _same_unit(c, count)]
        whole = due[0].value if due else None
    if whole is None:
        return []
    out = []
    for item in shorts:
        if _same_unit(count, item) and count.value <= whole and item.value != whole - count.value:
            if item.of is not None and item.of != whole:
                continue
            out.append(f"received {count.value} of {whole} does not make {item.value} short")
    return out


def _sums(found: tuple[Count, ...]) -> list[str]:
    """Compare a total received with the parts said to be good and bad."""
    totals = [c for c in found if c.role == "received" and c.of is None or c.role == "total"]
    good = [c for c in found if c.role == "good" and c.of is None]
    bad = [c for c in found if c.role == "bad" and c.of is None]
    if len(totals) != 1 or len(good) != 1 or len(bad) != 1:
        return []
    total, fine, broken = totals[0], good[0], bad[0]
    if not (_same_unit(total, fine) and _same_unit(total, broken) and total.unit):
        return []
    if not (fine.unit and broken.unit) and fine.value + broken.value <= total.value:
        return []
    if fine.value + broken.value == total.value:
        return []
    return [f"{fine.value} good and {broken.value} damaged do not make the {total.value} received"]


def _against_record(
    found: tuple[Count, ...], full: bool, recorded: Recorded, said_to_contain: bool
) -> list[str]:
    out: list[str] = []
    handling_named = said_to_contain or any(c.unit == "handling" for c in found)
    for count in found:
        if count.role not in ("received", "short", "expected"):
            continue
        lines = _comparable(count, recorded, handling_named)
        if not lines:
            continue
        if not any(_agrees(count, expected, got) for expected, got in lines):
            out.append(f"{_said(count)}, and the record has {_had(lines)}")
    if full and not any(c.role in ("received",) for c in found):
        short_units = _is_short(recorded.units_expected, recorded.units_received)
        short_cartons = _is_short(recorded.cartons_expected, recorded.cartons_received)
        if short_units or short_cartons:
            out.append("the words state a full count, and the record counts fewer than expected")
    elif full and _is_short(recorded.units_expected, recorded.units_received):
        out.append("the words state a full count, and the record counts fewer than expected")
    return out


def _is_short(expected: int | None, received: int | None) -> bool:
    return expected is not None and received is not None and received < expected


def _comparable(
    count: Count, recorded: Recorded, handling_named: bool
) -> list[tuple[int | None, int | None]]:
    units = (recorded.units_expected, recorded.units_received)
    cartons = (recorded.cartons_expected, recorded.cartons_received)
    has_units, has_cartons = units[1] is not None, cartons[1] is not None
    if count.unit == "handling":
        return [units] if has_units else []
    if count.unit in ("carton", "piece"):
        if has_cartons:
            return [cartons, units] if has_units and not handling_named else [cartons]
        counted_alike = has_units and not handling_named and (units[1] or 0) > 1
        return [units] if counted_alike else []
    return [line for line, has in ((units, has_units), (cartons, has_cartons)) if has]


def _agrees(count: Count, expected: int | None, received: int | None) -> bool:
    if count.role == "received":
        whole = count.of is None or expected is None or count.of == expected
        return whole and (received is None or count.value == received)
    if count.role == "expected":
        return expected is None or count.value == expected
    if expected is None or received is None:
        return True
    return count.value == expected - received


def _said(count: Count) -> str:
    if count.role == "short":
        return f"the words say {count.value} short"
    if count.role == "expected":
        return f"the words say {count.value} expected"
    whole = f" of {count.of}" if count.of is not None else ""
    return f"the words say {count.value}{whole} received"


def _had(lines: list[tuple[int | None, int | None]]) -> str:
    expected, received = lines[0]
    whole = f" of {expected}" if expected is not None else ""
    return f"{received}{whole} received"

