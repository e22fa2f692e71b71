"""Labels in the type scale: titles, group headings, lighter text, a bold head before a rest."""

from __future__ import annotations

import re

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy

_BREAK = "\u200b"
"""Stands between letters, is not seen, and lets a line end there."""
_NO_MARKUP = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})


def rich(head: str, rest: str = "") -> str:
    """Return a line with a bold head as rich text; both parts are plain text and cannot carry markup."""
    bold = f"<b>{head.translate(_NO_MARKUP)}</b>" if head else ""
    return f"{bold}{rest.translate(_NO_MARKUP)}"


_LONGEST = 32
"""Letters of a word that stand in a line however narrow."""
_LONG_WORD = re.compile(rf"\S{{{_LONGEST + 1},}}")


def breakable(text: str) -> str:
    """Return a text whose longest words may be broken: else one of them alone would widen all around it."""
    return _LONG_WORD.sub(lambda word: _BREAK.join(_parts(word.group())), text)


def _parts(word: str) -> list[str]:
    return [word[place : place + _LONGEST] for place in range(0, len(word), _LONGEST)]


def _label(text: str, kind: str, wrap: bool) -> QLabel:
    label = QLabel()
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setText(text)
    label.setProperty("kind", kind)
    label.setWordWrap(wrap)
    return label


def plain(text: str = "", wrap: bool = True) -> QLabel:
    """Return a label for running text."""
    return _label(text, "plain", wrap)


def bold(text: str = "", wrap: bool = False) -> QLabel:
    """Return a label in bold."""
    return _label(text, "bold", wrap)


def title(text: str = "") -> QLabel:
    """Return the title of a bench or of the dossier."""
    return _label(text, "title", wrap=False)


def group(text: str = "") -> QLabel:
    """Return the small bold heading above a group."""
    return _label(text, "group", wrap=True)


def muted(text: str = "", wrap: bool = True, small: bool = False) -> QLabel:
    """Return a label in the second text colour."""
    label = _label(text, "small" if small else "plain", wrap)
    label.setProperty("muted", True)
    return label


def key(text: str) -> QLabel:
    """Return a key of the keyboard by its name, drawn as one."""
    return _label(text, "key", wrap=False)


def headed(head: str = "", rest: str = "", wrap: bool = True) -> QLabel:
    """Return a label with a bold head before the rest."""
    label = QLabel(rich(head, rest))
    label.setTextFormat(Qt.TextFormat.RichText)
    label.setWordWrap(wrap)
    label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    return label


def restyle(label: QLabel, **properties: bool) -> None:
    """Set style properties (``wrong``, ``agreed``, ``muted``) on a label that is already on screen."""
    for name, value in properties.items():
        label.setProperty(name, value)
    label.style().unpolish(label)
    label.style().polish(label)
