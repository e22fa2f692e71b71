"""The drawn parts: what they say, what they tell, that they work by keyboard and that no word is cut."""

from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from findsdesk.ui.screens import picture
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.big_line import Figure, FigureLine
from findsdesk.ui.widgets.count_tag import CountFacts, CountTag, KeypadKey
from findsdesk.ui.widgets.dossier import Dossier
from findsdesk.ui.widgets.dossier_facts import Caution, DossierFacts, LifeStep, Section, When
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.key_hints import KeyHints
from findsdesk.ui.widgets.sheet_picture import SheetFacts, SheetPicture
from findsdesk.ui.widgets.slips import CautionSlip, EmptySlip, RefusalSlip
from findsdesk.ui.widgets.step_bars import StepBar, StepBars
from findsdesk.ui.widgets.trays import Tray, Trays, TrayState
from findsdesk.ui.widgets.tubs import Tub, TubPicture, Tubs, TubSlip
from tests.ui.looking import cut_words, nameless, too_small

BUCKET = CountFacts("Bucket 131", "context 2017", "sherds", (("again", "Count again"), ("unwashed", "Left unwashed")))


def button_named(widget: QWidget, name: str) -> QAbstractButton:
    (found,) = [b for b in widget.findChildren(QAbstractButton) if name in (b.accessibleName(), b.text())]
    return found


def test_a_count_is_typed_on_number_keys_and_written_with_enter(theme, shown):
    tag = CountTag(theme)
    written: list[Any] = []
    tag.written.connect(written.append)
    tag.show_facts(BUCKET)
    shown(tag)
    QTest.keyClicks(tag, "1322")
    QTest.keyClick(tag, Qt.Key.Key_Backspace)
    assert tag.write_button.text() == "Write 132"
    QTest.keyClick(tag, Qt.Key.Key_Enter)
    assert written == ["132"]


def test_a_count_is_typed_on_the_keypad_and_the_button_says_what_it_writes(theme, shown):
    tag = CountTag(theme)
    written: list[Any] = []
    tag.written.connect(written.append)
    tag.show_facts(BUCKET)
    shown(tag)
    assert not tag.write_button.isEnabled()
    for name in ("1", "2", "0", "3", "4", "Take the last digit off", "One more"):
        QTest.mouseClick(button_named(tag, name), Qt.MouseButton.LeftButton)
    assert tag.typed() == "1204"
    assert tag.write_button.text() == "Write 1,204"
    assert tag.hasFocus(), "the keypad leaves the keyboard where it is"
    tag.write_button.click()
    assert written == ["1204"]


def test_nothing_is_written_from_an_empty_tag_but_0_is_a_count(theme, shown):
    tag = CountTag(theme)
    written: list[Any] = []
    tag.written.connect(written.append)
    tag.show_facts(BUCKET)
    shown(tag)
    QTest.keyClick(tag, Qt.Key.Key_Return)
    assert written == []
    QTest.keyClicks(tag, "0")
    QTest.keyClick(tag, Qt.Key.Key_Return)
    assert written == ["0"]


@pytest.mark.parametrize("typed", ["-5", "1000000", "1.5", "1,5", "1 000", "1'000", "12/3"])
def test_no_character_of_a_count_is_swallowed(theme, shown, typed):
    tag = CountTag(theme)
    written: list[Any] = []
    tag.written.connect(written.append)
    tag.show_facts(BUCKET)
    shown(tag)
    QTest.keyClicks(tag, typed)
    assert tag.typed() == typed
    QTest.keyClick(tag, Qt.Key.Key_Return)
    assert written == [typed], "judged as it was typed, by whoever writes it"


def test_a_number_brought_back_is_written_by_enter_and_gives_way_to_a_digit(theme, shown):
    tag = CountTag(theme)
    written: list[Any] = []
    tag.written.connect(written.append)
    tag.show_facts(BUCKET)
    shown(tag)
    tag.offer("12")
    QTest.keyClick(tag, Qt.Key.Key_Return)
    assert written == ["12"]
    tag.offer("12")
    QTest.keyClicks(tag, "71")
    assert tag.typed() == "71"


