"""Looking at a window as a person would: is a word cut, has everything a name, is anything too small to hit?"""

from collections.abc import Iterator

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics, QTextDocument
from PySide6.QtWidgets import QAbstractButton, QAbstractScrollArea, QComboBox, QLabel, QLineEdit, QPushButton, QWidget

SIZES = ((910, 460), (1366, 768), (1920, 1080))


def shown_inside(widget: QWidget) -> Iterator[QWidget]:
    """Yield the widget and all inside it that can be seen."""
    yield widget
    for child in widget.findChildren(QWidget):
        if child.isVisibleTo(widget):
            yield child


def _label_is_cut(label: QLabel) -> bool:
    room = label.contentsRect()
    if label.textFormat() == Qt.TextFormat.RichText:
        document = QTextDocument()
        document.setDefaultFont(label.font())
        document.setDocumentMargin(0)
        document.setHtml(label.text())
        if label.wordWrap():
            document.setTextWidth(room.width())
        size = document.size()
        return size.width() > room.width() + 2 or size.height() > room.height() + 2
    flags = Qt.TextFlag.TextWordWrap.value if label.wordWrap() else 0
    needed = QFontMetrics(label.font()).boundingRect(
        0, 0, room.width() if flags else 100_000, 100_000, flags, label.text()
    )
    return needed.width() > room.width() + 2 or needed.height() > room.height() + 2


def cut_words(widget: QWidget) -> list[str]:
    """Return the texts of labels and buttons that do not fit where they stand."""
    cut = []
    for shown in shown_inside(widget):
        if isinstance(shown, QLabel) and shown.text() and _label_is_cut(shown):
            cut.append(f"label {shown.text()!r} {shown.size().toTuple()}")
        if isinstance(shown, QPushButton):
            width = QFontMetrics(shown.font()).horizontalAdvance(shown.text().replace("&", ""))
            if width > shown.width() - 4:
                cut.append(f"button {shown.text()!r} {shown.width()} < {width}")
        if isinstance(shown, QLineEdit) and shown.placeholderText():
            width = QFontMetrics(shown.font()).horizontalAdvance(shown.placeholderText())
            if width > shown.width() - 8:
                cut.append(f"field {shown.placeholderText()!r}")
    return cut


def nameless(widget: QWidget) -> list[str]:
    """Return what takes the keyboard but tells a screen reader nothing."""
    return [
        repr(shown)
        for shown in shown_inside(widget)
        if shown.focusPolicy() != Qt.FocusPolicy.NoFocus
        and not shown.accessibleName()
        and not (isinstance(shown, QAbstractButton) and shown.text())
        and not (isinstance(shown, QAbstractScrollArea) and shown.focusProxy() is not None)
    ]


def too_small(widget: QWidget, least: int = 24) -> list[str]:
    """Return what can be pressed but is lower or narrower than ``least`` pixels (WCAG 2.2, 2.5.8: 24).

    The line within a box of choices is pressed as a part of the box.
    """
    return [
        f"{shown.accessibleName() or shown!r} {shown.size().toTuple()}"
        for shown in shown_inside(widget)
        if isinstance(shown, QAbstractButton | QLineEdit)
        and not isinstance(shown.parentWidget(), QComboBox)
        and (shown.width() < least or shown.height() < least)
    ]


def reachable_by_tab(widget: QWidget) -> set[QWidget]:
    """Return all that the Tab key comes to, once around."""
    reached: set[QWidget] = set()
    here = widget.nextInFocusChain()
    while here is not None and here not in reached and here is not widget:
        if here.focusPolicy() & Qt.FocusPolicy.TabFocus and here.isVisibleTo(widget):
            reached.add(here)
        here = here.nextInFocusChain()
        if here is widget:
            break
    return reached
