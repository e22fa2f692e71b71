"""Who sits here: the team as a menu above the foot, by mouse or keyboard."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from findsdesk.words import _, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Acting, Desk


def team(desk: Desk) -> tuple[Acting, ...]:
    """Return those of the team who may sit down; runs on the reading lane."""
    from findsdesk.desk.desk import Acting
    from findsdesk.desk.setting_up import people

    return tuple(Acting(person.id, person.name, person.role) for person in people(desk) if person.active)


def who_menu(
    people: Sequence[Acting], now: Acting, sit: Callable[[Acting], None], parent: QWidget | None = None
) -> QMenu:
    """Return a menu of the team, the one who sits here ticked; ``sit`` is called with the one chosen."""
    menu = QMenu(parent)
    menu.setAccessibleName(_("Who sits here?"))
    for person in people:
        words = ", ".join(part for part in (person.name, put(person.role) if person.role else "") if part)
        action = QAction(words, menu)
        action.setCheckable(True)
        action.setChecked(person.id == now.id)
        action.triggered.connect(lambda _checked=False, person=person: sit(person))
        menu.addAction(action)
        if person.id == now.id:
            menu.setActiveAction(action)
    return menu


def show_above(menu: QMenu, widget: QWidget) -> None:
    """Open the menu above a widget; it closes itself when something is chosen or Escape is pressed."""
    menu.aboutToHide.connect(menu.deleteLater)
    menu.popup(widget.mapToGlobal(QPoint(0, -menu.sizeHint().height())))
