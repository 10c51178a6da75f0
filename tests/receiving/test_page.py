"""The receiving page's files, read without a browser: no network, no framework, one policy."""

from __future__ import annotations

import base64
import hashlib
import html.parser
import json
import re
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from claimkit.cli import app, main
from claimkit.model.stop import CannotGoOn
from claimkit.receiving.page.build import (
    MANIFEST,
    PAGE,
    WORKER,
    embedded,
    page_data,
    page_files,
)
from claimkit.rules import receiving
from tests.browser.phone import JOB_TOML, MADE, job


class Parts(html.parser.HTMLParser):
    """Collects the elements of a page and the text in script and style."""

    def __init__(self) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.inside: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag in ("script", "style"):
            self.inside.append((tag, ""))

    def handle_data(self, data: str) -> None:
        if self.elements and self.elements[-1][0] in ("script", "style") and self.inside:
            tag, text = self.inside[-1]
            self.inside[-1] = (tag, text + data)

    def handle_endtag(self, tag: str) -> None:
        self.elements.append((f"/{tag}", {}))


def parsed(**more: object) -> Parts:
    parts = Parts()
    parts.feed(page_files(job(**more), MADE)[PAGE].decode())
    return parts


def test_the_page_is_one_file_that_names_no_other_place() -> None:
    files = page_files(job(), MADE)
    assert set(files) == {PAGE, WORKER, MANIFEST}
    page = files[PAGE].decode()
    # The only addresses are the names of XML and the telephone links.
    assert re.findall(r"(?:https?|wss?)://[^\s'\"]+", page) == []
    for tag, attributes in parsed().elements:
        assert "src" not in attributes
        assert tag not in ("link", "iframe", "img", "form", "object", "embed", "base")
        assert not [name for name in attributes if name.startswith("on")]
    assert "@import" not in page
    assert "url(" not in page
    for call in ("fetch(", "XMLHttpRequest", "WebSocket", "sendBeacon", "EventSource", "eval("):
        assert call not in page
    for call in ("innerHTML", "outerHTML", "insertAdjacentHTML", "document.write"):
        assert call not in page


def test_the_policy_lets_only_this_script_and_style_run() -> None:
    """Content Security Policy Level 3: the hash is that of the element's text, base64 SHA-256."""
    parts = parsed()
    policy = next(
        str(attributes["content"])
        for tag, attributes in parts.elements
        if attributes.get("http-equiv") == "Content-Security-Policy"
    )
    allowed = set(re.findall(r"'sha256-([^']+)'", policy))
    texts = [text for tag, text in parts.inside if not text.lstrip().startswith("{")]
    hashes = {base64.b64encode(hashlib.sha256(t.encode()).digest()).decode() for t in texts}
    assert hashes == allowed
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "connect-src" not in policy  # default-src 'none' holds for it


HOSTILE = "</script><script>x</script><!-- \u2028\u2029 ]]> & 中 [[script]] [[data]]"


def test_data_ends_no_element_and_reads_back() -> None:
    text = embedded({"a": HOSTILE})
    assert not set(text) & set("<>&\u2028\u2029")
    assert json.loads(text) == {"a": HOSTILE}
    parts = parsed(title=HOSTILE)
    assert [tag for tag, _ in parts.inside] == ["style", "script", "script"]
    assert json.loads(parts.inside[1][1])["job"]["title"] == " ".join(HOSTILE.split())


def test_what_goes_onto_the_receipt_comes_from_the_rules_alone() -> None:
    """No phrase and no choice of the rules stands in the page's own files."""
    data = page_data(job(), MADE)
    assert data["rules"] == receiving.as_data()
    folder = Path(receiving.__file__).parents[1] / "receiving_page"
    own = "\n".join(path.read_text("utf-8") for path in sorted(folder.glob("*.js")))
    for phrase in (*receiving.PHRASES.values(), *receiving.WHICH.values()):
        for text in (phrase.long, phrase.short):
            plain = re.sub(r"\{\w+\}", "", text).strip(" .,:()")
            assert len(plain) < 8 or plain not in own


