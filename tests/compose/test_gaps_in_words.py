"""What temperature did to a gap and what would settle an answer, as printed and in the packet."""

from __future__ import annotations

import pytest

from claimkit.compose.packet.order import compose
from claimkit.compose.terminal.gap_lines import gaps
from claimkit.model.case import Case, Reader
from claimkit.model.document import Answers
from claimkit.model.job import Material
from claimkit.model.measuring import Instrument
from tests.build import case, celsius, mm
from tests.findings.gap_build import dry, handover, known_facts

WIDE = {"material": Material.ACRYLIC, "panel_width": mm(900), "tolerance": mm("1.2")}


def at_temperatures(first: int, second: int, later: object = 3) -> Case:
    return case(
        known_facts(
            dry(3, temperature=celsius(first)), handover(later, temperature=celsius(second)), **WIDE
        )
    )


def for_customer(known: Case) -> dict[str, str]:
    """Give the first page's answers for the customer, those of one name joined."""
    (answer,) = [s for s in compose(known, Reader.CUSTOMER).sections if s.id == "answer"]
    (rows,) = [b for b in answer.blocks if isinstance(b, Answers)]
    told: dict[str, str] = {}
    for name, statement in rows.rows:
        told[name] = f"{told.get(name, '')} {statement.text}".strip()
    return told


@pytest.mark.parametrize(
    "first,second,said",
    [
        # 900 mm × 70e-6/K is 0.063 mm/K (published working value).
        (20, 22, "after taking out -0.13 mm for 20 °C to 22 °C"),
        (22, 20, "after taking out +0.13 mm for 22 °C to 20 °C"),
        (20, 21, "after taking out -0.06 mm for 20 °C to 21 °C"),  # it changes a printed digit
        (20, 20, ""),
    ],
)
def test_what_temperature_did_stands_beside_the_change(first: int, second: int, said: str) -> None:
    known = at_temperatures(first, second)
    printed = [line.strip() for line in gaps(known)]
    shown = [line for line in printed if line.startswith("after taking out")]
    assert shown == ([said] if said else [])
    means = for_customer(known)["What it means"]
    assert "unchanged between" in means
    assert ("taking out" in means) is bool(said)
    assert said in means


@pytest.mark.parametrize(
    "later, moved",
    [("3.00", False), ("3.20", False), ("3.45", True), ("2.55", True)],
)
def test_a_difference_that_is_shown_is_not_called_unchanged(later: str, moved: bool) -> None:
    """U of the difference is 0.29 mm (two readings, operator 0.1 mm each): 0.45 is more than it.

    The tolerance is 0.8 mm, so that the answer stays; only its words say what is meant.
    """
    known = case(known_facts(dry(3), handover(later)))
    words = "changed by less than the 0.8 mm that matters"
    printed = " ".join(" ".join(gaps(known)).split())
    assert ("UNCHANGED between" in printed) is not moved
    assert (f"C{words[1:]} (entered) between" in printed) is moved
    assert (words in for_customer(known)["What it means"]) is moved
    (found,) = [f for f in known.findings if f.rule == "gap-unchanged"]
    assert (f"It {words} between" in found.message) is moved
    assert ("It is unchanged within" in found.message) is not moved


def test_what_happens_next_names_seam_and_stations() -> None:
    """Two stations that one reading each would settle, in one sentence with both names."""
    tape = {"instrument": Instrument.TAPE_16TH}
    known = case(
        known_facts(
            dry(3, record_id="r1"),
            handover(3, record_id="r2", **tape),
            dry(3, record_id="r3", station="foot"),
            handover(3, record_id="r4", station="foot", **tape),
            station=(),
        )
    )
    text = for_customer(known)["What happens next"]
    assert text.startswith("Seam s1, stations foot, top: Read it ")


def test_a_fit_that_turns_with_the_temperature_is_told_so_to_the_customer() -> None:
    # 4.58 mm in the cold; 1.071 mm less at 21 °C (0.063 mm/K × 17 K) is within 4 mm.
    design = {"design_gap_min": mm("1.5"), "design_gap_max": mm(4)}
    known = case(
        known_facts(
            dry("4.58", temperature=celsius(4)),
            handover("3.52", temperature=celsius(21)),
            **(WIDE | design),
        )
    )
    told = for_customer(known)
    both = "(outside design at 4 °C, within design at 21 °C)"
    assert f"cannot tell {both} at the dry fit" in told["What it means"]
    asked = "Seam s1, station top: Ask the maker at which temperature the design gap holds."
    assert told["What happens next"].startswith(asked)
