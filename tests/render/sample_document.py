"""A hand-made document with every kind of block, for the tests and for looking at.

    python -m tests.render.sample_document OUT.pdf [a4]

Goods, people and numbers are invented.
"""

from __future__ import annotations

import hashlib
import io
import sys
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from claimkit.model.case import Reader
from claimkit.model.document import (
    Answers,
    Document,
    GapPlot,
    GapPoint,
    Paragraphs,
    Plate,
    PlateRow,
    Section,
    Statement,
    Table,
    Timeline,
    TimelineBand,
    TimelineMark,
)
from claimkit.model.source import Source, cited

ZONE = ZoneInfo("America/Chicago")
START = datetime(2026, 5, 4, 8, 55, tzinfo=ZONE)
METHOD = cited("claimkit method: times of photos")
STATUTE = cited("49 U.S.C. 14706(a), read 2026-04-02")


def sha(name: str) -> str:
    """Give a stable 64-digit hash for a name."""
    return hashlib.sha256(name.encode()).hexdigest()


def photo_source(number: int) -> Source:
    """Name photo `number` as a source."""
    path = f"photos/curb/IMG_{number:04d}.jpg"
    return Source(path=path, sha256=sha(path))


def record(name: str, key: str | None = None) -> Source:
    """Name a record, or one of its keys."""
    path = f"records/{name}.toml"
    return Source(path=path, sha256=sha(path), key_path=key)


PAPER = Source(path="documents/invoice 4417.pdf", sha256=sha("invoice"), page=2)
JOB = Source(path="job.toml", sha256=sha("job"), key_path="shipment[1].handling_units")


def say(text: str, *sources: Source, emphasis: str = "") -> Statement:
    """Make a statement; it rests on the method where nothing else is named."""
    return Statement(text, sources or (METHOD,), emphasis)


def plate(number: int, *extra: str, orientation: int | None = 1) -> Plate:
    """Give the plate of photo `number`, with `extra` sentences in its caption."""
    source = photo_source(number)
    lines = (
        f"Photo {number}: at the curb",
        "2026-05-04 09:14:07 UTC−05:00 (camera's offset tag)",
        "Camera: Fairlight F2. Photographer: Dana Voss.",
        f"{source.path} · sha256 {(source.sha256 or '')[:12]}",
        *extra,
    )
    captions = tuple(say(text, source) for text in lines)
    path = source.path or ""
    return Plate(number, source.sha256 or "", path, orientation, False, captions, f"Photo {number}")


def mark(minutes: float, label: str, number: int | None = None, wide: float = 0.0) -> TimelineMark:
    """Give a mark that many minutes after the truck came; `wide` minutes uncertain."""
    first = START + timedelta(minutes=minutes)
    source = record("delivery", "arrived") if number is None else photo_source(number)
    kind = "record" if number is None else "photo"
    last = first + timedelta(minutes=wide)
    return TimelineMark(first, last, label, kind, say(f"{label}: {first}", source), number)


def band(minutes: float, length: float, label: str) -> TimelineBand:
    """Give a shaded stretch."""
    first = START + timedelta(minutes=minutes)
    return TimelineBand(
        first, first + timedelta(minutes=length), label, say(label, record("delivery"))
    )


def timeline(marks: tuple[TimelineMark, ...], *bands: TimelineBand, title: str = "") -> Timeline:
    """Give a timeline of the site."""
    return Timeline(title or "Dated events and photos", ZONE.key, bands, marks, "Timeline.")


DAY = 1440.0


def usual_timeline() -> Timeline:
    """Give a delivery of an hour and a half and stages over the five weeks after it."""
    curb = tuple(mark(4 + 3.1 * n, f"photo {n}", n, 0.02) for n in range(1, 17))
    inside = tuple(mark(300 + 9 * n, f"photo {n}", n, 6) for n in range(17, 25))
    told = (
        mark(0, "Truck arrived", wide=1),
        mark(62, "Receipt signed by R. Marsh with exceptions", wide=1),
        mark(80, "Driver left", wide=5),
        mark(290, "Unpacking began", wide=30),
        mark(2 * DAY, "Damage found: wall panel B, crack", wide=60),
        mark(3.1 * DAY, "Sent: concealed damage, inspection asked for", wide=1),
        mark(9 * DAY, "Dry fit ended", wide=120),
        mark(16 * DAY, "Fastened", wide=DAY),
        mark(17.3 * DAY, "Sealed", wide=1),
        mark(31 * DAY, "Handover", wide=10),
    )
    lost = replace(mark(0, "photo 25", 25), kind="undated")
    return timeline((*curb, *inside, *told, lost), band(0, 80, "delivery"))