def test_another_container_begins_with_an_empty_number(theme, shown):
    tag = CountTag(theme)
    tag.show_facts(BUCKET)
    tag.set_typed("132")
    tag.show_facts(CountFacts("Bucket 132", unit="sherds"))
    assert tag.typed() == ""
    tag.show_facts(None)
    assert not tag.isEnabled()


def test_other_buttons_tell_their_key(theme, shown):
    tag = CountTag(theme)
    pressed: list[Any] = []
    tag.other.connect(pressed.append)
    tag.show_facts(BUCKET)
    shown(tag)
    button_named(tag, "Left unwashed").click()
    assert pressed == ["unwashed"]


def test_keys_of_the_keypad_are_fifteen_millimetres_also_lying_down(theme, shown):
    tag = CountTag(theme)
    tag.show_facts(BUCKET)
    shown(tag)
    for low in (False, True):
        tag.lie_down(low)
        picture(tag, (520, 560), theme)
        sides = [side for key in tag.findChildren(KeypadKey) for side in key.size().toTuple()]
        assert min(sides) >= theme.mm(15) - 1


def test_tubs_tell_what_was_chosen_and_mark_it(theme, shown):
    tubs = Tubs(theme)
    tubs_chosen: list[str] = []
    slips_chosen: list[str] = []
    tubs.tub_chosen.connect(tubs_chosen.append)
    tubs.slip_chosen.connect(slips_chosen.append)
    tubs.show_tubs([Tub("t1", "Tub 1", (TubSlip("k123", "123", "17 h"),)), Tub("held", "Held for Oren", (), held=True)])
    shown(tubs)
    button_named(tubs, "123 17 h").click()
    QTest.keyClick(button_named(tubs, "Tub 1, 1 inside"), Qt.Key.Key_Return)
    assert slips_chosen == ["k123"]
    assert tubs_chosen == ["t1"]
    assert button_named(tubs, "Tub 1, 1 inside").isChecked()
    tubs.choose("")
    assert not button_named(tubs, "Tub 1, 1 inside").isChecked()


def test_a_full_tub_says_how_many_more(theme, qtbot):
    slips = tuple(TubSlip(str(n), str(n), "17 h") for n in range(1, 12))
    tub = TubPicture(theme, Tub("t1", "Tub 1", slips), most=6)
    qtbot.addWidget(tub)
    names = [button.accessibleName() for button in tub.findChildren(QAbstractButton)]
    assert names == ["1 17 h", "2 17 h", "3 17 h", "4 17 h", "5 17 h", "6 more"]


def test_trays_say_their_state_and_walk_by_arrow_keys(theme, shown):
    trays = Trays(theme)
    chosen: list[Any] = []
    trays.chosen.connect(chosen.append)
    states = [TrayState.DRYING, TrayState.DRY, TrayState.NEXT, TrayState.FREE]
    trays.show_trays([Tray(f"t{n}", str(n), state, f"bucket {n}") for n, state in enumerate(states, 1)])
    shown(trays)
    first = button_named(trays, "Tray 1, drying, bucket 1")
    first.setFocus()
    QTest.keyClick(first, Qt.Key.Key_Right)
    second = button_named(trays, "Tray 2, dry, bucket 2")
    assert second.hasFocus()
    QTest.keyClick(second, Qt.Key.Key_Return)
    assert chosen == ["t2"]
    assert "next free" in button_named(trays, "Tray 3, next free, bucket 3").accessibleName()


def test_steps_are_bars_in_proportion_that_lead_somewhere(theme, shown):
    bars = StepBars(theme)
    chosen: list[Any] = []
    bars.chosen.connect(chosen.append)
    bars.show_bars([StepBar("soaking", "Soaking", 14, "2 too long", late=True), StepBar("drying", "Drying", 0)])
    shown(bars)
    button_named(bars, "Soaking: 14, 2 too long").click()
    assert chosen == ["soaking"]
    assert button_named(bars, "Drying: 0") is not None


def test_a_caution_begins_in_bold_and_holds_no_markup(theme, qtbot):
    slip = CautionSlip(theme, Caution("Acetone <b>&</b> spirit.", "Open air, no flame."))
    qtbot.addWidget(slip)
    assert slip.text().text() == "<b>Acetone &lt;b&gt;&amp;&lt;/b&gt; spirit.</b> Open air, no flame."
    assert slip.accessibleName().startswith("Caution: Acetone")


