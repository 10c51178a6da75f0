"""job.toml and records together: everything is told at once, and names lead somewhere.

The folder of examples (tests/intake/example_folder.py) has no problem; each test changes it. One
mistake at a time is in tests/intake/test_mistakes.py.
"""

from __future__ import annotations

import hashlib
import random
import time
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.intake.entries.fields import fields_of, is_written
from claimkit.intake.entries.records import read_all, read_record
from claimkit.model.facts import Problem
from claimkit.model.job import Job, Role
from claimkit.model.measuring import Readings
from claimkit.model.moment import Precision
from claimkit.model.records import KINDS, Delivery
from claimkit.rules.carriage import CLAUSES
from tests.intake.example_folder import FILES, JOB, RECORDS, changed, read

ZONE = "America/Chicago"


def told(problems: tuple[Problem, ...]) -> list[tuple[str, str]]:
    return [(p.file, p.key_path) for p in problems]


def test_the_examples_are_valid_and_read_into_the_model() -> None:
    written = read()
    assert written.problems == ()
    assert written.job is not None
    assert len(written.records) == len(RECORDS)
    assert {type(record.body) for record in written.records} == set(KINDS.values())
    assert written.job.party[1].roles == (Role.DELIVERING_CARRIER,)
    delivery = next(r for r in written.records if r.id == "delivery")
    assert isinstance(delivery.body, Delivery)
    assert delivery.body.arrived is not None
    # 9:10 in Chicago, in May, is 14:10 UTC: zoneinfo read from the other side
    at = datetime.fromisoformat("2026-05-04T14:10+00:00").astimezone(ZoneInfo(ZONE))
    assert (delivery.body.arrived.at, delivery.body.arrived.precision) == (at, Precision.MINUTE)
    data = RECORDS["records/delivery.toml"].encode()
    assert delivery.sha256 == hashlib.sha256(data).hexdigest()


def test_an_example_of_a_clause_is_a_clause() -> None:
    written = read()
    assert written.job is not None
    assert written.job.shipment[0].override[0].clause in {clause.id for clause in CLAUSES}


def test_ten_mistakes_in_one_file_are_told_at_once() -> None:
    """Of every sort: syntax, type, unit, word, key, name, file, order, count, contradiction."""
    job = JOB
    for old, new in [
        ('reference = "2026-017"', "reference = 2026-017 north"),  # not TOML
        ('zone = "America/Chicago"', 'zone = "America/Chigaco"'),
        ('roles = ["origin carrier"]', 'roles = ["origin carier"]'),
        ("handling_units = 2", 'handling_units = "2"'),
        ('weight = "412 lb"', "weight = 412"),
        ('freight_charges = "386.40 USD"', 'freight_charges = "$386.40"'),
        ("colour = ", "color = "),
        ('between = ["panel", "tray"]', 'between = ["panel", "trey"]'),
        ('design_gap_min = "1/16 in"', 'design_gap_min = "1/4 in"'),
        ('file = "documents/bill-of-lading.pdf"', 'file = "documents/bol.pdf"'),
    ]:
        job = changed(job, old, new)
    line = job.split("reference = ")[0].count("\n") + 1
    assert sorted(told(read(job, {}).problems)) == sorted(
        ("job.toml", key_path)
        for key_path in (
            f"line {line}, column 17",
            "site.zone",
            "party[3].roles[1]",
            "shipment[1].handling_units",
            "shipment[1].weight",
            "shipment[1].freight_charges",
            "item[1].color",
            "seam[1].between[2]",
            "seam[1].design_gap_min",
            "paper[1].file",
        )
    )


