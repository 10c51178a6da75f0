"""Placeholder until this stage is written."""

from claimkit.model.case import Case


def work_out(case: Case) -> Case:
    """Fill nothing yet."""
    return case
