"""A whole job folder made of the examples that the documentation shows, as texts."""

from __future__ import annotations

import re
from typing import Any

from claimkit.intake.entries.examples import EXAMPLES
from claimkit.intake.entries.fields import fields_of
from claimkit.intake.entries.new import Answers, job_text
from claimkit.intake.entries.records import Written, read_all
from claimkit.model.records import KINDS, Head
from claimkit.model.written import Names

BARE = job_text(Answers("Orchard Lane 4", "4 Orchard Lane, Galena, IL", "America/Chicago"))
# Every example in force: the # before an example is taken away, notes stay.
JOB = re.sub(r"(?m)^#(?=[^ \n])", "", BARE)


def _table(kind: type[Any], name: str, leave_out: tuple[str, ...] = ()) -> str:
    keys = [f for f in fields_of(kind) if not f.is_table and f.name not in leave_out]
    text = "".join(f"{f.name} = {EXAMPLES[kind][f.name]}\n" for f in keys)
    for field in fields_of(kind):
        if field.is_table:
            inner = f"{name}.{field.name}" if name else field.name
            text += f"[[{inner}]]\n{_table(field.of, inner)}"
    return text


# Keys that serve another kind of cost than the example's.
_LEFT_OUT = {"cost": ("amount", "percent", "notice_given")}


def _record(kind: str) -> str:
    head = f'kind = "{kind}"\nsaid_by = {EXAMPLES[Head]["said_by"]}\n'
    return head + _table(KINDS[kind], "", _LEFT_OUT.get(kind, ()))


RECORDS = {f"records/{kind}.toml": _record(kind) for kind in KINDS}
_OLD = "records/2026-05-04-delivery.toml"
RECORDS[_OLD] = RECORDS["records/delivery.toml"]
RECORDS["records/delivery.toml"] = _table(Head, "") + _table(KINDS["delivery"], "")


def _files() -> set[str]:
    found: set[str] = set()
    for kind in EXAMPLES:
        for field in fields_of(kind):
            if field.mark(Names) is Names.FILE:
                found.update(re.findall(r'"([^"]+)"', EXAMPLES[kind][field.name]))
    return found


FILES = frozenset(_files())


def read(job: str = JOB, records: dict[str, str] | None = None, files: Any = FILES) -> Written:
    """Read the folder, with the given texts in place of the examples."""
    texts = RECORDS if records is None else records
    encoded = [(path, text.encode()) for path, text in texts.items()]
    return read_all(("job.toml", job.encode()), encoded, frozenset(files))


def changed(text: str, old: str, new: str) -> str:
    """Change one place of a text; it must be there, once."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
    return text.replace(old, new)
