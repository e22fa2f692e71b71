"""What a table leaves out and all its rows have in common: a field for each such column."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtWidgets import QLabel, QLineEdit

from findsdesk.ui.table_preview import GivenPart
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.words import _


class GivenTexts(GivenPart):
    """A field for each column that the table lacks; Enter tells what stands in it."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.fields: dict[str, QLineEdit] = {}
        self.names: Mapping[str, str] = {}
        """What the columns are called."""
        self._width = theme.px(150)
        self._flow = FlowLayout(theme.px(8), theme.px(6))
        self.setLayout(self._flow)
        self.hide()

    def show_missing(self, columns: Sequence[str]) -> None:
        """Ask for these columns; what is typed stays."""
        if list(columns) != list(self.fields):
            typed = {column: field.text() for column, field in self.fields.items()}
            self.forget()
            for column in columns:
                self._add(column, typed.get(column, ""))
        self.setVisible(bool(columns))

    def typed(self) -> dict[str, str]:
        """Return what stands in the fields, Enter or not; empty ones are left out."""
        return {column: text for column, field in self.fields.items() if (text := field.text().strip())}

    def forget(self) -> None:
        """Begin anew with another table."""
        while self._flow.count():
            item = self._flow.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.fields = {}

    def _add(self, column: str, text: str) -> None:
        said = _("{what} of all rows").format(what=self.names.get(column, column))
        field = QLineEdit(text)
        field.setAccessibleName(said)
        field.setMaximumWidth(self._width)
        field.returnPressed.connect(lambda: self.given.emit(column, field.text().strip()))
        label: QLabel = labels.plain(said, wrap=False)
        label.setBuddy(field)
        self.fields[column] = field
        for part in (label, field):
            self._flow.addWidget(part)
            part.show()
