"""Rows for a spreadsheet: comma-separated values that open right and start no formula.

RFC 4180 with CR LF. A cell that begins with =, +, -, @, a tab or a carriage return would be read
as a formula: it gets an apostrophe in front, unless the whole cell is a plain number.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence

BOM = "\N{ZERO WIDTH NO-BREAK SPACE}"  # some spreadsheet programs take UTF-8 for it alone
_STARTS_FORMULA = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")  # and their wide forms
_NUMBER = re.compile(r"[-+]?\d+(?:\.\d+)?", re.ASCII)


def neutral(cell: str) -> str:
    """Give a cell that no spreadsheet program takes for a formula."""
    plain = cell.lstrip(" \n")
    if _NUMBER.fullmatch(cell) or not plain.startswith(_STARTS_FORMULA):
        return cell
    return f"'{cell}"


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[str]], *, bom: bool = False) -> str:
    """Write rows under their heads; `bom` puts the byte order mark of UTF-8 in front."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([neutral(head) for head in heads])
    writer.writerows([neutral(cell) for cell in row] for row in rows)
    return (BOM if bom else "") + out.getvalue()
