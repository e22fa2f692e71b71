"""What stands beside the sorting table while somebody reads aloud: dates, what looks late, the reading by one key."""

from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel

from findsdesk.desk.desk import Desk
from findsdesk.desk.reading_rows import readings_of_container
from findsdesk.desk.readings import read_container
from findsdesk.desk.sherd_groups import add_group, change_group
from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.figures.page import FiguresBench
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.profile_chart import Chart, ChartBar, ChartLine, ProfileChart
from findsdesk.words import N_
from tests.desk.at_the_table import dry_container
from tests.ui.at_the_sorting_table import (  # noqa: F401
    ENTER,
    PAGE_DOWN,
    Table,
    after_what_waits,
    desk,
    in_short,
    keep_and_discard,
    table,
)
from tests.ui.at_work import fits, go_to
from tests.yard import put_container, put_settled, sitting

F11 = Qt.Key.Key_F11
ESCAPE, DOWN = Qt.Key.Key_Escape, Qt.Key.Key_Down


def on_table(table: Table, desk: Desk) -> str:
    """Put bucket 131 on the table with most of its sherds written; returns its code."""
    code = dry_container(desk, 131, 132)
    for ware, part, pieces in (("QRS", "rim", 11), ("QRS", "body", 54), ("MBU", "body", 57), ("TGY", "handle", 2)):
        add_group(desk, code, ware=ware, part=part, pieces=pieces)
    table.settle_down()
    table.scan(code)
    return code


def test_the_profile_grows_with_each_row_and_says_what_gives_the_terminus(table: Table, desk: Desk) -> None:
    code = on_table(table, desk)
    beside = table.bench.beside_work.part
    assert beside.isVisible()
    assert beside.heading.text() == "Context 2017: 124 sherds dated"
    assert beside.dates.text().startswith("TPQ 250, by 2 of TGY")
    assert beside.heading.toolTip().startswith("Unit: sherds\n")
    terminus, mean = beside.dates.toolTip().split("\n\n")
    assert terminus.startswith("Terminus post quem\nUnit: year\nthe latest of the years")
    assert "Macmillan 1983" in mean
    before = sum(bar.share for bar in beside.chart.chart.bars)
    add_group(desk, code, ware="CSJ", part="body", pieces=3)
    table.qtbot.waitUntil(lambda: beside.dates.text().startswith("TPQ 330, by 3 of CSJ"))
    assert sum(bar.share for bar in beside.chart.chart.bars) == pytest.approx(before + 3)


def test_green_glaze_in_a_sealed_context_is_marked_and_said(table: Table, desk: Desk) -> None:
    code = on_table(table, desk)
    beside = table.bench.beside_work.part
    assert not beside.late.isVisible()
    add_group(desk, code, ware="GGL", part="body", pieces=2)
    table.qtbot.waitUntil(beside.late.isVisible)
    assert beside.late.accessibleName().startswith("Caution: 2 of GGL look late.")
    assert beside.dates.text().startswith("TPQ 250")
    model = table.bench.table.rows.table
    late = [model.row(place) for place in range(model.rowCount()) if model.row(place).late]
    assert [row.cells[0].text for row in late] == ["GGL"]
    assert late[0].cells[-1].text == "looks late"


def test_a_bar_opens_the_rows_behind_it_and_escape_the_figures_of_the_context(table: Table, desk: Desk) -> None:
    on_table(table, desk)
    chart = table.bench.beside_work.part.chart
    table.qtbot.waitUntil(lambda: bool(chart.chart.bars))
    chart.setFocus()
    for key in (Qt.Key.Key_Right, ENTER):
        QTest.keyClick(chart, key)
    figures = figures_open(table)
    assert figures.behind.title.text() == "Context 2017, Can be of 50 to 100"
    assert [str(figures.behind.model.index(0, 3).data())] == ["MBU"]
    QTest.keyClick(figures.behind.table, ESCAPE)
    table.settle_down()
    assert figures.going_on() == "Context 2017"


def test_a_click_on_a_bar_does_the_same(table: Table, desk: Desk) -> None:
    on_table(table, desk)
    chart = table.bench.beside_work.part.chart
    table.qtbot.waitUntil(lambda: bool(chart.chart.bars))
    last = chart._spans()[-1].center().toPoint()
    table.qtbot.mouseClick(chart, Qt.MouseButton.LeftButton, pos=last)
    assert figures_open(table).behind.title.text() == "Context 2017, Can be of 550 to 600"


def figures_open(table: Table) -> FiguresBench:
    """Return the bench of figures once it shows the rows that were asked for."""
    table.qtbot.waitUntil(lambda: isinstance(table.program.window.bench_open(), FiguresBench))
    shown = table.program.window.bench_open()
    assert isinstance(shown, FiguresBench)
    table.qtbot.waitUntil(shown.behind.isVisible)
    table.settle_down()
    return shown


