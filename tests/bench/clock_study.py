"""Random jobs with planted faults of cameras' clocks: how often the corrected times are right.

`python tests/bench/clock_study.py [jobs] [first seed]` prints the table. Each job has one camera
with a fault (or none) and one sound one; people, clocks in pictures and GPS have their own noise.
The planted noise of a clock in a picture is the most that it is planted off: its own error and
half its reading step; that of GPS is the 95th percentile of a fresh fix's age.
"""

from __future__ import annotations

import random
import statistics
import sys
from collections import Counter, defaultdict
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from claimkit.findings.clocks import check_clocks
from claimkit.findings.timeline import episodes, photo_groups, photos
from claimkit.model.case import Case, TimeBasis
from claimkit.model.facts import Custody
from claimkit.model.job import Site
from claimkit.model.photo import Camera, DateTag, ExifState, FileKind, Gps, Photo
from claimkit.model.records import CameraClock, Delivery, Milestone, Record, Unpacking
from claimkit.model.stages import Event
from tests.build import facts, job, moment, record, sha
from tests.findings.work_build import log, seen

ZONES = (
    "America/Chicago", "America/New_York", "America/Phoenix", "Europe/Berlin",
    "Asia/Kolkata", "Australia/Adelaide", "America/St_Johns",
)  # fmt: skip
FAULTS = {
    "sound": 30, "minutes": 12, "half a day": 10, "year": 10, "zone": 12, "summer time": 8,
    "never set": 8, "set in between": 10,
}  # fmt: skip
FRESH_MEAN, FRESH_95 = 12.0, 36.0
ACCUSING = frozenset(
    {
        "photo-clock-corrected", "photo-clock-set-between", "photo-clock-evidence-differs",
        "photo-clock-and-counter", "photo-clock-and-events", "photo-clock-would-fit",
        "photo-clock-off", "photo-clock-and-gps", "photo-default-clock", "photo-future",
        "photo-before-job", "photo-after-intake",
    }
)  # fmt: skip


@dataclass(frozen=True)
class Planted:
    """One camera as planted: its fault, each photo's true instant, each record's noise."""

    model: str
    fault: str
    true: dict[str, datetime]
    noise_s: float
    has_record: bool
    has_gps: bool


@dataclass
class Clock:
    """A camera's clock: what it shows at a true instant, as a clock face."""

    zone: ZoneInfo
    moved: timedelta
    drift: float
    anchor: datetime
    set_at: datetime | None = None
    moved_after: timedelta = timedelta()
    years: int = 0
    standing: timedelta | None = None  # a fixed offset that does not follow the site's zone

    def face(self, true: datetime) -> datetime:
        moved = self.moved_after if self.set_at and true >= self.set_at else self.moved
        days = (true - self.anchor) / timedelta(days=1)
        shown = true + moved + timedelta(seconds=self.drift * days)
        if self.standing is not None:
            face = (shown.astimezone(UTC) + self.standing).replace(tzinfo=None)
        else:
            face = shown.astimezone(self.zone).replace(tzinfo=None)
        if self.years:
            day = min(face.day, 28)
            face = face.replace(year=face.year + self.years, day=day)
        return face.replace(microsecond=0)


def planted_clock(fault: str, zone: ZoneInfo, start: datetime, rng: random.Random) -> Clock:
    clock = Clock(zone, timedelta(), rng.uniform(-2, 2), start)
    sign = rng.choice((-1, 1))
    match fault:
        case "minutes":
            clock.moved = sign * timedelta(seconds=rng.uniform(300, 36_000))
        case "half a day":
            clock.moved = sign * timedelta(hours=12)
        case "year":
            clock.years = sign * rng.randint(1, 3)
        case "zone":
            clock.moved = sign * timedelta(minutes=30 * rng.randint(1, 20))
        case "summer time":
            clock.moved = sign * timedelta(hours=1)
        case "never set":
            first = datetime.combine(
                date(rng.choice((2000, 2015)), 1, 1), datetime.min.time(), tzinfo=zone
            )
            clock.moved = first - (start - timedelta(hours=rng.uniform(0.5, 12)))
        case "set in between":
            clock.moved = sign * timedelta(seconds=rng.uniform(600, 20_000))
            clock.set_at = start + timedelta(hours=rng.uniform(0.5, 40))
            clock.moved_after = rng.choice((timedelta(), clock.moved * -0.4))
    if fault in ("minutes", "half a day", "never set"):
        # Such clocks are cameras': they do not follow the site's changes to summer time.
        clock.standing = start.astimezone(zone).utcoffset()
    return clock


