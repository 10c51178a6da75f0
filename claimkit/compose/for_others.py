"""What stands in a packet for somebody else: facts, not what to do in our own files.

A reason why something was not checked or not counted often ends with what to write in job.toml or
in a record. That is for the owner's own copy. Only sentences of claimkit's own are given here;
what people wrote is never cut.
"""

from __future__ import annotations

import re

_SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z“])")
# "Report of damage" is the title of a limit, "Record 3-dry says" the name of a record.
_INSTRUCTS = re.compile(
    r"(?:until then |(?:if|where) [^,.]*, )?"
    r"(?:(?:write|enter|correct|add|mend|look|find|ask|run|put|name|claim each|photograph|measure|"
    r"print|take|act) |read (?:them|it|the) |report (?:it|them|the|in) |its name there |"
    r"record (?:when|what|how|where|it|the|in|\w+ =))",
    re.IGNORECASE,
)
# "Whether it was late is not known: enter reasonable_delivery in job.toml."
_TAIL = re.compile(r"[:;] (?:enter|write|record|correct|add) [^:;]*(?:job\.toml|\w_\w)[^:;]*$")
_OWN_FILES = re.compile(r"job\.toml|\w_\w|\brecord\b")
NOTHING_ELSE = "Something that it needs is not on record."


def without_instructions(text: str) -> str:
    """Give the sentences of a reason that state something, without those that say what to do.

    Empty where every sentence tells the owner what to do.
    """
    kept = (_TAIL.sub(".", s) for s in _SENTENCE.split(text) if not _INSTRUCTS.match(s))
    return " ".join(kept)


def without_own_files(text: str) -> str:
    """Give a next step for somebody else: reading a seam again, and no entry in our own files."""
    kept = (s for s in _SENTENCE.split(text) if not (_INSTRUCTS.match(s) and _OWN_FILES.search(s)))
    return " ".join(kept)
