"""Change the reasoning a little, one place at a time, and see whether a test notices.

    pip install -e .[mutation]
    python tests/bench/mutants.py GROUP FOLDER [MODULE ...] [--every N] [--again LEFT] [--also TEST]

Copies the checkout into FOLDER, so that nothing here is touched, and lets mutmut change the
modules of GROUP (or only those named, such as `limits/count`) and run the tests of their subject.
Prints one row for each module and writes the changes that no test noticed to FOLDER/left.txt.
With --every N only each Nth change is tried; with --again only those that an earlier left.txt
names (same N, unchanged modules); --also adds tests, such as `findings/test_register.py`, that
reach everything and would take hours for every change. Not part of the suite.

Only changes of reasoning are made: a comparison, its boundary, a sign, a number, a condition
dropped, a value true for false. Changes of wording, of whole arguments and of assigned values are
left out: nearly all of them stop the program, and they are two thirds of the time. mutmut changes
nothing outside functions, and no properties.
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]

# Group: the folder below claimkit, its modules, and the tests of the subject.
GROUPS: dict[str, tuple[str, str, str]] = {
    "model": (
        "model",
        "measurement moment quantities",
        "model intake/test_moments.py intake/test_quantities.py published/test_gum.py "
        "findings/test_clocks.py findings/test_amount.py",
    ),
    "limits": (
        "findings/limits",
        "calendar count events starts conditions misses life next_move",
        "findings/test_calendar.py findings/test_site_calendar.py findings/test_limits.py "
        "findings/test_life.py "
        "findings/test_limit_terms.py findings/test_next_move.py "
        "findings/test_limit_sentences.py findings/test_terms_rows.py "
        "published/test_law_worked_cases.py",
    ),
    "seams": (
        "findings/seams",
        "compare normal readings pairs states temperature answers least_squares line taper "
        "together bench photo_gaps photo_readings print_scale known last_chance reads",
        "findings/test_gaps.py findings/test_gaps_checks.py findings/test_gaps_witness.py "
        "findings/test_gap_order.py findings/test_taper_words.py "
        "findings/test_last_chance.py findings/test_photo_gaps.py findings/test_print_scale.py "
        "findings/test_seam_lines.py published/test_gum.py published/test_gum_line.py "
        "published/test_jcgm106.py seams/test_card_known.py",
    ),
    "opening": (
        "findings/seams",
        "opening opening_explain opening_judge opening_offsets opening_square opening_taper "
        "opening_turn opening_when",
        "findings/test_opening.py findings/test_opening_taper.py findings/test_opening_when.py "
        "published/test_opening_geometry.py",
    ),
    "clocks": (
        "findings/clocks",
        "correct evidence states",
        "findings/test_clocks.py findings/test_clock_choice.py findings/test_check_photos.py "
        "findings/test_photo_time.py",
    ),
    "timeline": (
        "findings/timeline",
        "photo_time episodes",
        "findings/test_photo_time.py findings/test_episodes.py findings/test_photo_beside.py "
        "findings/test_check_photos.py published/test_dst.py",
    ),
    "claim": (
        "findings/claim",
        "amount worksheet liability elements addressee addressee_carriers addressee_others "
        "paper_kind",
        "findings/test_amount.py findings/test_liability.py findings/test_addressee.py "
        "findings/test_whom_to_ask.py "
        "findings/test_documents.py findings/test_elements.py findings/test_paper_words.py "
        "findings/test_paper_headings.py "
        "published/test_liability_values.py",
    ),
    "holidays": (
        "rules",
        "public_holidays",
        "findings/test_site_calendar.py findings/test_calendar.py",
    ),
    "metadata": (
        "intake/metadata",
        "repointed",
        "intake/test_repointed.py intake/test_exif.py intake/test_exifblock.py",
    ),
    "receipt": (
        "findings/receipt",
        "negation counts clash parts",
        "findings/test_receipt_reading.py findings/test_receipt_clash.py "
        "findings/test_receipt_rules.py findings/test_receipt_plain.py "
        "findings/test_receipt_notes.py",
    ),
}
LEFT_OUT = {
    "operator_string",
    "operator_assignment",
    "operator_dict_arguments",
    "operator_arg_removal",
    "operator_augmented_assignment",
    "operator_lambda",
}


def copy(into: Path, modules: list[str], tests: list[str]) -> None:
    """Copy the checkout, with the settings mutmut reads."""
    shutil.rmtree(into, ignore_errors=True)
    shutil.copytree(ROOT, into, ignore=shutil.ignore_patterns(".git", "__pycache__", ".*_cache"))
    with (into / "pyproject.toml").open("a", encoding="utf-8") as settings:
        settings.write(
            "\n[tool.mutmut]\n"
            'source_paths = ["claimkit"]\n'
            f"only_mutate = {modules}\n"
            f"pytest_add_cli_args_test_selection = {tests}\n"
            'also_copy = ["tests", "docs", "sample_jobs"]\n'
            'pytest_add_cli_args = ["-p", "no:cacheprovider"]\n'
            # A fresh process for each change: what a cache kept would hide it.
            'process_isolation = "forkserver"\n'
            "timeout_multiplier = 5\ntimeout_constant = 5\n"
        )


def dropped_conditions(node: Any) -> Iterator[Any]:
    """Give an `if` that is never entered, a filter that lets all through, one side of and/or."""
    import libcst as cst

    if isinstance(node, cst.If):
        yield node.with_changes(test=cst.Name("False"))
    elif isinstance(node, cst.CompFor) and node.ifs:
        yield node.with_changes(ifs=[])
    elif isinstance(node, cst.BooleanOperation):
        for side in (node.left, node.right):
            yield side.with_changes(
                lpar=[cst.LeftParen(), *side.lpar], rpar=[*side.rpar, cst.RightParen()]
            )


def of_reasoning(every: int) -> list[tuple[type, Callable[[Any], Iterator[Any]]]]:
    """Give mutmut's operators without those of wording, and the dropped conditions."""
    import libcst as cst
    from mutmut.mutation.mutators import mutation_operators

    seen = Counter[str]()

    def each_nth(operator: Callable[[Any], Any]) -> Callable[[Any], Iterator[Any]]:
        def wrapped(node: Any) -> Iterator[Any]:
            # One side of and/or dropped is the harder question than the two exchanged.
            if operator.__name__ == "operator_swap_op" and isinstance(node, cst.BooleanOperation):
                return
            for changed in operator(node):
                seen["all"] += 1
                if seen["all"] % every == 0:
                    yield changed

        return wrapped

    kept = [(t, each_nth(op)) for t, op in mutation_operators if op.__name__ not in LEFT_OUT]
    return [*kept, (cst.CSTNode, each_nth(dropped_conditions))]


