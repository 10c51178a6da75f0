"""The few strokes that a packet is drawn with, over the PDF library's canvas.

Places that links lead to are marked here, and a page remembers whether it printed characters as
codes. Lengths in points, y upwards from the foot of the page.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from claimkit.render.glyphs import font, has_code
from claimkit.render.style import BLACK, HAIR, Ink
from claimkit.render.text import Line


@dataclass(slots=True)
class Pen:
    """A canvas in use. `pages` tells the page of each section, once known."""

    canvas: Any
    pages: Mapping[str, int] = field(default_factory=dict)
    coded: bool = False  # the page in work printed a character as its code
    marked: set[str] = field(default_factory=set)
    linked: set[str] = field(default_factory=set)

    def line(self, line: Line, x: float, baseline: float) -> None:
        """Write one set line with its links."""
        for piece in line.pieces:
            font(piece.font)
            look = piece.look
            self.canvas.setFillColorRGB(*look.ink)
            self.canvas.setFont(piece.font, look.size)
            self.canvas.drawString(x + piece.x, baseline, piece.text)
            self.coded = self.coded or has_code(piece.text)
            if look.link:
                low, high = baseline - look.size * 0.25, baseline + look.size * 0.8
                self.link(look.link, x + piece.x, low, x + piece.x + piece.width, high)

    def link(self, place: str, left: float, low: float, right: float, high: float) -> None:
        """Lead from an area of the page to a place."""
        self.linked.add(place)
        self.canvas.linkRect("", place, (left, low, right, high), relative=0, Border="[0 0 0]", F=4)

    def mark(self, place: str, y: float) -> None:
        """Name a place of the page, the first time it is met; links show it with `y` at the top."""
        if place not in self.marked:
            self.marked.add(place)
            self.canvas.bookmarkPage(place, fit="XYZ", left=0, top=y, zoom=0)

    def rule(  # noqa: PLR0913 - two points and two properties
        self, x0: float, y0: float, x1: float, y1: float, *, ink: Ink = HAIR, thick: float = 0.5
    ) -> None:
        """Draw a straight line."""
        self.canvas.setStrokeColorRGB(*ink)
        self.canvas.setLineWidth(thick)
        self.canvas.line(x0, y0, x1, y1)

    def fill(self, x: float, y: float, wide: float, high: float, ink: Ink) -> None:
        """Fill a rectangle, x and y its lower left corner."""
        self.canvas.setFillColorRGB(*ink)
        self.canvas.rect(x, y, wide, high, stroke=0, fill=1)

    def frame(  # noqa: PLR0913 - a rectangle and two properties
        self, x: float, y: float, wide: float, high: float, *, ink: Ink = HAIR, thick: float = 0.5
    ) -> None:
        """Draw the outline of a rectangle."""
        self.canvas.setStrokeColorRGB(*ink)
        self.canvas.setLineWidth(thick)
        self.canvas.rect(x, y, wide, high, stroke=1, fill=0)

    def disc(self, x: float, y: float, radius: float, ink: Ink = BLACK) -> None:
        """Fill a circle."""
        self.canvas.setFillColorRGB(*ink)
        self.canvas.circle(x, y, radius, stroke=0, fill=1)

    def shape(self, corners: Sequence[tuple[float, float]], ink: Ink = BLACK) -> None:
        """Fill a polygon."""
        self.canvas.setFillColorRGB(*ink)
        path = self.canvas.beginPath()
        path.moveTo(*corners[0])
        for corner in corners[1:]:
            path.lineTo(*corner)
        path.close()
        self.canvas.drawPath(path, stroke=0, fill=1)

    def picture(self, jpeg: bytes, x: float, y: float, wide: float, high: float) -> None:
        """Place a JPEG, its bytes unchanged; x and y its lower left corner."""
        from reportlab.lib.utils import ImageReader

        reader = ImageReader(io.BytesIO(jpeg))
        # The canvas tells pictures apart by these bytes; without this it decodes every one.
        reader.getRGBData = lambda: jpeg
        reader._dataA = None  # what the replaced method would set: no transparency
        self.canvas.drawImage(reader, x, y, wide, high)

    @contextmanager
    def described(self, text: str) -> Iterator[None]:
        """Give what is drawn inside an alternate description (ISO 32000-1, 14.9.3)."""
        coded = (b"\xfe\xff" + text.encode("utf-16-be", "replace")).hex()
        self.canvas._code.append(f"/Span <</Alt <{coded}>>> BDC")
        try:
            yield
        finally:
            self.canvas._code.append("EMC")
