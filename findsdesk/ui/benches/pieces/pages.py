"""The pages of a piece laid out: its fields on cards, the rim tool beside the measures, the further parts."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from findsdesk.ui.benches.pieces.piece_forms import PieceForms
from findsdesk.ui.benches.pieces.rim_part import RimPart
from findsdesk.ui.benches.pieces.state import MEASURES
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.card import Card
from findsdesk.words import _


def fields_page(theme: Theme, forms: PieceForms, key: str) -> Card:
    """Return a page of fields on a card."""
    card = Card(theme)
    card.body.addWidget(forms.pages[key])
    card.body.addStretch(1)
    return card


def measures_page(theme: Theme, forms: PieceForms, rim: RimPart) -> QWidget:
    """Return the measures with the rim tool beside them; points on a photograph take all the room."""
    page, tool = QWidget(), Card(theme, _("Rim"))
    card = fields_page(theme, forms, MEASURES)
    tool.body.addWidget(rim, 1)
    row = QHBoxLayout(page)
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(card, 3)
    row.addWidget(tool, 2)
    rim.pointing.connect(lambda points: card.setVisible(not points))
    return page


def parts_page(parts: Sequence[QWidget]) -> QWidget:
    """Return parts below one another."""
    page = QWidget()
    column = QVBoxLayout(page)
    column.setContentsMargins(0, 0, 0, 0)
    for part in parts:
        column.addWidget(part)
    column.addStretch(1)
    return page
