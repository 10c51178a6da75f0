"""Each seam along its length as JSON: lines, tapers and stations together; lengths in mm."""

from __future__ import annotations

from typing import Any

from claimkit.findings.seams.line import degrees, factors
from claimkit.model.case import Case
from claimkit.model.measurement import Measurement
from claimkit.model.seam_line import LineFit, SeamLine, TaperAnswer


def lines(case: Case) -> list[dict[str, Any]]:
    """Give every line along a seam; tapers in mm per metre and degrees."""
    return [_line(line) for line in case.lines]


def _line(line: SeamLine) -> dict[str, Any]:
    judged = line.together
    return {
        "seam": line.seam,
        "piece": line.piece,
        "how": line.how,
        "between": line.between,
        "step": line.step,
        "at_first": _answer(line.at_first),
        "now": _answer(line.now),
        "change": _answer(line.change),
        "together": {
            "k": judged.factor,
            "stations": {station: answer.value for station, answer in judged.stations},
            "answer": judged.answer.value,
            "not_compared": list(judged.not_compared),
        }
        if judged
        else None,
        "left_out": [{"station": name, "why": why} for name, why in line.left_out],
    }


def _answer(answer: TaperAnswer) -> dict[str, Any]:
    return {
        "taper": answer.taper.value,
        "limit_mm_per_m": answer.limit_mm_per_m,
        "p_toward_first": answer.p_toward_first,
        "p_toward_last": answer.p_toward_last,
        "p_even": answer.p_even,
        "fit": _fit(answer.line) if answer.line else None,
        "because": answer.because,
        "to_settle": answer.settle,
        "consistent_with": answer.meaning,
    }


def _fit(line: LineFit) -> dict[str, Any]:
    decides, shown = factors(line)
    return {
        "stations": list(line.stations),
        "at_mm": list(line.at_mm),
        "middle_mm": line.middle_mm,
        "offset_mm": _value(line.offset, line.u_offset),
        "taper_mm_per_m": _value(line.slope, line.u_slope),
        "taper_degrees": degrees(line.slope.value_mm),
        "correlation": line.correlation,
        "chi_squared": line.chi_squared,
        "degrees_of_freedom": line.degrees_of_freedom,
        "widened_by": line.widened_by,
        "k_one_sided": decides,
        "k_shown": shown,
    }


def _value(measured: Measurement, u: float) -> dict[str, Any]:
    """Give a value with its standard uncertainty, widened, and its parts, which are not."""
    return {"value": measured.value_mm, "u": u, "parts": dict(measured.parts)}
