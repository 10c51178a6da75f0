"""The command `notice`: what is typed becomes one new record that reads back equal, or nothing.

The job lies in 2024, so that its times are past on any machine's clock.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from claimkit.cli import app
from claimkit.commands.notice import record_notice
from claimkit.intake.entries.record_file import Refused, add, checked, kept
from claimkit.intake.read import read
from claimkit.model.case import Case
from claimkit.model.records import About, Notice
from claimkit.model.stop import DONE, STOPPED, CannotGoOn
from tests.build import NOW

DAY = ("--as-of", "2024-05-20")
JOB = """\
title = "Kiln Road 9"
[site]
address = "9 Kiln Road"
zone = "America/Chicago"
[[party]]
id = "us"
name = "Marl & Sons"
roles = ["owner", "consignee"]
[[party]]
id = "hauler"
name = "Northway Freight"
roles = ["delivering carrier"]
email = "claims@northway.example"
[[party]]
id = "agent"
name = "Lanebridge Brokers"
roles = ["broker"]
[[person]]
id = "dana"
name = "Dana Voss"
[[shipment]]
id = "main"
carrier = "hauler"
terms = "us interstate motor"
bill_text = "from 2016"
classification_applies = true
[[item]]
id = "panel"
description = "Wall panel"
"""
RECORDS = {
    "delivery": 'kind = "delivery"\nsaid_by = "dana"\nsigned_at = "2024-05-06 09:30"\n',
    "damage": 'kind = "damage"\nsaid_by = "dana"\nitem = "panel"\nfound_at = "unpacking"\n'
    'what = "cracked"\nfound = "2024-05-07"\n',
}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    (folder / "records").mkdir(parents=True)
    (folder / "documents").mkdir()
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    (folder / "documents" / "letter.pdf").write_bytes(b"%PDF-1.4\n%%EOF\n")
    for name, text in RECORDS.items():
        (folder / "records" / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder


def run(job: Path, *arguments: str, typed: str | None = None) -> Result:
    return CliRunner().invoke(app, ["notice", str(job), *DAY, *arguments], input=typed)


def files(job: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in (job / "records").iterdir()}


CLAIM = (
    "--about",
    "claim",
    "--from",
    "us",
    "--to",
    "hauler",
    "--how",
    "e-mail",
    "--sent",
    "2024-05-09 08:30",
    "--received",
    "2024-05-09 08:31",
    "--amount",
    "418.00 USD",
    "--text",
    "One panel cracked.",
    "--file",
    "documents/letter.pdf",
)


def test_a_claim_is_written_and_its_effect_told(job: Path) -> None:
    before = files(job)
    result = run(job, *CLAIM)
    assert result.exit_code == DONE, result.output
    new = set(files(job)) - set(before)
    assert new == {"2024-05-09-claim.toml"}
    assert {name: data for name, data in files(job).items() if name in before} == before
    values = tomllib.loads((job / "records" / "2024-05-09-claim.toml").read_text("utf-8"))
    assert values["received"] == "2024-05-09 08:31"
    assert (values["kind"], values["said_by"], values["sender"]) == ("notice", "dana", "us")
    assert values["written"]
    lines = result.stdout.splitlines()
    assert lines[0] == "records/2024-05-09-claim.toml"
    assert "meets   Claim for loss or damage, on Thu 2024-05-09 (main)" in result.stdout
    # 30 calendar days from 2024-05-09.
    assert "acknowledges the claim, last day Sat 2024-06-08" in result.stdout
    assert "stands  main: the carrier has the claim" in result.stdout
    assert sum(line.startswith("  next") for line in lines) == 1
    assert max(map(len, lines)) <= 80


def test_a_letter_to_the_seller_has_not_missed_the_carrier(job: Path) -> None:
    seller = '[[party]]\nid = "shop"\nname = "Tessel Supply"\nroles = ["seller"]\n'
    friend = '[[party]]\nid = "friend"\nname = "Pell & Co"\nroles = ["customer"]\n'
    (job / "job.toml").write_text(JOB + seller + friend, encoding="utf-8")
    told = ["--about", "notice of loss or damage", "--from", "us", "--how", "e-mail"]
    told += ["--sent", "2024-05-08", "--received", "2024-05-08", "--text", "One panel cracked."]
    # UCC 2-607(3)(a): the buyer has to notify the seller, and has.
    result = run(job, *told, "--to", "shop")
    assert "  meets   Notice of breach to the seller" in result.stdout
    assert "entered as a carrier" not in " ".join(result.stdout.split())
    # Whom no term names, it does not serve at all.
    result = run(job, *told, "--to", "friend")
    assert "Pell & Co, who is not entered as a carrier" in " ".join(result.stdout.split())


def test_the_next_run_has_no_complaint_and_logs_it(job: Path) -> None:
    run(job, *CLAIM)
    facts = read(job, now=NOW, writer="test")
    assert facts.problems == ()
    (record,) = [r for r in facts.records if r.kind == "notice"]
    assert isinstance(record.body, Notice)
    assert record.body.about is About.CLAIM
    assert record.body.file == "documents/letter.pdf"
    assert record.path in {line.path for line in facts.custody.lines}


def test_the_same_twice_gets_another_name_and_overwrites_nothing(job: Path) -> None:
    run(job, *CLAIM)
    first = files(job)
    assert run(job, *CLAIM).exit_code == DONE
    assert set(files(job)) - set(first) == {"2024-05-09-claim-2.toml"}
    assert {name: data for name, data in files(job).items() if name in first} == first


@pytest.mark.parametrize("taken", ["2024-05-09-Claim.TOML", "2024-05-09-claim.toml.txt"])
def test_a_name_that_differs_only_in_letters_or_ending_is_taken_too(job: Path, taken: str) -> None:
    (job / "records" / taken).write_text(RECORDS["delivery"], encoding="utf-8")
    result = run(job, *CLAIM)
    assert result.stdout.splitlines()[0] == "records/2024-05-09-claim-2.toml"


def test_names_of_people_and_numbers_of_words_will_do(job: Path) -> None:
    number = [about.value for about in About].index("offer") + 1
    result = run(
        job,
        *("--about", str(number), "--from", "northway freight", "--to", "Marl & Sons"),
        *("--by", "Dana Voss", "--sent", "2024-05-10"),
    )
    assert result.exit_code == DONE, result.output
    values = tomllib.loads((job / "records" / "2024-05-10-offer.toml").read_text("utf-8"))
    assert (values["about"], values["sender"], values["to"]) == ("offer", "hauler", "us")


def test_every_mistake_at_once_and_nothing_written(job: Path) -> None:
    before = files(job)
    result = CliRunner().invoke(
        app,
        [
            "notice",
            str(job),
            "--about",
            "clame",
            "--from",
            "ous",
            "--to",
            "haler",
            "--sent",
            "05/09/2024",
            "--received",
            "yesterday",
            "--amount",
            "$5",
            "--file",
            "documents/leter.pdf",
            "--by",
            "dan",
            "--shipment",
            "man",
        ],
        standalone_mode=False,
    )
    assert isinstance(result.exception, CannotGoOn)
    said = str(result.exception)
    for option in ("about", "from", "to", "sent", "received", "amount", "file", "by", "shipment"):
        assert f"  --{option}: " in said, option
    assert 'Did you mean "documents/letter.pdf"?' in said
    assert "Traceback" not in said
    assert files(job) == before


def test_times_that_contradict_each_other_are_refused(job: Path) -> None:
    with pytest.raises(CannotGoOn, match="lies before sent"):
        record_notice(
            job,
            _case(job),
            {
                "about": "claim",
                "sender": "us",
                "to": "hauler",
                "sent": "2024-05-10",
                "received": "2024-05-09",
            },
            NOW,
        )


def test_a_time_in_the_future_is_refused(job: Path) -> None:
    values = {"about": "claim", "sender": "us", "to": "hauler", "sent": "2026-05-21 09:00"}
    with pytest.raises(CannotGoOn, match="lies after the record was written"):
        record_notice(job, _case(job), values, NOW)  # NOW is 2026-05-20 18:00 UTC


def test_what_is_missing_is_named_with_what_can_be_written(job: Path) -> None:
    with pytest.raises(CannotGoOn) as stopped:
        record_notice(job, _case(job), {"about": "claim"}, NOW)
    assert "--from: is missing." in str(stopped.value)
    assert "--to: is missing." in str(stopped.value)


def _case(job: Path) -> Case:
    facts = read(job, now=NOW, writer="test")
    return Case(facts, NOW.date(), NOW)


# A correction


def test_a_correction_takes_the_rest_from_the_old_record(job: Path) -> None:
    sent = [a for a in CLAIM if a not in ("--received", "2024-05-09 08:31")]
    result = run(job, *sent)
    assert "not     records/2024-05-09-claim.toml: sent on Thu 2024-05-09" in result.stdout
    result = run(
        job, "--replaces", "2024-05-09-claim", "--reason", "the receipt came", "--received",
        "2024-05-10 11:00",
    )  # fmt: skip
    assert result.exit_code == DONE, result.output
    assert "meets   Claim for loss or damage, on Fri 2024-05-10" in result.stdout
    facts = read(job, now=NOW, writer="test")
    (new,) = list(facts.in_force(Notice))
    assert isinstance(new.body, Notice)
    assert new.replaces == "2024-05-09-claim"
    assert new.body.amount
    assert str(new.body.amount) == "USD 418.00"
    assert new.body.text == "One panel cracked."


def test_a_correction_of_nothing_or_of_another_kind_is_refused(job: Path) -> None:
    case, before = _case(job), files(job)
    with pytest.raises(CannotGoOn, match=r"is no record of this job\. Did you mean delivery"):
        record_notice(job, case, {"replaces": "delivry"}, NOW)
    with pytest.raises(CannotGoOn):
        record_notice(job, case, {"replaces": "delivery", "received": "2024-05-09"}, NOW)
    assert files(job) == before


# Prompts


def answers(*typed: str) -> str:
    return "\n".join(typed) + "\n"


def test_without_options_it_asks(job: Path) -> None:
    typed = answers(
        "acknowledgement", "hauler", "us", "letter", "2024-05-17", "", "C-4471", "", "", ""
    )
    run(job, *CLAIM)
    result = CliRunner().invoke(app, ["notice", str(job), *DAY], input=typed)
    assert result.exit_code == DONE, result.output
    assert "Parties: us (Marl & Sons), hauler (Northway Freight)" in result.output
    assert "meets   The carrier acknowledges the claim, on Fri 2024-05-17" in result.output
    values = tomllib.loads((job / "records" / "2024-05-17-acknowledgement.toml").read_text("utf-8"))
    assert values["reference"] == "C-4471"
    assert "received" not in values


def test_of_a_refusal_it_asks_what_makes_it_one(job: Path) -> None:
    typed = answers(
        "disallowance", "hauler", "us", "letter", "2024-05-17", "", "", "", "", "", "y", "yes", ""
    )
    result = run(job, typed=typed)
    assert result.exit_code == DONE, result.output
    assert "starts  Suit against the carrier, last day Sun 2026-05-17" in result.output


def test_a_wrong_answer_is_asked_again_alone(job: Path) -> None:
    typed = answers("claim", "us", "haulr", "", "2024-05-09", "", "", "", "", "", "hauler")
    result = run(job, typed=typed)
    assert result.exit_code == DONE, result.output
    assert 'Did you mean "hauler"?' in result.output
    assert "2024-05-09-claim.toml" in files(job)


def test_an_end_of_the_answers_writes_nothing(job: Path) -> None:
    before = files(job)
    result = run(job, typed="claim\nus\n")
    assert result.exit_code != DONE
    assert files(job) == before


# Hostile texts

HOSTILE = (
    'he said """no"""',
    "C:\\new\\table 1 1/8\" 'inner'",
    'line\nkind = "delivery"\n[[party]]\r\n\ttab\x00\x07\x7f',
    "''' and \"\"\" both",
    "\u202egnp.exe \u2028 \U0001f4a5 ñ é",
    "#not a comment",
    "../../etc/passwd",
    "$(rm -rf /) `id` %s {0} {}",
)


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_reads_back_equal(job: Path, text: str) -> None:
    result = run(job, *CLAIM, "--text", text, "--reference", text.replace("\n", " "))
    assert result.exit_code == DONE, result.output
    facts = read(job, now=NOW, writer="test")
    assert facts.problems == ()
    (record,) = facts.in_force(Notice)
    assert isinstance(record.body, Notice)
    assert record.body.text == text
    assert record.path == "records/2024-05-09-claim.toml"


@pytest.mark.parametrize("key", ["about", "sender", "to", "sent", "shipment", "file", "amount"])
@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_elsewhere_is_refused_in_one_sentence(job: Path, key: str, text: str) -> None:
    before = files(job)
    values: dict[str, Any] = {"about": "claim", "sender": "us", "to": "hauler", key: text}
    with pytest.raises(CannotGoOn, match="The notice was not written"):
        record_notice(job, _case(job), values, NOW)
    assert files(job) == before
    assert sorted(p.name for p in job.iterdir()) == ["custody", "documents", "job.toml", "records"]


def test_half_a_character_is_refused(job: Path) -> None:
    values = {"about": "claim", "sender": "us", "to": "hauler", "text": "bad \udcff byte"}
    with pytest.raises(CannotGoOn, match="half a character"):
        record_notice(job, _case(job), values, NOW)


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.text(min_size=1).filter(lambda t: t.strip()))
def test_any_text_reads_back_equal_or_is_refused(job: Path, text: str) -> None:
    there = kept(job)
    values = {
        "kind": "notice",
        "said_by": "dana",
        "about": "other",
        "sender": "us",
        "to": "hauler",
        "text": text,
    }
    result = checked(there, values, "x")
    if isinstance(result, Refused):
        assert result.problems
        return
    assert isinstance(result[0].body, Notice)
    assert result[0].body.text == text
    assert tomllib.loads(result[1])["text"] == text


# The disk


def test_a_name_taken_meanwhile_is_left_as_it_is(job: Path) -> None:
    there = kept(job)
    add(there, RECORDS["delivery"], "late")
    with pytest.raises(CannotGoOn, match="left as it is"):
        add(there, RECORDS["damage"], "late")
    assert (job / "records" / "late.toml").read_text("utf-8") == RECORDS["delivery"]


def test_a_folder_that_is_none_or_has_no_job_is_said(tmp_path: Path, job: Path) -> None:
    result = CliRunner().invoke(app, ["notice", str(tmp_path / "none"), *CLAIM])
    assert isinstance(result.exception, CannotGoOn)
    (job / "job.toml").write_text("title = 3\n", encoding="utf-8")
    result = CliRunner().invoke(app, ["notice", str(job), *CLAIM])
    assert isinstance(result.exception, CannotGoOn)
    assert "job.toml cannot be used" in str(result.exception)
    assert STOPPED == 5


def test_a_path_typed_from_elsewhere_is_the_folders_own(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(job / "documents")
    result = run(job, *CLAIM[:-1], "letter.pdf")
    assert result.exit_code == DONE, result.output
    values = tomllib.loads((job / "records" / "2024-05-09-claim.toml").read_text("utf-8"))
    assert values["file"] == "documents/letter.pdf"


def test_a_broken_neighbour_does_not_stop_a_good_notice(job: Path) -> None:
    (job / "records" / "bad.toml").write_text('kind = "delivry"\n', encoding="utf-8")
    result = run(job, *CLAIM)
    assert "2024-05-09-claim.toml" in files(job)
    assert result.exit_code == 3  # the neighbour's problem is still there


# What is answered and what is shown


def test_a_letter_that_does_nothing_says_so(job: Path) -> None:
    idle = "It starts, meets and stops no time limit."
    result = run(job, "--about", "other", "--from", "hauler", "--to", "us", "--sent", "2024-05-09")
    assert idle in result.stdout
    assert idle not in run(job, *CLAIM).stdout
    # An offer, with no claim on record, starts and meets nothing, and says why it is no refusal.
    offer = ("--about", "offer", "--from", "hauler", "--to", "us", "--sent", "2024-05-08")
    told = run(job, *offer).stdout
    assert "not     records/2024-05-08-offer.toml" in told


@pytest.mark.parametrize("typed,day", [("now", "2026-05-20 13:00"), ("Today", "2026-05-20")])
def test_now_and_today_are_the_sites(job: Path, typed: str, day: str) -> None:
    values = {"about": "other", "sender": "us", "to": "hauler", "sent": typed}
    path = record_notice(job, _case(job), values, NOW)  # 18:00 UTC is 13:00 in Chicago
    stated = tomllib.loads((job / path).read_text("utf-8"))
    assert stated["sent"] == day
    assert stated["written"] == "2026-05-20 13:00"


def test_blanks_around_an_answer_are_dropped_and_kept_in_the_text(job: Path) -> None:
    values = {"about": " claim ", "sender": "us ", "to": " hauler", "text": "  as it stands  "}
    path = record_notice(job, _case(job), values, NOW)
    stated = tomllib.loads((job / path).read_text("utf-8"))
    assert (stated["about"], stated["to"]) == ("claim", "hauler")
    assert stated["text"] == "  as it stands  "


MORE = """
[[person]]
id = "ines"
name = "Ines Roth"
[[shipment]]
id = "second"
carrier = "hauler"
"""


def test_two_persons_and_two_shipments_have_to_be_told_apart(job: Path) -> None:
    delivery = RECORDS["delivery"] + 'shipment = "main"\n'
    (job / "records" / "delivery.toml").write_text(delivery, encoding="utf-8")
    toml = JOB.replace('id = "panel"', 'id = "panel"\nshipment = "main"')
    (job / "job.toml").write_text(toml + MORE, encoding="utf-8")
    with pytest.raises(CannotGoOn) as stopped:
        record_notice(job, _case(job), {"about": "claim", "sender": "us", "to": "hauler"}, NOW)
    assert "--by: is missing. Write one of: dana, ines." in str(stopped.value)
    assert (
        "--shipment: is missing, and the job has 2 shipments. Write which it is: shipment = "
        in (str(stopped.value))
    )
    typed = answers(
        "claim", "main", "us", "hauler", "", "2024-05-09", "", "", "", "", "", "Ines Roth"
    )
    result = run(job, typed=typed)
    assert result.exit_code == DONE, result.output
    assert "Shipments: main, second" in result.output
    assert "Persons: dana, ines" in result.output
    values = tomllib.loads((job / "records" / "2024-05-09-claim.toml").read_text("utf-8"))
    assert (values["shipment"], values["said_by"]) == ("main", "ines")


def test_all_wrong_answers_are_asked_again_and_only_those(job: Path) -> None:
    typed = answers("claim", "uss", "haulr", "", "05/09/2024", "", "", "", "", "")
    typed += answers("us", "hauler", "2024-05-09")
    result = run(job, typed=typed)
    assert result.exit_code == DONE, result.output
    assert result.output.count("What is it about") == 1
    assert result.output.count("From (party)") == 2
