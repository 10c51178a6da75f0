"""Where the shared test photos lie: beside the checkout, or where an environment variable says."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


def shared_dir(part: str) -> Path:
    """Give the folder of shared test data, or skip the test with the reason."""
    base = Path(os.environ.get("CLAIMKIT_SHARED", str(ROOT.parent / "shared")))
    folder = base / part
    if not folder.is_dir():
        pytest.skip(f"no shared test data: set CLAIMKIT_SHARED to the folder that holds {part}/")
    return folder
