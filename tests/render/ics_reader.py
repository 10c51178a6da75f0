"""A reader of iCalendar that knows nothing of the library that writes it: RFC 5545, 3.1 and 3.3."""

from __future__ import annotations

import re
from dataclasses import dataclass, field


@dataclass
class Component:
    """One component: its name, its properties in order, and the components in it."""

    name: str
    lines: list[tuple[str, dict[str, str], str]] = field(default_factory=list)
    inner: list[Component] = field(default_factory=list)

    def value(self, name: str) -> str:
        """Give the only value of a property, escapes undone (3.3.11)."""
        (found,) = (value for line, _, value in self.lines if line == name)
        return re.sub(r"\\(.)", lambda m: "\n" if m[1] in "nN" else m[1], found)

    def parameters(self, name: str) -> dict[str, str]:
        """Give the parameters of the only property of that name."""
        (found,) = (parameters for line, parameters, _ in self.lines if line == name)
        return found


def read(data: bytes) -> Component:
    """Read one calendar; what is not well formed raises."""
    text = data.decode("utf-8")
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))  # 3.1
    stack = [Component("")]
    for line in text.replace("\r\n ", "").split("\r\n")[:-1]:
        found = re.fullmatch(r'([A-Z0-9-]+)((?:;[A-Z0-9-]+=(?:"[^"]*"|[^;:"]*))*):(.*)', line)
        assert found, line
        name, value = found[1], found[3]
        if name == "BEGIN":
            stack.append(Component(value))
        elif name == "END":
            done = stack.pop()
            assert done.name == value
            stack[-1].inner.append(done)
        else:
            pairs = dict(p.split("=", 1) for p in found[2].split(";")[1:])
            stack[-1].lines.append((name, pairs, value))
    (calendar,) = stack.pop().inner
    return calendar
