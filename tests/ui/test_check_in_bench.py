"""Check-in with real keys on a real store: by scan, by number, without a tag, by hand; differences are asked about.

That the tag is believed before the list, and the supervisor is asked, is common practice, no source.
"""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from findsdesk.desk.checking_in import check_in, delivery
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.listed_containers import list_container
from findsdesk.desk.tags import issue_tags
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.standings import Standing
from findsdesk.ui.benches.check_in.page import CheckInBench
from findsdesk.ui.benches.check_in.state import act_words, arrival_state, pallet_state
from findsdesk.ui.program import Program
from findsdesk.ui.words_around import WordsAround
from tests.ui.at_work import fits, go_to, listen_to, opened, scan, settled
from tests.ui.conftest import Keyboard
from tests.ui.looking import SIZES, nameless, too_small
from tests.yard import acts, advance, new_yard, sitting, standing_of

DAY = date(2026, 7, 14)


def pallet(folder: Path) -> tuple[Desk, dict[str, str]]:
    """Return a yard with tags 1 to 20 issued, 1 to 12 listed for the day, and the code of each."""
    desk = sitting(new_yard(folder), "Tessa")
    tags = issue_tags(desk, how_many=20, supervisor="Bryn Hallo").tags
    for number in range(1, 13):
        material = "bone" if number == 5 else "human_bone" if number == 6 else "pottery"
        list_container(
            desk, str(number), deposit="2017", collected_on=DAY, supervisor="Bryn Hallo", material=material, sure=True
        )
    return desk, {tag.number: tag.code for tag in tags}


@pytest.fixture
def yard(tmp_path: Path) -> tuple[Desk, dict[str, str]]:
    """Return the desk and the codes by number."""
    return pallet(tmp_path)


@pytest.fixture
def program(qtbot: Any, yard: tuple[Desk, dict[str, str]], keyboard: Keyboard) -> Iterator[Program]:
    """Return a program at Check-in, its scans coming from the test's keyboard."""
    with opened(qtbot, yard[0]) as made:
        listen_to(keyboard, made)
        go_to(qtbot, made, "check_in")
        yield made


@pytest.fixture
def bench(program: Program) -> CheckInBench:
    """Return the bench, shown."""
    shown = program.window.benches["check_in"]
    assert isinstance(shown, CheckInBench)
    return shown


def said(program: Program) -> str:
    return program.window.scan_line.answer.in_one_line()


def dossier(desk: Desk, which: str) -> Dossier:
    found = find(desk, which)
    assert isinstance(found, Dossier)
    return found


def test_a_scan_shows_the_deposit_and_enter_agrees(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]], keyboard: Keyboard
) -> None:
    desk, codes = yard
    keyboard.scan(codes["3"])
    qtbot.waitUntil(lambda: bench.tag.deposit.text() == "2017")
    assert bench.tag.heading.text() == "Bucket 3"
    assert bench.tag.act.text() == "Check in 3"
    # Large enough to compare at arm's length: the size of the number being counted (the look's 76 pixels).
    assert bench.tag.deposit.height() >= 60
    assert bench.tag.said.hasFocus()
    keyboard.press(Qt.Key.Key_Return, 90)
    qtbot.waitUntil(lambda: standing_of(desk, codes["3"]) is Standing.ARRIVED)
    settled(qtbot, program)
    assert said(program) == "3 is here"
    qtbot.waitUntil(lambda: "Checked in 06:50 by Tessa" in bench.tag.here.text())


def test_twenty_buckets_by_scanner_and_enter_alone(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]], keyboard: Keyboard
) -> None:
    desk, codes = yard
    before = acts(desk)
    for number, code in codes.items():
        keyboard.scan(code)
        qtbot.waitUntil(lambda number=number: bench.tag.heading.text() == f"Bucket {number}")
        settled(qtbot, program)
        keyboard.press(Qt.Key.Key_Return, 120)
        qtbot.waitUntil(lambda code=code: standing_of(desk, code) is Standing.ARRIVED)
        settled(qtbot, program)
    assert acts(desk) == before + len(codes)
    came = delivery(desk, DAY)
    assert len(came.arrived) == 20
    assert {row.number for row in came.not_on_list} == {str(n) for n in range(13, 21)}
    assert bench.going_on().startswith("Tuesday 14 July: 20 of 20 here, 8 on no list")


