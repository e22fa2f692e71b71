"""The bench of the set-up with real widgets on a real store, worked by keyboard."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import open_store
from findsdesk.desk.photo_folders import where_photos_lie
from findsdesk.desk.setting_up import people, periods, seasons, wares
from findsdesk.desk.squares import squares
from findsdesk.desk.stations import numbers_aside
from findsdesk.desk.tags import blocks, issue_tags
from findsdesk.desk.type_series import forms
from findsdesk.domain.scanner_check import TEST_CODES
from findsdesk.domain.settings import Role, SecondOpenDeposit
from findsdesk.domain.square_grid import GridPlace
from findsdesk.store.session import Store
from findsdesk.ui.benches.set_up.page import SetUpBench
from findsdesk.ui.program import Program
from tests.ui.at_the_registers import press
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import SIZES, nameless, too_small
from tests.yard import new_yard, put_containers

KEY = Qt.Key


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path, by="Ilo", station="dig house")


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk, station=desk.station_name) as at_work:
        yield at_work


@pytest.fixture
def bench(qtbot: Any, program: Program) -> SetUpBench:
    shown = go_to(qtbot, program, "set_up")
    assert isinstance(shown, SetUpBench)
    return shown


def fill(bench: SetUpBench, subject: str, **values: Any) -> None:
    """Fill the form of a subject and write it."""
    bench.lists[subject].form.show_values(values)
    bench.lists[subject].button.click()


def show(qtbot: Any, program: Program, bench: SetUpBench, subject: str) -> None:
    bench.show_subject(subject)
    settled(qtbot, program)


def test_subjects_are_walked_with_the_arrow_keys_and_entered(qtbot: Any, program: Program, bench: SetUpBench) -> None:
    assert bench.subjects.hasFocus()
    press(qtbot, program, KEY.Key_Down)
    assert bench.lists["seasons"].isVisible()
    assert bench.lists["seasons"].model.rowCount() == 1
    press(qtbot, program, KEY.Key_Return)
    assert not bench.subjects.hasFocus()


def test_names_words_and_settings_are_changed_as_one_act(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    form = bench.excavation.form
    form.show_values(
        {
            "name": "Tannery Quay East",
            "container": "basket",
            "containers": "baskets",
            "soak_longest_h": 40,
            "not_found_share_permille": 25,
            "second_open_deposit": SecondOpenDeposit.REFUSE,
            "side": 10_000,
            "corner": "500000,4000000",
            "epsg": 32636,
            "turned": "12.5",
        }
    )
    bench.excavation.button.click()
    settled(qtbot, program)
    facts = desk.facts
    assert (facts.name, facts.terms.container, facts.terms.deposit) == ("Tannery Quay East", "basket", "context")
    assert (facts.settings.soak_longest_h, facts.settings.not_found_share_permille) == (40, 25)
    assert facts.settings.second_open_deposit is SecondOpenDeposit.REFUSE
    assert facts.settings.grid == GridPlace(10.0, 500_000.0, 4_000_000.0, 12.5, 32636)
    assert "Tannery Quay East" in program.window.windowTitle()


def test_settings_that_contradict_each_other_are_refused_below_the_form(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    bench.excavation.form.show_values({"soak_shortest_h": 50})
    bench.excavation.button.click()
    settled(qtbot, program)
    assert "50 h" in bench.refusals.text().text()
    assert bench.excavation.isAncestorOf(bench.refusals)
    assert bench.excavation.form.peek()["soak_shortest_h"] == 50
    assert desk.facts.settings.soak_shortest_h == 12
    bench.excavation.form.show_values({"soak_shortest_h": 12, "epsg": 4326})
    bench.excavation.button.click()
    settled(qtbot, program)
    assert "degrees" in bench.refusals.text().text()


def test_a_season_is_typed_with_its_mark_before_the_eyes(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    show(qtbot, program, bench, "seasons")
    part = bench.lists["seasons"]
    part.form.focus_first()
    press(qtbot, program, "2027", KEY.Key_Return, "VE-27-003", KEY.Key_Return)
    press(qtbot, program, "5.7.2027", KEY.Key_Return, "2027-08-15", KEY.Key_Return)
    assert "VE-27-003 / 2017-131: 13 mm long at 2 mm lettering." in part.form._below["mark_pattern"].text()
    QTest.keyClick(part.form, KEY.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled(qtbot, program)
    newest = seasons(desk)[0]
    assert (newest.name, newest.permit, newest.starts) == ("2027", "VE-27-003", date(2027, 7, 5))
    assert part.model.rowCount() == 2


def test_a_season_is_changed_from_its_row_and_what_follows_is_told(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    show(qtbot, program, bench, "people")
    put_containers(desk, (131,), supervisor="Bryn Hallo")
    settled(qtbot, program)
    part = bench.lists["people"]
    part.table.setFocus()
    part.table.selectRow(1)
    press(qtbot, program, KEY.Key_Return)
    assert part.card.heading.text() == "Change Bryn Hallo"
    press(qtbot, program, "Bryn Sand", KEY.Key_Return)
    part.button.click()
    settled(qtbot, program)
    assert [one.name for one in people(desk)][1] == "Bryn Sand"
    assert "1 thing to write again" in program.window.scan_line.answer.in_one_line()
    assert part.card.heading.text() == "Somebody new"


def test_a_change_is_given_up_with_escape(qtbot: Any, desk: Desk, program: Program, bench: SetUpBench) -> None:
    show(qtbot, program, bench, "wares")
    part = bench.lists["wares"]
    part.table.setFocus()
    part.table.selectRow(0)
    press(qtbot, program, KEY.Key_Return, "XXX", KEY.Key_Escape)
    assert part.at_hand is None
    assert part.form.peek()["code"] == ""
    assert "XXX" not in [one.code for one in wares(desk)]
    said = [key for key, _words in program.window.keys()[0][1]]
    assert said[:2] == ["Enter", "Esc"], "the page of keys says so"


def test_squares_people_wares_and_periods_are_added(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    for subject, values in (
        ("squares", {"names": "D1, D2 D10"}),
        ("people", {"name": "Ada Rook", "role": Role.CERAMICIST}),
        ("wares", {"code": "tql", "name": "Tile Lane Ware", "earliest": -49}),
        ("periods", {"code": "I", "name": "Harbour I", "earliest": -49, "latest": 180}),
    ):
        show(qtbot, program, bench, subject)
        fill(bench, subject, **values)
        settled(qtbot, program)
        assert not bench.refusals.isVisible(), bench.refusals.text().text()
    assert squares(desk)[-3:] == ("D1", "D2", "D10")
    assert people(desk)[-1].name == "Ada Rook"
    assert wares(desk)[-1].code == "TQL"
    assert [one.earliest for one in periods(desk)] == [180, 420, -49]
    assert any("50 BCE" in cell.text for row in bench.lists["periods"].model.rows for cell in row.cells)


def test_what_is_there_already_is_refused_and_stays_typed(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    show(qtbot, program, bench, "wares")
    fill(bench, "wares", code="QRS", name="Another")
    settled(qtbot, program)
    assert "already there" in bench.refusals.text().text()
    assert bench.lists["wares"].form.peek()["name"] == "Another"


def test_a_year_that_can_be_read_in_two_ways_is_not_written(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    show(qtbot, program, bench, "periods")
    form = bench.lists["periods"].form
    form.focus_first()
    press(qtbot, program, "0", KEY.Key_Return, "Before", KEY.Key_Return, "-49")
    bench.lists["periods"].button.click()
    settled(qtbot, program)
    assert "two ways" in form.entries["earliest"].widget.wrong()  # type: ignore[attr-defined]
    assert len(periods(desk)) == 2


def test_a_tag_is_taken_back_unused_and_another_voided(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench
) -> None:
    issue_tags(desk, how_many=4, supervisor="Bryn")
    show(qtbot, program, bench, "tags")
    fill(bench, "tags", tag="1", what="unused")
    settled(qtbot, program)
    fill(bench, "tags", tag="2", what="void")
    settled(qtbot, program)
    assert "why" in bench.refusals.text().text()
    fill(bench, "tags", reason="torn")
    settled(qtbot, program)
    (block,) = blocks(desk)
    assert [tag.number for tag in block.tags] == ["3", "4"]
    bench.issue.click()
    assert program.window.bench_open() is program.window.benches["labels"]


def test_numbers_are_set_aside_for_a_station(qtbot: Any, desk: Desk, program: Program, bench: SetUpBench) -> None:
    show(qtbot, program, bench, "stations")
    assert bench.lists["stations"].empty.isVisible()
    fill(bench, "stations", station="trench laptop", how_many=50)
    settled(qtbot, program)
    (block,) = numbers_aside(desk)
    assert (block.station, block.first, block.last) == ("trench laptop", 1, 50)
    assert bench.lists["stations"].model.rowCount() == 1


def test_scans_are_compared_while_the_scanner_is_tried_out_and_only_then(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show(qtbot, program, bench, "scanner")
    for code in (TEST_CODES[0], TEST_CODES[1].lower(), "OPQRSTUVWXZY"):
        program.window.on_scan(code)
    assert [str(bench.scanner.model.index(row, 2).data()) for row in range(3)] == [
        "as printed",
        "in small letters: codes are read all the same",
        "other signs: Y came as Z, Z came as Y",
    ]
    assert "keyboard layout" in bench.scanner.verdict.text()
    (code,) = put_containers(desk, (131,))
    show(qtbot, program, bench, "squares")
    program.window.on_scan(code)
    settled(qtbot, program)
    assert program.window.found is not None
    monkeypatch.setattr("findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda _url: True)
    program.notices.to_write = tmp_path / "test.pdf"  # type: ignore[attr-defined]
    show(qtbot, program, bench, "scanner")
    bench.scanner.sheet.click()
    settled(qtbot, program)
    text = pypdfium2.PdfDocument(tmp_path / "test.pdf")[0].get_textpage().get_text_bounded()
    assert all(code in text for code in TEST_CODES)


def test_the_photographs_of_a_store_on_a_server_get_a_folder(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    show(qtbot, program, bench, "where")
    assert not bench.where.photos.isVisible()
    far = replace(desk, store=Store("postgresql://finds@store.invalid/dig?schema=quay"))
    monkeypatch.setattr(bench.surroundings, "desk", far)
    bench.where.refresh()
    qtbot.waitUntil(bench.where.photos.isVisible)
    monkeypatch.setattr(program.notices, "folder_to_use", lambda *_: tmp_path / "nowhere")
    bench.where.photos.click()
    qtbot.waitUntil(lambda: "There is no folder" in bench.refusals.text().text())
    monkeypatch.setattr(program.notices, "folder_to_use", lambda *_: tmp_path)
    bench.where.photos.click()
    qtbot.waitUntil(lambda: where_photos_lie(far) == tmp_path)
    monkeypatch.setattr(bench.surroundings, "desk", desk)
    settled(qtbot, program)


def test_a_copy_is_made_and_restored_and_the_store_proved(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench, tmp_path: Path
) -> None:
    show(qtbot, program, bench, "where")
    bench.where.copy.click()
    settled(qtbot, program)
    assert "the newest just made" in bench.where.copies.text()
    where = bench.where.where
    assert where is not None
    assert where.newest is not None
    program.notices.to_open = where.newest.path  # type: ignore[attr-defined]
    program.notices.to_write = tmp_path / "restored.findsdesk"  # type: ignore[attr-defined]
    bench.where.restore.click()
    settled(qtbot, program)
    restored = open_store(tmp_path / "restored.findsdesk")
    try:
        assert restored.facts.name == desk.facts.name
    finally:
        restored.let_go()
    bench.where.prove.click()
    settled(qtbot, program)
    assert bench.where.said.text().startswith("Sound: ")
    assert not bench.where.findings.isVisible()


def test_a_copy_is_not_restored_over_a_store_that_is_there(
    qtbot: Any, desk: Desk, program: Program, bench: SetUpBench, tmp_path: Path
) -> None:
    show(qtbot, program, bench, "where")
    bench.where.copy.click()
    settled(qtbot, program)
    assert bench.where.where is not None
    assert bench.where.where.newest is not None
    program.notices.to_open = bench.where.where.newest.path  # type: ignore[attr-defined]
    program.notices.to_write = tmp_path / "tannery.findsdesk"  # type: ignore[attr-defined]
    bench.where.restore.click()
    settled(qtbot, program)
    assert "already a store" in bench.refusals.text().text()


def test_what_a_proof_finds_wrong_stands_below_it(qtbot: Any, desk: Desk, program: Program, bench: SetUpBench) -> None:
    put_containers(desk, (131,))
    with desk.store.engine.begin() as connection:
        connection.exec_driver_sql("UPDATE container SET standing = 'dry'")
    show(qtbot, program, bench, "where")
    bench.where.prove.click()
    settled(qtbot, program)
    assert bench.where.findings.isVisible()
    assert any("131" in cell.text for row in bench.where.model.rows for cell in row.cells)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("zoom", [100, 150])
def test_no_word_is_cut_and_everything_has_a_name(
    qtbot: Any, program: Program, bench: SetUpBench, size: tuple[int, int], zoom: int
) -> None:
    program.theme.zoom_to(zoom)
    program.window.resize(*size)
    for key in ("excavation", *bench.lists, "scanner", "where"):
        show(qtbot, program, bench, key)
        fits(qtbot, bench)
        assert nameless(bench) == []
        assert too_small(bench) == []


def test_a_square_is_renamed_from_its_row(qtbot: Any, program: Program, bench: SetUpBench, desk: Desk) -> None:
    show(qtbot, program, bench, "squares")
    part = bench.lists["squares"]
    first = next(entry for entry in part.entries if entry.name == "A1")
    part.table.opened.emit(first.row.row_id)
    assert part.form.peek()["names"] == "A1"
    part.form.show_values({"names": "A0"})
    part.button.click()
    settled(qtbot, program)
    assert squares(desk)[0] == "A0"
    assert "A1" not in squares(desk)


def test_forms_are_added_and_two_merged_after_what_follows_was_told(
    qtbot: Any, program: Program, desk: Desk, bench: SetUpBench
) -> None:
    show(qtbot, program, bench, "forms")
    for code in ("QRS1", "QRS2"):
        fill(bench, "forms", code=code, name="bowl", ware="QRS", earliest=180, source="Vade 2025")
        settled(qtbot, program)
    assert [(one.code, one.ware, one.source) for one in forms(desk)] == [
        ("QRS1", "QRS", "Vade 2025"),
        ("QRS2", "QRS", "Vade 2025"),
    ]
    part, acts = bench.lists["forms"], bench.type_acts["forms"]
    part.table.selectRow(0)
    acts.into.setText("QRS2")
    acts.merge.click()
    settled(qtbot, program)
    assert "QRS1 becomes QRS2: nothing uses it. Are the two one and the same?" in bench.refusals.text().text()
    bench.refusals._sure.click()
    settled(qtbot, program)
    assert [one.code for one in forms(desk)] == ["QRS2"]
    part.table.selectRow(0)
    acts.away.click()
    settled(qtbot, program)
    assert "QRS2 stays, since it is in use: 1 old code." in bench.refusals.text().text()


def test_the_type_series_goes_out_and_comes_in(
    qtbot: Any, program: Program, desk: Desk, bench: SetUpBench, tmp_path: Path
) -> None:
    show(qtbot, program, bench, "wares")
    path = tmp_path / "types.csv"
    program.surroundings.notices.to_write = path  # type: ignore[attr-defined]
    bench.type_acts["wares"].out.click()
    settled(qtbot, program)
    path.write_text(path.read_text("utf-8-sig") + "ware,IPA,Island Painted,,151 BCE,100,Vade 2025,\n", "utf-8")
    program.surroundings.notices.to_open = path  # type: ignore[attr-defined]
    bench.type_acts["wares"].take_in.click()
    settled(qtbot, program)
    assert [one.code for one in wares(desk) if one.earliest == -150] == ["IPA"]
