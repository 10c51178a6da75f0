"""The office's checks: the amount, the parts of a claim, whom to ask, supporting documents."""

from __future__ import annotations

from claimkit.findings.claim import check_addressee, check_amount, check_documents

CHECKS = (*check_amount.CHECKS, *check_addressee.CHECKS, *check_documents.CHECKS)
