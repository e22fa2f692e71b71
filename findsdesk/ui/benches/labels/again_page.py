"""What says something no longer true after a correction: tags and bag labels to print again, marks to ink again."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.desk.redoing import WRITTEN_IN_WORDS, ThingToRedo, Written
from findsdesk.domain.bags import BAG_IN_WORDS
from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.labels.tick_strip import WhoChoice
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural, put

_BY_HAND = (Written.MARK, Written.SLIP)
_PRINTED = (Written.TAG, Written.LABEL, Written.INSIDE, Written.PIECE, Written.BOX)
_PARTS = " · | / "


class AgainPage(QWidget):
    """Enter on a line does that one; the buttons do all of a kind."""

    print_wanted = Signal(object, object)
    """(Written, codes): print these tags or labels again."""
    written = Signal(object)
    """Ids of marks and slips that were written again."""
    list_wanted = Signal()

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        say, self._here = surroundings.words, surroundings.desk.person.name
        self._things: tuple[ThingToRedo, ...] = ()
        self.model = ShortTable(
            (
                Column(say(N_("{Container}"))),
                Column(_("What")),
                Column(_("Says, has to say"), grows=True),
            ),
            self,
        )
        self.table = TableView(surroundings.theme, _("To write again"))
        self.table.setModel(self.model)
        self.table.opened.connect(self._one)
        self.table.picked.connect(self._picked)
        self.hint = labels.muted(small=True)
        self.printed = {what: act_button("") if what is Written.TAG else QPushButton() for what in _PRINTED}
        self.tags, self.labels = self.printed[Written.TAG], self.printed[Written.LABEL]
        self.marks, self.on_paper = QPushButton(), QPushButton(_("List on paper"))
        self.writer = WhoChoice(surroundings.theme, _("written by"), _("Who writes"))
        self.empty = EmptySlip(
            surroundings.theme,
            say(
                N_(
                    "Nothing has to be written again. When a {deposit} is renumbered or a {container} corrected, "
                    "its tags, labels and marks stand here."
                )
            ),
        )
        self._flow = FlowLayout(surroundings.theme.px(10), surroundings.theme.px(6))
        self._foot = QWidget()
        self._foot.setLayout(self._flow)
        self._foot.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        for part in (*self.printed.values(), self.marks, self.writer, self.on_paper):
            self._flow.addWidget(part)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.empty, 1)
        layout.addWidget(self.hint)
        layout.addWidget(self._foot)
        for what, button in self.printed.items():
            button.clicked.connect(partial(self._print_all, what))
        self.marks.clicked.connect(lambda: self.written.emit(self._ids(*_BY_HAND)))
        self.on_paper.clicked.connect(self.list_wanted)

    def show_things(self, things: tuple[ThingToRedo, ...], people: Sequence[str], around: WordsAround) -> None:
        """Show what has to be written again, what each button does, and who may have written it by hand."""
        place = self._place_after(things)
        self._things = things
        self.writer.show_people(people, self._here)
        self.model.show_rows([_row(one, around) for one in things])
        if things:
            self.table.selectRow(place)
        self._picked(self.table.row_id())
        for part in (self.table, self.hint, self._foot):
            part.setVisible(bool(things))
        self.empty.setVisible(not things)
        counts = {what: sum(one.pieces for one in things if one.what is what) for what in Written}
        for what, button in self.printed.items():
            button.setText(_again_in_words(what, counts[what]))
            button.setVisible(counts[what] > 0)
        self.marks.setText(_by_hand_in_words(counts[Written.MARK], counts[Written.SLIP]))
        self.writer.box.setMinimumHeight(self.marks.sizeHint().height())
        for part in (self.marks, self.writer):
            part.setVisible(any(counts[one] for one in _BY_HAND))
        self._set_act(self.labels, not counts[Written.TAG])

    def _place_after(self, things: tuple[ThingToRedo, ...]) -> int:
        """Return the line of the cursor among other things: its own, or the next that is still there."""
        here = max(0, self.table.currentIndex().row())
        places = {one.id: place for place, one in enumerate(things)}
        still = [places[one.id] for one in self._things[here:] if one.id in places]
        return next(iter(still), max(0, len(things) - 1) if here else 0)

    @staticmethod
    def _set_act(button: QPushButton, act: bool) -> None:
        button.setProperty("act", act)
        button.style().unpolish(button)
        button.style().polish(button)

    def act(self) -> QPushButton:
        """Return the button that is the next act."""
        acts = (*self.printed.values(), self.marks)
        return next((button for button in acts if not button.isHidden()), self.on_paper)

    def _print_all(self, what: Written) -> None:
        self.print_wanted.emit(what, self._codes(what))

    def _codes(self, what: Written) -> tuple[str, ...]:
        return tuple(dict.fromkeys(one.stands_on for one in self._things if one.what is what))

    def _ids(self, *what: Written) -> tuple[int, ...]:
        return tuple(one.id for one in self._things if one.what in what)

    def _picked(self, thing_id: object) -> None:
        row = next((row for row in self.model.rows if row.row_id == thing_id), None)
        self._say(row.said if row else "")

    def _say(self, about: str) -> None:
        enter = _("Enter on a line does that one.")
        self.hint.setText(f"{about} {enter}".strip())

    def _one(self, thing_id: object) -> None:
        one = next((thing for thing in self._things if thing.id == thing_id), None)
        if one is None:
            return
        if one.what in _BY_HAND:
            self.written.emit((one.id,))
        else:
            self.print_wanted.emit(one.what, (one.stands_on,))


def _again_in_words(what: Written, n: int) -> str:
    """Return what the button of a kind of paper does."""
    words = {
        Written.TAG: plural("Print {n} tag again", "Print {n} tags again", n),
        Written.LABEL: plural("Print {n} bag label again", "Print {n} bag labels again", n),
        Written.INSIDE: plural("Print {n} slip inside a bag again", "Print {n} slips inside bags again", n),
        Written.PIECE: plural("Print {n} piece label again", "Print {n} piece labels again", n),
        Written.BOX: plural("Print {n} box label again", "Print {n} box labels again", n),
    }
    return words[what]


def _by_hand_in_words(marks: int, slips: int) -> str:
    """Return what the button does, marks and slips each by themselves."""
    of_marks = plural("{n} inked mark is written again", "{n} inked marks are written again", marks)
    of_slips = plural("{n} slip is written again", "{n} slips are written again", slips)
    return "; ".join(text for n, text in ((marks, of_marks), (slips, of_slips)) if n)


def _row(one: ThingToRedo, around: WordsAround) -> TableRow:
    what = around.say(WRITTEN_IN_WORDS[one.what])
    if one.what is Written.MARK:
        what = plural("{n} inked mark", "{n} inked marks", one.pieces)
    elif one.what is Written.SLIP:
        what = plural("slip of {n} bag", "slips of {n} bags", one.pieces)
    elif one.bag_code or one.piece_code:
        holds = BAG_IN_WORDS.get(one.bag_what, one.bag_what)
        what = ", ".join(filter(None, (f"{what} {one.stands_on}", put(holds) if holds else "")))
    return TableRow(
        row_id=one.id,
        cells=(Cell(one.number, strong=True), Cell(what), Cell(difference(one.said, one.says_now))),
        said=around.say(N_("Says {said}. Has to say {now}. Why: {why}."), said=one.said, now=one.says_now, why=one.why),
    )


def difference(said: str, now: str) -> str:
    """Return only what differs between two texts of the same parts: "2003 → 2031"; the mark only where it is alone."""
    before, after = re.split(_PARTS, said), re.split(_PARTS, now)
    if len(before) != len(after):
        return f"{said} → {now}"
    changed = [f"{was} → {is_now}" for was, is_now in zip(before, after, strict=True) if was != is_now]
    return changed[0] if changed else now
