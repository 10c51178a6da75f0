"""Whether the counts that a receipt states clash with each other or with those recorded.

Handling units and cartons are kept apart: "1 skid, short 2 ctns" is no contradiction, since a
carton can be short inside a skid that arrived.
"""

from __future__ import annotations

from claimkit.findings.receipt.counts import Count, Recorded
from claimkit.findings.receipt.parts import GOODS, kind_of_unit

Lines = list[tuple[int | None, int | None]]


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
                same = same or {due.unit, count.unit} == {"piece", GOODS}
                if same and count.value < due.value:
                    return count
    return None


def clashes(
    found: tuple[Count, ...],
    full: bool,
    recorded: Recorded,
    *,
    said_to_contain: bool,
) -> tuple[str, ...]:
    """Say in sentences which counts clash; empty where none do.

    `full` where the words state a full count, `said_to_contain` where they say STC or SLC.
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
    named = [c for c in found if c.role == "named"]
    for count in received or named:
        out.extend(_against_shorts(count, shorts, found))
    out.extend(_two_counts(received, found))
    out.extend(_sums(found))
    out.extend(_against_record(found, full, recorded, said_to_contain))
    return tuple(dict.fromkeys(out))


def _two_counts(received: list[Count], found: tuple[Count, ...]) -> list[str]:
    """Compare counts of one whole that are stated twice: "6 of 6 here. 5 of 6 here"."""
    parts = {
        (c.of, c.unit): {d.value for d in received if (d.of, d.unit) == (c.of, c.unit)}
        for c in received
        if c.of is not None
    }
    out = [
        f"{' and '.join(map(str, sorted(values)))} of {of} received cannot both hold"
        for (of, _), values in parts.items()
        if len(values) > 1
    ]
    wholes = [c for c in found if c.whole and c.unit and c.role in ("received", "named")]
    out += [
        f"{c.value} and {w.value} received cannot both hold"
        for w in wholes
        for c in received
        if c.of is None and c.unit == w.unit and c.value != w.value
    ]
    return out + _listed_sum(found)


def _listed_sum(found: tuple[Count, ...]) -> list[str]:
    """Compare a stated total with the numbers listed beside it: "total 14: 9 ctns, 4 ctns"."""
    totals = {c.value for c in found if c.whole and c.role in ("received", "named", "total")}
    listed = [c for c in found if c.role == "named" and not c.whole]
    alike = len({c.unit for c in listed}) == 1
    total = next(iter(totals)) if len(totals) == 1 else None
    added = sum(c.value for c in listed)
    if total is None or len(listed) < 2 or not alike or added == total:
        return []
    return [f"{' and '.join(str(c.value) for c in listed)} do not make the total of {total}"]


def _same_unit(a: Count, b: Count) -> bool:
    if not a.unit or not b.unit or a.unit == b.unit:
        return True
    return {a.unit, b.unit} in ({"carton", "piece"}, {"piece", GOODS})


def _against_shorts(count: Count, shorts: list[Count], found: tuple[Count, ...]) -> list[str]:
    whole = count.of
    if whole is None:
        due = [c for c in found if c.role == "expected" and _same_unit(c, count)]
        whole = due[0].value if due else None
    out = []
    for item in shorts:
        if count.of is None and item.of is not None and _same_unit(count, item):
            if count.value + item.value != item.of:
                out.append(f"received {count.value} does not make {item.value} short of {item.of}")
            continue
        if whole is None:
            continue
        if _same_unit(count, item) and count.value <= whole and item.value != whole - count.value:
            if item.of is not None and item.of != whole:
                continue
            out.append(f"received {count.value} of {whole} does not make {item.value} short")
    return out


def _sums(found: tuple[Count, ...]) -> list[str]:
    """Compare a total received with the parts said to be good and bad."""
    totals = [c for c in found if c.of is None and c.role in ("received", "total")]
    good = [c for c in found if c.role == "good" and c.of is None]
    bad = [c for c in found if c.role == "bad" and c.of is None]
    if len(totals) != 1 or not good or not bad:
        return []
    total = totals[0]
    if not all(_same_unit(total, part) for part in (*good, *bad)):
        return []
    fine, broken = sum(c.value for c in good), sum(c.value for c in bad)
    one_of_each = len(good) == len(bad) == 1
    if fine + broken > total.value or (one_of_each and fine + broken < total.value):
        return [f"{fine} good and {broken} damaged do not make the {total.value} received"]
    return []


def _against_record(
    found: tuple[Count, ...], full: bool, recorded: Recorded, said_to_contain: bool
) -> list[str]:
    out: list[str] = []
    handling_named = said_to_contain or any(c.unit == "handling" for c in found)
    sent_back = [c for c in found if c.role == "refused"]
    for count in found:
        if count.role not in ("received", "short", "expected") or _of_other_unit(
            count, found, recorded
        ):
            continue
        lines = _comparable(count, recorded, handling_named)
        if not lines:
            continue
        back = sum(c.value for c in sent_back if _same_unit(c, count))
        if not any(_agrees(count, expected, got, back) for expected, got in lines):
            out.append(f"{_said(count)}, and the record has {_had(lines)}")
    out.extend(_more_good_than_came(found, recorded, handling_named))
    if full and not any(c.role in ("received",) for c in found):
        short_units = _is_short(recorded.units_expected, recorded.units_received)
        short_cartons = _is_short(recorded.cartons_expected, recorded.cartons_received)
        if (short_units or short_cartons) and not sent_back:
            out.append("the words state a full count, and the record counts fewer than expected")
    elif full and not sent_back and _is_short(recorded.units_expected, recorded.units_received):
        out.append("the words state a full count, and the record counts fewer than expected")
    return out


def _of_other_unit(count: Count, found: tuple[Count, ...], recorded: Recorded) -> bool:
    """Tell whether another unit of the note is the one recorded: "2 plts / 60 cs" of 60."""
    units = {c.unit for c in found if c.unit}
    if not count.unit and ("handling" not in units or len(units) < 2):
        return False
    one_record = recorded.cartons_received is None or recorded.units_received is None
    line = (recorded.units_expected, recorded.units_received)
    if recorded.units_received is None:
        line = (recorded.cartons_expected, recorded.cartons_received)
    return one_record and any(
        _agrees(other, *line)
        for other in found
        if other.unit
        and {count.unit == "handling", other.unit == "handling"} == {True, False}
        and other.role in ("received", "expected", "total", "named")
    )


def _more_good_than_came(
    found: tuple[Count, ...], recorded: Recorded, handling_named: bool
) -> list[str]:
    out = []
    for count in found:
        if count.role != "good" or count.of is not None:
            continue
        lines = _comparable(count, recorded, handling_named)
        if lines and all(got is not None and count.value > got for _, got in lines):
            out.append(
                f"the words say {count.value} in good order, and the record has {_had(lines)}"
            )
    return out


def _is_short(expected: int | None, received: int | None) -> bool:
    return expected is not None and received is not None and received < expected


def _comparable(count: Count, recorded: Recorded, handling_named: bool) -> Lines:
    units = (recorded.units_expected, recorded.units_received)
    cartons = (recorded.cartons_expected, recorded.cartons_received)
    has_units, has_cartons = units[1] is not None, cartons[1] is not None
    own = kind_of_unit(recorded.unit)
    if count.unit in ("handling", own) and count.unit:
        return [units] if has_units else []
    if count.unit == GOODS and own:  # an article on a skid is no skid and no carton
        return []
    if own == "handling" and count.unit != "" and not has_cartons:
        # "2 of 3 pcs" of 3 skids are the skids; "6 pcs" on 2 skids are not counted at all.
        handling_named = handling_named or count.of != units[0]
    if count.unit in ("carton", "piece"):
        if has_cartons:
            return [cartons, units] if has_units and not handling_named else [cartons]
        counted_alike = has_units and not handling_named and (units[1] or 0) > 1
        return [units] if counted_alike else []
    return [line for line, has in ((units, has_units), (cartons, has_cartons)) if has]


def _agrees(count: Count, expected: int | None, received: int | None, back: int = 0) -> bool:
    """Tell whether a count is the recorded one; `back` were refused, and left out of either."""
    if count.role in ("received", "total", "named"):
        whole = count.of is None or expected is None or count.of == expected
        left = (count.value - back, count.value, count.value + back)
        return whole and (received is None or received in left)
    if count.role == "expected":
        return expected is None or count.value == expected
    if expected is not None and count.of not in (None, expected):
        return False
    return None in (expected, received) or count.value == (expected or 0) - (received or 0)


def _said(count: Count) -> str:
    if count.role == "short":
        return f"the words say {count.value} short"
    if count.role == "expected":
        return f"the words say {count.value} expected"
    whole = f" of {count.of}" if count.of is not None else ""
    return f"the words say {count.value}{whole} received"


def _had(lines: Lines) -> str:
    expected, received = lines[0]
    whole = f" of {expected}" if expected is not None else ""
    return f"{received}{whole} received"
