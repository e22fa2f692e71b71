"""The bench of figures with real widgets on a real store, worked by keyboard."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from python_calamine import CalamineWorkbook

from findsdesk.desk.desk import Desk
from findsdesk.desk.named_readings import answer_looked
from findsdesk.desk.reading_rows import readings_of_container, readings_of_deposit
from findsdesk.desk.readings import read_container
from findsdesk.desk.sherd_figures import FIGURE_IN_WORDS
from findsdesk.desk.sherd_groups import add_group
from findsdesk.desk.type_series import add_form
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.figures.page import FiguresBench
from findsdesk.ui.benches.figures.state import TYPE_KEYS
from findsdesk.ui.program import Program
from tests.desk.at_the_table import dry_container
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import SIZES, nameless, too_small
from tests.yard import new_yard, sitting

KEY = Qt.Key


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    made = new_yard(tmp_path, by="Oren", station="trestle")
    code = dry_container(made, 131, 132)
    add_group(made, code, ware="QRS", part="rim", pieces=40, tenths=8000, rim_permille=2500)
    add_group(made, code, ware="MBU", part="body", pieces=60, tenths=9000)
    add_group(made, code, ware="CSJ", part="body", pieces=3)
    add_group(made, code, ware="GGL", part="body", pieces=2)
    add_group(made, code, ware="", part="body", pieces=1)
    other = dry_container(made, 12, 50, deposit="2003")
    add_group(made, other, ware="MBU", part="body", pieces=50)
    return made


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk, station=desk.station_name) as at_work:
        yield at_work


@pytest.fixture
def bench(qtbot: Any, program: Program) -> FiguresBench:
    program.window.on_scan("131")
    settled(qtbot, program)
    shown = go_to(qtbot, program, "figures")
    assert isinstance(shown, FiguresBench)
    settled(qtbot, program)
    return shown


def press(qtbot: Any, program: Program, *keys: Qt.Key | str) -> None:
    program.filter.uninstall()
    for key in keys:
        widget = QApplication.focusWidget()
        assert widget is not None
        if isinstance(key, str):
            QTest.keyClicks(widget, key)
        else:
            QTest.keyClick(widget, key)
    settled(qtbot, program)


def rows_of(model: Any, column: int = 0) -> list[str]:
    return [str(model.index(row, column).data()) for row in range(model.rowCount())]


def test_what_is_in_hand_is_offered_first_and_what_it_is_from(bench: FiguresBench) -> None:
    offered = [bench.whole.of.itemText(place) for place in range(bench.whole.of.count())]
    assert offered == ["Bucket 131", "Context 2017", "Square A1", "this season", "the whole excavation"]
    assert bench.going_on() == "Bucket 131"


def test_each_figure_says_its_formula_and_opens_to_its_rows(qtbot: Any, program: Program, bench: FiguresBench) -> None:
    card = bench.whole.cards["rim_eve"]
    assert card.accessibleName() == "Rim EVE: 2.50 vessel equivalents"
    assert "Orton, Tyers and Vince 1993" in card.toolTip()
    assert card.accessibleDescription() == card.toolTip()
    for key, shown in bench.whole.cards.items():
        unit, formula = shown.toolTip().splitlines()[:2]
        assert unit.startswith("Unit: "), key
        assert len(formula) > 20, key
    card.setFocus()
    press(qtbot, program, KEY.Key_Return)
    assert bench.behind.isVisible()
    assert bench.behind.title.text() == "Bucket 131, Rim EVE"
    assert bench.behind.counted.text() == "1 row, 40 pieces"
    assert (rows_of(bench.behind.model, 2), rows_of(bench.behind.model, 3)) == (["row, keep"], ["QRS"])
    press(qtbot, program, KEY.Key_Escape)
    assert bench.whole.isVisible()


def test_late_and_undated_sherds_are_said_and_opened(qtbot: Any, program: Program, bench: FiguresBench) -> None:
    assert bench.whole.dates.text() == "Looks late in a sealed context: 2 of GGL. Not dated: 1 without a ware."
    assert bench.whole.cards["late"].marked
    assert bench.whole.cards["terminus"].value == "330"
    bench.whole.cards["undated"].click()
    settled(qtbot, program)
    assert rows_of(bench.behind.model, 3) == ["–"]


def test_the_plot_is_drawn_and_says_its_years(qtbot: Any, bench: FiguresBench) -> None:
    qtbot.waitUntil(bench.whole.plot.has_picture, timeout=60_000)
    assert "Terminus post quem 330" in bench.whole.plot.accessibleDescription()


def test_a_bar_of_the_plot_opens_the_rows_that_can_be_of_its_years(
    qtbot: Any, program: Program, bench: FiguresBench
) -> None:
    plot = bench.whole.plot
    qtbot.waitUntil(plot.has_picture, timeout=60_000)
    plot.setFocus()
    press(qtbot, program, KEY.Key_Right, KEY.Key_Right, KEY.Key_Left, KEY.Key_Return)
    assert bench.behind.title.text() == "Bucket 131, Can be of 50 to 100"
    assert plot.accessibleDescription().startswith("50 – 100: 8.6 sherds; ")
    assert rows_of(bench.behind.model, 3) == ["MBU"]
    press(qtbot, program, KEY.Key_Escape)
    assert bench.whole.isVisible()
    place = next(place for place, bar in enumerate(plot.bars) if bar.begin == 900)
    qtbot.mouseClick(plot, Qt.MouseButton.LeftButton, pos=plot.span(place).center().toPoint())
    settled(qtbot, program)
    assert bench.behind.title.text() == "Bucket 131, Can be of 900 to 950"
    assert rows_of(bench.behind.model, 3) == ["GGL"]


def test_beside_the_plot_a_click_opens_nothing(qtbot: Any, program: Program, bench: FiguresBench) -> None:
    qtbot.waitUntil(bench.whole.plot.has_picture, timeout=60_000)
    qtbot.mouseClick(bench.whole.plot, Qt.MouseButton.LeftButton, pos=QPoint(1, 1))
    settled(qtbot, program)
    assert bench.whole.isVisible()


def test_a_row_left_elsewhere_is_in_the_figures(qtbot: Any, desk: Desk, program: Program, bench: FiguresBench) -> None:
    add_group(desk, "131", ware="QRS", part="rim", pieces=4, rim_permille=100)
    qtbot.waitUntil(lambda: bench.whole.cards["sherds"].value == "110")
    assert bench.whole.cards["rim_eve"].value == "2.60"


def test_every_figure_of_the_tables_says_unit_and_formula_on_its_heading(
    qtbot: Any, program: Program, bench: FiguresBench
) -> None:
    heads = told(bench.whole.model)
    assert heads.pop("Ware") == heads.pop("Name") == heads.pop("Years") == ""
    assert set(heads) == {FIGURE_IN_WORDS[key] for key in TYPE_KEYS}
    assert heads["Rim EVE"].startswith("Unit: vessel equivalents\nsum of the preserved shares of the rim circle")
    assert all(tip.startswith("Unit: ") for tip in heads.values())
    bench.tabs.setFocus()
    press(qtbot, program, KEY.Key_Right)
    assert "Robinson 1951" in told(bench.compare.model)["2017"]


def told(model: Any) -> dict[str, str]:
    """Return what each heading of a table says under the pointer."""
    along = Qt.Orientation.Horizontal
    return {
        str(model.headerData(column, along)): str(model.headerData(column, along, Qt.ItemDataRole.ToolTipRole) or "")
        for column in range(model.columnCount())
    }


def test_wares_are_searched_and_opened(qtbot: Any, program: Program, bench: FiguresBench) -> None:
    assert rows_of(bench.whole.model) == ["CSJ", "GGL", "MBU", "QRS", "none said"]
    bench.whole.search.setFocus()
    press(qtbot, program, "quay", KEY.Key_Down)
    assert rows_of(bench.whole.model) == ["QRS"]
    press(qtbot, program, KEY.Key_Return)
    assert bench.behind.title.text() == "Bucket 131, QRS, Sherds"
    press(qtbot, program, KEY.Key_Return)
    facts = program.window.dossier.facts
    assert facts
    assert facts.title == "Bucket 131"


def test_each_figure_of_a_ware_opens_to_its_own_rows(qtbot: Any, program: Program, bench: FiguresBench) -> None:
    table, wanted = bench.whole.table, 3 + TYPE_KEYS.index("rim_eve")
    bench.whole.search.setFocus()
    press(qtbot, program, "quay", KEY.Key_Down)
    rights = sum(not table.isColumnHidden(column) for column in range(1, wanted + 1))
    press(qtbot, program, *[KEY.Key_Right] * rights, KEY.Key_Return)
    assert bench.behind.title.text() == "Bucket 131, QRS, Rim EVE"
    assert bench.behind.counted.text() == "1 row, 40 pieces"
    press(qtbot, program, KEY.Key_Escape)
    place = bench.whole.model.index(0, 3 + TYPE_KEYS.index("base_eve"))
    table.setCurrentIndex(place)
    table.doubleClicked.emit(place)
    settled(qtbot, program)
    assert bench.behind.title.text() == "Bucket 131, QRS, Base EVE"
    assert bench.behind.counted.text() == "0 rows, 0 pieces"


def test_another_thing_is_chosen_with_the_keyboard(qtbot: Any, program: Program, bench: FiguresBench) -> None:
    bench.whole.of.setFocus()
    press(qtbot, program, KEY.Key_End)
    assert bench.going_on() == "Tannery Quay"
    assert bench.whole.cards["sherds"].value == "156"


def test_a_long_sum_says_how_far_it_is_and_ends_with_the_next_choice(
    qtbot: Any, program: Program, bench: FiguresBench, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("findsdesk.store.sums_in_spans.SPAN_CONTAINERS", 1)
    said: list[str] = []
    bench.subtitle_changed.connect(said.append)
    bench.whole.of.setFocus()
    press(qtbot, program, KEY.Key_End)
    assert said[0] == "the whole excavation: summed to 0 %"
    assert said[-1] == "Tannery Quay"
    job = bench.surroundings.lanes.job("read")
    job.call_off()
    with pytest.raises(Refusal) as called_off:
        job.follow(1, 2)
    assert called_off.value.code == "called_off"


def test_who_leaves_the_bench_calls_its_sum_off(qtbot: Any, program: Program, bench: FiguresBench) -> None:
    bench.whole.read_again()
    under_way = bench.whole._reading
    go_to(qtbot, program, "day")
    assert under_way is not None
    assert under_way.called_off()
    settled(qtbot, program)
    go_to(qtbot, program, "figures")
    settled(qtbot, program)
    assert bench.going_on() == "Bucket 131"


def test_nothing_sorted_says_so(qtbot: Any, program: Program, bench: FiguresBench) -> None:
    program.window.on_scan("2019")
    settled(qtbot, program)
    assert bench.whole.empty.isVisible()
    assert not bench.whole.table.isVisible()


def test_contexts_are_compared(qtbot: Any, program: Program, bench: FiguresBench) -> None:
    bench.tabs.setFocus()
    press(qtbot, program, KEY.Key_Right)
    assert bench.compare.isVisible()
    assert sorted(rows_of(bench.compare.model)) == ["2003", "2017"]
    assert "first axis" in bench.compare.said.text()


def test_figures_leave_as_paper_and_as_file(
    qtbot: Any, program: Program, bench: FiguresBench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda _url: True)
    notices: Any = program.notices
    notices.to_write = tmp_path / "figures.xlsx"
    bench.whole.file.click()
    settled(qtbot, program)
    assert CalamineWorkbook.from_path(str(tmp_path / "figures.xlsx")).sheet_names[0] == "Figures"
    notices.to_write = tmp_path / "figures.pdf"
    bench.whole.paper.click()
    qtbot.waitUntil((tmp_path / "figures.pdf").exists, timeout=60_000)
    settled(qtbot, program)


def test_a_reading_is_written_corrected_and_looked_at_again(
    qtbot: Any, desk: Desk, program: Program, bench: FiguresBench
) -> None:
    bench.whole.read.click()
    settled(qtbot, program)
    assert bench.reading.card.heading.text() == "Bucket 131"
    press(qtbot, program, KEY.Key_Down, KEY.Key_Return, KEY.Key_Return, KEY.Key_Return, KEY.Key_Return)
    press(qtbot, program, "floor fill", KEY.Key_Return, "two Green Glaze", KEY.Key_Return)
    (made,) = readings_of_container(desk, "131")
    assert (made.periods.main and made.periods.main.code, made.line, made.waits) == ("II", "floor fill", True)
    assert bench.reading.button.text() == "Correct my reading"
    bench.reading.form.show_values({"line": "pit fill"})
    bench.reading.button.click()
    settled(qtbot, program)
    assert readings_of_container(desk, "131")[0].line == "pit fill"
    (answer,) = bench.reading.answers
    answer.setFocus()
    press(qtbot, program, "a root hole", KEY.Key_Return)
    assert readings_of_container(desk, "131")[0].looked_again_says == "a root hole"
    assert bench.reading.answers == []


def test_a_refused_reading_keeps_what_was_typed(qtbot: Any, desk: Desk, program: Program, bench: FiguresBench) -> None:
    bench.whole.of.setCurrentIndex(1)
    bench.whole.of.activated.emit(1)
    settled(qtbot, program)
    bench.whole.read.click()
    settled(qtbot, program)
    assert bench.reading.card.heading.text() == "Context 2017"
    bench.reading.form.show_values({"main": "II", "earlier": "III", "line": "silt"})
    bench.reading.button.click()
    settled(qtbot, program)
    assert bench.refusals.isVisible()
    assert bench.reading.form.peek()["line"] == "silt"
    assert readings_of_deposit(desk, "2017") == ()


def test_what_waits_to_be_looked_at_stands_on_the_rail(desk: Desk, bench: FiguresBench) -> None:
    assert bench.what_waits() == "155 sherds sorted"
    read_container(sitting(desk, "Ilo"), "131", main="II", look_again="why?")
    assert bench.what_waits() == "1 to look at again"
    answer_looked(desk, "131", says="seen")
    assert bench.what_waits() == "155 sherds sorted"


@pytest.mark.parametrize("size", SIZES)
def test_no_word_is_cut_and_everything_has_a_name(
    qtbot: Any, program: Program, bench: FiguresBench, size: tuple[int, int]
) -> None:
    for page in (bench.whole, bench.reading, bench.compare):
        if page is bench.reading:
            bench.whole.read.click()
        elif page is bench.compare:
            bench._choose_tab("compare")
        settled(qtbot, program)
        program.window.resize(*size)
        settled(qtbot, program)
        fits(qtbot, bench)
        assert not nameless(bench)
        assert not too_small(bench)


def test_what_rests_on_few_rims_is_said_and_marked(
    qtbot: Any, desk: Desk, program: Program, bench: FiguresBench
) -> None:
    assert bench.whole.rests.text() == "Rim EVE, brokenness and completeness: 40 of 40 rims read."
    assert not bench.whole.cards["brokenness"].marked
    add_group(desk, "131", ware="QRS", part="rim", pieces=90)
    qtbot.waitUntil(lambda: bench.whole.cards["sherds"].value == "196")
    settled(qtbot, program)
    assert "only 40 of 130 rims" in bench.whole.rests.text()
    assert bench.whole.rests.isVisible()
    assert bench.whole.cards["brokenness"].marked


def test_forms_are_told_apart_from_wares_and_all_rows_stand_in_the_page(
    qtbot: Any, desk: Desk, program: Program, bench: FiguresBench
) -> None:
    add_form(desk, code="QRS1", name="bowl")
    add_group(desk, "131", ware="QRS", form="QRS1", part="rim", pieces=2)
    qtbot.waitUntil(lambda: bench.whole.cards["sherds"].value == "108")
    settled(qtbot, program)
    place = next(at for at, name in enumerate(rows_of(bench.whole.model, 1)) if name.startswith("QRS1"))
    assert rows_of(bench.whole.model, 0)[place - 1 : place + 1] == ["QRS", "of these"]
    fewest = 3 + TYPE_KEYS.index("fewest")
    assert rows_of(bench.whole.model, fewest)[place - 1 : place + 1] == ["42", "2"]
    assert [column.title for column in bench.whole.table.columns()][1] == "Name"
    bar = bench.whole.table.verticalScrollBar()
    assert bar.maximum() == 0
