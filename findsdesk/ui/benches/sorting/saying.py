"""What was done at the table, said where scans are answered and across the table, until the next row makes it old."""

from __future__ import annotations

from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.benches.sorting.lines import Saved
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.surroundings import Surroundings
from findsdesk.words import N_


class Saying:
    """Says what was done with the container in hand."""

    def __init__(self, surroundings: Surroundings, state: SortingState) -> None:
        self._around, self._state = surroundings, state
        self._stands = False

    def __call__(self, text: str, *, across: str = "", **facts: object) -> None:
        """Say a marked text with its facts, the container in front; ``across`` stands large instead, where given."""
        said = self._around.words(text, **facts)
        number = self._state.dossier.number if self._state.dossier else ""
        head = self._around.words(N_("{Container} {number}"), number=number)
        self._around.say(Answer(Tone.DONE, head, f": {said}"))
        self._stands = True
        # A row on its way was said after what is told of here, and stands large already.
        if not any(line.saved is Saved.PENDING for line in self._state.lines.lines):
            self._state.told = across or f"{said[:1].upper()}{said[1:]}"

    def no_more(self) -> None:
        """Take away what was said here last."""
        if self._stands:
            self._stands = False
            self._around.say(Answer(Tone.PLAIN, ""))