def test_a_question_on_a_slip_goes_on_or_is_left(theme, shown):
    slip = RefusalSlip(theme)
    went_on: list[Any] = []
    page = QWidget()
    QVBoxLayout(page).addWidget(slip)
    shown(page)
    slip.ask("Is it in two tubs?", lambda: went_on.append(1))
    button_named(slip, "Leave it").click()
    assert not slip.isVisible()
    assert went_on == []
    slip.ask("Is it in two tubs?", lambda: went_on.append(1))
    button_named(slip, "It is so, go on").click()
    assert went_on == [1]
    slip.refuse("Bone is never soaked. Take it to the bone crate.")
    assert [b.text() for b in slip.findChildren(QPushButton) if b.isVisible()] == []


def test_an_empty_place_offers_its_act(theme, qtbot):
    slip = EmptySlip(theme, "No field list of today yet.", "Bring in a field list")
    acted: list[Any] = []
    qtbot.addWidget(slip)
    slip.act.connect(lambda: acted.append(1))
    button_named(slip, "Bring in a field list").click()
    assert acted == [1]


def test_the_dossier_tells_a_life_in_order(theme, qtbot):
    dossier = Dossier(theme)
    qtbot.addWidget(dossier)
    dossier.show_facts(
        DossierFacts(
            "Bucket 131",
            "context 2017",
            "Square B2, 14 July, pottery",
            life=(
                LifeStep("Tag issued", " 13 July"),
                LifeStep("In hand:", " count it", When.NOW),
                LifeStep("Sorting", "", When.AHEAD),
            ),
            sections=(Section("By ware", rows=(("QRS", "188", "46 %"), ("TGY", "121", "29 %"))),),
            cautions=(Caution("Soft brush."),),
        )
    )
    names = [label.accessibleName() for label in dossier.findChildren(QLabel) if label.accessibleName()]
    assert names == ["Tag issued 13 July (done)", "In hand: count it (now)", "Sorting (to come)"]
    texts = [label.text() for label in dossier.findChildren(QLabel)]
    assert "By ware" in texts
    assert "46 %" in texts
    dossier.show_facts(None)
    assert dossier.title() == "Nothing in hand"


def test_a_dossier_that_scrolls_hides_nothing_behind_its_scroll_bar(theme, qtbot):
    dossier = Dossier(theme)
    qtbot.addWidget(dossier)
    dossier.resize(dossier.width(), 300)
    dossier.show()
    said = LifeStep("Tag issued", " 8 July 19:12, block of Bryn Hallo, for the quay")
    bags = (("TQB0001440, diagnostic", "35 sherds", "labelled, waits for the drawing table"),)
    dossier.show_facts(DossierFacts("Bucket 58", life=(said,) * 9, sections=(Section("Its bags", rows=bags),)))
    area = dossier.findChild(QScrollArea)
    qtbot.waitUntil(lambda: area.verticalScrollBar().isVisible() and area.verticalScrollBar().maximum() > 0)
    assert area.widget().width() == area.viewport().width()


SHEET = SheetFacts(
    210, 297, tuple((c * 70.0, r * 37.0, 70.0, 37.0) for r in range(8) for c in range(3)), frozenset({1, 2}), 3
)


def test_a_place_of_the_sheet_is_clicked_or_walked_to(theme, shown):
    sheet = SheetPicture(theme)
    chosen: list[Any] = []
    begins: list[Any] = []
    sheet.place_chosen.connect(chosen.append)
    sheet.begin_here.connect(begins.append)
    sheet.show_sheet(SHEET)
    sheet.resize(420, 560)
    shown(sheet)
    at = QPoint(round(sheet.place_area(6).center().x()), round(sheet.place_area(6).center().y()))
    QTest.mouseClick(sheet, Qt.MouseButton.LeftButton, pos=at)
    assert (begins, chosen) == ([6], []), "the first free label of a begun sheet is clicked"
    QTest.mouseClick(sheet, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ShiftModifier, at)
    assert (begins, chosen) == ([6], [6])
    QTest.keyClick(sheet, Qt.Key.Key_Down)
    QTest.keyClick(sheet, Qt.Key.Key_Left)
    QTest.keyClick(sheet, Qt.Key.Key_Space)
    QTest.keyClick(sheet, Qt.Key.Key_Return)
    assert (begins, chosen) == ([6, 8], [6, 8])
    assert sheet.accessibleName() == "Label sheet: place 8 of 24, free"
    assert sheet.place_at(QPoint(0, 0)) is None