@dataclass
class Job:
    """A job in the making."""

    rng: random.Random
    zone: ZoneInfo
    start: datetime
    records: list[Record] = field(default_factory=list)
    photos: list[Photo] = field(default_factory=list)

    def local(self, true: datetime, form: str = "%Y-%m-%d %H:%M") -> str:
        return true.astimezone(self.zone).strftime(form)


def true_times(j: Job) -> list[datetime]:
    """Curb, unpacking, and one or two later days."""
    rng = j.rng
    found = [j.start + timedelta(minutes=rng.uniform(1, 28)) for _ in range(rng.randint(3, 7))]
    found += [j.start + timedelta(hours=rng.uniform(3, 5)) for _ in range(rng.randint(3, 7))]
    for day in rng.sample(range(1, 6), rng.randint(1, 2)):
        later = [j.start + timedelta(days=day, hours=rng.uniform(0, 6)) for _ in range(4)]
        found += later[: rng.randint(2, 4)]
    return sorted(found)


def fix_of(true: datetime, held: list[datetime], rng: random.Random) -> datetime:
    """Give the time of the fix: mostly fresh, in some minutes old, in some hours, or kept."""
    kind = rng.random()
    if kind < 0.65:
        age = rng.expovariate(1 / FRESH_MEAN)
    elif kind < 0.88 or not held:
        age = rng.uniform(60, 300)
    elif kind < 0.94:
        return held[-1]
    else:
        age = rng.uniform(300, 27 * 3600)
    fix = true - timedelta(seconds=age)
    held.append(fix)
    return fix


def camera(j: Job, model: str, fault: str) -> Planted:
    rng = j.rng
    clock = planted_clock(fault, j.zone, j.start, rng)
    states_offset = fault in ("sound", "minutes", "year") and rng.random() < 0.4
    counted, has_gps, held = rng.random() < 0.6, rng.random() < 0.45, []
    times = true_times(j)
    shown = [
        rng.choice(times) + timedelta(seconds=20) for _ in range(rng.choice((0, 0, 1, 1, 1, 2, 3)))
    ]
    true, number, noise = {}, rng.choice((40, 900, 9990)), 0.0
    for at in sorted([*times, *shown]):
        face = clock.face(at)
        name = f"IMG_{number % 10_000:04d}" if counted else f"{model}-{number}"
        path = f"photos/{model}/{name}.jpg"
        number += 1
        minutes = None
        offset = None
        if states_offset:
            site = at.astimezone(j.zone).utcoffset() or timedelta()
            minutes = round(site.total_seconds() / 60)
            offset = (
                f"{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"
            )
        gps = None
        if has_gps and rng.random() < 0.85:
            utc = fix_of(at, held, rng).astimezone(UTC).replace(microsecond=0)
            gps = Gps(41.0, -87.0, f"{utc:%Y:%m:%d}", f"{utc:%H:%M:%S}", utc)
        tag = DateTag("DateTimeOriginal", f"{face:%Y:%m:%d %H:%M:%S}", offset, None, face, minutes)
        j.photos.append(
            Photo(
                sha(path), 1, FileKind.JPEG, (path,), ExifState.READ, dates=(tag,), gps=gps,
                camera=Camera("Fairlight", model),
            )
        )  # fmt: skip
        true[sha(path)] = at
        if at in shown:
            within = rng.choice((10, 30, 60, 120))
            reads = at + timedelta(seconds=rng.uniform(-within, within))
            fine = rng.random() < 0.3
            form = "%Y-%m-%d %H:%M:%S" if fine else "%Y-%m-%d %H:%M"
            body = CameraClock(
                photo=path, read=moment(j.local(reads, form), j.zone.key), within_seconds=within
            )
            j.records.append(record(f"clock-{model}-{number}", body))
            noise = max(noise, within + (0.5 if fine else 30))
    return Planted(model, fault, true, noise, bool(shown), has_gps)