def quick_first() -> None:
    """Let mutmut run the tests that took least first: most changes end there."""
    from mutmut.runners.harness import PytestRunner
    from mutmut.state import state

    def of(_self: Any, tests: Any) -> list[str]:
        known = state().duration_by_test
        quick = sorted(tests, key=lambda test: (known.get(test, 0.0), test))
        return ["-x", "-q", *(quick or _self._pytest_add_cli_args_test_selection)]

    PytestRunner._pytest_args_regular_run = of


def report(modules: list[str]) -> None:
    """Print a row for each module, and write the changes that nothing noticed to left.txt."""
    from mutmut.mutation.data import SourceFileMutationData
    from mutmut.mutation.diff_apply import get_diff_for_mutant
    from mutmut.stats import status_by_exit_code

    left = []
    for module in modules:
        data = SourceFileMutationData(path=Path(module))
        data.load()
        # mutmut calls 255 a timeout; it is what a run ends with whose tests could not be started.
        states = {
            name: "could not run" if code == 255 else status_by_exit_code[code]
            for name, code in data.exit_code_by_key.items()
        }
        states = {name: state for name, state in states.items() if state != "not checked"}
        told = Counter(states.values())
        noticed = told["killed"] + told["timeout"]
        print(
            f"| `{module}` | {told.total()} | {noticed} | {told.total() - noticed} | {dict(told)}"
        )
        for name, state in states.items():
            if state not in ("killed", "timeout"):
                left.append(f"# {name}: {state}\n{get_diff_for_mutant(name)}")
    Path("left.txt").write_text("\n".join(left), encoding="utf-8")


def main() -> None:
    """Copy, change, run and report."""
    asked = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    asked.add_argument("group", choices=sorted(GROUPS))
    asked.add_argument("folder", type=Path)
    asked.add_argument("modules", nargs="*")
    asked.add_argument("--every", type=int, default=1)
    asked.add_argument("--again", type=Path)
    asked.add_argument("--also", action="append", default=[])
    given = asked.parse_args()
    folder, names, tests = GROUPS[given.group]
    modules = [f"claimkit/{folder}/{name}.py" for name in given.modules or names.split()]
    os.environ.setdefault("CLAIMKIT_SHARED", str(ROOT.parent / "shared"))
    again = given.again.read_text(encoding="utf-8") if given.again else ""
    only = re.findall(r"^# (\S+): ", again, re.MULTILINE)
    copy(given.folder, modules, [f"tests/{test}" for test in (*tests.split(), *given.also)])
    os.chdir(given.folder)
    sys.path.insert(0, "")
    import mutmut.mutation.file_mutation as making
    from mutmut.__main__ import cli

    making.mutation_operators = of_reasoning(given.every)
    quick_first()
    cli(["run", "--max-children", "1", *only], standalone_mode=False)
    report(modules)


if __name__ == "__main__":
    main()
