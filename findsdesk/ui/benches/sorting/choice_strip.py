"""The words of the field that has the keyboard, in two lines below it: typed by number, or pointed at."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from findsdesk.ui.benches.sorting.choice_field import ChoiceField
from findsdesk.ui.benches.sorting.choices import Choice
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.words import N_, _, put

_MOST = 18
_GAP = 4
"""Pixels, at 100 per cent, between the lines."""


class ChoiceStrip(QWidget):
    """As many words as stand in the lines; the one that Enter takes comes first and is marked."""

    picked = Signal(object, object)
    """The field and the ``Choice`` that was pointed at."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._field: ChoiceField | None = None
        self._shown: tuple[Choice, ...] = ()
        self._lead = labels.muted(wrap=False, small=True)
        self._lead.setMinimumWidth(1)
        self._buttons = [self._button(place) for place in range(_MOST)]
        self._lines = 2
        self._flow = FlowLayout()
        self.setLayout(self._flow)
        self._flow.addWidget(self._lead)
        for button in self._buttons:
            self._flow.addWidget(button)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._space()
        theme.changed.connect(self._space)

    def _button(self, place: int) -> QPushButton:
        button = QPushButton()
        button.setProperty("quiet", True)
        button.setProperty("word", True)
        button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        button.clicked.connect(lambda: self._pick(place))
        button.hide()
        return button

    def show_lines(self, lines: int) -> None:
        """Let the words stand in so many lines."""
        if lines != self._lines:
            self._lines = lines
            self.updateGeometry()
            self._write()

    def show_for(self, field: ChoiceField | None, lead: str = "") -> None:
        """Show the words of a field, or a text where it has none."""
        self._field = field
        self._shown = ()
        if field is not None and field.unknown():
            near = field.choices.near(field.last())
            text = N_("“{said}” is not known. Near it:") if near else N_("“{said}” is not known. The list:")
            lead = put(text, None, {"said": field.last().strip()})
            self._shown = near or field.choices.of
        elif field is not None:
            self._shown = self._wanted(field)
        self._lead.setText(lead)
        self._lead.setVisible(bool(lead))
        self._write()

    @staticmethod
    def _wanted(field: ChoiceField) -> tuple[Choice, ...]:
        matching = field.choices.matching(field.last())
        meant = field.meant()
        # A word that was taken already is still changed by pointing at another.
        if meant is not None and len(matching) == 1:
            return (meant, *(choice for choice in field.choices.of if choice is not meant))
        return matching or field.choices.of

    def words(self) -> list[str]:
        """Return the words that stand in the line."""
        return [button.text() for button in self._buttons if not button.isHidden()]

    def lead(self) -> str:
        """Return the text before the words."""
        return self._lead.text()

    def _write(self) -> None:
        field = self._field
        meant = field.meant() if field is not None else None
        for place, button in enumerate(self._buttons):
            choice = self._shown[place] if place < len(self._shown) else None
            if choice is None or field is None:
                button.hide()
                continue
            button.setText(f"{field.choices.number_of(choice)} {choice.word}")
            button.setToolTip(choice.name)
            button.setAccessibleName(f"{choice.word} {choice.name}".strip())
            button.setCheckable(choice is meant)
            button.setChecked(choice is meant)
            button.show()
        self._flow.invalidate()
        for button in reversed(self._buttons):
            # What does not stand whole in the lines is left out: nothing is cut.
            if self._flow.heightForWidth(self.width()) <= self._height():
                break
            button.hide()
            self._flow.invalidate()

    def _pick(self, place: int) -> None:
        if self._field is not None and place < len(self._shown):
            choice = self._shown[place]
            self.picked.emit(self._field, choice)

    def _space(self) -> None:
        self._flow.set_gaps(self.theme.px(6), self.theme.px(_GAP))
        self._lead.setAccessibleName(_("Words for this field"))
        self._write()

    def _height(self) -> int:
        return self._lines * self._buttons[0].sizeHint().height() + (self._lines - 1) * self.theme.px(_GAP)

    def hasHeightForWidth(self) -> bool:
        # The lines have their height whether words stand in them or not: what is below never moves.
        return False

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(200), self._height())

    def minimumSizeHint(self) -> QSize:
        return QSize(1, self._height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._write()
