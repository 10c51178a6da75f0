"""In Spanish no English shows but the receipt's own words, on any screen and in any label.

The English words are taken from the page's own English texts, so that a text that was forgotten
shows up as itself. Words that both languages spell alike are listed here by hand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from claimkit.receiving.page.build import page_data
from claimkit.receiving.page.texts import TEXTS
from claimkit.rules.receiving import KINDS, REASONS, SIZES, WHERES, Said
from claimkit.rules.receiving_steps import LOOK, RECEIPT_SHOTS, SAFETY, SHOTS
from tests.browser.phone import MADE, Phone, job, phone, write_page

# Spelled alike: checked by hand, one by one.
ALIKE = {
    "no",
    "original",
    "capital",
    "min",
    "in",
    "cm",
    "pro",
    "utc",
    "records",
    "a",
    "bol",
    "once",
}
# What every English text is full of and no Spanish one is.
PLAIN_ENGLISH = {
    *("the", "of", "and", "to", "is", "are", "was", "with", "what", "which", "where", "when"),
    *("who", "how", "not", "from", "here", "this", "that", "your", "you", "it", "on", "at", "by"),
    *("for", "be", "as", "all", "none", "only", "before", "after", "took", "take", "write"),
    *("wrote", "sign", "signed"),
}
VISIBLE = """() => {
    const hidden = (e) => e.closest('[lang=en].receipt-words, .record-text, .job, .language')
        || !e.checkVisibility();
    const texts = [];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
        const parent = walk.currentNode.parentElement;
        if (!['SCRIPT', 'STYLE', 'NOSCRIPT'].includes(parent.tagName) && !hidden(parent)) {
            texts.push(walk.currentNode.textContent);
        }
    }
    for (const e of document.querySelectorAll('[aria-label], [title], [placeholder], [alt]')) {
        if (hidden(e)) continue;
        for (const name of ['aria-label', 'title', 'placeholder', 'alt']) {
            if (e.hasAttribute(name)) texts.push(e.getAttribute(name));
        }
    }
    texts.push(document.title.replace(window.claimkit.data.job.title, ''));
    return texts;
}"""


def _words(text: str) -> set[str]:
    return set(re.findall(r"[^\W\d_]+", text.lower()))


def english_words() -> set[str]:
    """Give every word of the page's English texts that is no Spanish word of it as well."""
    rows = (*SAFETY, *SHOTS, *RECEIPT_SHOTS, *LOOK)
    sizes = [choice for choices in SIZES.values() for choice in choices]
    # The button that leads back to English says so in English.
    said: list[Said] = [text for key, text in TEXTS.items() if key != "other-language"]
    said += [row.text for row in rows]
    said += [choice.label for choice in (*KINDS, *WHERES, *REASONS, *sizes)]
    english = {word for one in said for word in _words(re.sub(r"\{\w+\}", " ", one.en))}
    return (english | PLAIN_ENGLISH) - ALIKE


def english_in(texts: list[str]) -> set[str]:
    """Give the English words among visible texts. Places of names are not in them."""
    known = english_words()
    return {word for text in texts for word in _words(text) if word in known}


def screens(user: Phone) -> Iterator[tuple[str, list[str]]]:
    """Walk every screen, with everything on it that can be opened."""
    yield "truck", user.page.evaluate(VISIBLE)
    user.tap("arrived-stamp")
    yield "stamped", user.page.evaluate(VISIBLE)
    user.tap("next")
    yield "photos", user.page.evaluate(VISIBLE)
    user.tap("next", "units-all", "in-wrap")
    yield "count", user.page.evaluate(VISIBLE)
    user.tap("next", "wrap-broken", "indicators-tilt", "indicators-shock", "inspected-no")
    yield "look", user.page.evaluate(VISIBLE)
    user.tap("because-dark", "add-damage")
    user.page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
    yield "damage", user.page.evaluate(VISIBLE)
    user.tap("item-panel", "kind-crushed", "kind-crushed", "kind-own")
    yield "own words", user.page.evaluate(VISIBLE)
    user.tap("kind-wet", "where-back", "size-6in", "refused", "damage-done")
    yield "look with damage", user.page.evaluate(VISIBLE)
    user.tap("next", "form-device", "wrote-this", "form-paper")
    yield "write", user.page.evaluate(VISIBLE)
    user.tap("copy", "wrote-other")
    yield "write something else", user.page.evaluate(VISIBLE)
    user.tap("next", "driver-signed-left")
    yield "sign", user.page.evaluate(VISIBLE)
    user.tap("open-pad")
    yield "pad", user.page.evaluate(VISIBLE)
    user.tap("pad-close", "next")
    yield "open matters", user.page.evaluate(VISIBLE)
    user.tap("skip-all", "save")
    user.page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
    yield "saved", user.page.evaluate(VISIBLE)
    user.tap("again")
    yield "sure", user.page.evaluate(VISIBLE)


