"""The cells of a row that is being typed: one field a column, each of the kind its column asks for."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from findsdesk.domain.sorting_columns import COLUMN_IN_WORDS
from findsdesk.ui.benches.sorting.choice_field import ChoiceField, OwnWordsField, SeveralField
from findsdesk.ui.benches.sorting.row_lists import SEVERAL
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.number_field import Measure, NumberField, grams, percent, pieces
from findsdesk.words import _, put

_MEASURES = {"pieces": pieces, "grams": grams, "rim": percent, "base": percent}
Cell = ChoiceField | NumberField | ChoiceBox | QLineEdit


def make_cells(surroundings: Surroundings) -> dict[str, Cell]:
    """Return a field for every column there is."""
    return {column: _cell(column, surroundings) for column in COLUMN_IN_WORDS}


def _cell(column: str, surroundings: Surroundings) -> Cell:
    name = put(COLUMN_IN_WORDS[column])
    if column in _MEASURES:
        return _number(_MEASURES[column](), name, surroundings)
    if column == "decision":
        box = ChoiceBox()
        box.setAccessibleName(name)
        return box
    if column == "reason":
        return OwnWordsField(name)
    if column == "note":
        line = QLineEdit()
        line.setAccessibleName(name)
        line.setProperty("free_text", True)
        return line
    return SeveralField(name) if column in SEVERAL else ChoiceField(name)


def _number(measure: Measure, name: str, surroundings: Surroundings) -> NumberField:
    field = NumberField(measure, name, surroundings.terms)
    field.set_unit("")
    # There is no room beside the field: what is wrong with a number is said below the row.
    field.said().setMaximumSize(0, 0)
    return field


def hint_of(column: str) -> str:
    """Return what may be typed in a cell, where no list says so."""
    hints = {
        "pieces": _("How many, whole"),
        "grams": _("Dry grams, or nothing"),
        "rim": _("Per cent of the rim, all of the row together, or nothing"),
        "base": _("Per cent of the base, all of the row together, or nothing"),
        "decision": _("F4 goes to the next decision, Enter on."),
        "note": _("Anything else, in your own words"),
    }
    return hints.get(column, "")


def keyboard_of(cell: Cell) -> QWidget:
    """Return the widget of a cell that takes the keyboard."""
    return cell.line if isinstance(cell, NumberField) else cell


def text_of(cell: Cell) -> str:
    """Return what was typed in a cell, without what was only completed."""
    if isinstance(cell, ChoiceField):
        return cell.typed()
    if isinstance(cell, NumberField):
        return cell.line.text()
    return "" if isinstance(cell, QComboBox) else cell.text()


def show_text(cell: Cell, text: str) -> None:
    """Put a text into a cell, as if it had been typed and taken."""
    if isinstance(cell, ChoiceField):
        cell.show_text(text)
    elif isinstance(cell, NumberField):
        cell.set_value(None)
        cell.line.setText(text)
    elif isinstance(cell, QLineEdit):
        cell.setText(text)


def mark_wrong(cell: Cell, wrong: bool) -> None:
    """Give a cell the border of a mistake, or take it away; a number field knows by itself."""
    if isinstance(cell, QLineEdit):
        mark(cell, "wrong", wrong)


def mark(cell: Cell, name: str, value: bool) -> None:
    """Set a property that the style sheet knows on the widget in which is typed."""
    widget = keyboard_of(cell)
    if bool(widget.property(name)) != value:
        widget.setProperty(name, value)
        widget.style().unpolish(widget)
        widget.style().polish(widget)
