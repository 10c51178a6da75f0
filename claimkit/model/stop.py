"""How a run ends: its exit codes, and the one error that is the user's to mend."""

from __future__ import annotations

DONE, OPEN_MATTERS, NOT_READ, DEFECT, STOPPED = 0, 1, 3, 4, 5
"""Exit codes as help tells them; 2 is a command line that could not be understood."""


class CannotGoOn(Exception):
    """Nothing could be done; the message says what, where and what to do next."""
