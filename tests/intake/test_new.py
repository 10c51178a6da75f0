"""A new job is valid as it stands and with its examples in force, and overwrites nothing."""

from __future__ import annotations

import importlib.util
import io
import re
import subprocess
import sys
import tomllib
from dataclasses import replace
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from claimkit.cli import QUESTIONS
from claimkit.intake.entries.examples import EXAMPLES
from claimkit.intake.entries.fields import fields_of, is_written, shape
from claimkit.intake.entries.leaves import Place, read_leaf
from claimkit.intake.entries.new import FOLDERS, Answers, job_text, make_job_folder, short_name
from claimkit.intake.entries.records import read_all, read_job, read_record
from claimkit.keyboard.new_asked import asked
from claimkit.model.job import Job, Role
from claimkit.model.records import KINDS, Head
from claimkit.model.stages import Stage
from claimkit.model.stop import CannotGoOn
from tests.intake.example_folder import FILES
from tests.shared import ROOT

ADDRESS, ZONE = "4 Orchard Lane, Galena, IL", "America/Chicago"
FULL = Answers(
    title='Hall, "north"',
    address=ADDRESS,
    zone=ZONE,
    subdivision="IL",
    reference="26-17",
    us="Marsh & Daughter",
    our_roles=(Role.OWNER, Role.INSTALLER, Role.CONSIGNEE),
    person="Dana Voss",
    camera="Fairlight F2",
    carrier="Northway Motor Freight",
    seller="Tarn Works",
    handling_units=2,
    handling_unit="crate",
    cartons=7,
    bill_number="BL-1",
    pro_number="118",
)


def in_force(text: str) -> str:
    """Take the # away before every example; notes begin with # and a space."""
    return re.sub(r"(?m)^#(?=[^ \n])", "", text)


def keys(text: str) -> int:
    return len(re.findall(r"(?m)^[a-z_]+ = ", text))


@pytest.mark.parametrize(
    "answers",
    [
        Answers("Hall", ADDRESS, ZONE),
        FULL,
        Answers("Hall", ADDRESS, ZONE, carrier="Northway", cartons=0),
        Answers("Hall", ADDRESS, ZONE, seller="Tarn Works", carrier="Tarn Works"),  # own truck
        Answers("Hall", ADDRESS, ZONE, us="Us", carrier="US"),  # two names that give one id
        Answers("Hall", ADDRESS, ZONE, person="李 娜", carrier="Спедиция"),  # no Latin letters
        Answers("Hall", ADDRESS, ZONE, carrier="!!!"),  # no letters at all
        Answers("a\nb\t\"'\\", "x\ny", ZONE),  # lines and quotes
        Answers("Hall", "Hauptstr. 1, Graz", "Europe/Vienna", country="AT", subdivision="6"),
    ],
)
def test_a_new_job_is_valid_as_it_stands_and_with_every_example(answers: Answers) -> None:
    text = job_text(answers)
    job, problems = read_job(text.encode(), "job.toml")
    assert problems == ()
    assert job is not None
    assert (job.title, job.site.address) == (answers.title, answers.address)
    assert read_all(("job.toml", text.encode()), [], frozenset()).problems == ()
    if answers.country == "US":  # the examples' own state is one of the US
        examples = read_all(("job.toml", in_force(text).encode()), [], FILES)
        assert examples.problems == ()
        assert keys(in_force(text)) > keys(text)


def test_answers_are_in_it() -> None:
    job, _ = read_job(job_text(FULL).encode(), "job.toml")
    assert job is not None
    assert [(p.id, p.roles) for p in job.party] == [
        ("us", (Role.OWNER, Role.INSTALLER, Role.CONSIGNEE)),
        ("northway-motor-freight", (Role.DELIVERING_CARRIER,)),
        ("tarn-works", (Role.SELLER, Role.SHIPPER)),
    ]
    assert [(p.id, p.name, p.cameras) for p in job.person] == [
        ("dana", "Dana Voss", ("Fairlight F2",))
    ]
    (shipment,) = job.shipment
    assert (shipment.carrier, shipment.consignee) == ("northway-motor-freight", "us")
    assert (shipment.handling_units, shipment.handling_unit, shipment.cartons) == (2, "crate", 7)
    assert (shipment.bill_number, shipment.pro_number) == ("BL-1", "118")
    assert job.item == ()