def rounded(j: Job, true: datetime) -> str:
    """Write a time as people do: some minutes off, to five minutes."""
    said = true + timedelta(minutes=j.rng.uniform(-5, 5))
    minute = round(said.minute / 5) * 5
    return j.local(said.replace(minute=0, second=0) + timedelta(minutes=minute))


def planted(seed: int) -> tuple[Case, tuple[Planted, ...]]:
    """Make one job and run the stages that date and place photos."""
    rng = random.Random(seed)
    zone = ZoneInfo(rng.choice(ZONES))
    day = date(2025, 1, 10) + timedelta(days=rng.randint(0, 640))
    start = datetime.combine(day, datetime.min.time(), tzinfo=zone) + timedelta(
        hours=rng.uniform(7, 15)
    )
    j = Job(rng, zone, start.astimezone(UTC))
    fault = rng.choices(list(FAULTS), list(FAULTS.values()))[0]
    cameras = (camera(j, "F2", fault), camera(j, "F9", "sound"))
    _add_records(j, cameras)
    now = j.start + timedelta(days=20)
    custody = Custody()
    if rng.random() < 0.7:
        on = f"{j.start + timedelta(days=7):%Y-%m-%d %H:%M}"
        custody = log(*(seen(p.places[0], on) for p in j.photos))
    built = facts(
        job_=job(site=Site(address="x", zone=zone.key)),
        records=j.records,
        photos=j.photos,
        custody=custody,
    )
    return photos.work_out(episodes.work_out(Case(built, now.date(), now))), cameras


def _add_records(j: Job, cameras: tuple[Planted, ...]) -> None:
    key, curb = j.zone.key, j.start + timedelta(minutes=29)
    at_curb = [p for c in cameras for p in c.true if c.true[p] <= curb]
    paths = {p.sha256: p.places[0] for p in j.photos}
    listed = [paths[p] for p in at_curb] if j.rng.random() < 0.5 else []
    body = Delivery(
        arrived=moment(rounded(j, j.start), key),
        driver_left=moment(rounded(j, j.start + timedelta(minutes=32)), key),
        receipt_photos=tuple(listed[:1]),
        photos=tuple(listed[1:]) if j.rng.random() < 0.6 else (),
    )
    j.records.append(record("01-delivery", body))
    began = moment(rounded(j, j.start + timedelta(hours=3)), key)
    ended = moment(rounded(j, j.start + timedelta(hours=5)), key)
    j.records.append(record("02-unpacking", Unpacking(began=began, ended=ended)))
    dry = moment(j.local(j.start + timedelta(days=2), "%Y-%m-%d"), key)
    j.records.append(record("m-dry-fit", Milestone(event=Event.DRY_FIT, began=dry)))


@dataclass
class Score:
    """What one group of photos came to."""

    inside: int = 0
    total: int = 0
    holds_inside: int = 0
    holds: int = 0
    ratios: list[float] = field(default_factory=list)
    sure_ratios: list[float] = field(default_factory=list)


@dataclass
class Study:
    """The whole study: by fault, sound cameras accused, photos in a wrong episode, names given."""

    by_fault: dict[str, Score] = field(default_factory=lambda: defaultdict(Score))
    by_basis: dict[str, Score] = field(default_factory=lambda: defaultdict(Score))
    cameras: Counter[str] = field(default_factory=Counter)
    accused: Counter[str] = field(default_factory=Counter)
    sound_accused: int = 0
    sound: int = 0
    placed: int = 0
    misplaced: int = 0
    seen: Counter[str] = field(default_factory=Counter)
    named: dict[str, Counter[str]] = field(default_factory=lambda: defaultdict(Counter))


# What the right name of a fault holds; None where no name is right.
RIGHT = {
    "half a day": "AM and PM",
    "year": "wrong year",
    "zone": "time zone",
    "summer time": "summer time",
    "never set": "never set",
    "minutes": None,
}


