"""Each test of a command has a cache and a writer of its own."""

from __future__ import annotations

import pytest


@pytest.fixture(autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLAIMKIT_CACHE", str(tmp_path_factory.mktemp("cache")))
    monkeypatch.setenv("CLAIMKIT_WRITER", "test")
