"""One line that asks for a number, perhaps grams, and why: an explanation, a count, a reason. Enter writes it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.announcing import announce
from findsdesk.ui.benches.sorting.choice_field import OwnWordsField
from findsdesk.ui.benches.sorting.choice_strip import ChoiceStrip
from findsdesk.ui.benches.sorting.choices import Choice, Choices
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.number_field import NumberField, grams, pieces
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.words import _

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_GRAMS_REFUSED = frozenset({"group_grams", "share_grams"})
"""The codes of refusals that are about grams; one that names its unit says so itself."""


class About(Enum):
    """What the line asks for."""

    NOT_A_SHERD = "not a sherd"
    FOUND_MORE = "found more"
    NOT_FOUND = "not found"
    COUNT = "count"
    ANSWER = "answer"
    REOPEN = "reopen"
    LIFT = "lift"
    SHARE = "share"
    VESSEL = "vessel"
    WHY = "why"
    """Why a row that is written is decided against its rule."""


@dataclass(frozen=True, slots=True)
class Asking:
    """The question in words, what is asked, and what is proposed."""

    about: About
    heading: str
    write: str
    number: int | None = None
    has_number: bool = True
    number_may_stay_empty: bool = False
    has_grams: bool = False
    number_words: str = ""
    grams_words: str = ""
    """What stands before the two fields, where the question alone does not say it."""
    has_why: bool = True
    whys: tuple[str, ...] = ()
    proposes_why: bool = True
    """Whether the first of them stands there from the beginning; else somebody is to choose."""
    of: int = 0
    """The id of what it is about, where it is about one entry or one row."""
    seen: int = 0
    """The version in which a row was seen."""
    decided: Decision = Decision.KEEP
    """What a row is decided as whose reason is asked for: its words are those of that decision."""
    mends: bool = False
    """Whether what is asked about is kept for mending."""
    caution: str = ""
    """What is to be thought of before it is answered."""


@dataclass(frozen=True, slots=True)
class Answered:
    """What was answered; None where nothing stands in a field."""

    asking: Asking
    pieces: int | None
    tenths: int | None
    why: str


class AskLine(QWidget):
    """Hidden until something is asked; what stands in it stays when the answer is refused."""

    answered = Signal(object)
    """An ``Answered``."""
    left = Signal()

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = surroundings.theme
        self.asking: Asking | None = None
        self.caution, self.heading = CautionSlip(self.theme), labels.bold(wrap=True)
        self.number = NumberField(pieces(), _("How many"), surroundings.terms)
        self.grams = NumberField(grams(), _("Dry grams"), surroundings.terms)
        self.number_words, self.grams_words = labels.plain(wrap=False), labels.plain(wrap=False)
        self.why = OwnWordsField(_("Why"))
        self.why.setPlaceholderText(_("why"))
        self.why.setProperty("free_text", True)
        self.write, self.leave = QPushButton(), QPushButton(_("Leave it"))
        self.leave.setProperty("quiet", True)
        self.strip = ChoiceStrip(self.theme)
        self._fields: tuple[QLineEdit, ...] = (self.number.line, self.grams.line, self.why)
        self._proposed: tuple[str, ...] = ()
        self._typed_in = False
        for widget in (*self._fields, self.write, self.leave):
            widget.installEventFilter(self)
        for field in self._fields:
            field.textEdited.connect(self._edited)
        self.why.looked_at.connect(self.strip.show_for)
        self.strip.picked.connect(self._pick)
        self.write.clicked.connect(self._answer)
        self.leave.clicked.connect(self.left)
        self._lay_out()
        self.hide()

    def _lay_out(self) -> None:
        self._row = QHBoxLayout()
        self._fit_numbers()
        self.theme.changed.connect(self._fit_numbers)
        for widget, stretch in (
            (self.number_words, 0), (self.number, 0), (self.grams_words, 0), (self.grams, 0),
            (self.why, 100), (self.write, 0), (self.leave, 0),
        ):  # fmt: skip
            self._row.addWidget(widget, stretch)
        self._row.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.caution)
        whole.addWidget(self.heading)
        whole.addLayout(self._row)
        for field in (self.number, self.grams):
            whole.addWidget(field.said())
        whole.addWidget(self.strip)

    def _fit_numbers(self) -> None:
        for field in (self.number, self.grams):
            field.line.setFixedWidth(self.theme.px(84))

    def ask(self, asking: Asking) -> None:
        """Ask this; the proposal stands in the fields and is taken by Enter."""
        self.asking = asking
        self.caution.show_caution(Caution(asking.caution) if asking.caution else None)
        if asking.caution:
            announce(self.caution, asking.caution)
        self.heading.setText(labels.breakable(asking.heading))
        self.write.setText(asking.write)
        self.number.set_value(asking.number)
        self.grams.set_value(None)
        self.why.choices = Choices(tuple(Choice(why, why) for why in asking.whys))
        self.why.show_text(asking.whys[0] if asking.whys and asking.proposes_why else "")
        for label, words, shown in (
            (self.number_words, asking.number_words, asking.has_number),
            (self.grams_words, asking.grams_words or _("Dry grams"), asking.has_grams),
        ):
            label.setText(words)
            label.setVisible(shown and bool(words))
        self.number.setVisible(asking.has_number)
        self.grams.setVisible(asking.has_grams)
        self.why.setVisible(asking.has_why)
        self.strip.setVisible(bool(asking.whys))
        self.strip.show_for(self.why)
        self.show()
        self._proposed, self._typed_in = self._texts(), False
        self.first_focus().setFocus(Qt.FocusReason.OtherFocusReason)

    def typed(self) -> tuple[str, ...]:
        """Return what stands in the fields in words, but a reason as it was proposed; nothing where nobody typed."""
        texts = self._texts() if self.asking is not None else ()
        if texts == self._proposed and not self._typed_in:
            return ()
        why_as_proposed = self.why.isVisibleTo(self) and texts[-1:] == self._proposed[-1:]
        return tuple(text for text in (texts[:-1] if why_as_proposed else texts) if text)

    def _texts(self) -> tuple[str, ...]:
        texts = [(field, field.text().strip()) for field in self._shown()]
        return tuple(f"{text} {_('g')}" if text and field is self.grams.line else text for field, text in texts)

    def go_to_refused(self, refusal: Refusal) -> None:
        """Give the keyboard to the field that a refusal is about: the grams, the reason, else the first one."""
        grams_refused = refusal.code in _GRAMS_REFUSED or refusal.facts.get("unit") == "g"
        wanted: QLineEdit = self.grams.line if grams_refused else self._fields[0]
        if refusal.code == "reason_needed":
            wanted = self.why
        field = wanted if wanted in self._shown() else self.first_focus()
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        if isinstance(field, QLineEdit):
            field.selectAll()

    def first_focus(self) -> QWidget:
        """Return the field that is filled first, or the button where nothing is to be filled."""
        return next(iter(self._shown()), self.write)

    def close_line(self) -> None:
        """Take the line away."""
        self.asking = None
        self.hide()

    def _shown(self) -> list[QLineEdit]:
        return [field for field in self._fields if field.isVisibleTo(self)]

    def _edited(self) -> None:
        """Somebody typed: it is theirs, also where it says what was proposed."""
        self._typed_in = True

    def _pick(self, _field: object, choice: Choice) -> None:
        self.why.pick(choice)
        self.why.setFocus(Qt.FocusReason.OtherFocusReason)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.FocusIn and isinstance(watched, QLineEdit):
            watched.selectAll()
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return False
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
            return True
        if event.key() in _ENTER and isinstance(watched, QLineEdit):
            if not event.isAutoRepeat():
                self._forward(watched)
            return True
        return False

    def _forward(self, field: QLineEdit) -> None:
        shown = self._shown()
        place = shown.index(field) + 1
        if place < len(shown):
            shown[place].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self._answer()

    def _answer(self) -> None:
        """Hand over what stands in the fields; a number that is none stays marked where it was typed."""
        if self.asking is None:
            return
        self.why.take()
        for field in (self.number, self.grams):
            if field.isVisibleTo(self) and not field.judge():
                field.setFocus(Qt.FocusReason.OtherFocusReason)
                return
        pieces_said = self.number.value() if self.asking.has_number else None
        if self.asking.has_number and pieces_said is None and not self.asking.number_may_stay_empty:
            self.number.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        if self.asking.has_why and not self.why.text().strip():
            self.why.setFocus(Qt.FocusReason.OtherFocusReason)
            self.strip.show_for(None, _("Write why: one or two words are enough."))
            self.strip.show()
            return
        tenths = self.grams.value() if self.asking.has_grams else None
        self.answered.emit(Answered(self.asking, pieces_said, tenths, self.why.text().strip()))
