"""Marks to ink: the mark over a sherd with its length, the solvents, the marking list ticked off by scan and key."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.desk.mark_lines import DepositMarks, MarkLine, progress_of
from findsdesk.desk.marking_sheet import IN_THREE_COATS, TOO_SMALL, WHERE_TO_WRITE
from findsdesk.desk.marking_table import MarksShown
from findsdesk.desk.shipped import cautions_at
from findsdesk.domain.cautions import At
from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.labels import mark_words
from findsdesk.ui.benches.labels.tick_strip import AGAIN, KEYS, TickStrip
from findsdesk.ui.models.cells import Column
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.marked_sherd import MarkedSherd
from findsdesk.ui.widgets.slips import CautionSlip, EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _

_SHERD, _LOW_SHERD = 104, 86
"""Pixels of height, at 100 per cent, in which the sherd is drawn; the second where there is little height."""
_SPARE = (1, 7, 3, 6)
"""The columns of deposit (most marks name it), slips, kept (said below, too) and written: they go first."""


class MarkTable(TableView):
    """The marking list: letters and digits typed in it mean ticks, and never search."""

    row_height = 31
    typed = Signal(str)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        back = event.key() == Qt.Key.Key_Backspace
        plain = not event.modifiers() & ~(Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.ShiftModifier)
        text = event.text().casefold()
        if plain and (back or text == AGAIN or text in KEYS or (text.isdecimal() and text.isascii())):
            self.typed.emit("back" if back else text)
            return
        super().keyPressEvent(event)


class MarksPage(QWidget):
    """The line under the cursor is the mark that is drawn, and the one that is ticked; a scan leads to its line."""

    list_wanted = Signal(object)
    """The number of a deposit, or None for all."""
    tick_wanted = Signal(object, object)
    """(MarkLine, Ticked)."""
    back_wanted = Signal(object)
    """The MarkLine whose newest tick is taken back."""
    reading_wanted = Signal(object, bool)
    """(number of the deposit whose lines are read, or None for all that are shown at once; what is done, too)."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.surroundings, self.theme = surroundings, surroundings.theme
        theme, say = surroundings.theme, surroundings.words
        self._shown = MarksShown()
        self._marks: tuple[MarkLine, ...] = ()
        self._progress: dict[str, DepositMarks] = {}
        self._current = ""
        self._in_hand = ""
        self._sought = ""
        """The code of a line that is being read, because it did not stand here."""
        self._gone = ""
        """What is said of a number that was typed for another line; until the next key."""
        self._filling = False
        """Whether the list is being filled: what stands under the cursor meanwhile means nothing."""
        self._drawn = ""
        self._too_many = False
        """Whether all that is open is more than is read at once: then a deposit that is chosen is read by itself."""
        self._around: WordsAround | None = None
        self.sherd = MarkedSherd(theme)
        self.caption = labels.headed()
        self.where = labels.muted(small=True)
        self.caution = CautionSlip(theme)
        self.beside = QWidget()
        """Where to write, with what, the caution and the sherd; it stands below the list of the bench."""
        self.no_ink = labels.muted(small=True)
        self.names = QWidget()
        """Who writes and checks, what takes no ink; where other rows offer a paper, so that the list never moves."""
        self.deposit = ChoiceBox()
        self.deposit.setAccessibleName(say(N_("{Deposit}")))
        self.deposit.setSizeAdjustPolicy(ChoiceBox.SizeAdjustPolicy.AdjustToContents)
        self.done_too = QCheckBox(_("done too"))
        self.progress = labels.muted()
        self.model = ShortTable(_columns(surroundings), self)
        self.table = MarkTable(theme, _("Marks to ink"))
        self.table.setModel(self.model)
        self.table.may_leave_out(_SPARE)
        self.strip = TickStrip(surroundings)
        self.hint = labels.muted(small=True)
        self.print_list = act_button(_("Print the list"))
        self.empty = EmptySlip(
            theme, say(N_("No sorted {container} has kept sherds to mark. What is to be inked stands here."))
        )
        self._whole = QWidget()
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        self._card = Card(self.theme)
        self._card.body.addWidget(self.sherd)
        beside = QVBoxLayout(self.beside)
        beside.setContentsMargins(0, 0, 0, 0)
        for widget in (self.where, self.caution, self._card):
            beside.addWidget(widget)
        choice = QWidget()
        self._choice = FlowLayout()
        choice.setLayout(self._choice)
        choice.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        for part in (self.deposit, self.done_too, self.print_list):
            self._choice.addWidget(part)
        names = QHBoxLayout(self.names)
        names.setContentsMargins(0, 0, 0, 0)
        names.setSpacing(self.theme.px(16))
        for who in (self.strip.writer, self.strip.checker):
            names.addWidget(who)
        names.addWidget(self.no_ink, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.hint, 1)
        foot.addWidget(self.strip.number.said(), 2)
        self._column = QVBoxLayout(self._whole)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(choice)
        self._column.addWidget(self.progress)
        self._column.addWidget(self.table, 1)
        self._column.addWidget(self.caption)
        self._column.addWidget(self.strip)
        self._column.addLayout(foot)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._whole, 1)
        outer.addWidget(self.empty, 1)

    def _wire(self) -> None:
        self.table.picked.connect(self._picked)
        self.table.opened.connect(lambda _code: self.strip.enter())
        self.table.typed.connect(self._typed)
        self.strip.wanted.connect(self._tick)
        self.strip.take_back.connect(self._take_back)
        self.strip.put_aside.connect(self.table.setFocus)
        self.deposit.activated.connect(lambda _place: self._chosen())
        self.done_too.toggled.connect(lambda _on: self._chosen())
        self.print_list.clicked.connect(lambda: self.list_wanted.emit(self.deposit.currentData()))

    # Showing

    def show_marks(self, shown: MarksShown, people: Sequence[str], in_hand: str, around: WordsAround) -> None:
        """Show the marking list; the cursor stays on its line, or on the next where that is done.

        What came in hand since (its code) leads to its line.
        """
        self._shown, self._around = shown, around
        if shown.deposit is None:
            self._too_many = shown.is_part
        self._progress = {one.deposit: one for one in progress_of(shown.lines)}
        if in_hand != self._in_hand:
            self._in_hand = in_hand
            self._current = next((one.code for one in shown.lines if in_hand in _codes(one)), self._current)
        self._whole.setVisible(shown.anything_kept)
        self.empty.setVisible(not shown.anything_kept)
        self.where.setText(" ".join(around.say(text) for text in (WHERE_TO_WRITE, IN_THREE_COATS)))
        self.no_ink.setText(around.say(TOO_SMALL))
        self.caution.show_caution(next(iter(_cautions(around)), None))
        self.strip.show_people(people, self.surroundings.desk.person.name)
        self._show_deposits(around)
        self._show()
        if self._sought:
            sought, self._sought = self._sought, ""
            self._found_or_not(sought)

    def _show_deposits(self, around: WordsAround) -> None:
        chosen = self.deposit.currentData()
        numbers = list(self._shown.deposits)
        if chosen is not None and chosen not in numbers and chosen in self._progress:
            numbers.append(chosen)
        offered: list[tuple[str, str | None]] = [(around.say(N_("Every {deposit}")), None)]
        offered += [(mark_words.deposit_in_words(one, self._progress.get(one), around), one) for one in numbers]
        if [self.deposit.itemText(place) for place in range(self.deposit.count())] != [text for text, _key in offered]:
            self.deposit.clear()
            for text, deposit in offered:
                self.deposit.addItem(text, deposit)
        self._choose_deposit(chosen)

    def _choose_deposit(self, number: object) -> None:
        places = (n for n in range(self.deposit.count()) if self.deposit.itemData(n) == number)
        self.deposit.setCurrentIndex(next(places, 0))

    def _chosen(self) -> None:
        """Show what is chosen above the list, and have read what does not stand here."""
        self._show()
        deposit = self.deposit.currentData()
        self.reading_wanted.emit(deposit if self._too_many else None, self.done_too.isChecked())

    def _show(self) -> None:
        """Show the lines by what is chosen above them."""
        if self._around is None:
            return
        deposit, done_too = self.deposit.currentData(), self.done_too.isChecked()
        of = [one for one in self._progress.values() if deposit is None or one.deposit == deposit]
        part = mark_words.part_in_words(self._shown, self._around) if deposit is None else ""
        self.progress.setText(f"{mark_words.progress(of, self._around)}{'. ' if part else ''}{part}")
        self._marks = tuple(
            one
            for one in self._shown.lines
            if (deposit is None or one.deposit == deposit) and (done_too or not one.is_done)
        )
        current, before = self._current, max(0, self.table.currentIndex().row())
        common = mark_words.in_common(self._shown.lines)
        self._filling = True
        self.model.show_rows([mark_words.mark_row(one, common) for one in self._marks])
        self._filling = False
        place = next((n for n, one in enumerate(self._marks) if one.code == current), before)
        if self._marks:
            self._stand_at(min(place, len(self._marks) - 1))
        else:
            self._draw(None)

    def _stand_at(self, place: int) -> None:
        self.table.selectRow(place)
        self._draw(self._marks[place])

    def go_to(self, code: str, deposit: str, *, has_line: bool) -> None:
        """Lead to the line of what was scanned (a container's or a piece's code), and take the keyboard there.

        Where it does not stand here although it ``has_line``, the lines of its deposit are read, done or not.
        """
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)
        place = self._place_of(code)
        its_lines = [one for one in self._shown.lines if code in _codes(one)]
        if place is None and its_lines:
            with QSignalBlocker(self.done_too):
                self.done_too.setChecked(self.done_too.isChecked() or all(one.is_done for one in its_lines))
            self.deposit.setCurrentIndex(0)
            self._chosen()
            place = self._place_of(code)
        if place is not None:
            self._stand_at(place)
        elif has_line and not its_lines:
            self._sought = code
            with QSignalBlocker(self.done_too):
                self.done_too.setChecked(True)
            self.deposit.setCurrentIndex(0)
            self.reading_wanted.emit(deposit, True)
        else:
            self._say_no_line()

    def _found_or_not(self, code: str) -> None:
        place = self._place_of(code)
        if place is None:
            self._say_no_line()
            return
        self._choose_deposit(self._marks[place].deposit)
        self._current = self._marks[place].code
        self._show()

    def _say_no_line(self) -> None:
        if self._around is not None:
            self.strip.clear_number()
            self.hint.setText(
                self._around.say(N_("It has no line here: it is not settled, or nothing of it is kept or inked."))
            )

    def _place_of(self, code: str) -> int | None:
        found = [n for n, one in enumerate(self._marks) if one.code == code]
        found += [n for n, one in enumerate(self._marks) if one.container_code == code]
        return next(iter(found), None)

    def _line(self) -> MarkLine | None:
        return next((one for one in self._marks if one.code == self.table.row_id()), None)

    def _picked(self, code: object) -> None:
        one = next((mark for mark in self._marks if mark.code == code), None)
        if one is not None and not self._filling:
            self._draw(one)

    def _draw(self, one: MarkLine | None) -> None:
        before, self._drawn = self._drawn, one.number if one is not None else ""
        left_behind = self.strip.show_line(one)
        if before != self._drawn:
            self._gone = ""
        if left_behind and self._around is not None:
            text = N_("{n}, typed for {container} {number}, is not ticked: type what it is here.")
            self._gone = self._around.say(text, n=left_behind, number=before)
        again = one is not None and one.tally.outdated
        self.hint.setText(self._gone or _keys_in_words(bool(again)))
        if one is None:
            return
        self._current = one.code
        lettering = self.surroundings.desk.facts.settings.lettering_tenths_mm
        self.sherd.show_mark(one.lines, one.length_tenths / 10, one.smallest_mm)
        self.caption.setText(labels.rich(one.text, mark_words.caption(one, lettering)))

    # What is done here

    def _typed(self, text: str) -> None:
        self._gone = ""
        if text == "back":
            self._take_back()
        elif not self.strip.key(text) and text != AGAIN:
            self.strip.type_number(text)

    def _tick(self, ticked: object) -> None:
        line = self._line()
        if line is not None:
            self.tick_wanted.emit(line, ticked)

    def _take_back(self) -> None:
        line = self._line()
        if line is not None:
            self.back_wanted.emit(line)

    def written(self) -> None:
        """Empty the number once a tick is written, and go back to the list."""
        self._gone = ""
        self.strip.clear_number()
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def fit(self, small: bool, close: bool) -> None:
        """Draw the sherd lower where there is little height, and not at all in a small window: words say it too."""
        self._card.setVisible(not small)
        self.no_ink.setVisible(not small)
        self.sherd.setFixedHeight(self.theme.px(_LOW_SHERD if close else _SHERD))
        self._column.setSpacing(self.theme.px(8))
        self.table.setMinimumHeight(self.theme.px(140))
        self.caption.setMinimumHeight(2 * self.caption.fontMetrics().lineSpacing())
        self.strip.space()
        height = self.print_list.sizeHint().height()
        for part in (self.deposit, self.done_too):
            part.setMinimumHeight(height)
        self._choice.set_gaps(self.theme.px(10), self.theme.px(6))


def _columns(surroundings: Surroundings) -> tuple[Column, ...]:
    say = surroundings.words
    return (
        Column(say(N_("{Container}"))),
        Column(say(N_("{Deposit}"))),
        Column(_("Mark"), grows=True),
        Column(_("Kept"), figures=True),
        Column(_("To mark"), figures=True),
        Column(_("Again"), figures=True, tip=_("Marks that say what was true when they were written")),
        Column(_("Written"), figures=True),
        Column(_("Slips"), figures=True, tip=_("Sherds that lie with a slip in a small bag")),
        Column(_("Checked"), figures=True),
    )


def _keys_in_words(again: bool) -> str:
    if again:
        return _("Enter written, A written again, C checked, W wrong, S slip bag; a number first.")
    return _("Enter written, C checked, W wrong, S slip bag; a number first.")


def _codes(line: MarkLine) -> tuple[str, str]:
    return line.code, line.container_code


def _cautions(around: WordsAround) -> Sequence[Caution]:
    return [Caution(around.say(one.lead), around.say(one.text)) for one in cautions_at(At.MARK)]
