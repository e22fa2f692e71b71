"""The pages of a piece laid out: its fields on cards, the rim tool beside the measures, the further parts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from findsdesk.ui.benches.pieces.further_parts import SamplesPart
from findsdesk.ui.benches.pieces.object_part import ObjectPart
from findsdesk.ui.benches.pieces.piece_forms import PieceForms
from findsdesk.ui.benches.pieces.rim_part import RimPart
from findsdesk.ui.benches.pieces.state import MEASURES
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.scroll_page import ScrollPage, scrolled
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


class TakenPage(QWidget):
    """What was taken out of a piece or a container: samples, and below them objects."""

    def __init__(self, samples: SamplesPart, found: ObjectPart) -> None:
        super().__init__()
        self._samples, self._found = samples, found
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(samples)
        column.addWidget(found)
        column.addStretch(1)

    def focus_first(self) -> None:
        """Give the keyboard to the first field: of a sample where there is a piece, else of an object."""
        if self._samples.isEnabled():
            self._samples.focus_first()
        else:
            self._found.form.focus_first()


def to_top(pages: QWidget) -> None:
    """Scroll to the top of a page, or of another piece: as far as the one before was scrolled is of no use there."""
    above = pages.parentWidget()
    while above is not None and not isinstance(above, QScrollArea):
        above = above.parentWidget()
    if above is not None:
        above.verticalScrollBar().setValue(0)


class HasFirstField(Protocol):
    """A page that knows its first field."""

    def focus_first(self) -> None:
        """Give the keyboard to it."""


def beside_list(
    theme: Theme, pieces: QWidget, above: Sequence[QWidget], pages: QWidget, buttons: Sequence[QWidget]
) -> QHBoxLayout:
    """Return the list with the piece beside it: what stands above its pages, the pages that scroll, the buttons."""
    inside = ScrollPage()
    inner = QVBoxLayout(inside)
    inner.setContentsMargins(0, 0, 0, 0)
    inner.addWidget(pages, 1)
    foot = QHBoxLayout()
    for button in buttons:
        foot.addWidget(button)
    foot.addStretch(1)
    right = QVBoxLayout()
    for part in above:
        right.addWidget(part)
    right.addWidget(scrolled(inside), 1)
    right.addLayout(foot)
    whole = QHBoxLayout()
    whole.setSpacing(theme.px(14))
    whole.addWidget(pieces)
    whole.addLayout(right, 1)
    return whole
