"""Plain values with which the program answers a scan or a deed on screen."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from findsdesk.ui.changes import Thing
    from findsdesk.ui.widgets.dossier_facts import DossierFacts


class Tone(Enum):
    """How an answer is meant: each has its own mark, colour and sound."""

    DONE = "done"
    ALREADY = "already"
    REFUSED = "refused"
    PLAIN = "plain"


class Answer(NamedTuple):
    """One line in words; ``head`` stands in bold before ``rest``."""

    tone: Tone
    head: str
    rest: str = ""

    def in_one_line(self) -> str:
        """Return the whole line, for screen readers and the log."""
        return f"{self.head}{self.rest}"


class Follows(NamedTuple):
    """How a box, a place or a loan in hand is found again, and after which news."""

    code: str
    kinds: frozenset[str]
    """Kinds of things, whichever of them was changed."""
    things: frozenset[Thing] = frozenset()
    """Things of which only these matter."""

    def concerned_by(self, touched: frozenset[Thing]) -> bool:
        """Return whether news may have changed what the dossier says."""
        kinds = {kind for kind, _number in touched}
        return bool(kinds & self.kinds or touched & self.things)


class Found(NamedTuple):
    """What a scan found. ``thing`` is the desk's own value, handed to the benches as it is."""

    thing: object
    answer: Answer
    dossier: DossierFacts | None = None
    bench: str = ""
    """The bench to go to, or empty to stay."""
    words: str = ""
    """What was looked for by its words and is shown in the registers; nothing else is then taken in hand."""
    follows: Follows | None = None
    """How it follows news where it is of the store; None for what the yard knows by its own id."""
