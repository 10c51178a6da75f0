"""A seam as a whole in packets, on the terminal and as JSON.

Expected numbers are worked by hand: two ends of a metre that open by 0 and 2 mm change by 1 mm at
the middle and by 2 mm/m, which is 0.115 degrees. JSON Schema (draft 2020-12) is the outside check
of the JSON.
"""

from __future__ import annotations

import json

import jsonschema
import pytest

from claimkit.compose import asjson
from claimkit.compose.packet.order import compose
from claimkit.compose.terminal.gap_lines import gaps
from claimkit.model.case import Reader
from claimkit.model.document import Table, statements
from claimkit.model.job import Joint
from tests.build import case, facts, job, seam
from tests.compose.jobs import ROOT
from tests.findings import cases_check_gaps
from tests.findings.gap_build import fastening
from tests.findings.line_build import at_places, dry_fit, fixed, handed_over

SCHEMA = json.loads((ROOT / "docs" / "json.schema.json").read_text(encoding="utf-8"))
METRE = at_places(0, 500, 1000)


def turned(**of_seam):
    """A seam that opened at its far end only, between dry fit and handover."""
    of_seam = {"station": METRE} | of_seam
    records = (dry_fit(3, 3, 3), fastening(), fixed(3, 3, 3), handed_over(3, 4, 5))
    return case(facts(job_=job(seam=(seam(**of_seam),)), records=records))


def packet(whole, reader):
    return compose(whole, reader, versions=(("x", "1"),))


def texts(whole, reader):
    return [statement.text for _, statement in statements(packet(whole, reader))]


@pytest.mark.parametrize("reader", [Reader.CUSTOMER, Reader.OWN, Reader.SELLER])
def test_the_packet_says_how_a_seam_runs_along(reader):
    whole = turned()
    told = texts(whole, reader)
    assert any("stations judged together (k = 2.13)" in text for text in told)
    tables = [
        block
        for section in packet(whole, reader).sections
        for block in section.blocks
        if isinstance(block, Table) and block.heads[2:3] == ("Taper, mm/m",)
    ]
    (table,) = tables
    rows = {row[0].text: [cell.text for cell in row] for row in table.rows}
    assert set(rows) == {"the dry fit (2026-05-04)", "handover (2026-05-08)", "the change"}
    assert rows["the change"][1].startswith("+1.00 ±")
    assert rows["the change"][2].startswith("+2.00 ±")
    assert rows["the change"][3].startswith("+0.115 ±")
    assert rows["the change"][4].startswith("taper changed, wider toward c by more than 0.80 mm/m")
    assert all(cell.sources for row in table.rows for cell in row)


def test_what_a_taper_is_consistent_with_is_not_for_the_customer():
    whole = turned(joint=Joint.CORNER)
    assert any("consistent with" in text for text in texts(whole, Reader.OWN))
    assert not any("consistent with" in text for text in texts(whole, Reader.CUSTOMER))


def test_a_seam_read_at_one_station_has_no_such_part():
    whole = case(
        facts(
            job_=job(seam=(seam(station=at_places(0)),)),
            records=(dry_fit(3), handed_over(3)),
        )
    )
    assert not any("along its length" in text for text in texts(whole, Reader.OWN))
    assert "as a whole" not in "\n".join(gaps(whole))


def test_the_terminal_shows_it_beside_its_stations_within_80_columns():
    lines = gaps(turned())
    assert "Seam s1, as a whole" in lines
    text = " ".join(" ".join(lines).split())
    assert "OPENED SOMEWHERE, 3 stations judged together (k = 2.13)" in text
    assert "change: +1.00 ± 0.17 mm at the middle, taper +2.00 ± 0.41 mm/m" in text
    # The step that holds it is told, the one that does not is not.
    assert "between fastening (2026-05-05) and handover (2026-05-08): +1.00" in text
    assert "between the dry fit (2026-05-04) and fastening (2026-05-05): +0.00" not in text
    assert all(len(line) <= 80 for line in lines)


def test_the_terminal_gives_the_reasons_of_an_open_answer_once():
    whole = cases_check_gaps.CASES["gap-cannot-tell"][0]()
    (found,) = (f for f in whole.findings if f.rule == "gap-cannot-tell")
    assert "standard uncertainties in mm" in found.message  # the packet's finding keeps them
    text = " ".join(" ".join(gaps(whole)).split())
    assert "s1, station top: Cannot tell: change. The numbers stand in its section above." in text
    assert "standard uncertainties in mm" not in text
    assert found.do_next in text


@pytest.mark.parametrize(
    "whole",
    [
        turned(),
        turned(joint=Joint.CORNER, station=at_places(0, None, 1000)),
        turned(tolerance=None),
        case(facts(job_=job(seam=(seam(station=METRE),)), records=(dry_fit(3, 9, 3),))),
        case(facts()),
    ],
    ids=["turned", "corner, no place", "no tolerance", "not straight", "nothing read"],
)
def test_the_json_keeps_its_contract(whole):
    for found in (asjson.gaps(whole), asjson.status(whole)):
        jsonschema.validate(json.loads(json.dumps(found)), SCHEMA)


def test_the_json_holds_the_numbers():
    (line,) = (one for one in asjson.gaps(turned())["lines"] if not one["step"])
    fit = line["change"]["fit"]
    assert fit["taper_mm_per_m"]["value"] == pytest.approx(2.0)
    assert fit["offset_mm"]["value"] == pytest.approx(1.0)
    assert fit["taper_degrees"] == pytest.approx(0.1146, abs=5e-5)
    assert line["change"]["taper"] == "wider toward the last station"
    assert line["together"]["answer"] == "opened somewhere"
    loose = asjson.gaps(case(facts()))["last_chance"]
    assert [(c["before"], c["gone"], c["stations"]) for c in loose] == [
        ("fastening", False, ["top", "bottom"])
    ]
