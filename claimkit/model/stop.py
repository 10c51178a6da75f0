"""The one error that is the user's to mend: its text is the sentence to print."""

from __future__ import annotations


class CannotGoOn(Exception):
    """Nothing could be done; the message says what, where and what to do next."""