def test_the_sheet_keeps_its_proportions_and_shows_the_page(theme, qtbot):
    sheet = SheetPicture(theme)
    qtbot.addWidget(sheet)
    sheet.resize(700, 400)
    page = QImage(210, 297, QImage.Format.Format_RGB32)
    page.fill(Qt.GlobalColor.green)
    sheet.show_sheet(SHEET, page)
    area = sheet.page_area()
    assert area.width() / area.height() == pytest.approx(210 / 297)
    middle = sheet.place_area(14).center()
    assert picture(sheet, (700, 400), theme).pixelColor(middle.toPoint() + QPoint(3, 3)) == Qt.GlobalColor.green
    assert area.contains(QPointF(middle))


def test_figures_begin_a_new_line_where_there_is_no_room_and_keys_are_left_to_their_page(theme, qtbot):
    page = QWidget()
    layout = QVBoxLayout(page)
    figures, hints = FigureLine(theme), KeyHints(theme)
    figures.show_figures([Figure("9", "counted since 07:30"), Figure("1 day", "behind the trench", "Washing is")])
    hints.show_keys([("Enter", "next"), ("F3", "lift out a piece"), ("F4", "decision"), ("Ctrl Z", "take back")])
    layout.addWidget(figures)
    layout.addWidget(hints)
    qtbot.addWidget(page)
    everything = ["Enter: next", "F3: lift out a piece", "F4: decision", "Ctrl Z: take back", "F1: all keys"]
    for width, keys in ((260, ["Enter: next", "F1: all keys"]), (900, everything)):
        picture(page, (width, 300), theme)
        assert cut_words(page) == []
        assert all(child.geometry().right() <= page.width() for child in page.findChildren(QWidget))
        shown = [one for one in hints.findChildren(QWidget) if one.isVisibleTo(page) and one.accessibleName()]
        assert [one.accessibleName() for one in shown] == keys
        assert len({one.y() for one in shown}) == 1


def test_a_flow_runs_in_the_direction_of_the_language(theme, qtbot):
    page = QWidget()
    flow = FlowLayout(10, 5)
    page.setLayout(flow)
    first, second = QLabel("one"), QLabel("two")
    flow.addWidget(first)
    flow.addWidget(second)
    qtbot.addWidget(page)
    picture(page, (300, 40), theme)
    assert first.x() < second.x()
    page.setLayoutDirection(Qt.LayoutDirection.RightToLeft)
    picture(page, (301, 40), theme)
    assert first.x() > second.x()
    assert flow.takeAt(0) is not None
    assert flow.count() == 1


@pytest.mark.parametrize("zoom", [100, 150, 200])
@pytest.mark.parametrize("name", ["shade", "sun"])
def test_the_wash_parts_are_named_large_enough_and_uncut(theme, shown, zoom, name):
    theme.zoom_to(zoom)
    page = QWidget()
    layout = QVBoxLayout(page)
    tubs, trays, tag = Tubs(theme), Trays(theme), CountTag(theme)
    tubs.show_tubs([Tub(f"t{n}", f"Tub {n}", (TubSlip(str(n), f"12{n}", "17 h", late=True),)) for n in range(1, 7)])
    trays.show_trays([Tray(str(n), str(n), TrayState.FREE) for n in range(1, 25)])
    tag.show_facts(BUCKET)
    tag.set_typed("132")
    for widget in (tubs, trays, tag):
        layout.addWidget(widget)
    shown(page)
    picture(page, (700, 1400), theme, name)
    assert cut_words(page) == []
    assert nameless(page) == []
    assert too_small(page) == []


def test_labels_take_text_as_text():
    assert labels.rich("A & B", " <i>") == "<b>A &amp; B</b> &lt;i&gt;"
