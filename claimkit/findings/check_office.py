"""The office's checks: the amount, the three parts of a claim, and whom to ask."""

from __future__ import annotations

from claimkit.findings import check_addressee, check_amount

CHECKS = (*check_amount.CHECKS, *check_addressee.CHECKS)
