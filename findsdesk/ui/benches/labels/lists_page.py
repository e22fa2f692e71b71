"""Lists on paper: each with a word of what stands on it, printed with one press."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.marking_sheet import marking_sheet
from findsdesk.desk.sheets import PrintedList, concordance_sheet, evening_sheet, missing_list, redo_sheet
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _


@dataclass(frozen=True, slots=True)
class PaperList:
    """A list: its key (also in its file's name), name and what stands on it (marked texts), and how it is made."""

    key: str
    name: str
    about: str
    make: Callable[[Desk], PrintedList]


def evening_of_today(desk: Desk) -> PrintedList:
    """Return the evening sheet of this day."""
    return evening_sheet(desk, WordsAround.of(desk).today())


LISTS = (
    PaperList("missing", N_("Missing list"), N_("{containers} listed or reported missing, to search by"), missing_list),
    PaperList(
        "evening", N_("Evening sheet"), N_("by {square}: came in, washed, read, questions of today"), evening_of_today
    ),
    PaperList("marking", N_("Marking list"), N_("by {deposit}: what to ink on the kept pieces"), marking_sheet),
    PaperList("to-write-again", N_("To write again"), N_("tags, labels and marks after corrections"), redo_sheet),
    PaperList("concordance", N_("Concordance"), N_("old and new numbers of {deposits}"), concordance_sheet),
)


class ListsPage(QWidget):
    """Made on the reading lane; where it is kept is asked."""

    wanted = Signal(str)
    """The key of a list."""

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        say = surroundings.words
        self.buttons: dict[str, QPushButton] = {}
        self._words: dict[str, QLabel] = {}
        card = Card(surroundings.theme, _("Lists on paper"))
        grid = QGridLayout()
        grid.setColumnStretch(0, 1)
        for line, one in enumerate(LISTS):
            words = labels.headed()
            button = QPushButton(_("Print"))
            button.setAccessibleName(_("Print {name}").format(name=say(one.name)))
            button.clicked.connect(lambda _checked=False, key=one.key: self.wanted.emit(key))
            grid.addWidget(words, line, 0)
            grid.addWidget(button, line, 1)
            self.buttons[one.key], self._words[one.key] = button, words
        card.body.addLayout(grid)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card)
        layout.addStretch(1)

    def show_missing(self, missing: int, around: WordsAround) -> None:
        """Say what stands on each list, and how many containers are missing."""
        for one in LISTS:
            self._words[one.key].setText(labels.rich(around.say(one.name), f": {around.say(one.about)}"))
        many = N_("one {container} to search for") if missing == 1 else N_("{n} {containers} to search for")
        about = around.say(many if missing else N_("no {container} is missing now"), n=missing)
        self._words["missing"].setText(labels.rich(around.say(LISTS[0].name), f": {about}"))
