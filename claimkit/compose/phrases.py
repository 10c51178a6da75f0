"""How dates, times, gaps and money are put into words, the same way everywhere.

Rounding happens here and nowhere else: an expanded uncertainty to two significant digits, rounded
up, and its value to the same decimal place (JCGM 100:2008, 7.2.6).
"""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from claimkit.model.case import Case
from claimkit.model.gap import Comparison, FitJudgement
from claimkit.model.measurement import Measurement
from claimkit.model.moment import Interval
from claimkit.model.source import Source

COVERAGE_FACTOR = 2
NBSP = "\N{NO-BREAK SPACE}"
CAMERA_SECONDS = 2.5
"""A camera's whole second, one either side, prints as that second."""


def site_zone(case: Case) -> ZoneInfo:
    """Give the site's time zone, or UTC where the job has none."""
    return ZoneInfo(case.facts.job.site.zone if case.facts.job else "UTC")


def day(value: date | None) -> str:
    """Print a calendar day with its weekday: Mon 2026-05-04."""
    return f"{value:%a %Y-%m-%d}" if value else "–"


def offset(at: datetime) -> str:
    """Print a UTC offset: UTC−05:00."""
    minutes = int((at.utcoffset() or at - at).total_seconds() // 60)
    sign = "−" if minutes < 0 else "+"
    return f"UTC{sign}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


def clock(at: datetime, zone: ZoneInfo, *, seconds: bool = True) -> str:
    """Print an instant in local time with its offset: 2026-05-04 09:12:30 UTC−05:00."""
    local = at.astimezone(zone)
    return f"{local:%Y-%m-%d %H:%M:%S} {offset(local)}" if seconds else f"{local:%Y-%m-%d %H:%M}"


def stretch(interval: Interval, zone: ZoneInfo) -> str:
    """Print an interval as one local time where it is short, else as from … to …."""
    match interval.earliest, interval.latest:
        case None, None:
            return "time not known"
        case None, datetime() as last:
            return f"before {clock(last, zone)}"
        case datetime() as first, None:
            return f"after {clock(first, zone)}"
        case datetime() as first, datetime() as last:
            return _closed(first.astimezone(zone), last.astimezone(zone))
    raise AssertionError("an end is a datetime or None")


def _closed(first: datetime, last: datetime) -> str:
    seconds = (last - first).total_seconds()
    if seconds <= CAMERA_SECONDS:
        # The camera's own second: cut, not rounded, with room for an end of .999999.
        middle = first + (last - first) / 2 + timedelta(milliseconds=1)
        return f"{middle:%Y-%m-%d %H:%M:%S} {offset(first)}"
    if first.second == 0 and 59 < seconds <= 60:
        return f"{first:%Y-%m-%d %H:%M} {offset(first)}"
    if first.date() == last.date() and seconds > 86_000:
        return f"{first:%Y-%m-%d} (day only)"
    first, last = _rounded(first), _rounded(last)
    ends = "%H:%M:%S" if first.date() == last.date() else "%Y-%m-%d %H:%M:%S"
    if offset(first) != offset(last):
        return f"{first:%Y-%m-%d %H:%M:%S} {offset(first)} to {last.strftime(ends)} {offset(last)}"
    return f"{first:%Y-%m-%d %H:%M:%S} to {last.strftime(ends)} {offset(first)}"


def _rounded(at: datetime) -> datetime:
    return (at + timedelta(milliseconds=500)).replace(microsecond=0)


def gap(measurement: Measurement) -> str:
    """Print a measurement as value ± U mm with k = 2."""
    expanded = COVERAGE_FACTOR * measurement.u_mm
    places = decimals(expanded)
    step = 10.0**-places
    rounded_up = math.ceil(expanded / step - 1e-9) * step
    value = round(measurement.value_mm, places) + 0.0  # which makes of -0.00 a plain 0.00
    return f"{value:.{places}f} ± {rounded_up:.{places}f} mm".replace(" ", NBSP)


def decimals(expanded: float) -> int:
    """Give the decimals that show two significant digits of an uncertainty (0 to 4)."""
    if expanded <= 0:
        return 2
    return min(max(1 - math.floor(math.log10(expanded)), 0), 4)


def percent(probability: float | None) -> str:
    """Print a probability without claiming certainty."""
    if probability is None:
        return "–"
    if probability > 0.995:
        return f"over 99{NBSP}%"
    if probability < 0.005:
        return f"under 1{NBSP}%"
    return f"{probability * 100:.0f}{NBSP}%"


def settling(compared: Comparison) -> tuple[tuple[str, str], ...]:
    """Give what would settle a station's answers: which answers, and the sentence that says it.

    A sentence that serves several answers is given once, with all of them.
    """
    found: dict[str, list[str]] = {}
    for answer, text in (
        ("the fit at the dry fit", compared.at_dry_fit.settle),
        ("the change", compared.change.settle),
        ("the fit now", compared.now.settle),
    ):
        if text:
            found.setdefault(text, []).append(answer)
    return tuple((" and ".join(answers), text) for text, answers in found.items())


def fit_told(judged: FitJudgement) -> str:
    """Print how a gap lies to its design: the answer and why not, or how likely within."""
    if judged.by_temperature:
        return f"{judged.fit.value} ({judged.by_temperature})"
    if judged.p_within is None:
        return judged.fit.value
    return f"{judged.fit.value} (within: {percent(judged.p_within)})"


def heat_out(compared: Comparison) -> str:
    """Say what temperature did and was taken out of a change, where it changes a printed digit."""
    heat, first, second = compared.change.heat_mm, compared.before, compared.after
    found = compared.change.difference
    if heat is None or first is None or second is None or found is None:
        return ""
    places = decimals(COVERAGE_FACTOR * found.u_mm)
    if round(found.value_mm, places) == round(found.value_mm + heat, places):
        return ""
    shown = f"{heat:+.2f}" if abs(heat) >= 0.01 else f"{heat:+.1g}"
    return f"after taking out {shown} mm for {first.celsius:g} °C to {second.celsius:g} °C"


def millimetres(value: float | None) -> str:
    """Print a length that is given, not measured."""
    return "–" if value is None else f"{value:g} mm"


def job_source(case: Case, key_path: str) -> Source:
    """Name a key of job.toml as a source."""
    return Source(path="job.toml", sha256=case.facts.job_sha256, key_path=key_path)


def method(name: str) -> Source:
    """Name one of claimkit's own documented methods as a source."""
    return Source(citation=f"claimkit method: {name}")