def test_every_key_of_every_table_is_shown_and_explained() -> None:
    text = job_text(Answers("Hall", ADDRESS, ZONE))
    todo, seen = [Job], set()
    while todo:
        kind = todo.pop()
        for field in fields_of(kind):
            if is_written(field.of):
                todo.append(field.of)
                continue
            seen.add(field.name)
            assert re.search(rf"(?m)^# .+\n#?{field.name} = ", text), (
                f"{kind.__name__}.{field.name}"
            )
    assert len(seen) > 60


@settings(max_examples=40)
@given(
    st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=30).filter(str.strip),
    st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=30).filter(str.strip),
)
def test_whatever_is_typed_stays_what_it_is(title: str, carrier: str) -> None:
    text = job_text(Answers(title, ADDRESS, ZONE, carrier=carrier))
    values = tomllib.loads(text)
    assert values["title"] == title
    assert [party["name"] for party in values["party"]] == [carrier]


@pytest.mark.parametrize(
    "answers, says",
    [
        (Answers("", ADDRESS, ZONE), "title"),
        (Answers("Hall", ADDRESS, "EST"), "America/New_York"),
        (Answers("Hall", ADDRESS, ZONE, carrier="N", cartons=-1), "less than zero"),
        (Answers("Hall", ADDRESS, ZONE, country="USA!"), "country"),
        (Answers("Hall", ADDRESS, ZONE, subdivision="Ilinois"), "subdivision"),
    ],
)
def test_an_answer_that_cannot_be_used_is_told(answers: Answers, says: str) -> None:
    with pytest.raises(CannotGoOn, match=says):
        job_text(answers)


@pytest.mark.parametrize(
    "name, short",
    [
        ("Northway Motor Freight, Inc.", "northway-motor-freight-inc"),
        ("Müller & Söhne", "muller-sohne"),
        ("李 娜", "李-娜"),
        ("!!!", "x"),
        ("a" * 99, "a" * 30),
    ],
)
def test_short_names(name: str, short: str) -> None:
    assert short_name(name) == short


def test_the_folders_are_made_and_named_for_stages(tmp_path: Path) -> None:
    root = tmp_path / "jobs" / "orchard"
    made = make_job_folder(root, job_text(FULL))
    assert (root / "job.toml").read_bytes() == job_text(FULL).encode()
    assert {p.relative_to(root).as_posix() for p in root.rglob("*")} == {
        "job.toml",
        "photos",
        *FOLDERS,
    }
    assert set(made) == {root, root / "job.toml", *(root / name for name in FOLDERS)}
    stages = {name.removeprefix("photos/") for name in FOLDERS if name.startswith("photos/")}
    assert stages == {str(s) for s in Stage} - {"arrival", "complaint"}


