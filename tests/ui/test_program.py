"""The program around the window: frame first, then the store; what stands in its way; who sits here; the end."""

import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QMenu

from findsdesk import places
from findsdesk.desk.changing_excavation import change_excavation
from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import open_store
from findsdesk.desk.restoring import kept_copies
from findsdesk.desk.setting_up import seasons
from findsdesk.desk.squares import squares
from findsdesk.desk.washing import dip_and_look
from findsdesk.ui.all_benches import BENCHES
from findsdesk.ui.program import Program
from findsdesk.ui.station_settings import read_station
from findsdesk.ui.store_work import Wish
from findsdesk.ui.ways_out import Way
from findsdesk.words import Terms, put
from tests.ui.at_work import open_wish, opened, program_at_work, scan, settled
from tests.ui.conftest import KeptNotices
from tests.ui.looking import cut_words, nameless
from tests.yard import new_yard, put_container, sitting


@pytest.fixture
def store_file(tmp_path: Path) -> Path:
    """Return the file of a store in which bucket 118 has arrived; nobody has it open."""
    desk = new_yard(tmp_path)
    put_container(desk, 118)
    desk.close()
    return tmp_path / "tannery.findsdesk"


@pytest.fixture
def program(qtbot: Any, qapp: QApplication) -> Iterator[Program]:
    """Return a program whose frame is shown; no store is open."""
    with program_at_work(qtbot) as made:
        yield made


def answer(program: Program) -> str:
    return program.window.scan_line.answer.in_one_line()


def ways(program: Program) -> list[str]:
    return [button.text() for button in program.starting.page.buttons]


def refused(qtbot: Any, program: Program, wish: Wish) -> str:
    """Open a store that does not open; return what the page says."""
    program.open(wish)
    slip = program.starting.page.slip
    qtbot.waitUntil(slip.isVisible, timeout=60_000)
    return slip.accessibleName()


def press(program: Program, way: Way) -> None:
    next(button for button in program.starting.page.buttons if button.text() == put(way.value)).click()


