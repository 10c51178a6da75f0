"""Sentences about the run itself: to whoever asked to be told, else on standard error."""

from __future__ import annotations

import sys
from collections.abc import Callable

Say = Callable[[str], None]


def tell(say: Say | None, sentence: str) -> None:
    """Say a sentence about the run itself; None prints it on standard error."""
    if say:
        say(sentence)
    else:
        print(f"claimkit: {sentence}", file=sys.stderr)
