"""The office's checks: the amount and the three parts of a claim."""

from __future__ import annotations

from claimkit.findings import check_amount

CHECKS = (*check_amount.CHECKS,)
