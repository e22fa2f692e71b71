"""The theme: which palette and which zoom are in use, and the fonts, lengths and style sheet that follow from them.

The palette goes to standard widgets by ``QPalette`` and one small style sheet, set before the first window; the widgets
that paint themselves ask the theme for colours, fonts and lengths and repaint when ``changed`` is emitted.
"""

from __future__ import annotations

from enum import Enum
from functools import cache

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QFontMetricsF, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from findsdesk import places
from findsdesk.ui.colours import PALETTES, Colours
from findsdesk.ui.style_sheet import style_sheet

FAMILY = "DejaVu Sans Condensed"
MONO = "DejaVu Sans Mono"
_FILES = ("DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf")
_MONO_FILES = ("DejaVuSansMono.ttf", "DejaVuSansMono-Bold.ttf")
DRESSED = "findsdesk-style"
"""Property of an application that draws in the toolkit's own style already: asking for it again costs 8 ms."""
SMALLEST_ZOOM, LARGEST_ZOOM, ZOOM_STEP = 100, 250, 10
_INCH = 25.4


class Type(Enum):
    """The type scale: (pixels in shade, pixels in sun, bold)."""

    SMALL = (13.0, 13.5, False)
    SMALL_BOLD = (13.0, 13.5, True)
    BASE = (15.0, 16.5, False)
    BOLD = (15.0, 16.5, True)
    LARGE = (16.5, 17.5, False)
    BENCH = (16.0, 16.5, True)
    """The name of a bench on its tag."""
    TITLE = (22.0, 22.0, True)
    TAG = (26.0, 26.0, True)
    """The name on the big tag, and the last line dictated."""
    NUMBER = (76.0, 76.0, True)
    """The number being counted."""
    KEY = (25.0, 25.0, True)
    """Keys of the keypad and the button that writes."""


_SHEET_SIZES = (Type.SMALL, Type.TITLE, Type.LARGE, Type.KEY)


@cache
def load_fonts(files: tuple[str, ...] = _FILES) -> tuple[str, ...]:
    """Load fonts that ship with the program; return the families they brought."""
    families: list[str] = []
    for name in files:
        number = QFontDatabase.addApplicationFont(str(places.resource("fonts", name)))
        families.extend(QFontDatabase.applicationFontFamilies(number))
    return tuple(families)


