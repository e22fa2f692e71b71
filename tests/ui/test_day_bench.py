"""The day page on a real store: its figures agree with the yard, each need leads to its thing, papers are printed."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.checking_in import check_in
from findsdesk.desk.counting import log_count
from findsdesk.desk.desk import Desk
from findsdesk.desk.evening import evening
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.opening import NewExcavation, new_store
from findsdesk.desk.the_day import the_day
from findsdesk.desk.washing import dip_and_look, start_soak
from findsdesk.domain.balance import Ledger
from findsdesk.domain.routes import Hold
from findsdesk.domain.settings import Settings
from findsdesk.domain.standings import Standing
from findsdesk.ui.benches.day.page import DayBench
from findsdesk.ui.benches.day.season_words import gone_in_words, together
from findsdesk.ui.benches.day.state import WAYS, day_state, evening_rows
from findsdesk.ui.program import Program
from findsdesk.ui.widgets.balance_bar import Fill
from findsdesk.ui.words_around import WordsAround
from tests.ui.at_work import fits, go_to, opened, settled
from tests.ui.looking import SIZES, cut_words, nameless, too_small
from tests.yard import MORNING, SETTLED, TERMS, ZONE, advance, new_yard, put_container, put_containers, sitting


def busy_yard(folder: Path) -> Desk:
    """Return a yard in which something stands at every step, something is late and something is missing."""
    desk = sitting(new_yard(folder), "Tessa")
    for number in ("22", "23"):
        list_container(desk, number, deposit="2017", collected_on=date(2026, 7, 13), supervisor="Bryn", sure=True)
    put_containers(desk, (101, 102, 103, 104, 109))
    for number in ("101", "102", "103", "104"):
        dip_and_look(desk, number)
        start_soak(desk, number, tub="1")
    dip_and_look(desk, "109", seen=Hold.PAINTED)
    put_container(desk, 90, steps=SETTLED)
    advance(desk, hours=41)
    log_count(desk, "103", pieces=132)
    log_count(desk, "104", pieces=88)
    put_container(desk, 110, deposit="2003")
    check_in(desk, "22")
    return desk


@pytest.fixture
def program(qtbot: Any, tmp_path: Path) -> Iterator[Program]:
    """Return a program at work in a busy yard."""
    with opened(qtbot, busy_yard(tmp_path)) as made:
        yield made


@pytest.fixture
def bench(qtbot: Any, program: Program) -> DayBench:
    """Return the day page, shown."""
    shown = go_to(qtbot, program, "day")
    assert isinstance(shown, DayBench)
    return shown


def test_the_bars_count_what_stands_where(bench: DayBench) -> None:
    desk = bench.surroundings.desk
    assert bench.state is not None
    amounts = {bar.key: bar.amount for bar in bench.state.bars}
    assert amounts == {
        "expected": 1,
        "arrived": 3,
        "soaking": 2,
        "drying": 2,
        "to_sort": 0,
        "settled": 1,
        "bagged": 0,
    }
    assert sum(amounts.values()) == sum(the_day(desk).by_standing.values())
    soaking = next(bar for bar in bench.state.bars if bar.key == "soaking")
    assert (soaking.note, soaking.late) == ("2 too long", True)


def test_the_whole_says_what_came_beside_the_counts_and_the_ends_are_only_those_there_are() -> None:
    around = WordsAround(TERMS, ZONE, MORNING, Settings())
    ledger = Ledger(counted=11_315, found_more=4, moved_out=7, not_a_sherd=5, not_found=1)
    said = together(ledger, "11,319 sherds", around)
    assert said == "11,319 sherds: 11,315 counted, 4 found more."
    assert gone_in_words(ledger, around) == "moved, not a sherd, not found"


def test_each_need_says_what_since_when_and_leads_to_it(qtbot: Any, program: Program, bench: DayBench) -> None:
    heads = [(line.row.head, line.row.text) for line in bench.needs.lines]
    assert heads[0] == ("23", "on the field list, not on the pallet")
    assert ("101, 102", "soaking too long (limit 36 h)") in heads
    held = next(line for line in bench.needs.lines if line.row.head == "109")
    assert held.row.text == "painted: held for the ceramicist"
    held.setFocus()
    QTest.keyClick(held, Qt.Key.Key_Return)
    settled(qtbot, program)
    assert program.window.dossier.facts.title == "Bucket 109"


def test_the_season_balances_piece_by_piece(bench: DayBench) -> None:
    assert bench.state is not None
    season = bench.state.season
    assert season.together == "Together 220 sherds, as counted."
    assert season.balances
    assert sum(part.amount for part in season.parts) == 220
    left = next(part for part in season.parts if part.fill is Fill.HATCHED)
    assert left.words == "220 not yet sorted"


def test_the_evening_by_square_agrees_with_the_sheet(bench: DayBench) -> None:
    desk = bench.surroundings.desk
    day = WordsAround.of(desk).today()
    rows = evening_rows(evening(desk, day), WordsAround.of(desk))
    by_square = {row.square: row for row in rows}
    assert (by_square["A1"].washed, by_square["A1"].pieces) == ("2", "220")
    assert bench.evening.grid.rowCount() >= len(rows) + 1


def test_ending_the_day_reports_what_is_missing(qtbot: Any, program: Program, bench: DayBench) -> None:
    desk = bench.surroundings.desk
    code = next(row for row in bench.needs.lines if row.row.head == "23")
    assert code.row.late
    qtbot.mouseClick(bench.end_day, Qt.MouseButton.LeftButton)
    settled(qtbot, program)
    qtbot.waitUntil(lambda: "reported missing: 23" in program.window.scan_line.answer.in_one_line())
    assert the_day(desk).by_standing[Standing.MISSING] == 1
    qtbot.waitUntil(lambda: any(bar.note == "1 missing" for bar in bench.state.bars))  # type: ignore[union-attr]


def test_both_papers_are_kept_where_a_person_says(
    qtbot: Any, program: Program, bench: DayBench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened_files: list[str] = []
    monkeypatch.setattr(
        "findsdesk.ui.paper_out.QDesktopServices.openUrl", lambda url: opened_files.append(url.toLocalFile())
    )
    for button, name in ((bench.missing_list, "missing.pdf"), (bench.evening_sheet, "evening.pdf")):
        program.notices.to_write = tmp_path / name  # type: ignore[attr-defined]
        button.click()
        qtbot.waitUntil(lambda name=name: (tmp_path / name).is_file())
        settled(qtbot, program)
        assert (tmp_path / name).read_bytes().startswith(b"%PDF")
    assert len(opened_files) == 2


def test_a_paper_that_cannot_be_written_is_said(qtbot: Any, program: Program, bench: DayBench, tmp_path: Path) -> None:
    program.notices.to_write = tmp_path / "no such folder" / "missing.pdf"  # type: ignore[attr-defined]
    bench.missing_list.click()
    told = program.notices.told  # type: ignore[attr-defined]
    qtbot.waitUntil(lambda: bool(told))
    assert "cannot be written" in told[0][0]


def test_every_bar_leads_to_a_bench(bench: DayBench) -> None:
    assert bench.state is not None
    assert {bar.key for bar in bench.state.bars} == set(WAYS)


def test_the_page_follows_what_is_done(qtbot: Any, program: Program, bench: DayBench) -> None:
    desk = bench.surroundings.desk
    program.lanes.deed(lambda: log_count(desk, "101", pieces=64))
    qtbot.waitUntil(lambda: bench.state is not None and bench.state.season.together.startswith("Together 284"))
    settled(qtbot, program)


def test_without_a_season_the_way_to_set_up_is_shown(qtbot: Any, tmp_path: Path) -> None:
    excavation = NewExcavation("Mill Lane", "ML", "Ada Rook", "Etc/UTC")
    with opened(qtbot, new_store(tmp_path / "mill", excavation)) as program:
        bench = go_to(qtbot, program, "day")
        assert isinstance(bench, DayBench)
        qtbot.waitUntil(bench.no_season.isVisible)
        assert "Set-up" in bench.no_season._button.text()
        assert not cut_words(bench)


def test_a_quiet_day_is_not_blank(qtbot: Any, tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    state = day_state(the_day(desk), WordsAround.of(desk))
    assert state.needs == ()
    assert state.season.verdict.startswith("Nothing counted yet")
    with opened(qtbot, desk) as program:
        bench = go_to(qtbot, program, "day")
        assert bench.needs._none.isVisible()
        assert bench.evening._none.isVisible()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("theme", "zoom"), [("shade", 100), ("sun", 100), ("shade", 150)])
def test_no_word_is_cut(
    qtbot: Any, program: Program, bench: DayBench, size: tuple[int, int], theme: str, zoom: int
) -> None:
    program.theme.use(theme)
    program.theme.zoom_to(zoom)
    program.window.resize(*size)
    settled(qtbot, program)
    fits(qtbot, bench)
    assert not nameless(bench)
    assert not too_small(bench)
