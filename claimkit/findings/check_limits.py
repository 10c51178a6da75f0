"""Placeholder until these checks are written."""

from collections.abc import Callable

from claimkit.model.case import Case, Finding, NotChecked

CHECKS: tuple[tuple[str, str, Callable[[Case], tuple[Finding | NotChecked, ...]]], ...] = ()
