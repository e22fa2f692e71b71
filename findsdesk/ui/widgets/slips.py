"""Paper slips: a caution (ochre edge), a refusal (madder edge), and what stands in an empty place."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPaintEvent
from PySide6.QtWidgets import (
    QApplication,
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)
from shiboken6 import isValid

from findsdesk.ui.announcing import announce
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.painting import margins, painter_of, pen
from findsdesk.words import _

if TYPE_CHECKING:
    from findsdesk.ui.widgets.dossier_facts import Caution


class _Slip(QFrame):
    """A filled slip with a thick edge at its beginning."""

    fill = "caution_fill"
    edge = "ochre"

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._label = labels.headed()
        self._layout = QVBoxLayout(self)
        self._layout.addWidget(self._label)
        self._space()
        theme.changed.connect(self._space)

    def _space(self) -> None:
        px = self.theme.px
        self._layout.setContentsMargins(margins(self, px(15), px(8), px(12), px(8)))
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.LayoutDirectionChange:
            self._space()

    def text(self) -> QLabel:
        """Return the label that holds the words."""
        return self._label

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        area = QRectF(self.rect())
        painter.fillRect(area, self.theme.colour(self.fill))
        width = self.theme.px(5)
        left = area.right() - width if self.layoutDirection() == Qt.LayoutDirection.RightToLeft else area.left()
        painter.fillRect(QRectF(left, area.top(), width, area.height()), self.theme.colour(self.edge))


class CautionSlip(_Slip):
    """A caution: bold first sentence, then the rest."""

    def __init__(self, theme: Theme, caution: Caution | None = None, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        # Never shown here: without a parent it would be a window of its own for a moment and take the keyboard.
        if caution:
            self._write(caution)
        else:
            self.hide()

    def show_caution(self, caution: Caution | None) -> None:
        """Show a caution, or none."""
        if caution:
            self._write(caution)
        self.setVisible(caution is not None)

    def _write(self, caution: Caution) -> None:
        head, rest = labels.breakable(caution.head), labels.breakable(caution.rest)
        self._label.setText(labels.rich(head, f" {rest}" if rest else ""))
        self.setAccessibleName(f"{_('Caution')}: {caution.head} {caution.rest}")


class RefusalSlip(_Slip):
    """A no, or a question, where the act was tried. Hidden while there is none."""

    fill = "refusal_fill"
    edge = "madder"
    sure = Signal()
    """The person answered a question with yes."""
    said = Signal()
    """A no or a question stands here now."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._sure = QPushButton()
        self._leave = QPushButton(_("Leave it"))
        self._answers = QWidget()
        row = QHBoxLayout(self._answers)
        row.setContentsMargins(0, theme.px(4), 0, 0)
        row.addWidget(self._sure)
        row.addWidget(self._leave)
        row.addStretch()
        self._layout.setStretchFactor(self._label, 1)
        self._layout.addWidget(self._answers)
        self._then: Callable[[], None] | None = None
        self._asked_from: QWidget | None = None
        """What had the keyboard when a question was asked."""
        self._sure.clicked.connect(lambda _checked=False: self.say_sure())
        self._leave.clicked.connect(self.clear)
        self.hide()

    def lie_flat(self, flat: bool) -> None:
        """Let the answers stand beside the words, where the slip is wide, or below them."""
        ways = QBoxLayout.Direction
        self._layout.setDirection(ways.LeftToRight if flat else ways.TopToBottom)

    def refuse(self, text: str) -> None:
        """Show a refusal in one sentence."""
        self._put(text, None, "")

    def ask(self, text: str, then: Callable[[], None], yes: str = "") -> None:
        """Show a doubt; ``then`` runs when the person says it is so."""
        focus = QApplication.focusWidget()
        if focus is None or not self.isAncestorOf(focus):
            self._asked_from = focus
        self._put(text, then, yes or _("It is so, go on"))
        self._sure.setFocus()

    def is_asking(self) -> bool:
        """Return whether a question stands here that waits for its answer."""
        return self._then is not None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.is_asking():
            self.clear()
        else:
            super().keyPressEvent(event)

    def clear(self) -> None:
        """Take the slip away; the keyboard goes back to where the act was tried."""
        self._then = None
        self._give_keyboard_back()
        self._label.clear()
        self.hide()

    def _give_keyboard_back(self) -> None:
        focus, back = QApplication.focusWidget(), self._asked_from
        self._asked_from = None
        if focus is not None and back is not None and self.isAncestorOf(focus) and isValid(back) and back.isVisible():
            back.setFocus(Qt.FocusReason.OtherFocusReason)

    def _put(self, text: str, then: Callable[[], None] | None, yes: str) -> None:
        self._label.setText(labels.rich(labels.breakable(text)))
        self._then = then
        self._sure.setText(yes)
        self._answers.setVisible(then is not None)
        self.setAccessibleName(text)
        self.show()
        self.said.emit()
        QTimer.singleShot(0, self, self._come_into_sight)
        announce(self, text)

    def _come_into_sight(self) -> None:
        """Scroll the page so that the slip can be read, once it has its place."""
        above = self.parentWidget()
        while above is not None and not isinstance(above, QScrollArea):
            above = above.parentWidget()
        if above is not None and self.isVisible():
            # Up and down alone, and no further than needed: sideways it would take the button from under the mouse.
            across = above.horizontalScrollBar().value()
            above.ensureWidgetVisible(self, 0, 0)
            above.horizontalScrollBar().setValue(across)

    def say_sure(self) -> None:
        """Answer the question with yes, as its button does."""
        then = self._then
        self.clear()
        self.sure.emit()
        if then:
            then()


class EmptySlip(QFrame):
    """What will stand in an empty place, and the one next act."""

    act = Signal()

    def __init__(self, theme: Theme, text: str = "", act: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._text = labels.muted()
        self._text.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._button = QPushButton()
        self._button.clicked.connect(self.act)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(*([theme.px(24)] * 4))
        layout.addStretch()
        layout.addWidget(self._text)
        layout.addWidget(self._button, alignment=Qt.AlignmentFlag.AlignHCenter)
        layout.addStretch()
        self.say(text, act)

    def say(self, text: str, act: str = "") -> None:
        """Show a text and, where there is one, the act that fills the place."""
        self._text.setText(text)
        self._button.setText(act)
        self._button.setVisible(bool(act))

    def minimumSizeHint(self) -> QSize:
        return super().minimumSizeHint().expandedTo(QSize(self.theme.px(200), self.theme.px(110)))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = painter_of(self)
        painter.setPen(pen(self.theme.colour("edge"), self.theme.border(), Qt.PenStyle.DashLine))
        painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
