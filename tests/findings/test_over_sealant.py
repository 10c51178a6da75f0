"""A reading over the sealant shows the visible joint: it counts, and says everywhere what it is.

That a filled joint hides its faces is common practice, no source; photos of a scale card over one
are refused, since sealant can pass for a gap.
"""

from __future__ import annotations

import pytest

from claimkit.compose.packet import seams
from claimkit.compose.packet.view import view
from claimkit.compose.terminal.gap_lines import gaps
from claimkit.compose.terminal.reading_lines import reading_lines
from claimkit.findings.seams.sealant import INSERTED, TOLD, VISIBLE
from claimkit.model.case import Reader
from claimkit.model.gap import Change
from claimkit.model.measuring import Instrument
from claimkit.model.stages import Event
from tests.build import case
from tests.findings.gap_build import (
    complaint,
    dry,
    fastened,
    fastening,
    handover,
    known_facts,
    milestone,
    whole,
    worked_out,
)

SEALED = milestone(Event.SEALED, "2026-05-06 09:00", "m-sealed")
WORK = (dry(3), fastening(), fastened(3), SEALED)


def plain(lines: list[str]) -> str:
    return " ".join(" ".join(lines).split())


def test_it_is_compared_and_says_what_it_shows() -> None:
    compared = whole(worked_out(*WORK, handover(3)))
    assert compared.after is not None
    assert (compared.after.record, compared.after.over_sealant) == ("r3-handover", True)
    assert compared.change.change is Change.UNCHANGED
    assert "taken over the sealant" in compared.change.because
    # The feeler gauge of these records has to go in.
    assert INSERTED in compared.change.because
    before = whole(worked_out(*WORK))
    assert "sealant" not in before.change.because


def test_a_rule_over_the_sealant_is_not_said_to_have_gone_in() -> None:
    rule = {"instrument": Instrument.RULE_HALF_MM}
    compared = whole(worked_out(dry(3, **rule), fastening(), SEALED, handover(3, **rule)))
    assert VISIBLE in compared.change.because
    assert INSERTED not in compared.change.because


def test_a_gap_that_opened_under_the_sealant_is_not_hidden() -> None:
    compared = whole(worked_out(dry(3), fastening(), SEALED, complaint(9)))
    assert compared.change.change is Change.OPENED
    assert VISIBLE in compared.change.because


@pytest.mark.parametrize(
    "records, filled",
    [
        ((dry(3), fastening(), handover(3)), False),  # nothing says sealed
        ((*WORK[:2], SEALED, handover(3, taken="2026-05-06 08:00")), False),  # before it
        # Cut out, fastened again and read: open once more.
        ((*WORK, milestone(Event.FASTENED, "2026-05-07 09:00", "m-again"), handover(3)), False),
        # Another set of pieces was sealed.
        ((*WORK[:2], milestone(Event.SEALED, "2026-05-06 09:00", piece="new"), handover(3)), False),
        # Another seam was sealed.
        (
            (*WORK[:2], milestone(Event.SEALED, "2026-05-06 09:00", seams=("s2",)), handover(3)),
            False,
        ),
        # Called after fastening, on the day of the sealing without a time: before it.
        ((*WORK[:2], milestone(Event.SEALED, "2026-05-05"), fastened(3)), False),
        # Called after fastening and dated days after the sealing.
        ((*WORK[:2], SEALED, fastened(3, taken="2026-05-09 10:00")), True),
        ((*WORK, handover(3)), True),
    ],
)
def test_when_a_joint_was_filled(records, filled) -> None:
    found = worked_out(*records)
    assert any(r.over_sealant for r in found.readings) is filled


def test_gaps_and_packet_and_measure_say_so() -> None:
    last = handover(3)
    found = case(known_facts(*WORK, last))
    assert f"(within: over 99 %), {TOLD}" in plain(gaps(found))
    for reader in (Reader.CUSTOMER, Reader.OWN):
        section = seams.section(view(found, reader, None, ()))
        assert "Read over the sealant (top, handover)." in str(section)
        assert VISIBLE in str(section)
    assert f", {TOLD}" in plain(reading_lines(found, last, "top"))
