"""A gap against a design that states no temperature, read at one and met at another.

Figures: 900 mm of acrylic at 70e-6/K move 0.063 mm/K (published working value); 17 K are 1.071 mm.
"""

from __future__ import annotations

import pytest

from claimkit.compose.terminal.gap_lines import gaps
from claimkit.model.case import Standing
from claimkit.model.gap import Fit
from claimkit.model.job import Material
from tests.build import case, celsius, mm
from tests.findings.gap_build import dry, handover, known_facts, whole, worked_out

DESIGN = {"design_gap_min": mm("1.5"), "design_gap_max": mm(4), "tolerance": mm(1)}
WIDE = {"material": Material.ACRYLIC, "panel_width": mm(900)} | DESIGN
COLD, WARM = {"temperature": celsius(4)}, {"temperature": celsius(21)}
BOTH_COLD = "outside design at 4 °C, within design at 21 °C"


def compared(first="4.58", later="3.52", before=COLD, after=WARM, of_seam=WIDE):
    return whole(worked_out(dry(first, **before), handover(later, **after), **of_seam))


def test_a_gap_that_is_outside_only_in_the_cold_cannot_be_told() -> None:
    c = compared()
    assert (c.at_dry_fit.fit, c.at_dry_fit.by_temperature) == (Fit.CANNOT_TELL, BOTH_COLD)
    assert f"It is {BOTH_COLD}; the design states no temperature." in c.at_dry_fit.because
    # 4.58 - 1.071 = 3.509 mm; u² by hand: one feeler reading 0.1² + 0.0144² + 0.0058², held
    # 0.268², coefficient (0.0765/√3)², thermometers 2 × (0.063/√3)²: U = 2 × 0.294 = 0.59 mm;
    # (4 - 3.509) / 0.294 = 1.67, of which the normal distribution has 95 %.
    assert "It would be 3.51 ± 0.59 mm at 21 °C (within: 95 %)" in c.at_dry_fit.because
    assert c.at_dry_fit.settle == "Ask the maker at which temperature the design gap holds."
    # and the other way round: 3.52 + 1.071 = 4.591 mm
    assert c.now.fit is Fit.CANNOT_TELL
    assert ["within design at 21 °C", " outside design at 4 °C"][0] in c.now.by_temperature


@pytest.mark.parametrize(
    "change",
    [
        {"after": {}},  # the seam was read at no other temperature
        {"after": COLD},
        {"before": {}},  # nobody knows how cold it was
        {"of_seam": DESIGN | {"material": Material.ACRYLIC}},
        {"of_seam": DESIGN | {"panel_width": mm(900)}},
        {"first": "6.00"},  # 4.93 mm at 21 °C: outside there too
    ],
)
def test_outside_stands_where_no_recorded_temperature_turns_it(change) -> None:
    c = compared(**change)
    assert (c.at_dry_fit.fit, c.at_dry_fit.by_temperature) == (Fit.OUTSIDE, "")
    assert ("Read at 4 °C." in c.at_dry_fit.because) is (change.get("before") is None)


def test_the_gap_at_another_temperature_is_said_where_the_answer_stands() -> None:
    c = compared("3.00", "1.93")
    assert c.at_dry_fit.fit is Fit.WITHIN
    # 3 - 1.071 mm
    assert "Read at 4 °C. It would be 1.93 ± 0.59 mm at 21 °C" in c.at_dry_fit.because


def test_one_station_read_warm_is_enough_for_the_seam() -> None:
    records = (dry("4.58", **COLD), dry(3, record_id="r9", station="foot", **WARM))
    c = whole(worked_out(*records, **WIDE, station=()))
    assert c.at_dry_fit.by_temperature == BOTH_COLD


def test_what_hangs_on_temperature_is_used_for_nobody_and_said_in_short() -> None:
    known = case(known_facts(dry("4.58", **COLD), handover("3.52", **WARM), **WIDE))
    rules = {f.rule for f in known.findings}
    assert not rules & {"gap-out-at-dry-fit", "gap-in-at-dry-fit", "gap-out-now", "gap-in-now"}
    (open_,) = [f for f in known.findings if f.rule == "gap-cannot-tell"]
    assert open_.standing is Standing.MISSING
    assert "Ask the maker at which temperature" in open_.do_next
    assert f"cannot tell ({BOTH_COLD})" in " ".join(" ".join(gaps(known)).split())


def test_stations_together_do_not_say_more_than_each() -> None:
    records = (
        dry("4.58", **COLD),
        handover("3.52", **WARM),
        dry("4.58", record_id="r8", station="foot", **COLD),
        handover("3.52", record_id="r9", station="foot", **WARM),
    )
    known = case(known_facts(*records, **WIDE, station=()))
    (found,) = [f for f in known.findings if f.rule == "gap-seam-together"]
    assert "2 stations together: cannot tell" in found.message
