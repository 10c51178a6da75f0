"""The scale of a card's print against lengths worked by hand, and what is refused."""

from __future__ import annotations

import math

import pytest

from claimkit.findings.seams.print_scale import print_scale
from claimkit.model.measuring import Instrument
from tests.build import case, facts, inches, job, mm
from tests.findings.cases_check_cards import sheet, with_cards


def test_a_line_within_a_32nd_leaves_the_card_to_size():
    """The tolerance agreed on: within 1/32 in passes, to either side and on the limit itself."""
    for across in ("6 31/32", "7", "7 1/32"):
        scale = print_scale(with_cards(sheet(across=inches(across))), 3)
        assert scale.factor == 1.0
        assert scale.refused is None
        assert scale.covered


def test_a_line_further_off_scales_the_card():
    """Shrunk to 97 %: 7 in become 6.79 in. A gap read as 6 mm with such a card is 5.82 mm."""
    found = print_scale(with_cards(sheet(along=mm("246.38"), across=mm("172.466"))), 3)
    assert found.factor == pytest.approx(0.97, abs=1e-9)
    assert 6.0 * found.factor == pytest.approx(5.82)
    assert "172.47 mm" in found.because
    assert {source.key_path for source in found.sources} == {"along", "across"}


def test_fit_to_page_of_letter_on_a4_is_found():
    """Letter fitted to A4's width: 210/215.9, both lines alike; by hand 6.809 in and 9.727 in."""
    part = 210.0 / 215.9
    lines = {"along": mm(round(254.0 * part, 1)), "across": mm(round(177.8 * part, 1))}
    found = print_scale(with_cards(sheet(**lines, instrument=Instrument.RULE_HALF_MM)), 3)
    assert found.refused is None
    assert found.factor == pytest.approx(part, abs=0.0005)


def test_the_uncertainty_is_that_of_tape_and_tolerance():
    """By hand for a tape of 1/32 in on 7 in (JCGM 100:2008, 4.3.7 and F.2.2.1), in mm.

    Division 0.79375/sqrt(12) = 0.22914, both ends by eye 0.14, tolerance 0.79375/sqrt(3) = 0.45827:
    together 0.531146 of 177.8, with the tape's own 0.0003/sqrt(3) = 0.00017321.
    """
    found = print_scale(with_cards(sheet()), 3)
    by_hand = math.hypot(0.531146 / 177.8, 0.00017321)
    assert found.u_relative == pytest.approx(by_hand, rel=1e-5)


def test_without_a_record_a_print_may_be_as_far_off_as_fit_to_page():
    """A half width of 4.5 %, every value equally likely: 0.045/sqrt(3) = 0.02598."""
    for records in ((), (sheet(cards=(4,)),), (sheet(instrument=Instrument.OTHER),)):
        found = print_scale(with_cards(*records), 3)
        assert (found.factor, found.refused, found.covered) == (1.0, None, False)
        assert found.u_relative == pytest.approx(0.02598, abs=1e-5)
        assert found.sources
        assert "4.5 %" in found.because


@pytest.mark.parametrize(
    "lines",
    [
        {"across": inches("6 3/4")},  # true along, 3.6 % short across
        {"along": inches("9 3/4")},  # the same with the sheet turned
        {"along": inches("8"), "across": inches("5 5/8")},  # 20 % short, both alike
        {"along": mm(100), "across": mm(70)},  # a misread tape
        {"along": inches("11 1/8"), "across": inches("7 25/32")},  # 11 % long
    ],
)
def test_lines_that_fit_no_print_refuse_the_sheet(lines):
    found = print_scale(with_cards(sheet(**lines)), 3)
    assert found.refused
    assert found.factor == 1.0


@pytest.mark.parametrize(
    "along,across",
    [
        ("10 1/32", "6 31/32"),  # both pass, to opposite sides
        ("9 11/16", "6 13/16"),  # 97 % read by a tape of 1/16 in, each to its nearest mark
        ("9 7/8", "6 29/32"),
    ],
)
def test_rounding_to_a_tapes_marks_refuses_nothing(along, across):
    found = print_scale(with_cards(sheet(along=inches(along), across=inches(across))), 3)
    assert found.refused is None


def test_the_record_that_names_the_card_counts_before_one_for_all():
    short = sheet("b-named", along=mm("246.38"), across=mm("172.466"), cards=(3,))
    found = with_cards(sheet("a-all"), short, cards=(3, 4))
    assert print_scale(found, 3).factor == pytest.approx(0.97)
    assert print_scale(found, 4).factor == 1.0


def test_two_prints_of_one_card_that_differ_are_refused():
    short = sheet("b", along=mm("246.38"), across=mm("172.466"))
    found = print_scale(with_cards(sheet("a"), short), 3)
    assert found.refused
    assert {source.path for source in found.sources} == {"records/a.toml", "records/b.toml"}
    alike = print_scale(with_cards(sheet("a"), sheet("b", across=mm("178"))), 3)
    assert alike.refused is None


def test_a_replaced_record_decides_nothing():
    from dataclasses import replace

    wrong = replace(sheet("a", across=inches("6")), replaced_by="b")
    assert print_scale(with_cards(wrong, sheet("b")), 3).refused is None


def test_a4_has_its_own_lengths():
    found = case(facts(job_=job(), records=[sheet(paper="a4", along=mm(250), across=mm(170))]))
    assert print_scale(found, 0).factor == 1.0
    off = case(facts(job_=job(), records=[sheet(paper="a4", along=mm(240), across=mm("163.2"))]))
    assert print_scale(off, 0).factor == pytest.approx(0.96)
