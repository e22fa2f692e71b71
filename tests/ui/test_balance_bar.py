"""The balance as a bar and the last line in large: no word cut, none in a part that is not its own."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics, QImage

from findsdesk.ui.screens import picture
from findsdesk.ui.theme import Type
from findsdesk.ui.widgets.balance_bar import BalanceBar, BarPart, Fill
from findsdesk.ui.widgets.big_line import BigLine


def test_the_bar_stands_in_proportion_and_no_word_in_another_part(theme, qtbot):
    bar = BalanceBar(theme)
    qtbot.addWidget(bar)
    bar.resize(800, 34)
    bar.show_parts([BarPart(74, "74 read"), BarPart(58, "58 left of 132", Fill.HATCHED)])
    (_read, read), (_left, left) = bar.spans()
    assert read.width() / left.width() == pytest.approx(74 / 58)
    assert bar.texts() == ["74 read", "58 left of 132"]
    assert (bar.below(), bar.sizeHint().height()) == ([], 34)
    one = BarPart(1, "1 read")
    bar.show_parts([one, BarPart(131, "131 left of 132", Fill.HATCHED)])
    assert bar.texts() == ["", "131 left of 132"]
    assert [part for part, _area in bar.below()] == [one]
    assert bar.accessibleName() == "Balance: 1 read, 131 left of 132"
    bar.show_parts([BarPart(0, "none")])
    assert bar.spans() == []


@pytest.mark.parametrize("turned", [False, True])
def test_words_below_the_bar_stand_apart_and_inside_with_the_mark_of_their_part(theme, qtbot, turned):
    bar = BalanceBar(theme)
    qtbot.addWidget(bar)
    if turned:
        bar.setLayoutDirection(Qt.LayoutDirection.RightToLeft)
    narrow = [BarPart(1, f"1 of the fill {fill.value}", fill) for fill in Fill]
    bar.resize(420, 34)
    bar.show_parts([BarPart(900, "900 to keep"), *narrow])
    bar.resize(420, bar.sizeHint().height())
    areas = [area for _part, area in bar.below()]
    assert [part for part, _area in bar.below()] == narrow
    assert len({area.top() for area in areas}) > 1, "they begin new lines"
    assert all(bar.rect().contains(area.toAlignedRect()) for area in areas)
    assert not any(one.intersects(other) for one in areas for other in areas if one is not other)
    image = picture(bar, (420, bar.height()), theme)
    by_fill = {part.fill: area for part, area in bar.below()}
    for fill, role in ((Fill.SOLID, "ink"), (Fill.OVER, "madder")):
        area = by_fill[fill]
        x = area.right() - 12 if turned else area.left() + 12
        assert image.pixelColor(round(x), round(area.center().y())) == theme.colour(role)


@pytest.mark.parametrize("name", ["shade", "sun"])
def test_the_fills_of_the_bar_differ_without_colour(theme, qtbot, name):
    bar = BalanceBar(theme)
    qtbot.addWidget(bar)
    bar.resize(700, 34)
    bar.show_parts([BarPart(1, "", fill) for fill in Fill])
    image = picture(bar, (700, 34), theme, name).convertToFormat(QImage.Format.Format_Grayscale8)
    looks = set()
    for _part, span in bar.spans():
        inner = span.adjusted(4, 4, -4, -4).toRect()
        looks.add(
            tuple(image.pixelColor(inner.left() + x, inner.top() + y).value() for x in range(60) for y in range(24))
        )
    assert len(looks) == len(Fill)


def test_a_line_too_long_is_made_smaller_not_cut(theme, qtbot):
    line = BigLine(theme)
    qtbot.addWidget(line)
    line.show_text("GGL body, 2, glazed, hold")
    wide = picture(line, (900, 44), theme)
    narrow = picture(line, (210, 44), theme)
    ground = theme.colour("ground")
    for image in (wide, narrow):
        last = [image.pixelColor(image.width() - 1, y) for y in range(44)]
        assert all(colour == ground for colour in last), "the last letter ends before the edge"


def test_a_line_much_too_long_is_set_in_two_lines_and_a_quiet_one_small(theme, qtbot):
    line = BigLine(theme)
    qtbot.addWidget(line)
    line.resize(800, 44)
    line.show_text(
        "QRS rim with handle, 12, 340.0 g, rim 62 %, keep — " + "Mika changed it too. Count mine 13, theirs 12. " * 2
    )
    wrapped = QFontMetrics(line.font_of_text()).boundingRect(line.rect(), Qt.TextFlag.TextWordWrap.value, line.text())
    assert line.rect().contains(wrapped)
    assert line.font_of_text().pixelSize() >= 11
    line.show_text("The row said last stands here", quiet=True)
    assert line.font_of_text() == theme.font(Type.SMALL)
