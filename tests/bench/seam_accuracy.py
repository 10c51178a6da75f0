"""Measure rendered photos with known gaps: bias, spread and how often ± U holds, kind by kind.

Run by hand in a process of its own, from the root of the checkout:
`python -m tests.bench.seam_accuracy --count 200 --seed 1`. The renders are drawn by tests/seams;
with `--folder` the photos of a folder with a truth.csv are measured instead (columns file, phase,
card, kind, gap_mm), for a last check against somebody else's renderer.
"""

from __future__ import annotations

import argparse
import csv
import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from claimkit.model.card import CardReading, Window
from claimkit.model.measurement import Measurement
from claimkit.pixels.cards import read_cards
from tests.seams.random_scenes import KINDS, pair, scene
from tests.seams.render_photo import Scene, render


@dataclass(frozen=True)
class Result:
    """One photo: its kind, its true gap, and the reading of both windows (None: no card seen)."""

    kind: str
    name: str
    gap: float
    reading: CardReading | None

    @property
    def measurement(self) -> Measurement | None:
        return self.reading.measurement if self.reading else None


def both(data: bytes, card: int | None, registered: Iterable[int] | None) -> CardReading | None:
    """Give the reading of both windows of a card in a photo."""
    seen = read_cards(data, registered=None if registered is None else frozenset(registered))
    rows = [r for r in seen.readings if r.window is Window.BOTH]
    return next((r for r in rows if card is None or r.card == card), None)


def rendered(kind: str, count: int, seed: int) -> Iterator[Result]:
    """Draw and measure `count` photos of a kind."""
    for n in range(count):
        rng = np.random.default_rng((seed, list(KINDS).index(kind), n))
        s = scene(kind, rng)
        yield measured(kind, f"{kind} {n}", s)


def measured(kind: str, name: str, s: Scene) -> Result:
    card = s.card.number or 0
    registered = [card] if s.card.ours else [(card + 1) % 146]
    reading = both(render(s), card if s.card.ours else None, registered)
    return Result(kind, name, sum(s.truth()) / 2.0, reading)


def pairs(count: int, seed: int) -> Iterator[tuple[Result, Result]]:
    """Draw and measure stations twice."""
    for n in range(count):
        rng = np.random.default_rng((seed, 1000, n))
        first, again = pair(rng)
        yield measured("pair", f"pair {n} a", first), measured("pair", f"pair {n} b", again)


def from_folder(folder: Path) -> list[Result]:
    """Measure the photos of a folder by its truth.csv."""
    results = []
    with (folder / "truth.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            reading = both((folder / row["file"]).read_bytes(), int(row["card"]), None)
            results.append(Result(row["kind"], row["file"], float(row["gap_mm"]), reading))
    return results


HEAD = (
    f"{'kind':10s} {'n':>4s} {'read':>5s} {'bias':>7s} {'SD':>6s} {'p95':>6s} {'most':>6s} "
    f"{'in U':>6s} {'med U':>6s} {'e/U':>5s}"
)


def line(kind: str, count: int, errors: list[float], expanded: list[float]) -> str:
    """Put one kind's figures into a line; errors and U in mm."""
    if not errors:
        return f"{kind:10s} {count:4d} {0:5d}"
    e, u = np.array(errors), np.array(expanded)
    return (
        f"{kind:10s} {count:4d} {len(e):5d} {e.mean():+7.3f} {e.std():6.3f} "
        f"{np.quantile(abs(e), 0.95):6.3f} {abs(e).max():6.3f} {(abs(e) <= u).mean():6.1%} "
        f"{np.median(u):6.3f} {(abs(e) / u).max():5.2f}"
    )


def report(results: Iterable[Result], verbose: bool) -> None:
    """Print a line for each kind, and the reasons of its refusals."""
    kinds: dict[str, list[Result]] = defaultdict(list)
    for result in results:
        kinds[result.kind].append(result)
    for kind, group in kinds.items():
        read = [
            (r.measurement.value_mm - r.gap, 2 * r.measurement.u_mm) for r in group if r.measurement
        ]
        print(line(kind, len(group), [e for e, _ in read], [u for _, u in read]), flush=True)
        why = Counter(
            r.reading.refusal.why.value if r.reading and r.reading.refusal else "no card seen"
            for r in group
            if r.measurement is None
        )
        if why:
            print(f"{'':10s} refused: " + ", ".join(f"{n} {w}" for w, n in why.most_common()))
        if verbose:
            _each(group)


def _each(group: list[Result]) -> None:
    for r in group:
        if r.measurement is None:
            found = r.reading.refusal.found if r.reading and r.reading.refusal else "no card seen"
            print(f"    {r.name}: gap {r.gap:.2f}, {found}")
            continue
        m, error = r.measurement, r.measurement.value_mm - r.gap
        care = ", ".join(c.why.value for c in (r.reading.cautions if r.reading else ()))
        print(f"    {r.name}: gap {r.gap:.2f}, error {error:+.3f}, U {2 * m.u_mm:.3f} {care}")


def changes(twice: Iterable[tuple[Result, Result]]) -> str:
    """Put the errors of changes into a line, with the part within 0.2 mm."""
    errors, expanded, count = [], [], 0
    for first, again in twice:
        count += 1
        if first.measurement and again.measurement:
            change = again.measurement.minus(first.measurement)
            errors.append(change.value_mm - (again.gap - first.gap))
            expanded.append(2 * change.u_mm)
    text = line("change", count, errors, expanded)
    if errors:
        e = np.array(errors)
        text += f"  RMS {math.sqrt((e**2).mean()):.3f}, within 0.2 mm {(abs(e) <= 0.2).mean():.1%}"
    return text


def folder_pairs(results: list[Result]) -> Iterator[tuple[Result, Result]]:
    """Match photos of one card: the earlier name first."""
    cards: dict[str, list[Result]] = defaultdict(list)
    for r in results:
        if r.kind == "pair":
            cards[r.name.split("-")[0]].append(r)
    for group in cards.values():
        if len(group) == 2:
            yield group[0], group[1]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kinds", default=",".join(("good", "pair", *KINDS[1:])))
    parser.add_argument("--folder", type=Path)
    parser.add_argument("--each", action="store_true")
    args = parser.parse_args()
    print(HEAD)
    if args.folder:
        results = from_folder(args.folder)
        report(results, args.each)
        print(changes(folder_pairs(results)))
        return
    for kind in args.kinds.split(","):
        if kind == "pair":
            twice = list(pairs(args.count, args.seed))
            report([r for both_of in twice for r in both_of], args.each)
            print(changes(twice), flush=True)
        else:
            report(rendered(kind, args.count, args.seed), args.each)


if __name__ == "__main__":
    main()