def test_a_folder_of_photos_becomes_a_job_and_nothing_in_it_changes(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    photo = tmp_path / "photos" / "IMG_0001.jpg"
    photo.write_bytes(b"\xff\xd8")
    before = photo.stat().st_mtime_ns
    made = make_job_folder(tmp_path, job_text(FULL))
    assert tmp_path not in made
    assert (photo.read_bytes(), photo.stat().st_mtime_ns) == (b"\xff\xd8", before)


@pytest.mark.parametrize("standing", ["job.toml", "photos", "records", "photos/unpacking", "."])
def test_nothing_is_overwritten(tmp_path: Path, standing: str) -> None:
    root = tmp_path / "job"
    path = root / standing
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("mine", encoding="utf-8")
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(CannotGoOn, match=r"left as it is|must be there"):
        make_job_folder(root, job_text(FULL))
    assert path.read_text(encoding="utf-8") == "mine"
    assert sorted(tmp_path.rglob("*")) == before


def test_a_link_that_leads_nowhere_is_not_written_through(tmp_path: Path) -> None:
    root = tmp_path / "job"
    root.mkdir()
    try:
        (root / "job.toml").symlink_to(tmp_path / "elsewhere.toml")
    except OSError:
        pytest.skip("this system makes no links for this user")
    with pytest.raises(CannotGoOn, match="exists already"):
        make_job_folder(root, job_text(FULL))
    assert [p.name for p in tmp_path.rglob("*")] == ["job", "job.toml"]


def test_a_second_run_leaves_the_first(tmp_path: Path) -> None:
    make_job_folder(tmp_path / "job", job_text(FULL))
    with pytest.raises(CannotGoOn, match="exists already"):
        make_job_folder(tmp_path / "job", job_text(Answers("Other", ADDRESS, ZONE)))
    assert "Other" not in (tmp_path / "job" / "job.toml").read_text(encoding="utf-8")


# docs/job-folder.md


def generator() -> ModuleType:
    spec = importlib.util.spec_from_file_location("job_folder", ROOT / "docs" / "job_folder.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_page_is_current_and_a_stale_one_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    module = generator()
    assert module.main(["--check"]) == 0
    monkeypatch.setattr(module, "PAGE", tmp_path / "job-folder.md")
    assert module.main(["--check"]) == 1
    assert "stale" in capsys.readouterr().err
    assert module.main([]) == 0
    assert module.main(["--check"]) == 0
    page = tmp_path / "job-folder.md"
    page.write_text(page.read_text(encoding="utf-8") + "x", encoding="utf-8", newline="\n")
    assert module.main(["--check"]) == 1


def test_every_key_has_a_row_and_every_kind_a_section() -> None:
    page = generator().page()
    for kind in (Job, Head, *KINDS.values()):
        for field in fields_of(kind):
            assert f"| `{field.name}` | " in page
            assert EXAMPLES[kind][field.name] in page
    for name in KINDS:
        assert f'### `kind = "{name}"`' in page


def test_the_quantities_on_the_page_can_be_read() -> None:
    """Each as the reader of a key of that shape reads it."""
    shapes = {shape(f): replace(f, marks=()) for kind in EXAMPLES for f in fields_of(kind)}
    page = generator()
    assert len(page.UNITS) >= 5
    for what, ways, _ in page.UNITS:
        for way in ways:
            value: Any = read_leaf(shapes[what], way, Place("x.toml", None, {}))
            assert value.written == way


def test_the_files_on_the_page_can_be_read() -> None:
    page = generator().page()
    blocks = re.findall(r"(?s)```toml\n(.*?)```", page)
    assert len(blocks) == 2
    assert read_job(blocks[0].encode(), "job.toml")[1] == ()
    record, problems = read_record(blocks[1].encode(), "records/x.toml", ZONE)
    assert problems == ()
    assert record is not None


def test_the_generator_runs_as_a_script() -> None:
    script = ROOT / "docs" / "job_folder.py"
    done = subprocess.run([sys.executable, script, "--check"], capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


# ---- Asked at a keyboard


def ask(lines: str, monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    monkeypatch.setattr(sys, "stdin", io.StringIO(lines))
    return asked(Path("hall"), {"title": None, "our_roles": ()}, QUESTIONS)


def test_a_wrong_zone_is_asked_again_where_it_was_given(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Once it was told after twelve answers, and all were gone."""
    told = ask(f"Hall\n{ADDRESS}\nEST\n{ZONE}\n" + "\n" * 9, monkeypatch)
    printed = capsys.readouterr().out
    assert "America/New_York" in printed
    assert max(map(len, printed.splitlines())) <= 90  # a question with its answer behind it
    assert told == {"title": "Hall", "address": ADDRESS, "zone": ZONE}


def test_what_our_firm_is_is_asked_and_not_taken_for_granted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    start = f"Hall\n{ADDRESS}\n{ZONE}\nMarsh\n"
    told = ask(f"{start}nobody\n\nconsignee, 2\n" + "\n" * 8, monkeypatch)
    assert told["our_roles"] == (Role.INSTALLER, Role.CONSIGNEE)
    job, _ = read_job(job_text(Answers(**told)).encode(), "job.toml")
    assert job is not None
    assert job.party[0].roles == (Role.INSTALLER, Role.CONSIGNEE)


def test_only_a_consignee_stands_as_one_on_the_shipment() -> None:
    text = job_text(Answers("Hall", ADDRESS, ZONE, us="Marsh", carrier="Northway"))
    job, _ = read_job(text.encode(), "job.toml")
    assert job is not None
    assert job.party[0].roles == (Role.INSTALLER,)
    assert job.shipment[0].consignee is None


def test_broken_off_it_gives_the_command_that_goes_on(monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(CannotGoOn, match="Nothing was written") as stopped:
        ask("Hall\n4 Orchard Lane\n", monkeypatch)
    assert "claimkit new hall --title Hall --address '4 Orchard Lane'" in str(stopped.value)