def test_what_nobody_can_date_is_listed(table: Table, desk: Desk) -> None:
    code = on_table(table, desk)
    add_group(desk, code, ware="", part="body", pieces=4)
    beside = table.bench.beside_work.part
    table.qtbot.waitUntil(lambda: beside.undated.text() == "Not dated: 4 without a ware.")
    assert beside.heading.text() == "Context 2017: 124 sherds dated, 4 not"


def test_one_key_opens_the_reading_and_escape_goes_back_to_the_rows(table: Table, desk: Desk) -> None:
    code = on_table(table, desk)
    table.type("q")
    table.bench.refuse(Refusal("rows_wait", N_("Not all rows are written yet.")))
    table.row(F11)
    reading = table.bench.beside_work.reading
    assert reading.isVisible()
    assert table.slip() == "", "what was refused of the rows is no word on the reading"
    assert reading.card.heading.text() == "Bucket 131"
    table.row("Harbour III", ENTER, "ii", ENTER, ENTER, ENTER, "floor fill", ENTER, ENTER)
    (made,) = readings_of_container(desk, code)
    said = made.periods
    assert (said.main and said.main.code, said.earlier and said.earlier.code, made.line) == ("III", "II", "floor fill")
    assert not table.stored(code).groups[4:], "nothing half typed was written"
    table.bench.refuse(Refusal("reading_period", N_("The main period is not on the list.")))
    table.row(ESCAPE)
    assert table.bench.table.isVisible()
    assert not reading.isVisible()
    assert table.slip() == "", "what was refused there is no word on the rows"


def test_what_is_settled_says_that_nobody_read_it_or_that_a_reading_is_half_typed(table: Table, desk: Desk) -> None:
    code = put_settled(desk, 131)
    table.settle_down()
    table.scan(code)
    words = table.bench.words
    assert words.words.lines[-1] == ("", "Nobody has read it yet.")
    fits(table.qtbot, table.bench)
    QTest.keyClick(words.reading, Qt.Key.Key_Space)
    table.settle_down()
    reading = table.bench.beside_work.reading
    assert reading.isVisible()
    table.row("Harbour III", ESCAPE)
    assert words.isVisible()
    assert words.words.lines[-1] == ("", "Your reading of it is half typed and not written. F11 goes on with it.")
    table.row(F11, ENTER, ENTER, ENTER, ENTER, "floor fill", ENTER, ENTER)
    (made,) = readings_of_container(desk, code)
    assert made.periods.main is not None
    assert (made.periods.main.code, made.line) == ("III", "floor fill")
    table.row(ESCAPE)
    table.qtbot.waitUntil(lambda: not any("read" in rest for _bold, rest in words.words.lines))
    assert words.reading.isVisible()


def test_another_container_in_hand_closes_the_reading_and_shows_its_own_dates(table: Table, desk: Desk) -> None:
    on_table(table, desk)
    other = dry_container(desk, 12, 30, deposit="2003")
    table.row(F11)
    table.scan(other)
    assert not table.bench.beside_work.reading.isVisible()
    beside = table.bench.beside_work.part
    assert beside.heading.text() == "Context 2003: 0 sherds dated"
    assert beside.chart.accessibleDescription() == "The dates of what is read stand here, and grow with each row."


def test_other_benches_have_nothing_of_the_table_in_the_dossier(table: Table, desk: Desk) -> None:
    on_table(table, desk)
    part = table.bench.beside_work.part
    assert table.program.window.dossier.isAncestorOf(part)
    table.program.window.open_bench("day")
    table.settle_down()
    assert not part.isVisible()
    table.program.window.open_bench("sorting")
    table.settle_down()
    assert part.isVisible()


def test_nothing_in_hand_has_no_dates(table: Table, desk: Desk) -> None:
    put_container(desk, 131)
    table.settle_down()
    assert table.bench.beside_work.part.chart.chart.bars == ()


def test_a_reading_has_room_on_a_small_screen(qtbot: Any, table: Table, desk: Desk) -> None:
    on_table(table, desk)
    table.row(F11)
    table.program.window.resize(910, 460)
    fits(qtbot, table.bench)


# --- the chart alone ----------------------------------------------------------------------------------------------

CHART = Chart(
    (ChartBar(0, 50, 1.0), ChartBar(50, 100, 3.0), ChartBar(100, 150, 2.0, 2.0)),
    (ChartLine(60, "TPQ 60"), ChartLine(80.5, "mean 81", dashed=True)),
    "sherds",
)


def test_a_chart_is_walked_and_opened_by_keyboard_and_by_mouse(qtbot: Any, theme: Theme) -> None:
    chart = ProfileChart(theme)
    qtbot.addWidget(chart)
    chart.resize(300, 150)
    chart.show_chart(CHART)
    opened_spans: list[tuple[int, int]] = []
    chart.opened.connect(lambda begin, until: opened_spans.append((begin, until)))
    chart.show()
    chart.setFocus()
    assert chart.accessibleDescription() == "TPQ 60; mean 81; 50 – 100: 3.0 sherds"
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Right):
        QTest.keyClick(chart, key)
    assert chart.accessibleDescription() == "100 – 150: 2.0 sherds, 2.0 of it late"
    QTest.keyClick(chart, Qt.Key.Key_Left)
    QTest.keyClick(chart, ENTER)
    QTest.mouseClick(chart, Qt.MouseButton.LeftButton, pos=chart.rect().topLeft() + chart.rect().center() / 6)
    assert opened_spans == [(50, 100), (0, 50)]


