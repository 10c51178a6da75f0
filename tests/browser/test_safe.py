"""What is typed or stands in the job does no harm, nothing goes over a network, drafts stay."""

from __future__ import annotations

import functools
import http.server
import json
import os
import random
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from claimkit.compose.sheets.receiving_words import AtTheCurb, Counts, Seen, names_of, words
from claimkit.intake.entries.records import read_record
from claimkit.model.job import Item, Person, Shipment
from claimkit.model.records import Delivery
from claimkit.receiving.page.build import page_data
from claimkit.rules.receiving import KINDS, REASONS, SIZES, WHERES
from tests.browser.phone import (
    JOB_TOML,
    MADE,
    Phone,
    clean_delivery,
    delivery,
    job,
    phone,
    read_saved,
    write_page,
)

HOSTILE = (
    "</script><script>window.harmed = 1</script>",
    "<img src=x onerror='window.harmed = 1'>",
    "\"'`${window.harmed = 1}`'\"",
    "[[script]] [[data]] {which} {list}",
    "<!-- <script> 中文 面板 \u2028\u2029 & &lt;",
)


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    return write_page(tmp_path_factory.mktemp("page")).as_uri()


@pytest.mark.parametrize("turn", range(2))
def test_hostile_job_text_is_only_text(chromium: Any, tmp_path: Path, turn: int) -> None:
    """Every text of the job is hostile; in the second turn each stands in another place."""
    title, name, pro, unit, item = (HOSTILE * 2)[turn : turn + 5]
    hostile = job(
        title=title,
        person=(Person(id="dana", name=name),),
        shipment=(
            Shipment(
                id="main",
                carrier="hauler",
                pro_number=pro,
                handling_unit=unit,
                handling_units=2,
                cartons=4,
            ),
        ),
        item=(Item(id="panel", description=item),),
    )
    address = write_page(tmp_path, hostile).as_uri()
    with phone(chromium, address) as user:
        assert " ".join(title.split()) in user.page.inner_text("header")
        assert " ".join(pro.split()) in user.page.inner_text("dl")
        user.tap("arrived-stamp", "next", "next", "units-all", "next")
        user.tap("wrap-broken", "wrapUnits-1", "add-damage", "item-panel", "kind-bent")
        user.tap("where-top", "damage-done", "next", "form-paper", "wrote-this")
        shown = user.page.inner_text(".receipt-words.large")
        assert " ".join(item.split())[:60] in shown
        assert " ".join(unit.split())[:60] in shown
        user.tap("next", "next", "left-stamp")
        saved = user.save()
        assert user.page.evaluate("window.harmed") is None
        assert user.page.evaluate("document.querySelectorAll('script, img, iframe').length") == 2
        assert user.errors == []
    records, problems = read_saved(saved)
    assert problems == ()
    found = delivery(records)
    assert found.words_by == " ".join(name.split())
    assert found.words is not None
    assert "top bent" in found.words


def test_typed_markup_is_only_text(chromium: Any, address: str) -> None:
    with phone(chromium, address) as user:
        user.page.evaluate("window.claimkit.app.go(5)")
        user.page.fill('[data-key="driver"]', HOSTILE[0])
        user.tap("next")
        saved = user.save()
        assert user.page.evaluate("window.harmed") is None
    assert delivery(read_saved(saved)[0]).driver == HOSTILE[0]


def hostile_strings(count: int) -> list[str]:
    """Give texts made of what breaks writers: quotes, escapes, controls, line ends, planes."""
    chance = random.Random(20260504)
    pools = (
        "\"'\\#=[]{}\n\r\t\b\f\0\x1b\x7f\x85\xa0",
        'abc 123 in. 3/16"',
        "éñłЖΩ中面\u2028\u2029\ufeff\u200b\u202e",
        "😀𐍈𝄞",
        "'''\"\"\"\\u0041\\n",
    )
    return [
        "".join(chance.choice(chance.choice(pools)) for _ in range(chance.randrange(40)))
        for _ in range(count)
    ]


def test_2000_hostile_strings_come_back_equal(chromium: Any, address: str) -> None:
    texts = hostile_strings(2000)
    script = """texts => texts.map((text) => window.claimkit.tomlRecord(
        ['Hostile.'],
        [['kind', 'delivery'], ['said_by', 'dana'], ['words', text], ['signed', true]]
    ))"""
    with phone(chromium, address) as user:
        written = user.page.evaluate(script, texts)
    assert len(written) == 2000
    for text, record_text in zip(texts, written, strict=True):
        record, problems = read_record(record_text.encode(), "records/x.toml", "America/Chicago")
        assert problems == (), record_text
        assert record is not None
        assert isinstance(record.body, Delivery)
        assert record.body.words == text


