"""Saved views, the choice of columns, and words looked for everywhere, in a window worked by keyboard."""

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu

from findsdesk.desk.correcting import correct_container
from findsdesk.desk.desk import Desk
from findsdesk.desk.registers import Register
from findsdesk.desk.saved_views import save_view, view_named, views
from findsdesk.ui.answers import Tone
from findsdesk.ui.benches.registers.page import RegistersBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import bench, desk, in_hand, listed, press, program, show_list  # noqa: F401
from tests.ui.at_work import fits, settled
from tests.ui.looking import SIZES, nameless
from tests.yard import put_containers

KEY = Qt.Key


def headings(bench: RegistersBench) -> list[str]:
    return [column.title for column in bench.lists.table.columns()]


def choose(qtbot: Any, program: Program, bench: RegistersBench, words: str) -> None:
    """Open the menu of views by its key and take what stands there."""
    press(qtbot, program, KEY.Key_F6)
    menu = bench.lists.views.menu
    assert isinstance(menu, QMenu)
    action = next(one for one in menu.actions() if one.text() == words)
    menu.close()
    action.trigger()
    settled(qtbot, program)


def test_columns_are_chosen_moved_saved_under_a_name_and_found_again(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_containers(desk, (2, 1))
    save_view(desk, Register.CONTAINERS, "bones", filters=["material=bone"], columns=["number", "material"])
    settled(qtbot, program)
    show_list(qtbot, program, bench, "containers")
    own = headings(bench)
    bench.lists.table.setFocus()
    choose(qtbot, program, bench, "Columns …")
    panel = bench.lists.views.columns
    assert QApplication.focusWidget() is panel.list
    press(qtbot, program, KEY.Key_Down, KEY.Key_Space)
    assert headings(bench) == [own[0], *own[2:]]
    QTest.keyClick(panel.list, KEY.Key_Home)
    QTest.keyClick(panel.list, KEY.Key_Down, Qt.KeyboardModifier.AltModifier)
    settled(qtbot, program)
    assert headings(bench) == [own[2], own[0], *own[3:]]
    assert listed(bench, 1) == ["1", "2"]
    panel.list.setCurrentRow(panel.list.count() - 1)
    press(qtbot, program, KEY.Key_Space)
    assert headings(bench)[-1] == "Season", "a column of files alone can be looked at"
    assert panel.list.currentItem().text() == "Season", "the cursor stays with its column"
    press(qtbot, program, KEY.Key_Escape)
    assert not panel.isVisible()

    choose(qtbot, program, bench, "Save as a view …")
    press(qtbot, program, "my own", KEY.Key_Return)
    mine = next(one for one in views(desk, Register.CONTAINERS) if one.name == "my own")
    assert mine.columns[-1] == "season"
    assert program.window.scan_line.answer.in_one_line() == "my own: saved for everybody"

    choose(qtbot, program, bench, "Save as a view …")
    press(qtbot, program, "Bones", KEY.Key_Return)
    assert view_named(desk, Register.CONTAINERS, "bones").columns == ("number", "material"), "somebody else's stays"
    press(qtbot, program, KEY.Key_Escape)
    choose(qtbot, program, bench, "bones")
    assert (headings(bench), bench.going_on()) == (["Bucket", "Material"], "0 of 2 buckets")
    assert [chip.words for chip in bench.lists.state.chips] == ["Animal bone"]
    choose(qtbot, program, bench, "Whole list, as it was")
    assert (headings(bench), bench.going_on()) == (own, "2 buckets")
    choose(qtbot, program, bench, "my own")
    assert headings(bench)[:2] == [own[2], own[0]]
    panel.chosen.emit(("number", "season"))
    choose(qtbot, program, bench, "Save as a view …")
    QTest.keyClick(bench.lists.views.naming, KEY.Key_Return)
    bench.lists.show_list("bags")
    settled(qtbot, program)
    show_list(qtbot, program, bench, "containers")
    panel.chosen.emit(("number", "material"))
    choose(qtbot, program, bench, "Save as a view …")
    press(qtbot, program, KEY.Key_Return)
    assert not bench.refusals.isVisible(), "what was saved is a view of its list, whatever was shown meanwhile"
    assert view_named(desk, Register.CONTAINERS, "my own").columns == ("number", "material")
    choose(qtbot, program, bench, "Take away the view my own")
    assert [one.name for one in views(desk, Register.CONTAINERS)] == ["bones"]
    for key in ("bags", "boxes", "tags_out"):
        # The list before is left while it is being read.
        bench.lists.show_list(key)
    settled(qtbot, program)
    assert not bench.lists.views.button.isVisible(), "a list that is narrowed always has no views"


def test_words_are_looked_for_everywhere_and_what_is_found_is_opened(
    qtbot: Any, desk: Desk, program: Program, bench: RegistersBench
) -> None:
    put_containers(desk, (1, 2))
    correct_container(desk, "1", description="Stopper of an Étagère", reason="looked at the stopper")
    settled(qtbot, program)
    window = program.window
    window.on_scan("etagère")
    settled(qtbot, program)
    assert bench.lists.kind.key == "everywhere"
    assert window.scan_line.answer.in_one_line() == "2 found for “etagère”"
    assert window.scan_line.answer.tone is Tone.PLAIN
    assert listed(bench) == ["Bucket (1)", "Step (1)"]
    assert listed(bench, 1) == ["1", "bucket 1"]
    assert bench.going_on() == "2 found"
    for width, height in SIZES:
        window.resize(width, height)
        fits(qtbot, bench)
    assert nameless(bench) == []

    bench.lists.search.setFocus()
    bench.lists.search.clear()
    press(qtbot, program, "quay", KEY.Key_Return)
    assert listed(bench) == ["Ware (1)"], "typed in the search, it is looked for everywhere too"
    window.on_scan("zeppelin")
    settled(qtbot, program)
    assert window.scan_line.answer.tone is Tone.REFUSED, "what is neither a number nor a word of anything is refused"
    bench.show_words("bryn")
    settled(qtbot, program)
    assert listed(bench) == ["Person (1)"]
    bench.lists.table.setFocus()
    bench.lists.table.go_to(0)
    press(qtbot, program, KEY.Key_Return)
    assert (bench.lists.kind.key, listed(bench)) == ("people", ["Bryn Hallo"])
    press(qtbot, program, KEY.Key_Return)
    assert bench.lists.kind.key == "journal"
    window.on_scan("stopp")
    settled(qtbot, program)
    bench.lists.table.setFocus()
    bench.lists.table.go_to(0)
    press(qtbot, program, KEY.Key_Return)
    assert in_hand(program) == "Bucket 1"
