"""Where claimkit keeps what is not part of any job: the cache and this computer's writer name.

The cache may be deleted at any time; CLAIMKIT_CACHE moves it. The data folder holds the name under
which this computer writes custody logs, and survives being copied to a new computer.
"""

from __future__ import annotations

import os
from pathlib import Path


def cache_folder() -> Path:
    """Give the folder of the index, the scaled pictures and the locks. It may not exist yet."""
    moved = os.environ.get("CLAIMKIT_CACHE")
    if moved:
        return Path(moved).expanduser().absolute()
    from platformdirs import user_cache_path

    return user_cache_path("claimkit", appauthor=False)


def data_folder() -> Path:
    """Give the folder of the writer's name. It may not exist yet."""
    from platformdirs import user_data_path

    return user_data_path("claimkit", appauthor=False)