SETTINGS = {"locale": "es-MX", "timezone_id": "America/Denver"}


def test_no_english_shows_on_the_spanish_page(chromium: Any, tmp_path: Path) -> None:
    denied = "Storage.prototype.setItem = () => { throw new DOMException('full'); };"
    address = write_page(tmp_path).as_uri()
    with phone(chromium, address, script=denied, **SETTINGS) as user:
        seen = 0
        for name, texts in screens(user):
            assert english_in(texts) == set(), name
            seen += len(texts)
        assert user.page.evaluate("document.documentElement.lang") == "es"
    assert seen > 300


def test_jobs_without_people_and_with_two_shipments_are_asked_in_spanish(
    chromium: Any, tmp_path: Path
) -> None:
    shipments = job().shipment * 2
    address = write_page(tmp_path, job(person=(), shipment=shipments)).as_uri()
    with phone(chromium, address, **SETTINGS) as user:
        assert english_in(user.page.evaluate(VISIBLE)) == set()
        assert "¿Qué embarque?" in user.page.inner_text("main")


@pytest.mark.parametrize("key", ["photos-how", "wrote-this", "less"])
def test_a_forgotten_text_would_be_seen(
    chromium: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, key: str
) -> None:
    """Sabotage: with one Spanish text left in English, the walk above must find it."""
    monkeypatch.setitem(TEXTS, key, Said(TEXTS[key].en, TEXTS[key].en))
    with phone(chromium, write_page(tmp_path).as_uri(), **SETTINGS) as user:
        found = {word for _, texts in screens(user) for word in english_in(texts)}
    assert found & _words(re.sub(r"\{\w+\}", " ", TEXTS[key].en))


def test_the_receipts_words_stand_in_english_beside_the_spanish(
    chromium: Any, tmp_path: Path
) -> None:
    with phone(chromium, write_page(tmp_path).as_uri(), **SETTINGS) as user:
        user.page.evaluate("window.claimkit.app.go(4)")
        words = user.page.locator(".receipt-words.large")
        assert words.get_attribute("lang") == "en"
        assert words.inner_text() == "Subject to further inspection."
        assert "Sujeto a revisión posterior." in user.page.inner_text(".meaning")


def test_the_language_is_changed_by_one_tap_and_kept(chromium: Any, tmp_path: Path) -> None:
    with phone(chromium, write_page(tmp_path).as_uri()) as user:
        assert user.page.inner_text("h1") == "Truck"
        user.tap("language")
        assert user.page.inner_text("h1") == "Camión"
        user.page.reload()
        assert user.page.inner_text("h1") == "Camión"
        user.tap("language")
        assert user.page.inner_text("h1") == "Truck"


def test_every_text_is_used_and_filled_alike_in_both_languages() -> None:
    folder = Path(__file__).resolve().parents[2] / "claimkit" / "receiving" / "page"
    script = "\n".join(path.read_text("utf-8") for path in sorted(folder.glob("*.js")))
    built = {key for key in TEXTS if key.startswith("open-")}
    unused = [key for key in TEXTS if key not in built and f"'{key}'" not in script]
    assert unused == []
    for key, said in TEXTS.items():
        places = [sorted(re.findall(r"\{(\w+)\}", text)) for text in (said.en, said.es)]
        assert places[0] == places[1], key
        assert said.es.strip()
    asked = set(re.findall(r"ask\('([\w-]+)'", script))
    assert {f"open-{name}" for name in asked} == built - {"open-matters", "open-pad"}
    assert len(page_data(job(), MADE)["texts"]) == len(TEXTS)