def test_the_frame_is_there_before_anything_of_the_store_is_loaded() -> None:
    # The frame must paint first: what a bare window loads, and nothing of the desk, its database library or a bench.
    code = (
        "from findsdesk.ui.program import Program, application; import sys; "
        "running = application(); program = Program('test'); "
        "late = ('sqlalchemy', 'alembic', 'reportlab', 'concurrent.futures', 'findsdesk.desk', 'findsdesk.store', "
        "'findsdesk.paper', 'findsdesk.ui.benches', 'findsdesk.ui.first_page', 'findsdesk.ui.widgets.dossier_facts', "
        "'findsdesk.ui.text_fields', 'dataclasses'); "
        "print([name for name in sys.modules if name.startswith(late)])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_store_opens_with_all_benches(qtbot: Any, program: Program, store_file: Path) -> None:
    open_wish(qtbot, program, Wish(store_file))
    assert list(program.window.benches) == list(BENCHES)
    assert program.window.bench_open() is program.window.benches["day"]
    assert "Tannery Quay" in program.window.windowTitle()
    assert "Ilo Marr" in program.window.foot.who.text()
    assert "example" in program.window.foot.who.text()


def test_a_bench_asked_for_is_built_before_the_others(qtbot: Any, program: Program, store_file: Path) -> None:
    program.starting.opened.connect(lambda _opened: program.window.open_bench("labels"))
    open_wish(qtbot, program, Wish(store_file))
    assert list(program.window.benches)[:2] == ["day", "labels"]
    assert program.window.bench_open() is program.window.benches["labels"]
    assert sorted(program.window.benches) == sorted(BENCHES)


def test_every_bench_is_called_on_the_rail_as_on_its_page(qtbot: Any, program: Program, store_file: Path) -> None:
    open_wish(qtbot, program, Wish(store_file))
    for key in BENCHES:
        assert program.window.benches[key].title() == put(BENCHES[key])


def test_a_scan_before_the_store_is_open_waits_for_it(qtbot: Any, program: Program, store_file: Path) -> None:
    with qtbot.waitSignal(program.ready, timeout=60_000):
        program.open(Wish(store_file))
        qtbot.waitUntil(lambda: not program.lanes.idle())
        program.window.on_scan("118")
    settled(qtbot, program)
    assert answer(program).startswith("Bucket 118, context 2017")
    assert program.window.dossier.facts.title == "Bucket 118"


def test_a_scan_before_the_frame_is_painted_waits_too(qtbot: Any, program: Program, store_file: Path) -> None:
    with qtbot.waitSignal(program.ready, timeout=60_000):
        program.open(Wish(store_file))
        assert program.lanes.idle()
        program.window.on_scan("118")
    settled(qtbot, program)
    assert answer(program).startswith("Bucket 118, context 2017")


def test_without_a_store_the_ways_to_begin_are_offered(qtbot: Any, program: Program) -> None:
    program.open(None)
    assert put(Way.NEW.value) in ways(program)
    scan(qtbot, program, "118")
    assert "Open one first" in answer(program)
    assert not cut_words(program.window)
    assert not nameless(program.window)


@pytest.mark.parametrize("palette", ["shade", "sun"])
def test_the_benches_do_not_look_pressable_before_a_store_is_open(qtbot: Any, program: Program, palette: str) -> None:
    program.theme.use(palette)
    rail = program.window.rail
    assert not rail.isEnabled()
    waiting = rail.grab().toImage()
    rail.setEnabled(True)
    assert rail.grab().toImage() != waiting


def test_a_further_part_has_its_own_title(qtbot: Any, program: Program) -> None:
    program.open(None)
    page = program.starting.page
    program.starting.take(Way.NEW)
    (title,) = [label for label in page.findChildren(QLabel) if label.property("kind") == "title"]
    assert title.text() == "A new excavation"
    page.show_part(None)
    assert title.text() == "No excavation is open"


def test_a_store_that_is_not_there_is_said_with_the_ways_out(qtbot: Any, program: Program, tmp_path: Path) -> None:
    said = refused(qtbot, program, Wish(tmp_path / "nowhere.findsdesk"))
    assert "no store" in said
    assert {put(Way.CHOOSE.value), put(Way.NEW.value)} <= set(ways(program))
    assert not cut_words(program.window)


def test_the_ways_to_begin_have_the_keyboard(qtbot: Any, program: Program) -> None:
    program.open(None)
    assert program.starting.page.buttons[0].hasFocus()


def test_a_store_in_use_can_be_read(qtbot: Any, program: Program, store_file: Path) -> None:
    holder = open_store(store_file, by="Bryn", station="hut")
    try:
        said = refused(qtbot, program, Wish(store_file))
        assert "hut" in said
        assert "Bryn" in said
        first = program.starting.page.buttons[0]
        assert (first.text(), first.hasFocus()) == (put(Way.READ_ONLY.value), True)
        with qtbot.waitSignal(program.ready, timeout=60_000):
            QTest.keyClick(first, Qt.Key.Key_Return)
        settled(qtbot, program)
        assert "reading only" in program.window.foot._labels["backup"].text()
        scan(qtbot, program, "118")
        assert answer(program).startswith("Bucket 118")
    finally:
        holder.close()


def test_a_damaged_store_leads_to_its_copies(qtbot: Any, program: Program, store_file: Path) -> None:
    copies = kept_copies(store_file)
    assert copies
    store_file.write_bytes(b"water got in" * 4096)
    assert "damaged" in refused(qtbot, program, Wish(store_file))
    press(program, Way.RESTORE)
    page = program.starting.page
    qtbot.waitUntil(lambda: page._part is not None)
    with qtbot.waitSignal(program.ready, timeout=60_000):
        page._part.chosen.emit(copies[0].path)
    settled(qtbot, program)
    scan(qtbot, program, "118")
    assert answer(program).startswith("Bucket 118")
    # The damaged file stays as it was: nothing is written over.
    assert store_file.read_bytes().startswith(b"water got in")
    assert (store_file.parent / "tannery-restored.findsdesk").is_file()


def test_a_file_that_is_no_store_is_said(qtbot: Any, program: Program, tmp_path: Path) -> None:
    sqlite3.connect(tmp_path / "other.findsdesk").execute("CREATE TABLE a (b)")
    assert "not a store" in refused(qtbot, program, Wish(tmp_path / "other.findsdesk"))


def test_a_store_of_a_newer_program_is_said(qtbot: Any, program: Program, store_file: Path) -> None:
    connection = sqlite3.connect(store_file)
    connection.execute("UPDATE alembic_version SET version_num = '9999'")
    connection.commit()
    connection.close()
    assert "newer version" in refused(qtbot, program, Wish(store_file))
    assert put(Way.CHOOSE.value) in ways(program)


def test_a_name_nobody_has_can_be_left_out(qtbot: Any, program: Program, store_file: Path) -> None:
    assert "Nobody here is called Zacharias" in refused(qtbot, program, Wish(store_file, by="Zacharias"))
    with qtbot.waitSignal(program.ready, timeout=60_000):
        press(program, Way.ANYBODY)
    settled(qtbot, program)
    assert "Ilo Marr" in program.window.foot.who.text()


def test_a_new_excavation_is_made_in_four_steps_by_keyboard(qtbot: Any, program: Program, tmp_path: Path) -> None:
    program.filter.uninstall()
    program.open(None)
    press(program, Way.NEW)
    form = program.starting.page._part
    where = tmp_path / "mill" / "mill.findsdesk"

    def type_in(key: str, text: str) -> None:
        line = form.forms[form.step].entries[key].line
        line.selectAll()
        QTest.keyClicks(line, text)
        QTest.keyClick(line, Qt.Key.Key_Return)

    QTest.keyClick(form.forms[0].entries["time_zone"].line, Qt.Key.Key_Return)
    assert form.step == 0
    assert "name of the site" in form.refusals.text().text()
    for key, text in (("name", "Mill Lane"), ("code", "M"), ("director", "Ada Rook"), ("time_zone", "Etc/UTC")):
        type_in(key, text)
    type_in("container", "pail")
    form.next.click()
    form.show_values({"season": "2027", "starts": date(2027, 7, 5)})
    form.next.click()
    assert "both days" in form.refusals.text().text()
    form.show_values({"ends": date(2027, 8, 1), "permit": "ML-27-1", "grid": "A1, A2"})
    form.next.click()
    form.show_values({"where": str(where)})
    form.next.click()
    qtbot.waitUntil(form.refusals.isVisible)
    assert not where.exists()
    for _step in range(3):
        form.back.click()
    assert form.values()["name"] == "Mill Lane"
    form.show_values({"code": "ML"})
    for _step in range(3):
        form.next.click()
    form.show_values({"where": str(where)})
    with qtbot.waitSignal(program.ready, timeout=60_000):
        form.next.click()
    settled(qtbot, program)
    assert where.is_file()
    assert program.surroundings.terms == Terms(container="pail")
    assert "Ada Rook" in program.window.foot.who.text()
    desk = program.surroundings.desk
    assert squares(desk) == ("A1", "A2")
    assert [(one.name, one.permit) for one in seasons(desk)] == [("2027", "ML-27-1")]


def test_the_example_is_one_press_away(
    qtbot: Any, program: Program, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The example's first acts only: what is tested is the way to it, the season is played elsewhere.
    shipped = tmp_path / "shipped"
    shutil.copytree(places.demo_file(), shipped)
    season = shipped / "season.acts"
    season.write_text("\n".join(season.read_text(encoding="utf-8").splitlines()[:60]), encoding="utf-8")
    monkeypatch.setattr(places, "demo_file", shipped.joinpath)
    monkeypatch.setattr("findsdesk.ui.beginnings.example_folder", lambda: tmp_path / "example")
    program.open(None)
    with qtbot.waitSignal(program.ready, timeout=60_000):
        press(program, Way.EXAMPLE)
    settled(qtbot, program)
    assert "example" in program.window.foot.who.text()
    assert (tmp_path / "example").is_dir()


def test_somebody_else_sits_down_by_keyboard(qtbot: Any, tmp_path: Path) -> None:
    with opened(qtbot, new_yard(tmp_path), station="hut") as program:
        who = program.window.foot.who
        who.setFocus()
        QTest.keyClick(who, Qt.Key.Key_Space)
        qtbot.waitUntil(lambda: isinstance(QApplication.activePopupWidget(), QMenu))
        menu = QApplication.activePopupWidget()
        assert isinstance(menu, QMenu)
        wanted = next(action for action in menu.actions() if action.text().startswith("Tessa Quill"))
        while menu.activeAction() is not wanted:
            QTest.keyClick(menu, Qt.Key.Key_Down)
        QTest.keyClick(menu, Qt.Key.Key_Return)
        settled(qtbot, program)
        assert program.surroundings.desk.person.name == "Tessa Quill"
        assert "Tessa Quill" in who.text()
        assert answer(program) == "Tessa Quill sits here now"
        assert list(read_station("hut").people.values()) == ["Tessa Quill"]


def test_the_station_remembers_who_sat_there(qtbot: Any, store_file: Path) -> None:
    with program_at_work(qtbot, station="awning") as program:
        open_wish(qtbot, program, Wish(store_file, by="Tessa"))
    with program_at_work(qtbot, station="awning") as program:
        open_wish(qtbot, program, Wish(store_file))
        assert "Tessa Quill" in program.window.foot.who.text()


def test_the_window_fills_the_screen_unless_it_was_smaller_when_it_was_closed(
    qtbot: Any, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("findsdesk.ui.program.room_on_the_screen", lambda: QSize(1920, 1040))
    seen = []
    for size in (None, None, QSize(1366, 768), None):
        program = Program("large screen", notices=KeptNotices(), build_ahead=False)
        with qtbot.waitExposed(program.window):
            program.show(size)
        seen.append(program.window.isMaximized() or program.window.size().toTuple())
        if len(seen) == 2:
            program.window.showNormal()
            program.window.resize(1400, 900)
        program.let_go()
        qtbot.waitUntil(lambda program=program: program.is_closed)
        program.window.deleteLater()
    assert seen == [True, True, (1366, 768), (1400, 900)], "a size that was asked for is not remembered"


def test_the_station_remembers_sun_and_zoom(qtbot: Any, qapp: QApplication) -> None:
    with program_at_work(qtbot, station="sunny") as program:
        QTest.keyClick(program.window, Qt.Key.Key_F9)
        QTest.keyClick(program.window, Qt.Key.Key_Plus, Qt.KeyboardModifier.ControlModifier)
        assert (program.theme.name, program.theme.zoom) == ("sun", 110)
    with program_at_work(qtbot, station="sunny") as program:
        assert (program.theme.name, program.theme.zoom) == ("sun", 110)
        program.theme.use("shade")
        program.theme.zoom_to(100)


def test_closing_makes_a_copy_and_lets_the_store_go(qtbot: Any, tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    put_container(desk, 119)
    with opened(qtbot, desk) as program:
        shutil.rmtree(tmp_path / "tannery.backups", ignore_errors=True)
        with qtbot.waitSignal(program.closed, timeout=60_000):
            program.window.close()
        assert not program.window.isVisible()
        assert len(kept_copies(tmp_path / "tannery.findsdesk")) == 1
        open_store(tmp_path / "tannery.findsdesk").close()


def test_what_is_in_hand_follows_what_is_done(qtbot: Any, tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    put_container(desk, 118)
    with opened(qtbot, desk) as program:
        scan(qtbot, program, "118")
        assert not any(step.head == "Dipped and looked at" for step in program.window.dossier.facts.life)
        tessa: Desk = sitting(desk, "Tessa")
        program.lanes.deed(lambda: dip_and_look(tessa, "118"))
        settled(qtbot, program)
        qtbot.waitUntil(lambda: any(s.head == "Dipped and looked at" for s in program.window.dossier.facts.life))


def test_the_excavations_own_words_follow_a_change(qtbot: Any, tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    put_container(desk, 118)
    with opened(qtbot, desk) as program:
        words = Terms("locus", "loci", "basket", "baskets", "square", "squares")
        program.lanes.deed(lambda: change_excavation(desk, terms=words, name="Old Quay"))
        qtbot.waitUntil(lambda: program.surroundings.terms == words)
        settled(qtbot, program)
        qtbot.waitUntil(lambda: "Old Quay" in program.window.windowTitle())
        scan(qtbot, program, "118")
        assert answer(program).startswith("Basket 118, locus 2017")