def test_mistakes_of_several_files_are_told_together() -> None:
    job = changed(JOB, "cartons = 7", 'cartons = "7"')
    damage = changed(RECORDS["records/damage.toml"], 'item = "panel"', 'item = "panle"')
    damage = changed(damage, "quantity = 1", "quantity = 0")
    notice = changed(RECORDS["records/notice.toml"], 'to = "northway"', 'to = "southway"')
    records = RECORDS | {"records/damage.toml": damage, "records/notice.toml": notice}
    written = read(job, records)
    assert told(written.problems) == [
        ("job.toml", "shipment[1].cartons"),
        ("records/damage.toml", "quantity"),
        ("records/damage.toml", "item"),
        ("records/notice.toml", "to"),
    ]
    assert written.job is None
    assert "damage" not in {r.id for r in written.records}  # a value of it cannot be read
    assert "notice" in {r.id for r in written.records}  # every value of it can


def test_a_wrong_zone_is_told_once_and_not_in_every_record() -> None:
    job = changed(JOB, 'zone = "America/Chicago"', 'zone = "CST"')
    written = read(job)
    assert told(written.problems) == [("job.toml", "site.zone")]
    assert [r.kind for r in written.records] == ["marked_photo"], "the one without a time"


def test_a_record_without_the_zone_says_so_once() -> None:
    data = RECORDS["records/delivery.toml"].encode()
    record, problems = read_record(data, "records/delivery.toml", None)
    assert record is None
    assert told(problems) == [("records/delivery.toml", "")]
    assert "[site]" in problems[0].write


def test_a_record_of_times_with_offsets_needs_no_zone() -> None:
    text = 'kind = "milestone"\nsaid_by = "d"\nevent = "sealed"\nbegan = "2026-05-06 09:00-05:00"\n'
    record, problems = read_record(text.encode(), "records/a.toml", None)
    assert problems == ()
    assert record is not None


def second_shipment(job: str = JOB) -> str:
    return changed(
        job,
        "[[shipment]]\n",
        '[[shipment]]\nid = "glass"\ncarrier = "ridge-lines"\n\n[[shipment]]\n',
    )


def test_with_two_shipments_each_statement_names_its_own() -> None:
    job = changed(second_shipment(), 'shipment = "panels"\n# How many', "# How many")
    delivery = changed(RECORDS["records/delivery.toml"], 'shipment = "panels"\n', "")
    damage = changed(RECORDS["records/damage.toml"], 'shipment = "panels"\n', "")
    records = RECORDS | {"records/delivery.toml": delivery, "records/damage.toml": damage}
    written = read(job, records)
    # the second item of the examples names none either; a damage has its item's shipment
    assert told(written.problems) == [
        ("job.toml", "item[1].shipment"),
        ("job.toml", "item[2].shipment"),
        ("records/delivery.toml", "shipment"),
    ]
    assert 'shipment = "glass" or "panels"' in written.problems[-1].write


def test_shipments_with_different_carriers_do_not_mix() -> None:
    written = read(changed(second_shipment(), 'id = "tray"', 'id = "tray"\nshipment = "glass"'))
    assert written.problems == ()
    assert written.job is not None
    assert [(s.id, s.carrier) for s in written.job.shipment] == [
        ("glass", "ridge-lines"),
        ("panels", "northway"),
    ]
    assert [item.shipment for item in written.job.item] == ["panels", "glass"]


GAPS_ONLY = """
title = "Seams only"
site = { address = "1 Kiln Road", zone = "America/Chicago" }
person = [{ id = "dana", name = "Dana Voss" }]
item = [{ id = "a", description = "Slab" , quantity = 2 }]
[[seam]]
id = "s"
between = ["a", "a"]
joint = "butt"
"""


def test_a_job_may_have_no_shipment_until_a_delivery_is_recorded() -> None:
    assert read(GAPS_ONLY, {}).problems == ()
    problems = read(GAPS_ONLY, {"records/d.toml": 'kind = "delivery"\nsaid_by = "dana"\n'}).problems
    assert told(problems) == [("records/d.toml", "shipment")]
    assert "[[shipment]]" in problems[0].write


def test_a_seam_between_two_of_one_item_wants_two() -> None:
    job = changed(GAPS_ONLY, "quantity = 2", "quantity = 1")
    assert told(read(job, {}).problems) == [("job.toml", "seam[1].between")]


