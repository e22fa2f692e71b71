"""Contrast of every pair in use, the type scale, zoom.

Limits: WCAG 2.2, success criteria 1.4.3 (text 4.5 : 1), 1.4.6 (7 : 1) and 1.4.11 (marks 3 : 1); the formula is that of
the same recommendation, its reference values from memory.
"""

import pytest
from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QFontInfo, QPalette
from PySide6.QtWidgets import QApplication, QCheckBox, QPushButton, QStyle, QStyleOptionButton, QWidget

from findsdesk.ui.colours import CHART, MARK_PAIRS, PALETTES, SHADE, SUN, TEXT_PAIRS, contrast
from findsdesk.ui.theme import FAMILY, Theme, Type, load_fonts


def test_the_formula_agrees_with_known_ratios():
    # Black on white is 21 : 1 by definition; #767676 is the lightest grey of 4.5 : 1 on white (4.54), from memory.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)
    assert contrast("#0072B2", "#FFFFFF") == pytest.approx(5.19, abs=0.005)


@pytest.mark.parametrize(("ink", "ground"), TEXT_PAIRS)
@pytest.mark.parametrize("name", PALETTES)
def test_text_can_be_read(name, ink, ground):
    palette = PALETTES[name]
    least = 7.0 if name == "sun" else 4.5
    assert contrast(getattr(palette, ink), getattr(palette, ground)) >= least


@pytest.mark.parametrize(("mark", "ground"), MARK_PAIRS)
@pytest.mark.parametrize("name", PALETTES)
def test_marks_can_be_seen(name, mark, ground):
    palette = PALETTES[name]
    assert contrast(getattr(palette, mark), getattr(palette, ground)) >= 3.0


def test_sun_is_black_white_and_one_yellow():
    assert {getattr(SUN, role) for role in SUN._fields} == {"#000000", "#FFFFFF", "#FFE600"}


def test_the_colours_are_those_of_the_sketches():
    assert (SHADE.ground, SHADE.ink, SHADE.clay, SHADE.edge) == ("#F5EFE3", "#1F2A44", "#A23E1B", "#85765C")
    assert len(set(CHART)) == 7


def test_the_bundled_fonts_load(theme):
    assert FAMILY in load_fonts()
    assert QFontInfo(theme.font()).family() == FAMILY
    assert QFontInfo(theme.font(mono=True)).family() == "DejaVu Sans Mono"


def test_zoom_scales_type_and_lengths_and_is_held(theme):
    plain = theme.font(Type.NUMBER).pixelSize()
    theme.zoom_to(200)
    assert theme.font(Type.NUMBER).pixelSize() == 2 * plain == 152
    assert theme.px(318) == 636
    theme.zoom_to(900)
    assert theme.zoom == 250
    theme.zoom_by(-40)
    assert theme.zoom == 100


def test_a_theme_change_reaches_the_application_and_is_told(theme, qtbot):
    with qtbot.waitSignal(theme.changed):
        theme.use("sun")
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    assert application.palette().color(QPalette.ColorRole.Window).name().upper() == SUN.ground
    assert SUN.act_fill in application.styleSheet()
    assert SHADE.clay not in application.styleSheet()


class _Dressings(QObject):
    """Counts how often a widget is dressed in a style."""

    count = 0

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        self.count += event.type() == QEvent.Type.StyleChange
        return False


def test_another_look_dresses_a_widget_no_more_often_the_deeper_it_lies(theme, qtbot):
    theme.apply()
    outermost = QWidget()
    qtbot.addWidget(outermost)
    innermost = outermost
    for _deeper in range(8):
        innermost = QPushButton(innermost)
    with qtbot.waitExposed(outermost):
        outermost.show()
    dressings = _Dressings()
    innermost.installEventFilter(dressings)
    theme.use("sun")
    assert 1 <= dressings.count <= 2
    assert innermost.palette().color(QPalette.ColorRole.ButtonText).name().upper() == SUN.ink


def test_yard_targets_are_fifteen_millimetres(theme):
    screen = QApplication.primaryScreen()
    assert theme.target() * 25.4 / screen.physicalDotsPerInch() >= 14.9
    stated = theme.mm(100)
    theme.correct_millimetres(1.5)
    assert theme.mm(100) == pytest.approx(1.5 * stated, abs=1)
    theme.correct_millimetres(1.0)
    assert isinstance(theme, Theme)


@pytest.mark.parametrize("zoom", [100, 200])
@pytest.mark.parametrize("name", PALETTES)
def test_a_checked_box_shows_its_tick_in_both_themes(theme, qtbot, name, zoom):
    theme.use(name)
    theme.zoom_to(zoom)
    box = QCheckBox()
    qtbot.addWidget(box)
    box.setChecked(True)
    box.resize(box.sizeHint())
    picture = box.grab().toImage()
    option = QStyleOptionButton()
    box.initStyleOption(option)
    area = box.style().subElementRect(QStyle.SubElement.SE_CheckBoxIndicator, option, box)
    inner = area.adjusted(4, 4, -4, -4)
    seen = {
        contrast(picture.pixelColor(x, y).name(), PALETTES[name].ink) > 7
        for x in range(inner.left(), inner.right())
        for y in range(inner.top(), inner.bottom())
    }
    assert seen == {True, False}
