"""How values are put into words: rounding by JCGM 100:2008, 7.2.6, and times as they stand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from claimkit.compose.phrases import gap, percent, settling, stretch
from claimkit.model.gap import Change, ChangeJudgement, Comparison, Fit, FitJudgement
from claimkit.model.measurement import Measurement
from claimkit.model.moment import Interval

CHICAGO = ZoneInfo("America/Chicago")


@pytest.mark.parametrize(
    "value, u, printed",
    [
        (4.4667, 0.0724, "4.47 ± 0.15 mm"),  # U 0.1448 goes up to 0.15
        (4.75, 0.458, "4.75 ± 0.92 mm"),  # a tape read to 1/16 in: U 0.916
        (1.8, 0.5, "1.8 ± 1.0 mm"),  # two digits also where the second is 0
        (2.0, 0.05, "2.00 ± 0.10 mm"),  # exactly 0.1 is not pushed up
        (12.0, 7.3, "12 ± 15 mm"),  # U over 10: whole millimetres
        (0.1234, 0.0021, "0.1234 ± 0.0042 mm"),  # small U keeps four places
    ],
)
def test_gap_rounds_the_uncertainty_up_to_two_digits(value: float, u: float, printed: str) -> None:
    assert gap(Measurement.of(value, {"x": u})).replace("\N{NO-BREAK SPACE}", " ") == printed


def test_a_probability_never_claims_certainty() -> None:
    assert percent(1.0).startswith("over 99")
    assert percent(0.0).startswith("under 1")
    assert percent(0.951).startswith("95")
    assert percent(None) == "–"


@pytest.mark.parametrize(
    "dry,change,now,said",
    [
        ("A.", "B.", "C.", [("fit at the dry fit", "A."), ("change", "B."), ("fit now", "C.")]),
        # one reading that serves two answers is asked for once
        ("", "B.", "B.", [("change and the fit now", "B.")]),
        ("A.", "B.", "A.", [("fit at the dry fit and the fit now", "A."), ("change", "B.")]),
        ("", "", "", []),
    ],
)
def test_what_would_settle_it_says_which_answer(
    dry: str, change: str, now: str, said: list[tuple[str, str]]
) -> None:
    compared = Comparison(
        seam="s1",
        station="top",
        before=None,
        after=None,
        at_dry_fit=FitJudgement(Fit.CANNOT_TELL, None, "", dry),
        change=ChangeJudgement(Change.CANNOT_TELL, None, None, None, None, None, "", change),
        now=FitJudgement(Fit.CANNOT_TELL, None, "", now),
    )
    assert settling(compared) == tuple((f"the {answers}", text) for answers, text in said)


def at(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=CHICAGO)


@pytest.mark.parametrize(
    "first, last, printed",
    [
        # a camera's whole second, one either side
        ("2026-05-04 09:07:11", "2026-05-04 09:07:13", "2026-05-04 09:07:12 UTC−05:00"),
        # the same where the end stops short of the next second
        ("2026-05-04 09:07:12", "2026-05-04 09:07:12.999999", "2026-05-04 09:07:12 UTC−05:00"),
        # half a second is cut, not rounded up to the next
        ("2026-05-04 09:07:12.5", "2026-05-04 09:07:12.5", "2026-05-04 09:07:12 UTC−05:00"),
        # a time written to the minute
        ("2026-05-04 09:07", "2026-05-04 09:07:59.999999", "2026-05-04 09:07 UTC−05:00"),
        # a date
        ("2026-05-04 00:00", "2026-05-04 23:59:59.999999", "2026-05-04 (day only)"),
        # the hour that clocks repeat: both offsets are said
        (
            "2026-11-01 00:30",
            "2026-11-01 03:30",
            "2026-11-01 00:30:00 UTC−05:00 to 03:30:00 UTC−06:00",
        ),
    ],
)
def test_stretch(first: str, last: str, printed: str) -> None:
    assert stretch(Interval(at(first), at(last), ""), CHICAGO) == printed


def test_open_ends_are_said() -> None:
    noon = datetime(2026, 5, 4, 17, tzinfo=UTC)
    assert stretch(Interval(None, None, ""), CHICAGO) == "time not known"
    assert stretch(Interval(noon, None, ""), CHICAGO).startswith("after 2026-05-04 12:00")
    assert stretch(Interval(None, noon, ""), CHICAGO).startswith("before 2026-05-04 12:00")
    days = Interval(noon, noon + timedelta(days=2), "")
    assert stretch(days, CHICAGO) == "2026-05-04 12:00:00 to 2026-05-06 12:00:00 UTC−05:00"
