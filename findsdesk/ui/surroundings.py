"""What a bench stands among: the desk, the lanes, the news, the words, the look, and the ways to other benches."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Signal

from findsdesk.ui.answers import Answer
from findsdesk.ui.background import Lanes
from findsdesk.ui.changes import Changes
from findsdesk.ui.notices import Notices
from findsdesk.ui.sounds import Sounds
from findsdesk.ui.theme import Theme
from findsdesk.words import Terms, put


class Surroundings(QObject):
    """Handed to every bench. ``desk`` is passed on to use cases and never looked into here."""

    open_thing = Signal(str, object)
    """(kind, id): show this thing where it is shown; the window answers."""
    open_bench = Signal(str)
    """The key of a bench to go to."""
    take_in_hand = Signal(str)
    """A code or number to find and take in hand, as if it had been scanned."""
    said = Signal(object)
    """An ``Answer`` for the scan line: the outcome of a deed in words, with sound and colour."""
    written = Signal()
    """A deed of this window was written."""
    seated = Signal()
    """Somebody else sat down: what is one's own is theirs from now on."""
    show_found = Signal(object)
    """A ``Found``: take it in hand and show it in the dossier without another look-up."""
    show_beside = Signal(object)
    """A ``Found`` that the open bench shows, or None: its dossier stands there while that bench is open; what is in
    hand stays."""

    def __init__(
        self, desk: Any, lanes: Lanes, changes: Changes, terms: Terms, theme: Theme, notices: Notices, sounds: Sounds
    ) -> None:
        super().__init__()
        self.desk = desk
        self.lanes = lanes
        self.changes = changes
        self.terms = terms
        self.theme = theme
        self.notices = notices
        self.sounds = sounds
        self.rows_wished: tuple[Any, Any] | None = None
        """A ``Scope`` and a ``Behind`` that somebody asked for at another bench."""
        self.labels_wished = ""
        """The kind of labels that somebody asked for at another bench."""
        self.reading_wished = False
        """Somebody asked at another bench for the reading of what is in hand."""

    def open_labels(self, kind: str) -> None:
        """Show the labels of a kind at their bench, which takes the wish up when it opens."""
        self.labels_wished = kind
        self.open_bench.emit("labels")

    def open_rows(self, scope: object, behind: object) -> None:
        """Show the rows behind a figure of something, at the bench of figures, which takes them up when it opens."""
        self.rows_wished = (scope, behind)
        self.open_bench.emit("figures")

    def words(self, text: str, **facts: object) -> str:
        """Return a marked text in the language of the window, with the excavation's words and the facts filled in."""
        return put(text, self.terms, facts)

    def say(self, answer: Answer) -> None:
        """Show the outcome of a deed in the scan line."""
        self.said.emit(answer)
