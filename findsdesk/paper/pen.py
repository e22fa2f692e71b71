"""The pen: one PDF file being written, in millimetres from the left and top edge of the page.

It holds the few places where the PDF writer's inner parts are touched (tests/paper/test_pen.py guards them), and what
every file of ours says of itself: title, language, moment, print at actual size. Same input, same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from itertools import groupby
from typing import Literal

from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFZCompress
from reportlab.pdfgen.canvas import Canvas

from findsdesk.paper import fonts
from findsdesk.paper.dots import COMMON_DPI, dot_of
from findsdesk.paper.shaping import RIGHT_TO_LEFT_LANGUAGES, Piece, is_plain, shape, width_mm

POINTS = 72 / 25.4
INK = "0"
MOST_KNOWN = 20_000  # texts whose letters are kept from page to page
Align = Literal["left", "middle", "right"]
_OTHER_SIDE: dict[Align, Align] = {"left": "right", "middle": "middle", "right": "left"}


@dataclass(frozen=True, slots=True)
class About:
    """What a file says of itself. ``moment`` has a time zone; nothing here asks the clock."""

    title: str
    language: str
    moment: datetime
    author: str = "FindsDesk"


class Pen:
    """Writes one PDF file; sizes of letters in points, all else in millimetres.

    ``mirrored`` pages are those of a language that reads from the right: what is given from the left edge stands as far
    from the right one, and what is to begin at the left begins at the right. Letters and pictures are not turned round.
    """

    def __init__(
        self, page_width: float, page_height: float, about: About, dpi: int = COMMON_DPI, *, mirrored: bool = False
    ) -> None:
        """Begin a file with pages of one size, for a printer of so many dots an inch."""
        self.dot, self.mirrored, self._width = dot_of(dpi), mirrored, page_width
        fonts.register()
        self._height = page_height
        self._marks, self._deepest = 0, -1
        self._known: dict[tuple[str, str], list[tuple[str, str]] | str] = {}
        self._right_to_left = reads_from_right(about.language)
        self._canvas = Canvas(
            BytesIO(),
            pagesize=(page_width * POINTS, page_height * POINTS),
            invariant=1,
            pageCompression=1,
            initialFontName=fonts.PLAIN,
            lang=about.language,
        )
        self._canvas.setTitle(about.title)
        self._canvas.setAuthor(about.author)
        self._canvas.setCreator("FindsDesk")
        self._canvas.setSubject("")
        self._canvas.setViewerPreference("PrintScaling", "None")
        stamp = _pdf_date(about.moment)
        self._canvas.setDateFormatter(lambda *_fields: stamp)

    def text(self, left: float, base: float, text: str, font: str, size: float, align: Align = "left") -> None:
        """Write a text with its base line ``base`` mm below the page's top. Refuses letters the fonts have not."""
        if self.mirrored:
            left, align = self._width - left, _OTHER_SIDE[align]
        if align != "left":
            left -= width_mm(text, font, size) * (1.0 if align == "right" else 0.5)
        x, y = left * POINTS, (self._height - base) * POINTS
        letters = self._letters(text, font)
        if isinstance(letters, str):
            self._canvas._code.append(f"BT {size:.2f} 0 0 {size:.2f} {x:.3f} {y:.3f} Tm {letters} ET")
            return
        shown = "\n".join([f"{name} {size:.2f} Tf ({part}) Tj" for name, part in letters])
        self._canvas._code.append(f"BT 1 0 0 1 {x:.3f} {y:.3f} Tm {shown} ET")

    def words(self, left: float, base: float, fitted: tuple[str, float, str], align: Align = "left") -> None:
        """Write words that were fitted: face, size and text."""
        font, size, text = fitted
        self.text(left, base, text, font, size, align)

    def _letters(self, text: str, font: str) -> list[tuple[str, str]] | str:
        """Return a text as the file's own letters, escaped: parts of the font, or the operators of a shaped text."""
        known = self._known.get((text, font))
        if known is None:
            known = self._split(text, font) if is_plain(text, font) else self._shaped(text, font)
            self._known[text, font] = known
        return known

    def _split(self, text: str, font: str) -> list[tuple[str, str]]:
        face, document = pdfmetrics.getFont(font), self._canvas._doc
        return [
            (face.getSubsetInternalName(part, document), self._canvas._escape(letters))
            for part, letters in face.splitString(text, document)
        ]

    def _shaped(self, text: str, font: str) -> str:
        """Return the operators of a shaped text at size 1."""
        parts: list[str] = []
        says = False
        for piece in shape(text, font, self._right_to_left).pieces:
            if says and piece.says != "":
                parts.append("EMC")
                says = False
            if piece.says:
                parts.append(f"/Span <</ActualText {_pdf_text(piece.says)}>> BDC")
                says = True
            parts += self._set(piece)
        return "\n".join([*parts, "EMC"] if says else parts)

    def _set(self, piece: Piece) -> Iterator[str]:
        split = [(move, *self._split(letter, piece.font)[0]) for move, letter in piece.letters]
        for name, part in groupby(split, key=lambda one: one[1]):
            line = "".join([f"{-move or ''}({letter})" for move, _name, letter in part])
            yield f"{name} 1 Tf {piece.rise / 1000:.3f} Ts [{line}] TJ"

    def rule(self, left: float, top: float, right: float, bottom: float, thick: float = 0.2, grey: float = 0.0) -> None:
        """Draw a straight line; ``thick`` in millimetres, ``grey`` from 0 (black) to 1."""
        if self.mirrored:
            left, right = self._width - left, self._width - right
        x1, y1 = left * POINTS, (self._height - top) * POINTS
        x2, y2 = right * POINTS, (self._height - bottom) * POINTS
        ops = f"q {grey:.2f} G {thick * POINTS:.3f} w {x1:.3f} {y1:.3f} m {x2:.3f} {y2:.3f} l S Q"
        self._canvas._code.append(ops)

    def box(self, left: float, top: float, width: float, height: float, thick: float = 0.2, grey: float = 0.0) -> None:
        """Draw the outline of a rectangle."""
        x, y = self._from_left(left, width) * POINTS, (self._height - top - height) * POINTS
        size = f"{width * POINTS:.3f} {height * POINTS:.3f}"
        self._canvas._code.append(f"q {grey:.2f} G {thick * POINTS:.3f} w {x:.3f} {y:.3f} {size} re S Q")

    def fill(self, left: float, top: float, width: float, height: float, colour: tuple[float, float, float]) -> None:
        """Fill a rectangle with a colour (red, green, blue from 0 to 1)."""
        x, y = self._from_left(left, width) * POINTS, (self._height - top - height) * POINTS
        rgb = " ".join(f"{part:.3f}" for part in colour)
        size = f"{width * POINTS:.3f} {height * POINTS:.3f}"
        self._canvas._code.append(f"q {rgb} rg {x:.3f} {y:.3f} {size} re f Q")

    def _from_left(self, left: float, width: float) -> float:
        """Return where what is ``width`` mm wide begins, from the left edge of the page as it is printed."""
        return self._width - left - width if self.mirrored else left

    def circle(self, middle: float, down: float, radius: float, thick: float = 0.2, grey: float = 0.0) -> None:
        """Draw a circle around a point ``middle`` mm from the left and ``down`` mm from the top."""
        middle = self._from_left(middle, 0.0)
        self._canvas.saveState()
        self._canvas.setStrokeGray(grey)
        self._canvas.setLineWidth(thick * POINTS)
        self._canvas.circle(middle * POINTS, (self._height - down) * POINTS, radius * POINTS)
        self._canvas.restoreState()

    def draw_operators(self, operators: str, left: float, bottom: float, across: float, up: float) -> None:
        """Fill rectangles given in units of ``across`` by ``up`` mm from a lower left corner, as one string."""
        x, y = left * POINTS, (self._height - bottom) * POINTS
        matrix = f"{across * POINTS:.5f} 0 0 {up * POINTS:.5f} {x:.4f} {y:.4f} cm"
        self._canvas._code.append(f"q {INK} g {matrix}\n{operators}\nf Q")

    def picture(self, left: float, top: float, width: float, height: float, png: bytes) -> None:
        """Place a picture (PNG) with its upper left corner at a point."""
        x, y = self._from_left(left, width) * POINTS, (self._height - top - height) * POINTS
        self._canvas.drawImage(ImageReader(BytesIO(png)), x, y, width * POINTS, height * POINTS)

    def outline(self, title: str, top: float, level: int = 0) -> None:
        """Enter a place of this page in the file's outline; ``level`` 1 lies under the last entry of level 0."""
        self._marks += 1
        key = _place(self._marks)
        self._deepest = min(level, self._deepest + 1)
        self._canvas.bookmarkHorizontal(key, 0, (self._height - top) * POINTS)
        self._canvas.addOutlineEntry(title, key, self._deepest)

    def lead_to(self, number: int, left: float, top: float, width: float, height: float) -> None:
        """Let a rectangle of this page lead to the entry of the outline with this number, the first being 1."""
        x, y = self._from_left(left, width) * POINTS, (self._height - top - height) * POINTS
        self._canvas.linkRect("", _place(number), (x, y, x + width * POINTS, y + height * POINTS), thickness=0)

    def next_page(self) -> None:
        """End this page; what is drawn next stands on a new one."""
        self._end_page()

    def _end_page(self) -> None:
        """End a page and keep it compressed: the writer would keep all pages as they are until the file is written."""
        self._canvas.showPage()
        page = self._canvas._doc.Pages.pages[-1]
        packed = PDFDictionary({"Filter": PDFArray([PDFName(PDFZCompress.pdfname)])})
        page.Contents = PDFStream(packed, PDFZCompress.encode(page.stream))
        page.stream = None
        if len(self._known) > MOST_KNOWN:
            self._known.clear()

    def finish(self) -> bytes:
        """End the page and the file, and return the file."""
        self._end_page()
        pdf: bytes = self._canvas.getpdfdata()
        return pdf


def reads_from_right(language: str) -> bool:
    """Tell whether a language is written from right to left."""
    return language.split("-")[0] in RIGHT_TO_LEFT_LANGUAGES


def _place(number: int) -> str:
    return f"place{number}"


def _pdf_text(text: str) -> str:
    return f"<FEFF{text.encode('utf-16-be').hex().upper()}>"


def _pdf_date(moment: datetime) -> str:
    """Return a moment as PDF writes it (ISO 32000-1, 7.9.4, from memory): D:20260714173248+03'00'."""
    if moment.tzinfo is None:
        raise ValueError("a moment on paper needs its time zone")
    zone = moment.strftime("%z")
    return f"D:{moment:%Y%m%d%H%M%S}{zone[:3]}'{zone[3:5]}'"
