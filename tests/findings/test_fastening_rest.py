"""A reading amid the fastening: what the rest of the work did lies in the stretch after it."""

from __future__ import annotations

import pytest

from claimkit.model.stages import Event, Stage
from tests.build import moment
from tests.findings.gap_build import dry, fastened, fastening, handover, milestone, worked_out

SAID = "was taken before the fastening ended"


def stretches(taken: str, ended: str | None) -> dict[str, str]:
    """Give the reasons of the two steps, by the stage that each ends in."""
    ran = fastening("2026-05-05 09:00", ended=moment(ended) if ended else None)
    known = worked_out(ran, dry(3), fastened(3, taken=taken), handover(5))
    return {c.after.stage: c.change.because for c in known.comparisons if c.step}


def test_the_rest_of_the_fastening_is_placed_in_the_next_stretch() -> None:
    told = stretches("2026-05-05 10:00", "2026-05-05 17:00")
    first, second = told[Stage.FASTENED], told[Stage.HANDOVER]
    assert "The reading at fastening (2026-05-05) was taken before the fastening ended" in first
    assert "falls into the next stretch." in first
    assert "falls into this stretch." in second


@pytest.mark.parametrize(
    "taken,ended",
    [
        ("2026-05-05 17:01", "2026-05-05 17:00"),  # after it ended
        ("2026-05-05 10:00", None),  # nobody wrote when it ended
        ("2026-05-05 10:00", "2026-05-05"),  # it may have ended at nine or at ten
    ],
)
def test_nothing_is_said_where_the_reading_is_not_certainly_before_the_end(
    taken: str, ended: str | None
) -> None:
    assert not [text for text in stretches(taken, ended).values() if SAID in text]


def test_a_reading_before_a_second_fastening_is_not_amid_the_second() -> None:
    first = fastening("2026-05-05 09:00", ended=moment("2026-05-05 09:30"))
    noon = moment("2026-05-07 12:00")
    again = milestone(Event.FASTENED, "2026-05-07 09:00", "m-again", ended=noon)
    known = worked_out(first, again, dry(3), fastened(3), handover(5))
    assert not [c for c in known.comparisons if SAID in c.change.because]
