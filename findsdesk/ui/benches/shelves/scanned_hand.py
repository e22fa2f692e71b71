"""What was scanned for an act of a page is in hand too: the dossier shows it, and follows what the act changes."""

from __future__ import annotations

from findsdesk.desk.dossiers import Dossier
from findsdesk.domain.codes import Code
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Found
from findsdesk.ui.store_work import find
from findsdesk.ui.surroundings import Surroundings


class ScannedHand:
    """Looks up, without a sound, what a page has taken for itself; the page says what the scan was for."""

    def __init__(self, surroundings: Surroundings) -> None:
        self._around = surroundings
        self._wanted = ""
        """What was scanned last, while it is being looked up and afterwards."""
        self._text = ""
        self._thing: object = None

    def take(self, text: str) -> None:
        """Take what was scanned in hand, after the act that the scan asked for."""
        desk, self._wanted = self._around.desk, text
        self._around.lanes.deed(
            lambda: find(desk, text), then=lambda found: self._show(text, found), refused=self._stay
        )

    def follow(self, in_hand: object) -> None:
        """Show a container again after news, if it is what is in hand and nothing else is on its way there.

        Where its bags lie is no news of itself; a box, a place or a loan the window follows.
        """
        if isinstance(in_hand, Dossier) and in_hand is self._thing and self._wanted == self._text != "":
            self.take(self._text)

    def _show(self, text: str, found: Found) -> None:
        if text != self._wanted:
            return
        if found.words or isinstance(found.thing, Code):
            self._wanted = self._text
            return
        self._text, self._thing = text, found.thing
        self._around.show_found.emit(found)

    def _stay(self, _refusal: Refusal) -> None:
        """Leave in hand what is there: the page says what is wrong with the scan."""
        self._wanted = self._text