def test_a_seam_without_stations_asks_for_them() -> None:
    text = (
        'kind = "readings"\nsaid_by = "dana"\nseam = "s"\nstage = "dry fit"\ntaken = 2026-05-05\n'
        'instrument = "rule 1 mm"\n[[at]]\nstation = "top"\ngap = ["2 mm"]\n'
    )
    (problem,) = read(GAPS_ONLY, {"records/r.toml": text}).problems
    assert problem.key_path == "at[1].station"
    assert "[[seam.station]]" in problem.write


def test_an_interlocking_joint_has_no_design_gap() -> None:
    problems = read(changed(JOB, 'joint = "butt"', 'joint = "interlocking"')).problems
    assert told(problems) == [
        ("job.toml", "seam[1].design_gap_min"),
        ("job.toml", "seam[1].design_gap_max"),
    ]


def test_one_scale_card_stands_for_one_place() -> None:
    job = changed(JOB, "card = 3\n", 'card = 3\n[[seam.station]]\nid = "middle"\ncard = 3\n')
    assert told(read(job).problems) == [("job.toml", "seam[1].station[2].card")]


def test_the_sellers_own_truck_is_driven_by_the_seller() -> None:
    own = changed(JOB, 'carrier = "northway"', 'carrier = "tarn-works"')
    assert told(read(own).problems) == [("job.toml", "shipment[1].carrier")]
    own = changed(own, 'terms = "us interstate motor"', 'terms = "seller\'s own truck"')
    assert read(own).problems == ()


# Corrections. a, b, c are records of one kind; each pair names who replaces whom.
@pytest.mark.parametrize(
    "replaces, expected, problem_files",
    [
        ({"b": "a", "c": "b"}, {"a": "b", "b": "c"}, []),  # a chain
        ({"b": "a", "c": "a"}, {"a": "b"}, ["c"]),  # two replace one: the first by id counts
        ({"a": "b", "b": "a"}, {}, ["a", "b"]),  # each other
        ({"a": "b", "b": "c", "c": "a"}, {}, ["a", "b", "c"]),  # a circle
        ({"a": "a"}, {}, ["a"]),
        ({"a": "z"}, {}, ["a"]),
        ({"b": "a", "c": "z"}, {"a": "b"}, ["c"]),  # one wrong name leaves the others
    ],
)
def test_corrections(
    replaces: dict[str, str], expected: dict[str, str], problem_files: list[str]
) -> None:
    records = {}
    for name in "abc":
        line = f'replaces = "{replaces[name]}"\n' if name in replaces else ""
        records[f"records/{name}.toml"] = (
            f'kind = "milestone"\nsaid_by = "dana"\n{line}event = "sealed"\nbegan = 2026-05-07\n'
            f'note = "{name}"\n'
        )
    written = read(records=records)
    assert [p.file for p in written.problems] == [f"records/{n}.toml" for n in problem_files]
    assert {r.id: r.replaced_by for r in written.records if r.replaced_by} == expected
    assert len(written.records) == 3  # all stay visible
    assert [r.id for r in written.records if r.in_force] == sorted({*"abc"} - set(expected))


@pytest.mark.parametrize(
    "path, record_id",
    [
        ("records/2026-05-04-delivery.toml", "2026-05-04-delivery"),
        ("records/may/4 delivery.toml", "may/4 delivery"),
        ("records/note.toml.txt", "note"),  # as some editors name it
        ("records/NOTE.TOML", "NOTE"),
        ("records/a.b.toml", "a.b"),
    ],
)
def test_ids_of_records(path: str, record_id: str) -> None:
    text = 'kind = "delivery"\nsaid_by = "dana"\n'
    record, problems = read_record(text.encode(), path, ZONE)
    assert problems == ()
    assert record is not None
    assert (record.id, record.path) == (record_id, path)


