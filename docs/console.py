r"""The commands that a page shows in its console blocks, and how a reader's run of them is made.

A command is a line that begins with `$ `; lines beneath it are what it prints, and a line `…`
stands for what is left out. Run are claimkit itself, `cp` and `mkdir` with `~` as the reader's
home, from the top of the clone. What is typed at claimkit's questions stands in front of it:
`printf '%s\n' … |` gives it one line for each word.
"""

from __future__ import annotations

import re
import shlex
import shutil
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner

from claimkit.cli import app

ROOT = Path(__file__).resolve().parents[1]
LEFT_OUT = "…"


@dataclass(frozen=True, slots=True)
class Example:
    """One command of a page and the lines that the page shows as its output."""

    command: str
    shown: tuple[str, ...]


def examples(text: str) -> list[Example]:
    """Give each command of the console blocks, in order; a backslash at its end goes on below."""
    found: list[Example] = []
    for block in re.findall(r"```console\n(.*?)```", text, re.S):
        command, shown = "", list[str]()
        for line in [*block.replace("\\\n", " ").splitlines(), "$ "]:
            if not line.startswith("$ "):
                shown.append(line)
                continue
            if command:
                found.append(Example(command, tuple(s for s in shown if s.strip())))
            command, shown = line[2:], []
    return found


def run(command: str, home: Path) -> tuple[int, str]:
    """Run one command; give its exit code and what it printed, with `~` for the home again."""
    words = [w.replace("~/", f"{home}/") for w in shlex.split(command)]
    typed = None
    if words[:2] == ["printf", "%s\\n"] and "|" in words:
        typed = "".join(f"{word}\n" for word in words[2 : words.index("|")])
        words = words[words.index("|") + 1 :]
    if words[0] == "cp":
        _copy([w for w in words[1:] if w != "-R"])
        return 0, ""
    if words[0] == "mkdir":
        Path(words[1]).mkdir()
        return 0, ""
    if words[0] != "claimkit":
        raise ValueError(
            f"{command}: a page shows claimkit, cp, mkdir and answers to claimkit only"
        )
    result = CliRunner().invoke(app, words[1:], input=typed)
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    text = result.output.replace(f"{home}/", "~/").replace("\N{NO-BREAK SPACE}", " ")
    return result.exit_code, text


def not_printed(shown: tuple[str, ...], printed: str) -> str | None:
    """Give the first shown line that was not printed in its turn, or None.

    Lines follow each other directly, except where the page has a line of `…` between them.
    """
    lines = [line.rstrip() for line in printed.splitlines() if line.strip()]
    place, anywhere = 0, False
    for line in (line.rstrip() for line in shown):
        if line.strip() == LEFT_OUT:
            anywhere = True
            continue
        try:
            found = lines.index(line, place)
        except ValueError:
            return line
        if not anywhere and found != place:
            return line
        place, anywhere = found + 1, False
    if not anywhere and shown and place != len(lines):
        return f"{lines[place]} (printed after what is shown)"
    return None


def _copy(paths: list[str]) -> None:
    """Copy files and folders into a folder, as `cp -R` does, or one to a name of its own."""
    *sources, target = ((ROOT / p) for p in paths)
    into = paths[-1].endswith("/")
    for source in sources:
        to = target / source.name if into else target
        if source.is_dir():
            shutil.copytree(source, to, dirs_exist_ok=True)
        else:
            shutil.copy(source, to)
