"""A real Chromium for the receiving page; where none is found, the reason why these tests skip."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from typing import Any

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
)


def missing(reason: str) -> None:
    """Skip with the reason, or fail where the browser is required."""
    if os.environ.get("CLAIMKIT_BROWSER") == "required":
        pytest.fail(f"CLAIMKIT_BROWSER=required, and {reason}", pytrace=False)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """Start Chromium once for all tests of this process."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        missing("playwright is not installed: pip install '.[browser]'")
    program = next(filter(None, map(shutil.which, NAMES)), None)
    if program is None:
        missing("no Chromium on the PATH: apt-get install chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(ARGUMENTS))
        yield browser
        browser.close()
