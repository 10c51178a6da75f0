"""Opening checks as JSON: lengths in mm, slopes in mm per m, angles in degrees."""

from __future__ import annotations

from typing import Any

from claimkit.model.answers import Answer
from claimkit.model.case import Case
from claimkit.model.measurement import Measurement
from claimkit.model.opening import Explanation, OpeningResult, OpeningState, Place


def openings(case: Case) -> dict[str, Any]:
    """Give the checks of openings and what they say of each seam's taper."""
    return {
        "openings": [_state(state) for state in case.openings],
        "tapers_beside_openings": [_explanation(one) for one in case.explanations],
    }


def _state(state: OpeningState) -> dict[str, Any]:
    return {
        "record": state.record,
        "opening": state.opening,
        "taken": {
            "earliest": state.taken.earliest.isoformat() if state.taken.earliest else None,
            "latest": state.taken.latest.isoformat() if state.taken.latest else None,
            "basis": state.taken.basis,
        },
        "instrument": state.instrument,
        "before_fastening": state.before_fastening.value,
        "when": state.when,
        "nothing_fastened_yet": state.open_still,
        "seams": list(state.seams),
        "results": [_result(result) for result in state.results],
        "not_usable": [{"what": what.value, "why": why} for what, why in state.unusable],
        "remarks": list(state.remarks),
        "photos": list(state.photos),
    }


def _result(result: OpeningResult) -> dict[str, Any]:
    bow = result.bow
    return {
        "what": result.what.value,
        "of_piece": result.of_piece,
        "stands": result.stands,
        "judged_mm": _value(result.judged),
        "over_mm": _value(result.over),
        "span_mm": result.span_mm,
        "mm_per_m": _value(result.mm_per_m),
        "degrees": result.degrees,
        "places": [_place(place) for place in result.places],
        "bow": {
            "at_mm": bow.at_mm,
            "off_mm": _value(bow.off),
            "straight": "not as far as read" if bow.straight is Answer.NO else "as far as read",
        }
        if bow
        else None,
        "tolerance_mm": result.tolerance_mm,
        "answer": result.tolerated.value,
        "p_within": result.p_within,
        "because": result.because,
        "to_settle": result.settle,
        "record_key": result.source.key_path,
    }


def _place(place: Place) -> dict[str, Any]:
    return {
        "at_mm": place.at_mm,
        "as_written": list(place.written),
        "offset_mm": _value(place.offset),
        "off_mm": _value(place.off),
    }


def _explanation(one: Explanation) -> dict[str, Any]:
    return {
        "seam": one.seam,
        "piece": one.piece,
        "answer": one.answer.value,
        "is_change": one.is_change,
        "between": one.between,
        "observed_mm_per_m": _value(one.observed),
        "predicted_mm_per_m": _value(one.predicted),
        "because": one.because,
        "to_settle": one.settle,
        "records": list(one.records),
    }


def _value(measurement: Measurement | None) -> dict[str, Any] | None:
    """Give value, standard uncertainty and signed parts, in the unit that the key names."""
    if measurement is None:
        return None
    return {
        "value": measurement.value_mm,
        "u": measurement.u_mm,
        "parts": dict(measurement.parts),
    }