def test_a_page_made_anew_differs_only_where_the_job_does() -> None:
    assert page_files(job(), MADE) == page_files(job(), MADE)
    first, second = page_files(job(), MADE), page_files(job(title="Other"), MADE)
    assert first[WORKER] != second[WORKER]  # a browser then fetches the page anew
    assert first[MANIFEST] == second[MANIFEST]
    one, other = page_data(job(), MADE), page_data(job(), date(2026, 6, 1))
    assert one["job"]["id"] == other["job"]["id"]  # the draft stays with the job
    assert one["job"]["id"] != page_data(job(title="Other"), MADE)["job"]["id"]


def test_the_manifest_needs_no_other_file() -> None:
    manifest = json.loads(page_files(job(), MADE)[MANIFEST])
    assert manifest["start_url"] == "./"
    assert all(icon["src"].startswith("data:image/svg+xml") for icon in manifest["icons"])


def test_telephones_can_be_left_out() -> None:
    assert b"217 555" in page_files(job(), MADE)[PAGE]
    assert b"217 555" not in page_files(job(), MADE, telephones=False)[PAGE]


# ---- The commands


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    root = tmp_path / "kiln-road"
    root.mkdir()
    (root / "job.toml").write_text(JOB_TOML, encoding="utf-8")
    return root


def test_the_page_command_writes_three_files(folder: Path, tmp_path: Path) -> None:
    told = CliRunner().invoke(app, ["receiving-page", str(folder)])
    assert told.exit_code == 0, told.output
    assert Path(told.output.strip()) == folder / "out" / "receiving-page" / "index.html"
    there = {path.name for path in (folder / "out" / "receiving-page").iterdir()}
    assert there == {"index.html", "sw.js", "manifest.webmanifest"}
    elsewhere = tmp_path / "site"
    CliRunner().invoke(app, ["receiving-page", str(folder), "--out", str(elsewhere)])
    assert (elsewhere / "sw.js").is_file()


def test_the_sheet_command_writes_a_pdf(folder: Path) -> None:
    told = CliRunner().invoke(
        app, ["receiving-sheet", str(folder), "--language", "es", "--paper", "a4"]
    )
    assert told.exit_code == 0, told.output
    path = Path(told.output.strip())
    assert path == folder / "out" / "receiving-sheet-es-a4.pdf"
    assert path.read_bytes().startswith(b"%PDF-1.")


@pytest.mark.parametrize("command", ["receiving-sheet", "receiving-page"])
def test_a_job_that_cannot_be_read_tells_every_problem(folder: Path, command: str) -> None:
    bad = JOB_TOML.replace("quantity = 3", "quantity = 0").replace('zone = "America', 'zone = "Am')
    (folder / "job.toml").write_text(bad, encoding="utf-8")
    told = CliRunner().invoke(app, [command, str(folder)])
    assert isinstance(told.exception, CannotGoOn)
    assert "item[1].quantity" in str(told.exception)
    assert "site.zone" in str(told.exception)


@pytest.mark.parametrize("command", ["receiving-sheet", "receiving-page"])
def test_a_shipment_that_is_not_there(folder: Path, command: str) -> None:
    told = CliRunner().invoke(app, [command, str(folder), "--shipment", "north"])
    assert told.exit_code == 2
    assert "There are: main" in told.output


def test_a_job_without_people_is_told(folder: Path) -> None:
    bare = JOB_TOML.replace('[[person]]\nid = "dana"\nname = "Dana Voss"\n', "")
    (folder / "job.toml").write_text(bare, encoding="utf-8")
    told = CliRunner().invoke(app, ["receiving-page", str(folder)])
    assert told.exit_code == 0
    assert "[[person]]" in told.stderr


def test_a_folder_that_cannot_be_written_is_one_sentence(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "out").write_text("in the way", encoding="utf-8")
    monkeypatch.setattr("sys.argv", ["claimkit", "receiving-sheet", str(folder)])
    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code == 5
    assert "cannot be written" in capsys.readouterr().err
