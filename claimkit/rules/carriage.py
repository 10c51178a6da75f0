"""Terms of carriage as data: each time limit, what starts it, what meets it, what passing means.

The words stand in `rules.terms_words`, the rows of each body of terms in a module of their own;
here they come together. Marks: S the provision's own wording was read, P a summary of it was
read, M from memory, U the user's own paper.
"""

from __future__ import annotations

from claimkit.model.job import Terms
from claimkit.model.limit import Clause
from claimkit.rules.terms import canada as terms_canada
from claimkit.rules.terms import cmr as terms_cmr
from claimkit.rules.terms import cogsa as terms_cogsa
from claimkit.rules.terms import montreal as terms_montreal
from claimkit.rules.terms import sale as terms_sale
from claimkit.rules.terms import us as terms_us
from claimkit.rules.terms.words import *  # noqa: F403 - the words are part of this module's names

MARKS = {
    "S": "wording read",
    "P": "summary read",
    "M": "from memory",
    "U": "your own paper",
}

CLAUSES: tuple[Clause, ...] = (
    *terms_us.ROWS,
    *terms_canada.ROWS,
    *terms_cmr.ROWS,
    *terms_montreal.ROWS,
    *terms_cogsa.ROWS,
    *terms_sale.ROWS,
)

# Terms without rows here: why they are not counted, and what to do meanwhile.
NOT_COVERED: dict[Terms, str] = {
    Terms.US_INTRASTATE: (
        "A move within one state is governed by that state's law and the carrier's own terms. "
        "Ask the carrier for its rules and keep their shortest period."
    ),
    Terms.SELLERS_TRUCK: (
        "With the seller's own truck the seller's terms of sale decide. Read them for the days "
        "to report damage, and report it in writing now."
    ),
    Terms.PARCEL: (
        "A parcel carrier's own conditions decide, and their periods are short. Read them on the "
        "carrier's site and report in writing now."
    ),
    Terms.OWN_CONTRACT: (
        "Your own contract decides, and none of its periods is entered. Enter its notice, claim "
        "and suit periods, each as [[shipment.own_term]] with its source."
    ),
    Terms.NOT_KNOWN: (
        "Nobody has said which terms govern the carriage. Look at the bill of lading and the "
        "route: for a motor carrier for hire across a state line enter terms = "
        '"us interstate motor" in job.toml.'
    ),
}
