"""Make the pictures of docs/pictures/: real output of the sample jobs, nothing drawn by hand.

`python docs/pictures.py` runs every command of docs/walk.md in a temporary home and renders pages
of what it wrote; `python docs/pictures.py NAME …` keeps to these pictures. It needs the extras
`test` and `browser` (`pip install -e ".[test,browser]"`) and a Chromium on the PATH.
"""

from __future__ import annotations

import io
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import pypdfium2
from PIL import Image

from docs.console import ROOT, examples, run

FOLDER = ROOT / "docs" / "pictures"
WIDTH = 1100
"""Pixels across a page: its small print can be read, and a page stays under 120 KB."""
GREYS = 16
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome")
TO_THE_DAMAGE = (
    *("arrived-stamp", "next", "all-taken", "next", "units-all", "cartons-all", "next"),
    *("wrap-intact", "indicators-none", "inspected-outside"),
    *("add-damage", "which-2", "kind-crushed", "where-lower-left", "size-6in"),
)
TO_THE_WORDS = ("damage-done", "next", "form-paper")


def pages(pdf: Path) -> Iterator[str]:
    """Give the text of each page of a PDF."""
    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        yield page.get_textpage().get_text_bounded()


def page_with(pdf: Path, *words: str) -> int:
    """Give the first page, from 0, whose text holds all the words."""
    for number, text in enumerate(pages(pdf)):
        if all(word in text for word in words):
            return number
    raise LookupError(f"{pdf.name} has no page with {words}")


def draw(pdf: Path, number: int) -> Image.Image:
    """Render one page in grey, its empty foot cut off."""
    page = pypdfium2.PdfDocument(pdf)[number]
    picture = page.render(scale=WIDTH / page.get_width()).to_pil().convert("L")
    return trimmed(picture)


def trimmed(picture: Image.Image) -> Image.Image:
    """Cut off what is blank below the last mark above the page's footer."""
    foot = int(picture.height * 0.93)
    marks = picture.crop((0, 0, picture.width, foot)).point(lambda grey: 255 * (grey < 200))
    box = marks.getbbox()
    return picture.crop((0, 0, picture.width, min(foot, box[3] + 24) if box else foot))


def save(name: str, picture: Image.Image) -> None:
    """Write a picture with a few greys and no metadata."""
    few = picture.convert("L").quantize(GREYS)
    out = io.BytesIO()
    few.save(out, "PNG", optimize=True, bits=4)
    FOLDER.mkdir(exist_ok=True)
    (FOLDER / f"{name}.png").write_bytes(out.getvalue())
    sys.stdout.write(f"{name}.png {len(out.getvalue()) // 1024} KB\n")


@contextmanager
def chromium() -> Iterator[Any]:
    """Start Chromium."""
    from playwright.sync_api import sync_playwright

    program = next(filter(None, map(shutil.which, BROWSERS)), None)
    if program is None:
        raise SystemExit("No Chromium on the PATH. On Debian: apt-get install chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        yield browser
        browser.close()


def telephone(address: str) -> Image.Image:
    """Give two screens of the receiving page side by side, on a telephone at the site.

    Its clock shows today: the page warns of a clock that is earlier than the day it was made.
    """
    with chromium() as browser:
        context = browser.new_context(
            viewport={"width": 390, "height": 780},
            timezone_id="America/Chicago",
            locale="en-US",
            has_touch=True,
            is_mobile=True,
            offline=True,
        )
        page = context.new_page()
        page.clock.set_fixed_time(datetime.now(UTC))
        page.goto(address)
        screens = []
        for keys in (TO_THE_DAMAGE, TO_THE_WORDS):
            for key in keys:
                page.tap(f'[data-key="{key}"]')
            screens.append(Image.open(io.BytesIO(page.screenshot())).convert("L"))
        context.close()
    both = Image.new("L", (2 * 390 + 20, 780), 255)
    both.paste(screens[0], (0, 0))
    both.paste(screens[1], (410, 0))
    return both


def sample(job: str, home: Path, *command: str) -> Path:
    """Copy a sample job into the home and run one command on it; give its out folder."""
    left = shutil.ignore_patterns("custody", "out")
    shutil.copytree(ROOT / "sample_jobs" / job, home / job, ignore=left, dirs_exist_ok=True)
    code, printed = run(" ".join((*command[:1], command[1], f"~/{job}", *command[2:])), home)
    if code not in (0, 1):
        raise SystemExit(printed)
    return home / job / "out"


def seams(home: Path) -> Image.Image:
    """Give the page of the customer's packet with the seam that opened."""
    made = sample("disputed-gap", home, "claimkit", "packet", "--for customer --as-of 2026-10-12")
    pdf = made / "customer-2026-10-12.pdf"
    return draw(pdf, page_with(pdf, "Gaps at the seams", "station front", "Between"))


def cards(home: Path, *words: str) -> Image.Image:
    """Give the page of the print of scale cards that holds the words."""
    made = sample("disputed-gap", home, "claimkit", "cards", "--as-of 2026-08-01")
    pdf = made / "cards-letter.pdf"
    return draw(pdf, page_with(pdf, *words))


def walked(home: Path) -> Path:
    """Run the whole walk; give the out folder of its job."""
    text = (ROOT / "docs" / "walk.md").read_text(encoding="utf-8")
    for example in examples(text):
        code, printed = run(example.command, home)
        if code not in (0, 1):
            raise SystemExit(f"{example.command}\n{printed}")
    return home / "mill" / "out"


def main(wanted: list[str]) -> None:
    """Make the pictures."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder) / "home"
        home.mkdir()
        os.environ |= {
            "CLAIMKIT_CACHE": str(Path(folder) / "cache"),
            "CLAIMKIT_WRITER": "office",
            "COLUMNS": "80",
        }
        out = walked(home)
        sheet = out / "receiving-sheet-en-letter.pdf"
        letter = out / "letter-concealed-damage-panels-2026-10-09.pdf"
        packet = out / "carrier-2026-10-15.pdf"
        made: dict[str, Callable[[], Image.Image]] = {
            "receiving-sheet": lambda: draw(sheet, 0),
            "receiving-page": lambda: telephone((out / "receiving-page/index.html").as_uri()),
            "letter": lambda: draw(letter, 0),
            "packet-answer": lambda: draw(packet, 0),
            "packet-timeline": lambda: draw(packet, page_with(packet, "Dated events")),
            "packet-photos": lambda: draw(packet, page_with(packet, "P1 at the curb")),
            "packet-seams": lambda: seams(home),
            "cards-steps": lambda: cards(home, "Measure both check lines"),
            "cards-order": lambda: cards(home, "Photograph in this order"),
        }
        for name in wanted or made:
            save(name, made[name]())


if __name__ == "__main__":
    main(sys.argv[1:])
