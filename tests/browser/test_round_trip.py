"""Whatever an entry on the page holds, the record that it writes reads back to the same.

Entries are made by hypothesis, many to a call, in one session of the browser. What a record must
hold is told here from the entry and by nothing of claimkit; `tomllib` reads it first (TOML 1.0,
toml.io/en/v1.0.0), then claimkit's own reader.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from claimkit.intake.entries.records import read_record
from claimkit.model.records import Delivery
from tests.browser.phone import Phone, phone, write_page

# The texts go over as JSON in ASCII: half a character would not pass as itself.
SCRIPT = """asked => JSON.parse(asked).map(({entry, people, shipment, now}) => {
    const {data, recordOf, namesOf} = window.claimkit;
    const shipments = [{...data.job.shipments[0], id: shipment}];
    const own = {...data, job: {...data.job, people, shipments}};
    const whole = {...window.claimkit.app.entry, ...entry};
    const at = new Date(now);
    return recordOf(own, whole, at, namesOf(own, whole, at));
})"""
BATCH, EXAMPLES = 3, 250

REFUSED = {
    "on": "carton", "numbers": [1], "count": 1, "kind": None, "where": None, "size": None,
    "refused": True,
}  # fmt: skip

# Halves of characters too: a field of a browser can hold them.
characters = st.one_of(
    st.characters(),
    st.sampled_from("\"'\\\n\r\t\b\f\0\x1b\x7f\x85\xa0\u2028\u2029\ufeff=[]{}#$<>&`"),
    st.sampled_from("\u200e\u200f\u202a\u202e\u2066\u2069\u200d\ud800\udbff\udc00\udfff"),
    st.sampled_from("é中面ЖΩ😀𐍈"),
)
# A list put together: as an alphabet hypothesis would leave the halves out.
texts = st.lists(characters, max_size=30).map("".join) | st.sampled_from(
    [
        "# End of the record.\nsigned = true",
        '"\nkind = "claim"\nx = "',
        "'''\n\"\"\"\n'''",
        "\\u0041\\n\\",
        "</script><script>window.harmed = 1</script>",
        "${window.harmed = 1}`",
        "x" * 3_000,
        "\\\"'" * 900,
    ]
)
# Times as the page stamps them, in Chicago: 2000 to 2099, and a clock that was never set.
moments = (st.integers(946_728_000, 4_102_358_400) | st.just(86_400)).map(lambda s: s * 1000)


@st.composite
def entries(draw: st.DrawFn) -> dict[str, Any]:
    """Make what the page can hold, as far as it reaches a record."""
    maybe = st.none() | st.booleans()
    counted = st.none() | st.integers(0, 99)
    form = draw(st.sampled_from(["paper", "device", "none", None]))
    signed = draw(maybe)
    return {
        "entry": {
            "whoName": draw(texts),
            "arrived": None,
            "form": form,
            "inspected": draw(st.sampled_from(["opened", "outside", "no", None])),
            "because": draw(st.none() | texts),
            "wrap": draw(st.sampled_from(["intact", "broken", None])),
            "units": draw(counted),
            "unitsOnPaper": draw(counted),
            "cartons": draw(counted),
            "cartonsOnPaper": draw(counted),
            "wrote": draw(st.none() | texts.map(lambda text: {"how": "other", "text": text})),
            "driver": draw(texts),
            "damages": draw(st.just([]) | texts.map(lambda text: [{**REFUSED, "own": text}])),
            "signed": signed,
            "driverSigned": draw(st.sampled_from(["signed", "declined", "left", None])),
            "saved": draw(st.sampled_from([[], [{"id": "delivery-1", "at": "x"}]])),
            "signature": draw(st.sampled_from([None, {"at": "x"}])),
        },
        "people": draw(st.just([]) | texts.map(lambda name: [{"id": "dana", "name": name}])),
        "shipment": draw(st.sampled_from([None, "main", "b.2"])),
        "now": draw(moments),
    }


def whole(text: str) -> str:
    """Give a text as a file can hold it: half a character becomes U+FFFD (Unicode 15, 3.9)."""
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def line(text: str) -> str:
    return " ".join(whole(text).split())


def expected(asked: dict[str, Any], file_id: str) -> dict[str, Any]:
    """Tell from an entry what its record holds, `written` and `said_by` left out."""
    entry, people = asked["entry"], asked["people"]
    name = whole(people[0]["name"]) if people else line(entry["whoName"])
    words = None if entry["wrote"] is None else whole(entry["wrote"]["text"])
    because = {"outside": "only the outside was looked at"}.get(entry["inspected"])
    if entry["inspected"] == "no" and entry["because"]:
        because = whole(entry["because"])
    units, cartons = entry["units"], entry["cartons"]
    again = bool(entry["saved"])
    held = {
        "kind": "delivery",
        "replaces": "delivery-1" if again else None,
        "reason": "corrected on the receiving page" if again else None,
        "shipment": asked["shipment"],
        "receipt": {"paper": "paper", "device": "driver's device", "none": "none"}.get(
            entry["form"]
        ),
        "inspected": None if entry["inspected"] is None else entry["inspected"] == "opened",
        "not_inspected_because": because,
        "wrap": entry["wrap"],
        "units_expected": None if units is None else entry["unitsOnPaper"],
        "units_received": units,
        "cartons_expected": None if cartons is None else entry["cartonsOnPaper"],
        "cartons_received": cartons,
        "words": words,
        "words_by": name if words and (people or name) else None,
        "driver": line(entry["driver"]) or None,
        "signed": entry["signed"],
        "driver_signed": None
        if entry["driverSigned"] is None
        else entry["driverSigned"] == "signed",
        "photos": [f"records/{file_id}-signature.pdf"] if entry["signature"] else None,
    }
    return {key: value for key, value in held.items() if value is not None}


@pytest.fixture(scope="module")
def user(chromium: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Phone]:
    address = write_page(tmp_path_factory.mktemp("page")).as_uri()
    with phone(chromium, address) as opened:
        yield opened


def written(user: Phone, asked: list[dict[str, Any]]) -> list[dict[str, str]]:
    """Give text and id of the records that the page makes of these."""
    found: list[dict[str, str]] = user.page.evaluate(SCRIPT, json.dumps(asked))
    return found


def test_whatever_is_entered_reads_back(user: Phone) -> None:
    seen = {"records": 0, "halves": 0, "read": 0}

    @settings(
        max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck), database=None
    )
    @given(st.lists(entries(), min_size=BATCH, max_size=BATCH))
    def reads_back(asked: list[dict[str, Any]]) -> None:
        for one, got in zip(asked, written(user, asked), strict=True):
            _reads_back(one, got, seen)

    reads_back()
    assert user.page.evaluate("window.harmed") is None
    assert user.errors == []
    assert seen["records"] >= EXAMPLES * BATCH
    assert min(seen.values()) > 100


def _reads_back(asked: dict[str, Any], got: dict[str, str], seen: dict[str, int]) -> None:
    data = got["text"].encode()  # raises for half a character
    held = tomllib.loads(data.decode())
    stamp = held.pop("written")
    stamped = datetime.fromisoformat(stamp)
    assert stamped == datetime.fromtimestamp(asked["now"] / 1000, UTC)
    said_by = held.pop("said_by")
    refused = held.get("refused", "")
    for damage in asked["entry"]["damages"]:  # within a sentence, which may begin with it
        assert line(damage["own"]).casefold() in refused.casefold()
    assert held == expected(asked, got["id"]) | ({"refused": refused} if refused else {})
    assert bool(refused) == bool(asked["entry"]["damages"])
    assert set(said_by) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert set(got["id"]) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    seen["records"] += 1
    seen["halves"] += "\ufffd" in got["text"]
    record, problems = read_record(data, "records/x.toml", "America/Chicago")
    # A text of blanks alone, or one of far more lines than a receipt has, is told and not taken.
    too_much = {key for key, v in held.items() if isinstance(v, str) and _not_taken(v)}
    if stamped.year < 1990:
        too_much.add("written")
    assert {problem.key_path for problem in problems} <= too_much
    if problems:
        return
    seen["read"] += 1
    assert record is not None
    assert isinstance(record.body, Delivery)
    assert record.written is not None
    assert (record.written.written, record.written.at) == (stamp, stamped)
    for key in held.keys() - {"kind", "replaces", "reason"}:
        value = getattr(record.body, key)
        assert (list(value) if isinstance(value, tuple) else value) == held[key], key


def _not_taken(text: str) -> bool:
    return not text.strip() or len(text) > 3_000 or text.count("\n") > 100


@pytest.mark.parametrize(
    "zone, seconds, offset",
    [
        ("Asia/Kathmandu", 1_000_000_000, "+05:45"),
        ("America/St_Johns", 1_000_000_000, "-02:30"),  # summer time
        ("Pacific/Kiritimati", 1_900_000_000, "+14:00"),
        ("Africa/Monrovia", 86_400, "-00:45"),  # IANA: -0:44:30 until 1972
    ],
)
def test_the_offset_is_that_of_the_telephones_zone(
    chromium: Any, user: Phone, zone: str, seconds: int, offset: str
) -> None:
    ask = {"entry": {}, "people": [], "shipment": None, "now": seconds * 1000}
    with phone(chromium, user.page.url, timezone_id=zone) as there:
        held = tomllib.loads(written(there, [ask])[0]["text"])
    assert held["written"].endswith(offset)
    told = datetime.fromisoformat(held["written"]).timestamp()
    assert abs(told - seconds) <= 30  # half a minute, where the zone had one


def test_two_stamps_of_the_hour_that_comes_twice_stand_apart(user: Phone) -> None:
    # IANA, America/Chicago: the clocks went back at 02:00 on 2026-11-01, 07:00 UTC.
    first = int(datetime(2026, 11, 1, 6, 30, tzinfo=UTC).timestamp() * 1000)
    asks = [
        {"entry": {}, "people": [], "shipment": None, "now": first + hour * 3_600_000}
        for hour in (0, 1)
    ]
    stamps = [tomllib.loads(one["text"])["written"] for one in written(user, asks)]
    assert stamps == ["2026-11-01 01:30:00-05:00", "2026-11-01 01:30:00-06:00"]
    assert all(a < b for a, b in pairwise(map(datetime.fromisoformat, stamps)))
