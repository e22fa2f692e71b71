"""How a list is narrowed: a menu of filters, a field for a typed value, and the filters that are on as chips."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QMenu, QPushButton, QWidget

from findsdesk.desk.filter_words import Values
from findsdesk.ui.benches.registers.list_kinds import Asked, FilterKind, ListKind
from findsdesk.ui.benches.registers.state import Chip, chip_words
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.day_field import DayField
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _


class Narrowing(QWidget):
    """Tells what is put on and taken off; holds nothing itself."""

    put_on = Signal(object)
    """A ``Chip``."""
    taken_off = Signal(object)
    """A ``Chip``."""
    left = Signal()
    """The typed value was given or given up: the keyboard may go elsewhere."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.chips: list[QPushButton] = []
        self.typed: QLineEdit | None = None
        self.menu: QMenu | None = None
        self._flow = FlowLayout(theme.px(8), theme.px(6))
        self.setLayout(self._flow)

    def open_menu(self, kind: ListKind, values: Mapping[str, Values], around: WordsAround, below: QWidget) -> QMenu:
        """Open the menu of a list's filters below a button; arrow keys and Enter choose."""
        menu = QMenu(self)
        menu.setAccessibleName(_("Narrow by"))
        for one in kind.filters:
            title = around.say(one.title)
            if one.asked is Asked.CHOICE:
                self._add_choices(menu.addMenu(title), one, values.get(one.name, ()))
            else:
                action = QAction(f"{title} …", menu)
                action.triggered.connect(lambda _checked=False, one=one: self._ask(one, around))
                menu.addAction(action)
        menu.aboutToHide.connect(menu.deleteLater)
        self.menu = menu
        menu.popup(below.mapToGlobal(QPoint(0, below.height())))
        return menu

    def show_chips(self, chips: Sequence[Chip], around: WordsAround) -> None:
        """Show the filters that are on; pressing one takes it off."""
        for old in self.chips:
            self._flow.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.chips = [self._chip(chip, around) for chip in chips]
        self._show_if_needed()

    def _add_choices(self, menu: QMenu, kind: FilterKind, values: Values) -> None:
        menu.setAccessibleName(menu.title())
        if not values:
            menu.addAction(_("nothing to choose yet")).setEnabled(False)
        for value, words in values:
            action = QAction(words.replace("&", "&&"), menu)
            action.triggered.connect(
                lambda _checked=False, value=value, words=words: self.put_on.emit(Chip(kind, value, words))
            )
            menu.addAction(action)

    def _chip(self, chip: Chip, around: WordsAround) -> QPushButton:
        words = chip_words(chip, around)
        button = QPushButton(f"{words}  ×")
        button.setProperty("quiet", True)
        button.setAccessibleName(around.say(N_("Take off the filter: {filter}"), filter=words))
        button.clicked.connect(lambda: self.taken_off.emit(chip))
        self._flow.addWidget(button)
        button.show()
        return button

    # A value that is typed

    def _ask(self, kind: FilterKind, around: WordsAround) -> None:
        self._give_up()
        title = around.say(kind.title)
        field: QLineEdit = DayField(title, self) if kind.asked is Asked.DAY else _Typed(title, self)
        if kind.asked is Asked.TEXT:
            field.setPlaceholderText(title)
        field.setFixedWidth(self.theme.px(190))
        self._flow.addWidget(field)
        field.returnPressed.connect(lambda: self._give(kind))
        self.typed = field
        self._show_if_needed()
        field.show()
        field.setFocus(Qt.FocusReason.OtherFocusReason)

    def _give(self, kind: FilterKind) -> None:
        field = self.typed
        if field is None:
            return
        if isinstance(field, DayField):
            field.judge()
            day = field.day()
            value = day.isoformat() if day else ""
        else:
            value = " ".join(field.text().split())
        if value:
            self._give_up()
            self.put_on.emit(Chip(kind, value, value))
            self.left.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.typed is not None:
            self._give_up()
            self.left.emit()
            return
        super().keyPressEvent(event)

    def _give_up(self) -> None:
        if self.typed is not None:
            self._flow.removeWidget(self.typed)
            self.typed.hide()
            self.typed.deleteLater()
            self.typed = None
        self._show_if_needed()

    def _show_if_needed(self) -> None:
        self.setVisible(bool(self.chips) or self.typed is not None)


class _Typed(QLineEdit):
    def __init__(self, name: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
