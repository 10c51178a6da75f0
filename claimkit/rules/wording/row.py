"""The shape of one wording rule: pure data, so that a page on a phone can use the same rows.

A rule holds no function. What it leads to is named by `effect`; the words it looks for are
phrases in the small language that wording_damage explains.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WordingRule:
    """One row.

    `what` is the label of its matches, `effect` the name that the reasoning knows. `mark` is S
    (the text itself was read), P (a summary) or M (from memory, or common practice). Every string
    of `must_flag` has to make the rule speak, none of `must_pass` may.
    """

    id: str
    what: str
    effect: str
    phrases: tuple[str, ...]
    why: str
    citation: str
    mark: str
    must_flag: tuple[str, ...]
    must_pass: tuple[str, ...]
