"""What is written for somebody needs a job.toml that could be read."""

from __future__ import annotations

from claimkit.model.case import Case
from claimkit.model.stop import CannotGoOn


def with_job(case: Case) -> Case:
    """Give the case where its job.toml could be used; else nothing is made of it.

    Raises CannotGoOn with every problem of job.toml.
    """
    if case.facts.job is not None:
        return case
    told = "\n".join(f"  {problem.sentence()}" for problem in case.facts.problems)
    raise CannotGoOn(
        "job.toml cannot be read, and everything rests on it, so nothing was written. Mend it and "
        f"run this again.\n{told}"
    )