def crowded_timeline(count: int) -> Timeline:
    """Give `count` photos in two hours, some of them minutes uncertain."""
    marks = tuple(
        mark((n * 37 % 120) + n / count, f"photo {n + 1}", n + 1, 14 if n % 9 == 0 else 0)
        for n in range(count)
    )
    return timeline(marks, band(10, 45, "delivery"), title=f"{count} photos in two hours")


def gap_plot() -> GapPlot:
    """Give the readings of one station."""
    values = (
        ("dry fit", 3.21, 0.42), ("before fastening", 3.3, 0.4), ("fastened", 3.9, 0.55),
        ("sealed", 4.62, 0.38), ("handover", 5.1, 0.44),
    )  # fmt: skip
    points = tuple(
        GapPoint(
            stage, value, wide, say(f"{stage}: read with feeler gauges.", record(stage), METHOD)
        )
        for stage, value, wide in values
    )
    return GapPlot("Seam 3, station “top”", points, 2.0, 4.0, "Gap of seam 3 by stage.")


def answer() -> Section:
    """Give a first page."""
    rows = (
        (
            "Good order at origin",
            say(
                "Not decided by this record. No clean bill of lading is in the folder.",
                JOB,
                STATUTE,
                emphasis="missing",
            ),
        ),
        (
            "Damaged at delivery",
            say(
                "Supported by this record. The carrier's copy says “2 of 4 ctns crushed at corner, "
                "contents not inspected”, and six photos taken before the driver left show it.",
                record("delivery", "carrier_copy.words"),
                *(photo_source(n) for n in range(3, 9)),
                STATUTE,
                emphasis="supports",
            ),
        ),
        ("Amount", say("USD 1,848.00 for one wall panel, by the invoice.", PAPER)),
    )
    weights = (
        say("The receipt names pieces, kind and place of the damage.",
            record("delivery", "carrier_copy.words"), emphasis="supports"),
        say("One photo of the skid has no usable time.", photo_source(25),
            emphasis="does not support"),
        say("A photo of the truck's floor and straps.", METHOD, emphasis="missing"),
        say("Broken glass edges cut: wear gloves and goggles, and lift with two people.",
            cited("common practice, no source"), emphasis="caution"),
        say("The seller was told on the day of delivery."
            , record("notice", "sent")),
    )  # fmt: skip
    return Section("answer", "The answer", (Answers(rows), Paragraphs(weights)))


def tables() -> Section:
    """Give tables of each kind."""
    limits = Table(
        ("Limit", "Runs from", "Last day", "State"),
        (
            (say("Report of concealed damage, with a request to inspect", STATUTE),
             say("Mon 2026-05-04", STATUTE, record("delivery", "signed_at")),
             say("Mon 2026-05-11", STATUTE), say("met Thu 2026-05-07", STATUTE, record("notice"))),
            (say("Claim in writing to the carrier", STATUTE, emphasis="missing"),
             say("Mon 2026-05-04", STATUTE, emphasis="missing"),
             say("Thu 2027-02-04", STATUTE, emphasis="missing"),
             say("running", STATUTE, emphasis="missing")),
        ),
        (3, 1.4, 1.4, 1.4),
    )  # fmt: skip
    money = Table(
        ("Item", "Quantity", "Price", "Total"),
        tuple(
            tuple(say(text, PAPER) for text in row)
            for row in (
                ("Wall panel B, honed, left hand", "1", "USD 1,848.00", "USD 1,848.00"),
                ("Corner trim", "2", "USD 42.50", "USD 85.00"),
            )
        ),
        (4, 1, 1.4, 1.4),
    )
    return Section("limits", "Time limits and amount", (limits, money))