class Theme(QObject):
    """Palette and zoom in use. One per program, handed to every widget."""

    changed = Signal()

    def __init__(self, name: str = "shade", zoom: int = SMALLEST_ZOOM) -> None:
        super().__init__()
        load_fonts()
        self.name = name
        self.zoom = zoom
        self.correction = 1.0
        """Pixels of a true millimetre on this screen, as a share of what the screen states."""

    @property
    def colours(self) -> Colours:
        """The colours of the palette in use."""
        return PALETTES[self.name]

    @property
    def is_sun(self) -> bool:
        """Whether borders are heavy and nothing is grey."""
        return self.name == "sun"

    def use(self, name: str) -> None:
        """Change to the palette of that name, ``shade`` or ``sun``."""
        if name != self.name and name in PALETTES:
            self.name = name
            self._apply_and_tell()

    def zoom_to(self, zoom: int) -> None:
        """Change the size of everything, in per cent, held between 100 and 250."""
        zoom = max(SMALLEST_ZOOM, min(LARGEST_ZOOM, zoom))
        if zoom != self.zoom:
            self.zoom = zoom
            self._apply_and_tell()

    def zoom_by(self, steps: int) -> None:
        """Change the size of everything by so many steps of 10 per cent."""
        self.zoom_to(self.zoom + steps * ZOOM_STEP)

    def apply(self) -> None:
        """Give palette, font and style sheet to the application; called before the first window, and at each change."""
        app = QApplication.instance()
        if isinstance(app, QApplication):
            if not app.property(DRESSED):
                app.setStyle("Fusion")
                app.setProperty(DRESSED, True)
            app.setPalette(self._palette())
            app.setFont(self.font(Type.BASE))
            # A sheet that replaces another dresses a widget once for each widget it lies in; one that was taken off
            # before, once: 0.7 s for 4 400 widgets in place of 3.3 s.
            app.setStyleSheet("")
            sizes = {kind.name.lower(): self.font(kind).pixelSize() for kind in _SHEET_SIZES}
            sizes["target"] = self.target() - 2 * self.px(6) - 2
            thin = max(1, round(self.border()))
            app.setStyleSheet(style_sheet(self.colours, self.is_sun, self.px, thin, sizes))

    def _apply_and_tell(self) -> None:
        self.apply()
        self.changed.emit()

    def colour(self, role: str) -> QColor:
        """Return the colour of a role of ``Colours``, e.g. ``theme.colour("clay")``."""
        return QColor(getattr(self.colours, role))

    def font(self, kind: Type = Type.BASE, mono: bool = False) -> QFont:
        """Return the font of that place in the type scale, zoom included."""
        if mono:
            load_fonts(_MONO_FILES)
        shade, sun, bold = kind.value
        font = QFont([MONO if mono else FAMILY, "DejaVu Sans"])
        font.setPixelSize(max(1, round((sun if self.is_sun else shade) * self.zoom / 100)))
        font.setBold(bold)
        return font

    def px(self, length: float) -> int:
        """Return a length of the sketch (pixels at 100 per cent) at the zoom in use."""
        return round(length * self.zoom / 100)

    def mm(self, length: float) -> int:
        """Return so many millimetres of this screen in pixels; zoom left out.

        The screen states its size, not always truly: ``correct_millimetres`` puts it right.
        """
        per_inch = QGuiApplication.primaryScreen().physicalDotsPerInch()
        believable = per_inch if 60.0 <= per_inch <= 250.0 else 96.0
        return round(length * believable * self.correction / _INCH)

    def correct_millimetres(self, correction: float) -> None:
        """Make a millimetre so many times what the screen states, e.g. after holding a known width against it."""
        correction = max(0.5, min(2.0, correction))
        if correction != self.correction:
            self.correction = correction
            self._apply_and_tell()

    def target(self) -> int:
        """Return the side of a button for wet or gloved hands: 15 mm, in pixels, and never less than the sketch's."""
        return max(self.mm(15), self.px(54))

    def border(self, weight: float = 1.0) -> float:
        """Return the width of a border; heavier in sun."""
        return weight * (2.0 if self.is_sun else 1.0) * max(1.0, self.zoom / 150)

    def line_height(self, kind: Type = Type.BASE) -> int:
        """Return the height of one line of that type, with a little air."""
        return round(QFontMetricsF(self.font(kind)).height() * 1.2)

    def _palette(self) -> QPalette:
        palette = QPalette()
        roles = QPalette.ColorRole
        for role, name in {
            roles.Window: "ground",
            roles.WindowText: "ink",
            roles.Base: "card",
            roles.AlternateBase: "ground",
            roles.Text: "ink",
            roles.Button: "card",
            roles.ButtonText: "ink",
            roles.BrightText: "madder",
            roles.Highlight: "act_fill",
            roles.HighlightedText: "act_ink",
            roles.Accent: "act_fill",
            roles.Link: "teal",
            roles.LinkVisited: "teal",
            roles.ToolTipBase: "card",
            roles.ToolTipText: "ink",
            roles.PlaceholderText: "muted",
            roles.Light: "card",
            roles.Midlight: "line",
            roles.Mid: "edge",
            roles.Dark: "edge",
            roles.Shadow: "ink",
        }.items():
            palette.setColor(role, self.colour(name))
        for role in (roles.WindowText, roles.Text, roles.ButtonText):
            palette.setColor(QPalette.ColorGroup.Disabled, role, self.colour("muted"))
        return palette
