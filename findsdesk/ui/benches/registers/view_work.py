"""Saved views of a register and the choice of its columns: the menu, the name that is typed, the deeds."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QAction, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QMenu, QPushButton

from findsdesk.desk.filter_words import filter_words
from findsdesk.desk.register_columns import fields_of, wording
from findsdesk.desk.registers import Register
from findsdesk.desk.saved_views import LONGEST_NAME, NEW, View, drop_view, save_view, views
from findsdesk.domain.natural_order import folded
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.benches.registers.column_choice import ColumnChoice
from findsdesk.ui.benches.registers.list_kinds import FilterKind, ListKind
from findsdesk.ui.benches.registers.state import Chip, ListState
from findsdesk.words import N_, _

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.ui.benches.registers.list_part import ListPart


class _Name(QLineEdit):
    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
            return
        super().keyPressEvent(event)


class ViewWork:
    """Works beside a list: what is chosen here changes the list's state, what is saved is a deed."""

    def __init__(self, lists: ListPart) -> None:
        self.lists = lists
        theme = lists.bench.theme
        self.button = QPushButton(_("View …"))
        self.naming = _Name()
        self.naming.setPlaceholderText(_("Name of the view, then Enter"))
        self.naming.setAccessibleName(_("Name of the view"))
        self.naming.setMaxLength(LONGEST_NAME)
        self.naming.hide()
        self.columns = ColumnChoice(theme)
        self.columns.hide()
        self.menu: QMenu | None = None
        self._seen: dict[str, View] = {}
        self.button.clicked.connect(self.open_menu)
        self.naming.returnPressed.connect(self._save)
        self.naming.left.connect(self._leave)
        self.columns.chosen.connect(self._put_columns)
        self.columns.plain.connect(lambda: self._put_columns(()))
        self.columns.left.connect(self._leave)

    @property
    def register(self) -> Register | None:
        """Return the register whose views are offered; none where a list shows a part of one always."""
        kind = self.lists.kind
        return None if kind.fixed else kind.register

    def show_list(self) -> None:
        """Follow the list that is shown."""
        self.button.setVisible(self.register is not None)
        self.naming.hide()
        if self.register is None:
            self.columns.hide()
        elif self.columns.isVisibleTo(self.lists):
            self._fill_columns()

    def open_menu(self) -> None:
        """Open the menu of saved views and what can be done with them."""
        register, desk = self.register, self.lists.bench.surroundings.desk

        def show(found: tuple[View, ...]) -> None:
            if self.register is register:
                self._show_menu(found)

        if register is not None:
            self.lists.bench.read(lambda: views(desk, register), show, topic="views", opens=True)

    def _show_menu(self, found: tuple[View, ...]) -> None:
        menu, seen = QMenu(self.lists), self._seen.get(self.lists.kind.key)
        menu.setAccessibleName(_("Saved views"))
        for view in found:
            action = QAction(view.name.replace("&", "&&"), menu)
            action.setCheckable(True)
            action.setChecked(seen is not None and view.name == seen.name)
            action.triggered.connect(lambda _checked=False, view=view: self._choose(view))
            menu.addAction(action)
        if found:
            menu.addSeparator()
        menu.addAction(_("Columns …"), self.choose_columns)
        menu.addAction(_("Save as a view …"), self._ask_name)
        if seen is not None and any(view.name == seen.name for view in found):
            menu.addAction(self._say(N_("Take away the view {name}"), name=seen.name), self._drop)
        menu.addAction(_("Whole list, as it was"), self._whole)
        menu.aboutToHide.connect(menu.deleteLater)
        self.menu = menu
        menu.popup(self.button.mapToGlobal(QPoint(0, self.button.height())))

    # A view that is chosen, saved, taken away

    def _choose(self, view: View) -> None:
        kind, desk = self.lists.kind, self.lists.bench.surroundings.desk

        def show(state: ListState) -> None:
            if self.lists.kind is kind:
                self._seen[kind.key] = view
                self._put(state, view.query.sort, view.query.descending)

        self.lists.bench.read(lambda: _state_of(desk, kind, view), show, topic="view")

    def _put(self, state: ListState, sort: str, falling: bool) -> None:
        lists = self.lists
        lists.states[lists.kind.key] = state
        lists.sorted_by.pop(lists.kind.key, None)
        if sort or falling:
            lists.sorted_by[lists.kind.key] = (sort, falling)
        lists.show_list(lists.kind.key)

    def _whole(self) -> None:
        self._seen.pop(self.lists.kind.key, None)
        self._put(ListState(self.lists.kind), "", False)

    def _ask_name(self) -> None:
        seen = self._seen.get(self.lists.kind.key)
        self.naming.setText(seen.name if seen else "")
        self.naming.show()
        self.naming.setFocus(Qt.FocusReason.OtherFocusReason)
        self.naming.selectAll()

    def _save(self) -> None:
        lists, register = self.lists, self.register
        if register is None:
            return
        desk, name, state, kind = lists.bench.surroundings.desk, self.naming.text(), lists.state, lists.kind
        (sort, falling), query = lists.sorting(), lists.state.query()
        filters = [f"{one}={value}" for one, value in query.filters]
        chosen = self._seen.get(kind.key)
        same = chosen is not None and folded(" ".join(name.split())) == folded(chosen.name)

        def work() -> View:
            return save_view(
                desk,
                register,
                name,
                search=query.text,
                filters=filters,
                sort=sort,
                descending=falling,
                columns=state.columns,
                seen=chosen.version if chosen is not None and same else NEW,
            )

        lists.bench.deed(work, then=lambda view: self._say_saved(kind, view), button=self.button)

    def _say_saved(self, kind: ListKind, view: View) -> None:
        self._seen[kind.key] = view
        if self.lists.kind is kind:
            self._leave()
        self.lists.bench.surroundings.say(Answer(Tone.DONE, view.name, self._say(N_(": saved for everybody"))))

    def _drop(self) -> None:
        register, kind = self.register, self.lists.kind
        seen = self._seen.get(kind.key)
        if register is not None and seen is not None:
            desk = self.lists.bench.surroundings.desk
            self.lists.bench.deed(
                lambda: drop_view(desk, register, seen.name, seen=seen.version),
                then=lambda view: self._say_dropped(kind, view),
                button=self.button,
            )

    def _say_dropped(self, kind: ListKind, view: View) -> None:
        self._seen.pop(kind.key, None)
        self.lists.bench.surroundings.say(Answer(Tone.DONE, view.name, self._say(N_(": taken away"))))

    def _say(self, text: str, **facts: object) -> str:
        return self.lists.bench.surroundings.words(text, **facts)

    # Columns

    def choose_columns(self) -> None:
        """Show the columns beside the table, with the keyboard in them."""
        self._fill_columns()
        self.columns.show()
        self.columns.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _fill_columns(self) -> None:
        register, desk = self.register, self.lists.bench.surroundings.desk
        if register is not None:
            say = wording(desk)
            own = tuple(field.key for field in fields_of(register))
            every = [(field.key, say(field.title)) for field in fields_of(register, for_file=True)]
            self.columns.show_columns(every, self.lists.state.columns or own)

    def _put_columns(self, columns: object) -> None:
        lists = self.lists
        chosen = tuple(columns) if isinstance(columns, tuple) else ()
        lists.states[lists.kind.key] = lists.state.with_columns(chosen)
        lists.show_list(lists.kind.key)

    def _leave(self) -> None:
        self.naming.hide()
        self.columns.hide()
        self.lists.table.setFocus(Qt.FocusReason.OtherFocusReason)


def _state_of(desk: Desk, kind: ListKind, view: View) -> ListState:
    """Return the list as a view sets it out; runs on the reading lane."""
    kinds = {one.name: one for one in kind.filters}
    chips = []
    for name, value in view.query.filters:
        words = dict(filter_words(desk, name)).get(value, value)
        chips.append(Chip(kinds.get(name, FilterKind(name, "", "{value}")), value, words))
    return ListState(kind, view.query.text, tuple(chips), view.columns)
