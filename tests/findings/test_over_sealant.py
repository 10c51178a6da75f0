"""A reading of a filled joint shows the sealant: it is kept, said to be one, and judges nothing.

That a filled joint hides the faces is common practice, no source; photos of a scale card over one
are refused for the same reason.
"""

from __future__ import annotations

import pytest

from claimkit.compose.packet import seams
from claimkit.compose.packet.view import view
from claimkit.compose.terminal.gap_lines import gaps
from claimkit.compose.terminal.reading_lines import reading_lines
from claimkit.findings.seams.sealant import TOLD
from claimkit.model.case import Reader
from claimkit.model.gap import Change
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


def test_it_is_compared_with_nothing_and_the_reading_before_it_is() -> None:
    """The handover on the 8th would be UNCHANGED; the reading after fastening is what there is."""
    found = worked_out(*WORK, handover(3))
    compared = whole(found)
    assert compared.after is not None
    assert compared.after.record == "r2-fastened"
    assert [r.record for r in found.readings if r.over_sealant] == ["r3-handover"]


def test_nor_does_it_show_that_a_gap_opened() -> None:
    compared = whole(worked_out(dry(3), fastening(), SEALED, complaint(9)))
    assert compared.after is None
    assert compared.change.change is Change.CANNOT_TELL
    assert "only where the sealant is cut out" in compared.change.settle
    assert "only where the sealant is cut out" in compared.now.settle


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
    assert f"handover, 2026-05-08 10:00 UTC−05:00: 3.00 ± 0.21 mm, {TOLD}" in plain(gaps(found))
    assert "UNCHANGED between the dry fit (2026-05-04) and handover" not in plain(gaps(found))
    for reader in (Reader.CUSTOMER, Reader.OWN):
        section = seams.section(view(found, reader, None, ()))
        assert TOLD in str(section)
        assert "read over the sealant" in str(section).casefold()
    assert plain(reading_lines(found, last, "top")).endswith(
        "Read over the sealant: what lies beneath cannot be told. Compared with nothing."
    )