def test_half_a_character_becomes_the_replacement_character(chromium: Any, address: str) -> None:
    """No TOML file can hold a lone surrogate (TOML 1.0: Unicode scalar values only)."""
    script = """() => window.claimkit.tomlRecord([],
        [['kind', 'delivery'], ['said_by', 'dana'], ['words', 'a\\ud800b\\udc00\\ud83d\\ude00']])"""
    with phone(chromium, address) as user:
        text = user.page.evaluate(script)
    record, problems = read_record(text.encode(), "records/x.toml", "America/Chicago")
    assert problems == ()
    assert record is not None
    assert isinstance(record.body, Delivery)
    assert record.body.words == "a\ufffdb\ufffd😀"


def _random_curb(chance: random.Random) -> dict[str, Any]:
    def some(numbers: int) -> list[int]:
        return sorted(chance.sample(range(1, numbers + 1), chance.randrange(numbers + 1)))

    own = ("  hinge\u00a0split ", "stra\u00dfe", "{kind}", "")
    seen = [
        {
            "on": chance.choice(("unit", "carton", "panel", "tray")),
            "numbers": some(4),
            "count": chance.randrange(1, 4),
            "kind": chance.choice([c.id for c in KINDS] + list(own[:3])),
            "where": chance.choice([c.id for c in WHERES] + [None]),
            "size": chance.choice([c.id for cs in SIZES.values() for c in cs] + [None]),
            "refused": chance.random() < 0.3,
        }
        for _ in range(chance.randrange(3))
    ]
    number = (None, 0, 1, 2, 4, 12)
    return {
        "units": {"expected": chance.choice(number), "received": chance.choice(number)},
        "cartons": {"expected": chance.choice(number), "received": chance.choice(number)},
        "cartons_in_wrap": chance.random() < 0.2,
        "seen": seen,
        "wrap_broken": some(2),
        "tilt": some(2),
        "shock": some(2),
        "inspected": chance.choice(("opened", "outside", "no", None)),
        "because": chance.choice([c.id for c in REASONS] + [None, "own reason"]),
    }


def _as_curb(entered: dict[str, Any]) -> AtTheCurb:
    tuples = {key: tuple(entered[key]) for key in ("wrap_broken", "tilt", "shock")}
    seen = tuple(Seen(**(one | {"numbers": tuple(one["numbers"])})) for one in entered["seen"])
    counts = {key: Counts(**entered[key]) for key in ("units", "cartons")}
    return AtTheCurb(**(entered | tuples | counts | {"seen": seen}))


def test_the_page_says_what_the_package_says(chromium: Any, address: str) -> None:
    """The page fills the same phrases as `compose.receiving_words`, in all three forms."""
    chance = random.Random(7)
    entered = [_random_curb(chance) for _ in range(500)]
    script = """all => all.map((curb) => ['long', 'short', 'es'].map((form) =>
        window.claimkit.wordsFor(window.claimkit.data.rules, window.claimkit.data.job.shipments[0],
            curb, form)))"""
    with phone(chromium, address) as user:
        said = user.page.evaluate(script, entered)
    a_job = job()
    names = names_of(a_job, a_job.shipment[0])
    for one, page in zip(entered, said, strict=True):
        expected = [words(_as_curb(one), names, form) for form in ("long", "short", "es")]
        assert page == expected, json.dumps(one)


DENIED = """
    Object.defineProperty(window, 'localStorage', {
        get() { throw new DOMException('denied', 'SecurityError'); },
    });
"""
FULL = """
    Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };
"""


@pytest.mark.parametrize("script", [DENIED, FULL])
def test_denied_storage_is_said_and_the_page_goes_on(
    chromium: Any, address: str, script: str
) -> None:
    with phone(chromium, address, script=script) as user:
        assert "keeps no draft" in user.page.inner_text(".notice")
        user.tap("draft-denied-close")
        assert user.page.locator(".notice").count() == 0
        clean_delivery(user)
        assert user.page.locator(".notice").count() == 0
        saved = user.save()
        assert user.errors == []
    assert read_saved(saved)[1] == ()


