"""The dossier: what is in hand, beside every bench."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, QRectF, Qt, Signal
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from findsdesk.ui.theme import Theme, Type
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import DrawnButton, draw_text, fill, focus_frame, painter_of
from findsdesk.ui.widgets.scroll_page import ScrollPage, scrolled
from findsdesk.words import _

if TYPE_CHECKING:
    from findsdesk.ui.widgets.dossier_facts import DossierFacts

WIDTH = 318
"""Pixels of the sketch at 100 per cent."""


class Dossier(QFrame):
    """Title, life line, figures, cautions of one thing, and whatever a bench adds below."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.facts: DossierFacts | None = None
        """What is shown; None while nothing is in hand."""
        self._extra: QWidget | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        self._scroll = scrolled(ScrollPage(), sideways=False)
        outer.addWidget(self._scroll)
        self.setAccessibleName(_("Dossier"))
        self.show_facts(None)
        theme.changed.connect(self._show)

    def show_facts(self, facts: DossierFacts | None) -> None:
        """Show one thing, or that nothing is in hand."""
        if facts is None or facts != self.facts:
            self.facts = facts
            self._show()

    def _show(self) -> None:
        if self._extra:
            self._extra.setParent(None)
        page = ScrollPage()
        layout = QVBoxLayout(page)
        px = self.theme.px
        layout.setContentsMargins(px(16), px(16), px(16), px(16))
        layout.setSpacing(px(8))
        self._fill(layout)
        layout.addStretch()
        self._scroll.setWidget(page)
        page.setAutoFillBackground(False)
        self.setFixedWidth(px(WIDTH))

    def title(self) -> str:
        """Return the title of what is in hand, or that nothing is."""
        return self.facts.title if self.facts else _("Nothing in hand")

    def set_extra(self, widget: QWidget | None) -> None:
        """Put a bench's own part below the head, e.g. a plot; None takes it away."""
        if widget is self._extra:
            return
        if self._extra:
            self._extra.setParent(None)
        self._extra = widget
        self._show()

    def _fill(self, layout: QVBoxLayout) -> None:
        facts = self.facts
        aside = facts.aside if facts else ""
        line = (
            facts.line
            if facts
            else _("Scan a tag, a bag or a box, or type its number, and its whole life stands here.")
        )
        head = QHBoxLayout()
        head.setSpacing(self.theme.px(10))
        head.addWidget(labels.title(self.title()), alignment=Qt.AlignmentFlag.AlignBaseline)
        if aside:
            head.addWidget(labels.muted(aside, wrap=False), alignment=Qt.AlignmentFlag.AlignBaseline)
        head.addStretch()
        layout.addLayout(head)
        if line:
            layout.addWidget(labels.muted(line))
        if self._extra:
            layout.addWidget(self._extra)
        if facts:
            # Loaded with the first facts: the window is waited for until it stands, and nothing is in hand before that.
            from findsdesk.ui.widgets.dossier_parts import add_parts

            add_parts(self.theme, layout, facts)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        fill(painter, self.rect(), self.theme.colour("card"))
        width = max(1, round(self.theme.border()))
        x = self.width() - width if self.layoutDirection() == Qt.LayoutDirection.RightToLeft else 0
        fill(painter, QRect(x, 0, width, self.height()), self.theme.colour("line"))


class DossierHandle(DrawnButton):
    """The folded dossier: a strip with its title written up the side. Pressing it opens the dossier."""

    pulled = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.setAccessibleName(_("Open the dossier"))
        self.clicked.connect(self.pulled)
        self._fix()

    def _fix(self) -> None:
        self.setFixedWidth(max(self.theme.px(36), 28))
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)

    def _new_look(self) -> None:
        self._fix()
        super()._new_look()

    def show_title(self, title: str) -> None:
        """Write what is in hand on the handle."""
        self.setText(title)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        fill(painter, self.rect(), self.theme.colour("card"))
        fill(painter, QRect(0, 0, max(1, round(self.theme.border())), self.height()), self.theme.colour("line"))
        painter.save()
        painter.translate(self.width(), 0)
        painter.rotate(90)
        area = QRectF(self.theme.px(16), 0, self.height() - self.theme.px(32), self.width())
        where = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        draw_text(painter, area, self.text(), self.theme.font(Type.BENCH), self.theme.colour("ink"), where)
        painter.restore()
        if self.hasFocus():
            focus_frame(painter, QRectF(self.rect()), self.theme.colour("ink"))