def custody(count: int) -> Section:
    """Give a list of files with whole hashes."""
    when = "2026-05-05 07:12:31, office 14"

    def row(what: str, source: Source, seen: str) -> tuple[Statement, ...]:
        return tuple(say(text or "", source) for text in (what, source.path, source.sha256, seen))

    rows = [row(f"Photo {n}", photo_source(n), when) for n in range(1, count + 1)]
    rows.append(row("Record", record("opening"), "not logged"))
    heads = ("What", "File", "SHA-256 of the original", "First seen (UTC), log line")
    files = Table(heads, tuple(rows), (0.9, 2.3, 4, 2), small=True, lists_files=True)
    return Section("custody", "Custody: originals and their hashes", (files,), new_page=True)


def scripts() -> Section:
    """Give texts that are hard to print."""
    texts = (
        "Łódź, Zürich, São Tomé, Győr, Ďáblice, ﬁ: dřevěná příčka, ½″ ≤ 3⁄16 in → ok",
        "Ελληνικά: Το φορτίο έφθασε με σπασμένη γωνία. ἀρχή",
        "Кириллица: Ящик 3 из 4 повреждён, угол смят. Київ, Љубљана, ѣ",
        "汉字：纸箱四件中两件破损，边角压坏，未开箱检查。收货人保留进一步检验的权利，司机已签字确认，时间为上午九点十四分。",
        "かな: カートンの角がつぶれている。検査前。",
        "Arabic مرحبا, Devanagari नमस्ते, emoji 🚚, \u202eturned\u202c text, zero\u200bwidth",
        '<b>bold?</b> &amp; &lt;i&gt; </para> <img src="file:///etc/passwd"/> %(x)s {y} \\n',
        "a" * 230,
        "photos/" + "very_long_folder_name/" * 9 + "IMG_0001.jpg",
        "Two\nlines, then a tab\tand  two spaces.",
    )
    return Section("scripts", "Words as typed", (Paragraphs(tuple(say(t, JOB) for t in texts)),))


def photos(count: int) -> Section:
    """Give plates: a large one, pairs, and one that is not drawn."""
    rows: list[PlateRow] = [PlateRow((plate(1),), large=True)]
    rows += [
        PlateRow(tuple(plate(m) for m in (n, n + 1) if m <= count)) for n in range(2, count + 1, 2)
    ]
    return Section("photos", "Photos", tuple(rows), new_page=True)


def document(count: int = 12, *more: Section) -> Document:
    """Give the whole document with `count` plates."""
    sections = (
        answer(),
        tables(),
        Section("timeline", "Timeline", (usual_timeline(),), new_page=True),
        Section("gaps", "Gaps at the seams", (gap_plot(),)),
        scripts(),
        photos(count),
        custody(count),
        *more,
    )
    numbers = tuple((photo_source(n).sha256 or "", n) for n in range(1, max(count, 220) + 1))
    return Document(
        Reader.CARRIER,
        "Kiln Road 9: wet room panels",
        "Claim evidence for the carrier",
        "as of Wed 2026-05-20",
        sections,
        numbers,
        (("claimkit", "0.1.0"),),
    )


def drawn(number: int, wide: int, high: int) -> bytes:
    """Draw a picture with a number of stripes, dark at the top left corner."""
    from PIL import Image, ImageDraw

    image = Image.new("RGB", (wide, high), (212, 205, 192))
    brush = ImageDraw.Draw(image)
    for i in range(number % 9 + 1):
        top = high * (0.12 + i * 0.09)
        brush.rectangle((wide * 0.1, top, wide * 0.9, top + high * 0.04), (120, 90 + 10 * i, 60))
    brush.rectangle((0, 0, wide // 6, high // 8), fill=(30, 40, 60))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=80)
    return out.getvalue()


def picture(plate: Plate, long_side_px: int) -> bytes | str:
    """Give an invented picture: upright ones every third, none for photo 7."""
    if plate.photo_no == 7:
        return "The file ends before the picture does. Ask for the original from the phone."
    short = long_side_px * 3 // 4
    upright = plate.photo_no % 3 == 0
    size = (short, long_side_px) if upright else (long_side_px, short)
    return drawn(plate.photo_no, *size)


def main(out: str, paper: str = "letter") -> None:
    """Write the document for looking at."""
    from claimkit.render.pdf import render

    crowds = (crowded_timeline(1), crowded_timeline(40), crowded_timeline(200))
    more = Section("crowds", "Crowded timelines", crowds, new_page=True)
    Path(out).write_bytes(
        render(document(12, more), picture, paper="a4" if paper == "a4" else "letter")
    )


if __name__ == "__main__":
    main(*sys.argv[1:])