def test_a_draft_survives_a_reload_and_can_be_thrown_away(chromium: Any, address: str) -> None:
    with phone(chromium, address) as user:
        assert user.page.locator(".notice").count() == 0
        user.tap("arrived-stamp", "next", "shot-truck", "next", "units-all")
        before = user.entry()
        user.at(3)
        user.page.reload()
        assert user.entry() == before
        assert user.page.inner_text("h1") == "Count"
        user.tap("back", "back")
        assert "09:10" in user.page.inner_text(".notice")
        user.page.evaluate("window.claimkit.app.go(6)")
        user.save()
        user.tap("again", "again")
        assert user.entry()["arrived"] is None
        user.page.reload()
        assert user.entry()["arrived"] is None


@pytest.mark.parametrize("kept", ['{"entry"', "null", '{"at": "x", "entry": {"version": 0}}', "7"])
def test_a_draft_that_cannot_be_read_is_none(chromium: Any, address: str, kept: str) -> None:
    script = f"localStorage.setItem('claimkit-receiving ' + ID, {json.dumps(kept)});"
    script = script.replace("ID", json.dumps(page_data(job(), MADE)["job"]["id"]))
    with phone(chromium, address, script=script) as user:
        assert user.page.inner_text("h1") == "Truck"
        assert user.errors == []


def test_nothing_is_asked_of_any_network(chromium: Any, address: str) -> None:
    with phone(chromium, address, offline=False) as user:
        asked: list[str] = []
        user.page.on("request", lambda request: asked.append(request.url))
        user.page.reload()
        clean_delivery(user)
        user.save()
    assert asked
    assert [url for url in asked if not url.startswith(("file:", "blob:", "data:"))] == []


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Serve a folder on this machine; a browser treats localhost as it treats https."""

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_: object) -> None:
            """Say nothing."""

    handler = functools.partial(Quiet, directory=str(folder))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://localhost:{server.server_address[1]}/"
        server.shutdown()


def _kept(user: Phone) -> None:
    user.until("navigator.serviceWorker.ready.then(() => true)")
    user.until("navigator.serviceWorker.controller !== null")


def test_the_service_worker_keeps_the_page_without_a_network(chromium: Any, tmp_path: Path) -> None:
    write_page(tmp_path)
    with served(tmp_path) as site:
        opened = phone(chromium, site, offline=False)
        user = opened.__enter__()
        _kept(user)
        user.tap("arrived-stamp")
    # The server is gone, and the phone is offline.
    try:
        user.page.context.set_offline(True)
        user.page.goto(site)
        assert user.page.inner_text("h1") == "Truck"
        assert user.entry()["arrived"] == "2026-05-04 09:10:00-05:00"
        assert user.page.evaluate("document.querySelector('link[rel=manifest]') !== null")
    finally:
        opened.__exit__(None, None, None)


def test_a_page_made_anew_takes_the_place_of_the_old_one(chromium: Any, tmp_path: Path) -> None:
    """And another job's page on the same host keeps its own copy."""
    write_page(tmp_path / "one")
    write_page(tmp_path / "two", job(title="Other job"))
    with served(tmp_path) as site, phone(chromium, f"{site}two/", offline=False) as user:
        _kept(user)
        user.page.goto(f"{site}one/")
        _kept(user)
        mine = "caches.keys().then((names) => names.filter((n) => n.includes('/one/')).join())"
        before = user.page.evaluate(mine)
        write_page(tmp_path / "one", job(title="Kiln Road 9 again"))
        for path in (tmp_path / "one").iterdir():  # hosts tell changes by whole seconds
            os.utime(path, (path.stat().st_atime, path.stat().st_mtime + 60))
        user.page.evaluate("navigator.serviceWorker.getRegistration().then((r) => r.update())")
        user.until(f"{mine}.then((now) => now !== {json.dumps(before)} && !now.includes(','))")
        user.page.context.set_offline(True)
        for path, title in (("one/", "Kiln Road 9 again"), ("two/", "Other job")):
            user.page.goto(f"{site}{path}")
            assert title in user.page.inner_text("header")


def test_job_toml_of_these_tests_is_the_job_of_the_page() -> None:
    """The records are checked against the very job that the page was made from."""
    from claimkit.intake.entries.records import read_job

    read, problems = read_job(JOB_TOML.encode(), "job.toml")
    assert problems == ()
    assert read == job()
