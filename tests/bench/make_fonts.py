"""Cut the fallback fonts that claimkit ships from their whole originals (run by hand, not a test).

    python tests/bench/make_fonts.py DROID_SANS_FALLBACK_FULL.ttf DEJAVU_SANS.ttf OUT_FOLDER

Glyphs without an outline are left out: a font must not claim a character that prints nothing.
"""

from __future__ import annotations

import sys
from pathlib import Path

import font_source_sans_pro
from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.ttLib.scaleUpem import scale_upem

HAN = {
    "claimkit-han-1.ttf": (
        (0x3000, 0x312F), (0x3190, 0x4DBF), (0xF900, 0xFAFF),
        (0xFE30, 0xFE4F), (0xFF01, 0xFF9F), (0xFFE0, 0xFFE6),
    ),
    "claimkit-han-2.ttf": ((0x4E00, 0x6FFF),),
    "claimkit-han-3.ttf": ((0x7000, 0x9FFF),),
}  # fmt: skip
MORE = {
    "claimkit-more.ttf": (
        (0xA0, 0x52F), (0x1D00, 0x1FFF), (0x2000, 0x27FF), (0x2900, 0x2BFF), (0x2C60, 0x2C7F),
        (0x2DE0, 0x2E7F), (0xA640, 0xA69F), (0xA700, 0xA7FF), (0xFB00, 0xFB06),
    ),
}  # fmt: skip
TABLES = ["DSIG", "GSUB", "GPOS", "GDEF", "FFTM", "kern", "MATH"]


def _inked(font: TTFont) -> set[int]:
    glyf = font["glyf"]
    return {code for code, name in font.getBestCmap().items() if glyf[name].numberOfContours != 0}


def _cut(source: Path, target: Path, ranges: tuple[tuple[int, int], ...], but: set[int]) -> None:
    inked = _inked(TTFont(source))
    wanted = {c for first, last in ranges for c in range(first, last + 1)} & inked - but
    options = subset.Options()
    options.layout_features = []
    options.hinting = False
    options.notdef_outline = True
    options.recalc_timestamp = False
    options.drop_tables += TABLES
    font = subset.load_font(source, options)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=wanted)
    cutter.subset(font)
    # ReportLab 5.1.0 writes wrong widths for fonts of one width in other than 1000 units an em.
    scale_upem(font, 1000)
    for record in font["name"].names:
        if record.nameID in (1, 3, 4, 6):  # two fonts of one name would be taken for one
            record.string = target.stem
    subset.save_font(font, target, options)
    print(target.name, target.stat().st_size, "bytes,", len(wanted), "characters")


def main(droid: str, dejavu: str, out: str) -> None:
    base = font_source_sans_pro.font_files_ttf["SourceSansPro"]
    held = set(TTFont(base).getBestCmap())
    for name, ranges in HAN.items():
        _cut(Path(droid), Path(out) / name, ranges, held)
    for name, ranges in MORE.items():
        _cut(Path(dejavu), Path(out) / name, ranges, held)


if __name__ == "__main__":
    main(*sys.argv[1:])