def test_two_files_of_one_id_are_told() -> None:
    text = 'kind = "delivery"\nsaid_by = "dana"\n'
    other = text + "signed = true\n"
    problems = read(records={"records/a.toml": text, "records/a.toml.txt": other}).problems
    assert told(problems) == [("records/a.toml.txt", "")]


def test_a_record_that_came_twice_counts_once() -> None:
    """A browser numbers a second download, a mail program adds an ending: one statement."""
    text = 'kind = "delivery"\nsaid_by = "dana"\narrived = "2026-05-04 09:10"\n'
    again = text.replace("\n", "\r\n")
    names = ("records/a.toml", "records/a (1).toml", "records/a.toml.txt")
    written = read(records=dict(zip(names, (text, again, text), strict=True)))
    assert written.problems == ()
    assert [r.path for r in written.records if r.in_force] == ["records/a.toml"]
    assert {r.replaced_by for r in written.records if not r.in_force} == {"a"}


def test_records_that_differ_in_one_word_both_count() -> None:
    text = 'kind = "delivery"\nsaid_by = "dana"\narrived = "2026-05-04 09:10"\n'
    written = read(records={"records/a.toml": text, "records/b.toml": text + 'driver = "Lee"\n'})
    assert len([r for r in written.records if r.in_force]) == 2


@pytest.mark.parametrize("written, on_disk", [("\u00e9", "e\u0301"), ("e\u0301", "\u00e9")])
def test_names_that_differ_in_how_an_accent_is_composed_are_one(written: str, on_disk: str) -> None:
    """Unicode Standard Annex 15: é is one character or two; disks differ, people do not."""
    damage = RECORDS["records/damage.toml"]
    damage = changed(damage, "photos/unpacking/IMG_0033.jpg", f"photos/caf{written}.jpg")
    records = RECORDS | {"records/damage.toml": damage}
    assert read(records=records, files=FILES | {f"photos/caf{on_disk}.jpg"}).problems == ()


def test_the_rest_of_a_record_of_misspelt_kind_is_read_too() -> None:
    damage = changed(RECORDS["records/damage.toml"], 'kind = "damage"', 'kind = "damaged"')
    damage = changed(damage, "quantity = 1", 'quantity = "1"')
    damage = changed(damage, 'item = "panel"', 'item = "panle"')
    written = read(records=RECORDS | {"records/damage.toml": damage})
    assert [p.key_path for p in written.problems] == ["kind", "quantity", "item"]


def test_a_line_that_is_no_toml_is_not_told_as_missing_too() -> None:
    job = changed(JOB, 'zone = "America/Chicago"', "zone = America/Chicago")
    (problem,) = read(job, {}).problems
    assert problem.write == 'Write zone = "America/Chicago".'


def test_paths_count_from_one() -> None:
    text = RECORDS["records/readings.toml"] + '[[at]]\nstation = "top2"\ngap = ["1 mm", "x"]\n'
    problems = read(records=RECORDS | {"records/readings.toml": text}).problems
    assert ("records/readings.toml", "at[2].gap[2]") in told(problems)


def test_a_table_that_cannot_be_read_does_not_hide_the_next() -> None:
    text = RECORDS["records/readings.toml"].replace("[[at]]", "[[at]]\nstation = 1\n[[at]]")
    read_it = read(records=RECORDS | {"records/readings.toml": text})
    paths = [p.key_path for p in read_it.problems]
    assert paths == ["at[1].station", "at[1].gap"]
    assert not any(isinstance(r.body, Readings) for r in read_it.records)


def test_every_table_of_the_model_has_marks_that_are_followed() -> None:
    """A key that names something without saying what would never be checked."""
    seen, todo = set(), [Job, *KINDS.values()]
    while todo:
        kind = todo.pop()
        seen.add(kind)
        todo += [f.of for f in fields_of(kind) if is_written(f.of) and f.of not in seen]
        for field in fields_of(kind):
            about = field.about.lower()
            if about.startswith(("party id", "item id", "seam id", "shipment id", "path of")):
                assert field.marks, f"{kind.__name__}.{field.name}"