def test_what_the_tag_says_is_written_and_asked_about(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]], keyboard: Keyboard
) -> None:
    desk, codes = yard
    scan(qtbot, program, "7")
    keyboard.type("2019")
    assert bench.tag.act.text() == "Check in 7, tag says 2019"
    keyboard.press(Qt.Key.Key_Return, 120)
    qtbot.waitUntil(lambda: standing_of(desk, codes["7"]) is Standing.ARRIVED)
    settled(qtbot, program)
    assert said(program) == "7 is here: tag says 2019, list says 2017: asked"
    # The list's deposit stands until the supervisor has answered.
    assert dossier(desk, "7").deposit == "2017"
    qtbot.waitUntil(bench.tag.question.isVisible)
    bench.tag.question.by_tag.click()
    qtbot.waitUntil(lambda: dossier(desk, "7").deposit == "2019")
    assert dossier(desk, "7").questions == ()


def test_an_unknown_deposit_is_refused_and_stays_typed(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]], keyboard: Keyboard
) -> None:
    desk, codes = yard
    before = acts(desk)
    scan(qtbot, program, "7")
    keyboard.type("9999", end=Qt.Key.Key_Return)
    qtbot.waitUntil(bench.refusals.isVisible)
    assert "There is no context 9999" in bench.refusals.accessibleName()
    assert bench.tag.typed() == "9999"
    assert acts(desk) == before
    assert standing_of(desk, codes["7"]) is Standing.LISTED


def test_one_that_is_here_already_is_a_question(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]]
) -> None:
    desk, _codes = yard
    check_in(desk, "4")
    scan(qtbot, program, "4")
    assert bench.tag.act.text() == "More of 4 came"
    bench.tag.act.click()
    qtbot.waitUntil(bench.refusals.isVisible)
    assert "Has more of it come?" in bench.refusals.accessibleName()
    before = acts(desk)
    bench.refusals._sure.click()
    qtbot.waitUntil(lambda: acts(desk) == before + 1)
    settled(qtbot, program)
    assert "more of it came" in said(program)


def test_enter_before_the_scan_is_shown_checks_nothing_in(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]]
) -> None:
    desk, codes = yard
    scan(qtbot, program, "8")
    before = acts(desk)
    program.window.on_scan(codes["9"])
    bench.tag.agreed.emit()
    settled(qtbot, program)
    assert bench.tag.heading.text() == "Bucket 9"
    assert acts(desk) == before
    assert standing_of(desk, codes["8"]) is standing_of(desk, codes["9"]) is Standing.LISTED


def test_the_three_wrong_codes_are_three_refusals(
    qtbot: Any, program: Program, yard: tuple[Desk, dict[str, str]], keyboard: Keyboard
) -> None:
    _desk, codes = yard
    code = codes["3"]
    wrong = code[:-1] + ("A" if code[-1] != "A" else "B")
    for scanned, words in (
        (wrong, "read or typed wrong"),
        (make_code("AB", Kind.TAG, 1), "belongs to another excavation"),
        (make_code("TQ", Kind.TAG, 900_000), "No tag with the code"),
    ):
        keyboard.scan(scanned)
        qtbot.waitUntil(lambda words=words: words in said(program))
        settled(qtbot, program)


def test_bone_and_human_bone_say_where_they_go(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]]
) -> None:
    scan(qtbot, program, "5")
    bench.tag.act.click()
    settled(qtbot, program)
    assert said(program) == "5 is here: to the bone crate"
    scan(qtbot, program, "6")
    assert program.window.dossier.facts.cautions[0].head.startswith("Human remains: stop")


def test_cautions_stand_on_the_tag_where_the_dossier_is_folded(
    qtbot: Any, program: Program, bench: CheckInBench
) -> None:
    scan(qtbot, program, "3")
    assert not any(slip.isVisible() for slip in bench.tag.cautions)
    program.window.resize(910, 460)
    settled(qtbot, program)
    qtbot.waitUntil(lambda: any(slip.isVisible() for slip in bench.tag.cautions))


def test_a_material_may_be_put_right_at_the_pallet(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]]
) -> None:
    desk, codes = yard
    scan(qtbot, program, "15")
    bench.tag.material.setCurrentIndex(bench.tag.material.findData("metal"))
    bench.tag.act.click()
    qtbot.waitUntil(lambda: standing_of(desk, codes["15"]) is Standing.ARRIVED)
    assert dossier(desk, "15").material == "metal"


def test_a_find_without_a_tag_gets_a_provisional_number_and_its_own_later(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]], keyboard: Keyboard
) -> None:
    desk, _codes = yard
    bench.beside.untagged_button.click()
    form = bench.beside.untagged
    form.neighbours.setFocus()
    keyboard.type("between 9 and 11", end=Qt.Key.Key_Return)
    settled(qtbot, program)
    qtbot.waitUntil(lambda: bench.tag.heading.text() == "Bucket P1")
    assert bench.tag.owner.isVisible()
    bench.tag.owner.number.setFocus()
    keyboard.type("10", end=Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: dossier(desk, "10").standing is Standing.ARRIVED)
    assert not dossier(desk, "10").provisional
    settled(qtbot, program)


