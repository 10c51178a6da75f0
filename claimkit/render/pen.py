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


@dataclass(frozen=True, slots=True)
class Tag:
    """A marked part of a page: its role, its number on the page, its alternate description.

    `page` from 0. `joins` where it goes on with the tag before it.
    """

    page: int
    role: str
    number: int
    alt: str = ""
    joins: bool = False


@dataclass(slots=True)
class Gathered:
    """What the pages of one document say of its structure, kept until all are drawn.

    `links` are (page, area, place), `places` the page and height that a place names, `tags` the
    marked parts in reading order. Pages from 0.
    """

    links: list[tuple[int, tuple[float, float, float, float], str]] = field(default_factory=list)
    places: dict[str, tuple[int, float]] = field(default_factory=dict)
    tags: list[Tag] = field(default_factory=list)


@dataclass(slots=True)
class Pen:
    """A canvas in use. `pages` tells the page of each section, once known.

    With `gathered`, links, places and roles are kept there, `page` being the page in work; without
    it links and places are drawn on the canvas itself and roles are left out.
    """

    canvas: Any
    pages: Mapping[str, int] = field(default_factory=dict)
    coded: bool = False  # the page in work printed a character as its code
    marked: set[str] = field(default_factory=set)
    linked: set[str] = field(default_factory=set)
    gathered: Gathered | None = None
    page: int = 0
    _count: int = 0  # marked parts of the page in work
    _open: tuple[int, str, bool] | None = None  # where the open part began, its role, joins
    _wrote: bool = False

    def begin_page(self, number: int) -> None:
        """Start a page, numbered from 0."""
        self.page, self.coded, self._count = number, False, 0

    def line(self, line: Line, x: float, baseline: float) -> None:
        """Write one set line with its links."""
        for piece in line.pieces:
            font(piece.font)
            look = piece.look
            self.canvas.setFillColorRGB(*look.ink)
            self.canvas.setFont(piece.font, look.size)
            self.canvas.drawString(x + piece.x, baseline, piece.text)
            self.coded = self.coded or has_code(piece.text)
            self._wrote = self._wrote or bool(piece.text.strip())
            if look.link:
                low, high = baseline - look.size * 0.25, baseline + look.size * 0.8
                self.link(look.link, x + piece.x, low, x + piece.x + piece.width, high)

    def link(self, place: str, left: float, low: float, right: float, high: float) -> None:
        """Lead from an area of the page to a place."""
        self.linked.add(place)
        if self.gathered is not None:
            self.gathered.links.append((self.page, (left, low, right, high), place))
            return
        self.canvas.linkRect("", place, (left, low, right, high), relative=0, Border="[0 0 0]", F=4)

    def mark(self, place: str, y: float) -> None:
        """Name a place of the page, the first time it is met; links show it with `y` at the top."""
        if place not in self.marked:
            self.marked.add(place)
            if self.gathered is not None:
                self.gathered.places[place] = (self.page, y)
                return
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
    def tagged(self, role: str, *, joins: bool = False) -> Iterator[None]:
        """Make what is drawn inside one part of the page's structure (ISO 32000-1, 14.8).

        What writes no text inside is decoration, which a screen reader passes over.
        """
        self._begin(role, joins)
        try:
            yield
        finally:
            self._end()

    @contextmanager
    def decoration(self) -> Iterator[None]:
        """Let a screen reader pass over what is drawn inside, such as a running head."""
        self.canvas._code.append("/Artifact <</Type /Pagination>> BDC")
        try:
            yield
        finally:
            self.canvas._code.append("EMC")

    @contextmanager
    def described(self, text: str) -> Iterator[None]:
        """Give what is drawn inside an alternate description (ISO 32000-1, 14.9.3).

        Within a tagged part it is a figure of its own.
        """
        within = self._open
        if self.gathered is None or within is None:
            coded = (b"\xfe\xff" + text.encode("utf-16-be", "replace")).hex()
            self.canvas._code.append(f"/Span <</Alt <{coded}>>> BDC")
            try:
                yield
            finally:
                self.canvas._code.append("EMC")
            return
        self._end()
        self.canvas._code.append(f"/Figure <</MCID {self._count}>> BDC")
        self.gathered.tags.append(Tag(self.page, "Figure", self._count, text))
        self._count += 1
        try:
            yield
        finally:
            self.canvas._code.append("EMC")
            self._begin(within[1], joins=False)

    def _begin(self, role: str, joins: bool) -> None:
        self._open = (len(self.canvas._code), role, joins)
        self._wrote = False
        self.canvas._code.append("")

    def _end(self) -> None:
        if self._open is None:
            raise RuntimeError("no part of the page is open")
        at, role, joins = self._open
        self._open = None
        code = self.canvas._code
        if len(code) == at + 1:
            code.pop()  # nothing was drawn
            return
        if self._wrote and self.gathered is not None:
            code[at] = f"/{role} <</MCID {self._count}>> BDC"
            self.gathered.tags.append(Tag(self.page, role, self._count, joins=joins))
            self._count += 1
        else:
            code[at] = "/Artifact BMC"
        code.append("EMC")
