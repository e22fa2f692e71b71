"""The dossier beside the bench: of the piece in the fields, which need not be what is in hand."""

from __future__ import annotations

from findsdesk.desk.desk import Desk
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Found
from findsdesk.ui.bench import Bench
from findsdesk.ui.store_work import thing


class PieceDossier:
    """Follows the piece that is shown; what is in hand stays, and its dossier comes back at another bench."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._code = ""

    def show_piece(self, code: str) -> None:
        """Show the dossier of a piece as it stands now; '' shows that of what is in hand."""
        self._code = code
        self.show_again()

    def show_again(self) -> None:
        """Read it again, if the bench can be seen."""
        desk, code = self._bench.surroundings.desk, self._code
        if not self._bench.isVisible():
            return
        if code:
            self._bench.read(lambda: _if_there(desk, code), lambda found: self._show(code, found), topic="dossier")
        else:
            self._bench.surroundings.show_beside.emit(None)

    def _show(self, code: str, found: Found | None) -> None:
        if code == self._code and self._bench.isVisible():
            self._bench.surroundings.show_beside.emit(found)


def _if_there(desk: Desk, code: str) -> Found | None:
    """Return a piece as the dossier shows it; None for one that was laid back meanwhile."""
    try:
        return thing(desk, "label", code)
    except Refusal:
        return None