@pytest.mark.parametrize("look", ["shade", "sun"])
def test_a_chart_is_painted_in_both_looks(qtbot: Any, theme: Theme, look: str) -> None:
    theme.use(look)
    chart = ProfileChart(theme)
    qtbot.addWidget(chart)
    chart.resize(300, 150)
    chart.show_chart(CHART)
    picture = chart.grab().toImage()
    colours = {picture.pixelColor(x, y).name() for x in range(0, 300, 3) for y in range(0, 150, 3)}
    assert ("#0072b2" in colours) == (look == "shade")
    assert ("#000000" in colours) == (look == "sun")


def test_what_looks_late_is_proposed_to_be_held_not_discarded(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = on_table(table, desk)
    assert table.bench.state.late_from is not None
    table.row("q", ENTER, "b", ENTER, "3", ENTER, ENTER, ENTER)
    table.type("ggl", ENTER, "b", ENTER, "2")
    assert "looks late here" in table.bench.table.below.text
    table.row(ENTER, ENTER, ENTER)
    assert in_short(table.stored(code).groups)[-2:] == [
        "QRS body 3, discard (no diagnostic value)",
        "GGL body 2, hold (looks late)",
    ]
    # Put right, what was proposed follows: held where it looks late, and let go where it does not.
    for row, ware in ((-2, "ggl"), (-1, "qrs")):
        table.bench.rows.take_up(table.bench.state.lines.lines[row], "ware")
        table.row(ware, PAGE_DOWN)
    assert in_short(table.stored(code).groups)[-2:] == [
        "GGL body 3, hold (looks late)",
        "QRS body 2, discard (no diagnostic value)",
    ]
    assert table.bench.table.big.text() == "QRS body, 2, discard, was hold"
    assert table.bench.table.doubts.isHidden()


def test_what_is_to_be_discarded_and_looks_late_by_now_is_told_before_it_is_settled(table: Table, desk: Desk) -> None:
    keep_and_discard(desk)
    code = dry_container(desk, 131, 40)
    add_group(desk, code, ware="GGL", part="body", pieces=2)
    table.scan(code)
    doubts = table.bench.table.doubts
    assert doubts.isHidden(), "nothing else is dated yet"
    add_group(desk, code, ware="QRS", part="rim", pieces=38)
    table.qtbot.waitUntil(lambda: doubts.text() == "2 to discard look late here")
    row = table.stored(code).groups[0]
    change_group(desk, row.id, seen=row.version, decision=Decision.HOLD, reason="looks late")
    table.qtbot.waitUntil(doubts.isHidden)


def test_what_was_held_as_late_does_not_give_the_terminus_without_a_word(table: Table, desk: Desk) -> None:
    """Seven sherds dated, then two late ones: more than a tenth, so that they end the bulk and none looks late."""
    keep_and_discard(desk)
    code = dry_container(desk, 131, 132)
    add_group(desk, code, ware="CSJ", part="rim", pieces=7)
    table.scan(code)
    dates = table.bench.beside_work.part.dates
    table.row("ggl", ENTER, "b", ENTER, "2", ENTER, ENTER, ENTER)
    assert in_short(table.stored(code).groups)[-1] == "GGL body 2, hold (looks late)"
    assert dates.text().startswith("TPQ 900, by 2 of GGL, held as looking late, mean date")
    add_group(desk, code, ware="GGL", part="rim", pieces=1)
    table.qtbot.waitUntil(lambda: dates.text().startswith("TPQ 900, by 3 of GGL, 2 of them held as looking late"))
    add_group(desk, code, ware="CSJ", part="rim", pieces=40)
    table.qtbot.waitUntil(lambda: dates.text().startswith("TPQ 330, by 47 of CSJ, mean date"))


def test_look_again_on_the_day_page_leads_to_where_it_is_answered(table: Table, desk: Desk) -> None:
    code = on_table(table, desk)
    read_container(sitting(desk, "Ilo"), "131", main="II", look_again="two Green Glaze")
    day = go_to(table.qtbot, table.program, "day")
    table.settle_down()
    (row,) = [line.row for line in day.needs.lines if "look again" in line.row.text]
    day._go(row)
    table.settle_down()
    after_what_waits(table)
    figures = table.program.window.benches["figures"]
    assert isinstance(figures, FiguresBench)
    assert figures.reading.isVisible()
    assert figures.reading.answers[0].hasFocus()
    assert "What was seen" in [label.text() for label in figures.reading.findChildren(QLabel)]
    table.row("a root hole", ENTER)
    assert readings_of_container(desk, code)[0].looked_again_says == "a root hole"
    assert figures.reading.form.entries["main"].widget.hasFocus(), "the keyboard stays where somebody reads"
