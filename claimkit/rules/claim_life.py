"""What happens to a claim between the report and its end: how long to wait, what to keep, and why.

No text that was read says how long a carrier may take to inspect; the five working days are the
trade's old rule, from memory, and used only to say when one's own report should stand in.
"""

from __future__ import annotations

from claimkit.model.quantities import Span

INSPECT_WITHIN = Span(5, "business days", written="5 working days")
OWN_REPORT = (
    "NMFC items 300140 and 300145, from memory: where the carrier does not inspect, the "
    "consignee's own written inspection report stands in"
)
HOLD = (
    "NMFC item 300135-A, effective 2015-04-18 (wording read): hold the container and its contents "
    "in the condition they were in when damage was found"
)
PRACTICE = "common practice, no source"
OFFER_RULE = "49 USC 14706(e)(2) (wording read)"
SALVAGE = "49 CFR 370.11 (wording read): salvage"
ACKNOWLEDGED = "49 CFR 370.5 (summary read): the acknowledgement; its claim number is " + PRACTICE

WHAT_IT_HOLDS = (
    "who looked, when and where, the packing inside and out, each damage with its place and size, "
    "photos, signatures"
)