def test_a_row_typed_by_hand_is_expected(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]], keyboard: Keyboard
) -> None:
    desk, _codes = yard
    bench.beside.type_row.click()
    form = bench.beside.listed
    assert form.day.text() == "2026-07-14"
    form.number.setFocus()
    keyboard.type("16")
    form.deposit.setFocus()
    keyboard.type("2099", end=Qt.Key.Key_Return)
    qtbot.waitUntil(bench.refusals.isVisible)
    assert (form.number.text(), form.deposit.text()) == ("16", "2099")
    form.deposit.selectAll()
    keyboard.type("2019", end=Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: dossier(desk, "16").standing is Standing.LISTED)
    settled(qtbot, program)
    assert form.number.text() == ""
    assert form.deposit.text() == "2019"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """Return a desk at the same pallet, with no window."""
    opened_desk, _codes = pallet(tmp_path)
    yield opened_desk
    opened_desk.close()


def test_the_pallet_shows_what_is_missing_first(desk: Desk) -> None:
    for number in ("1", "2", "13"):
        check_in(desk, number)
    advance(desk, minutes=5)
    check_in(desk, "3", deposit="2019")
    around = WordsAround.of(desk)
    state = pallet_state(delivery(desk, DAY), around)
    numbers = [row.cells[0].text for row in state.rows]
    assert numbers == ["4", "5", "6", "7", "8", "9", "10", "11", "12", "3", "1", "2", "13"]
    assert [row.cells[1].text for row in state.rows[8:]] == [
        "expected",
        "tag says 2019",
        "here 06:50",
        "here 06:50",
        "06:50, on no list",
    ]


def test_a_row_of_the_pallet_is_a_way_to_the_thing(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]]
) -> None:
    table = bench.pallet.table
    table.setFocus()
    table.selectRow(1)
    QTest.keyClick(table, Qt.Key.Key_Return)
    settled(qtbot, program)
    assert bench.tag.heading.text() == "Bucket 2"


def test_the_day_ends_with_what_is_missing(
    qtbot: Any, program: Program, bench: CheckInBench, yard: tuple[Desk, dict[str, str]]
) -> None:
    desk, codes = yard
    for number in range(1, 12):
        check_in(desk, str(number))
    bench.beside.end_day.click()
    qtbot.waitUntil(lambda: standing_of(desk, codes["12"]) is Standing.MISSING)
    settled(qtbot, program)
    assert said(program).endswith("reported missing: 12")
    scan(qtbot, program, "12")
    bench.tag.act.click()
    settled(qtbot, program)
    assert said(program) == "12 is here: no longer missing"


def test_the_button_says_what_it_will_write(desk: Desk) -> None:
    around = WordsAround.of(desk)
    listed = arrival_state(dossier(desk, "3"), around)
    assert act_words(listed, "", around) == "Check in 3"
    assert act_words(listed, "2017", around) == "Check in 3"
    assert act_words(listed, "2003", around) == "Check in 3, tag says 2003"
    unlisted = arrival_state(dossier(desk, "14"), around)
    assert unlisted.aside == "on no list yet"
    assert act_words(unlisted, "2003", around) == "Check in 14, context 2003"


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("theme", "zoom"), [("shade", 100), ("sun", 100), ("shade", 150)])
def test_no_word_is_cut(
    qtbot: Any, program: Program, bench: CheckInBench, size: tuple[int, int], theme: str, zoom: int
) -> None:
    program.theme.use(theme)
    program.theme.zoom_to(zoom)
    scan(qtbot, program, "3")
    program.window.resize(*size)
    for button in (None, bench.beside.type_row, bench.beside.untagged_button):
        if button is not None:
            button.click()
        settled(qtbot, program)
        fits(qtbot, bench)
        assert not nameless(bench)
        assert not too_small(bench)


def test_what_was_typed_for_another_is_said_and_comes_back(
    qtbot: Any, program: Program, bench: CheckInBench, keyboard: Keyboard
) -> None:
    scan(qtbot, program, "7")
    keyboard.type("2019")
    scan(qtbot, program, "8")
    assert bench.tag.typed() == ""
    assert "2019 not written for 7" in bench.tag.left_slip.accessibleName()
    assert bench.tag.left_slip.isVisible()
    scan(qtbot, program, "7")
    assert bench.tag.typed() == "2019"
    assert not bench.tag.left_slip.isVisible()


def test_typing_the_deposit_leaves_every_width_as_it_is(
    qtbot: Any, program: Program, bench: CheckInBench, keyboard: Keyboard
) -> None:
    program.window.resize(1366, 768)
    scan(qtbot, program, "7")
    before = (bench.tag.width(), bench.pallet.width())
    keyboard.type("201900001234567")
    settled(qtbot, program)
    assert (bench.tag.width(), bench.pallet.width()) == before