def test_many_mistakes_are_cut_short() -> None:
    text = 'kind = "delivery"\nsaid_by = "dana"\n' + "".join(f"k{n} = 1\n" for n in range(1000))
    problems = read(records={"records/d.toml": text}).problems
    assert len(problems) == 201
    assert "further problems" in problems[-1].found


@pytest.mark.parametrize(
    "text",
    [
        'kind = "delivery"\nsaid_by = "dana"\nphotos = [' + '"a",' * 60_000 + "]",
        'kind = "delivery"\nsaid_by = "dana"\n' + "".join(f"k{n} = 1\n" for n in range(20_000)),
        'kind = "readings"\nsaid_by = "dana"\n' + "[[at]]\n" * 30_000,
        "kind = 0x" + "f" * 200_000,
        'kind = "delivery"\nsaid_by = "dana"\ncartons_received = 0x' + "f" * 200_000,
        'kind = "' + "x" * 250_000 + '"',
        'kind = "delivery"\nsaid_by = "' + "a" * 250_000 + '"',
        'kind = "damage"\nsaid_by = "dana"\nrepair_cost = "' + "1" * 250_000 + ' USD"',
        'kind = "damage"\nsaid_by = "dana"\nfound = "' + "1 " * 120_000 + '"',
    ],
)
def test_no_record_takes_long_against_many_files(text: str) -> None:
    files = FILES | {f"photos/curb/IMG_{n:04d}.jpg" for n in range(2000)}
    began = time.process_time()
    assert read(records={"records/x.toml": text}, files=files).problems
    assert time.process_time() - began < 5


@settings(max_examples=60)
@given(st.integers(), st.sampled_from(["job.toml", *RECORDS]))
def test_files_damaged_at_random_never_stop_the_reading(seed: int, which: str) -> None:
    """Bytes are changed, cut out and doubled; what comes is problems or the model's values."""
    chance = random.Random(seed)
    texts = {"job.toml": JOB} | RECORDS
    data = bytearray(texts[which].encode())
    for _ in range(chance.randint(1, 4)):
        at, size = chance.randrange(len(data)), chance.randint(1, 12)
        change = chance.choice(["set", "cut", "double"])
        if change == "set":
            data[at] = chance.randrange(256)
        elif change == "cut":
            del data[at : at + size]
        else:
            data[at:at] = data[at : at + size]
    files = {path: text.encode() for path, text in texts.items()} | {which: bytes(data)}
    job = files.pop("job.toml")
    written = read_all(("job.toml", job), files.items(), FILES)
    # A record that a whole one replaces asks for nothing any more, however it is damaged.
    replaced = {f"records/{record.replaces}.toml" for record in written.records}
    there = {record.path for record in written.records} | replaced
    assert written.problems or (written.job and there >= RECORDS.keys())
    for problem in written.problems:
        assert problem.found.endswith(".")
        assert problem.write.endswith((".", "?", "…"))


def test_reading_changes_no_file(tmp_path: Path) -> None:
    for path, text in ({"job.toml": JOB} | RECORDS).items():
        (tmp_path / path).parent.mkdir(exist_ok=True)
        (tmp_path / path).write_text(text, encoding="utf-8")
        (tmp_path / path).chmod(0o444)
    before = {p: (p.read_bytes(), p.stat().st_mtime_ns) for p in sorted(tmp_path.rglob("*.toml"))}
    records = [(f"records/{p.name}", p.read_bytes()) for p in (tmp_path / "records").iterdir()]
    written = read_all(("job.toml", (tmp_path / "job.toml").read_bytes()), records, FILES)
    assert written.problems == ()
    assert before == {
        p: (p.read_bytes(), p.stat().st_mtime_ns) for p in sorted(tmp_path.rglob("*.toml"))
    }
