"""Gaps read in photos and the bench checks behind them, as JSON; lengths in mm."""

from __future__ import annotations

from typing import Any

from claimkit.model.case import Case
from claimkit.model.gap import Bench, PhotoGap


def photo_gaps(case: Case) -> dict[str, Any]:
    """Give what each photo's cards show, and each bench check with its rows."""
    return {
        "photo_gaps": [_gap(case, gap) for gap in case.photo_gaps],
        "bench_checks": [_bench(bench) for bench in case.benches],
    }


def _gap(case: Case, gap: PhotoGap) -> dict[str, Any]:
    photo = case.facts.photo_of(gap.sha256)
    view = gap.reading.view
    return {
        "photo": photo.places[0] if photo else None,
        "sha256": gap.sha256,
        "card": gap.card,
        "seam": gap.seam,
        "station": gap.station,
        "stage": gap.stage.value if gap.stage else None,
        "gap_mm": round(gap.gap.value_mm, 4) if gap.gap else None,
        "expanded_mm": round(2.0 * gap.gap.u_mm, 4) if gap.gap else None,
        "parts_mm": {c: round(abs(u), 4) for c, u in gap.gap.parts} if gap.gap else {},
        "px_per_mm": round(view.px_per_mm, 2) if view else None,
        "tilt_deg": round(view.tilt_deg, 1) if view else None,
        "decides": gap.decides,
        "because": gap.because,
        "refused": gap.refused,
        "do_next": gap.do_next,
        "cautions": [care.sentence for care in gap.reading.cautions],
    }


def _bench(bench: Bench) -> dict[str, Any]:
    return {
        "record": bench.record,
        "camera": bench.camera,
        "cards": list(bench.cards),
        "bias_mm": bench.bias_mm,
        "u_bias_mm": bench.u_bias_mm,
        "spread_mm": bench.spread_mm,
        "outside": bench.outside,
        "passed": bench.passed,
        "because": bench.because,
        "photos": [
            {
                "photo": row.photo,
                "card": row.card,
                "spacer_mm": row.known_mm,
                "measured_mm": row.measured.value_mm if row.measured else None,
                "expanded_mm": 2.0 * row.measured.u_mm if row.measured else None,
                "refused": row.refused,
            }
            for row in bench.rows
        ],
    }