def name_given(case: Case, one: Planted) -> str | None:
    """Tell how the correction of a camera's first corrected photo was named: right, other, none."""
    first = next((d for d in case.photos if d.sha256 in one.true and d.correction), None)
    if first is None or first.correction is None or one.fault not in RIGHT:
        return None
    name, right = first.correction.named, RIGHT[one.fault]
    if name is None:
        return "none"
    return "right" if right is not None and right in name else "other"


def study(seeds: range) -> Study:
    """Run the jobs of these seeds and score them against what was planted."""
    whole = Study()
    for seed in seeds:
        case, cameras = planted(seed)
        for one in cameras:
            _score(whole, case, one)
    return whole


def rules_about(case: Case, one: Planted) -> set[str]:
    """Give the rules that speak against a camera: by its name, or by its photos as evidence."""
    checks = (*check_clocks.CHECKS, *photo_groups.CHECKS)
    found = [f for rule, _, run in checks if rule in ACCUSING for f in run(case)]
    return {
        f.rule
        for f in found
        if f.where == f"camera Fairlight {one.model}"
        or (f.where == "photos" and {s.sha256 for s in f.evidence} & set(one.true))
    }


def _score(whole: Study, case: Case, one: Planted) -> None:
    said = rules_about(case, one)
    whole.cameras[one.fault] += 1
    if one.fault == "sound":
        whole.sound += 1
        whole.sound_accused += bool(said)
        whole.accused.update(said)
    elif said:
        whole.seen[one.fault] += 1
    name = name_given(case, one)
    if name is not None:
        whole.named[one.fault][name] += 1
    for dated in case.photos:
        if dated.sha256 not in one.true:
            continue
        true = one.true[dated.sha256]
        if dated.episode:
            episode = next(e for e in case.episodes if e.id == dated.episode)
            low, high = episode.interval.earliest, episode.interval.latest
            whole.placed += 1
            near = timedelta(minutes=8)  # what people's own times are planted off
            whole.misplaced += not (low - near <= true <= high + near)
        if dated.corrected is None or dated.correction is None:
            continue
        hit = dated.corrected.earliest <= true <= dated.corrected.latest
        by_record = dated.correction.basis is TimeBasis.CLOCK_SHOWN
        noise = one.noise_s if by_record else FRESH_95
        width = (dated.corrected.latest - dated.corrected.earliest).total_seconds()
        for score in (
            whole.by_fault[one.fault], whole.by_basis[dated.correction.basis.value],
            whole.by_fault["all"],
        ):  # fmt: skip
            score.total += 1
            score.inside += hit
            score.ratios.append(width / noise)
            if dated.correction.holds:
                score.holds += 1
                score.holds_inside += hit
                score.sure_ratios.append(width / noise)


def table(whole: Study) -> str:
    """Give the study as lines of text."""
    lines = [
        f"{'planted':42}{'photos':>8}{'inside':>9}{'width/noise':>13}{'count':>8}{'inside':>9}"
    ]
    for name, s in [*sorted(whole.by_fault.items()), *sorted(whole.by_basis.items())]:
        sure = f"{s.holds_inside / s.holds:9.1%}" if s.holds else f"{'–':>9}"
        lines.append(
            f"{name:42}{s.total:8}{s.inside / s.total:9.1%}{statistics.median(s.ratios):13.2f}"
            f"{s.holds:8}{sure}"
        )
    share = whole.sound_accused / max(1, whole.sound)
    lines.append(f"sound cameras accused: {whole.sound_accused} of {whole.sound} ({share:.2%})")
    lines.append(f"  by rule: {dict(whole.accused)}")
    lines.append(f"placed in an episode: {whole.placed}, wrongly: {whole.misplaced}")
    told = {f: f"{whole.seen[f]} of {n}" for f, n in sorted(whole.cameras.items()) if f != "sound"}
    lines.append(f"faulty cameras of which anything is said: {told}")
    names = {fault: dict(counts) for fault, counts in sorted(whole.named.items())}
    lines.append(f"likeness named, where a correction is given: {names}")
    return "\n".join(lines)


if __name__ == "__main__":
    jobs = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    first = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    sys.stdout.write(table(study(range(first, first + jobs))) + "\n")
