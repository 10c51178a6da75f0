"""Change the reasoning a little, one place at a time, and see whether a test notices.

    pip install mutmut
    python tests/bench/mutants.py GROUP FOLDER [MODULE ...] [--every N]

Copies the checkout into FOLDER, so that nothing here is touched, and lets mutmut change the
modules of GROUP (or only those named, such as `limits/count`) and run the tests of their subject.
Prints one row for each module and writes the changes that no test noticed to FOLDER/left.txt.
With --every N only each Nth change is tried. Not part of the suite.

Only changes of reasoning are made: a comparison, its boundary, a sign, a number, a condition
dropped, a value true for false. Changes of wording, of whole arguments and of assigned values are
left out: nearly all of them stop the program, and they are two thirds of the time. mutmut changes
nothing outside functions, and no properties.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
FINDINGS = "tests/findings/test_"

# Group: the folder below claimkit, its modules, and the tests of the subject.
GROUPS: dict[str, tuple[str, str, str]] = {
    "model": (
        "model",
        "measurement moment quantities",
        f"tests/model tests/intake/test_moments.py tests/intake/test_quantities.py {FINDINGS}clocks.py "
        f"{FINDINGS}amount.py tests/published/test_gum.py",
    ),
    "limits": (
        "findings/limits",
        "calendar count events starts conditions misses life next_move",
        f"{FINDINGS}calendar.py {FINDINGS}limits.py {FINDINGS}life.py {FINDINGS}check_limits.py "
        f"{FINDINGS}check_terms.py {FINDINGS}limit_letters.py {FINDINGS}limit_terms.py "
        f"{FINDINGS}terms_rows.py tests/published/test_law_worked_cases.py "
        "tests/published/test_random_dates.py tests/published/test_dst.py",
    ),
    "seams": (
        "findings/seams",
        "compare normal readings pairs states temperature answers least_squares line taper together "
        "bench photo_gaps photo_readings print_scale known last_chance reads",
        f"{FINDINGS}gaps.py {FINDINGS}gaps_checks.py {FINDINGS}gaps_oracle.py {FINDINGS}gaps_witness.py "
        f"{FINDINGS}last_chance.py {FINDINGS}photo_gaps.py {FINDINGS}print_scale.py "
        f"{FINDINGS}seam_lines.py tests/published/test_gum.py tests/published/test_gum_line.py "
        "tests/published/test_jcgm106.py tests/seams/test_card_known.py",
    ),
    "opening": (
        "findings/seams",
        "opening opening_explain opening_judge opening_offsets opening_square opening_taper "
        "opening_turn opening_when",
        f"{FINDINGS}opening.py {FINDINGS}opening_taper.py tests/published/test_opening_geometry.py",
    ),
    "clocks": (
        "findings/clocks",
        "correct evidence states",
        f"{FINDINGS}clocks.py {FINDINGS}clock_study.py {FINDINGS}check_photos.py "
        f"{FINDINGS}photo_time.py",
    ),
    "timeline": (
        "findings/timeline",
        "photo_time episodes",
        f"{FINDINGS}photo_time.py {FINDINGS}episodes.py {FINDINGS}photo_beside.py "
        f"{FINDINGS}originals.py {FINDINGS}check_photos.py tests/published/test_dst.py",
    ),
    "claim": (
        "findings/claim",
        "amount liability elements addressee addressee_carriers addressee_others paper_kind",
        f"{FINDINGS}amount.py {FINDINGS}liability.py {FINDINGS}addressee.py {FINDINGS}documents.py "
        f"{FINDINGS}paper_words.py tests/published/test_liability_values.py",
    ),
    "receipt": (
        "findings/receipt",
        "negation counts clash parts",
        f"{FINDINGS}receipt_changes.py {FINDINGS}receipt_findings.py {FINDINGS}receipt_frozen.py "
        f"{FINDINGS}receipt_notes.py {FINDINGS}receipt_plain.py {FINDINGS}receipt_rules.py "
        f"{FINDINGS}receipt_write.py",
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


def report(modules: list[str]) -> None:
    """Print a row for each module, and write the changes that nothing noticed to left.txt."""
    from mutmut.mutation.data import SourceFileMutationData
    from mutmut.mutation.diff_apply import get_diff_for_mutant
    from mutmut.stats import status_by_exit_code

    left = []
    for module in modules:
        data = SourceFileMutationData(path=Path(module))
        data.load()
        told = Counter(status_by_exit_code[code] for code in data.exit_code_by_key.values())
        noticed = told["killed"] + told["timeout"]
        print(
            f"| `{module}` | {told.total()} | {noticed} | {told.total() - noticed} | {dict(told)}"
        )
        for name, code in data.exit_code_by_key.items():
            if status_by_exit_code[code] not in ("killed", "timeout"):
                left.append(f"# {name}: {status_by_exit_code[code]}\n{get_diff_for_mutant(name)}")
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
    given = asked.parse_args()
    folder, names, tests = GROUPS[given.group]
    modules = [f"claimkit/{folder}/{name}.py" for name in given.modules or names.split()]
    os.environ.setdefault("CLAIMKIT_SHARED", str(ROOT.parent / "shared"))
    copy(given.folder, modules, tests.split())
    os.chdir(given.folder)
    sys.path.insert(0, "")
    import mutmut.mutation.file_mutation as making
    from mutmut.__main__ import cli

    making.mutation_operators = of_reasoning(given.every)
    cli(["run", "--max-children", "1"], standalone_mode=False)
    report(modules)


if __name__ == "__main__":
    main()
