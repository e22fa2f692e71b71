"""What happens beside the rows: the dates that follow each of them, and the reading of the whole."""

from __future__ import annotations

from collections.abc import Callable

from findsdesk.desk.figure_scopes import Of
from findsdesk.desk.live_dates import LiveDates, live_dates
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting.beside_part import BesidePart
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.ui.reading_part import ReadingPart


class BesideWork:
    """Reads the dates of the container in hand anew with its table, and opens its reading by one key."""

    def __init__(self, bench: Bench, state: SortingState, shown_anew: Callable[[], None]) -> None:
        self.bench, self.state, self._shown_anew = bench, state, shown_anew
        self.part = BesidePart(bench.surroundings)
        self.reading = ReadingPart(bench)
        self.is_reading = False
        """Whether the reading stands in the place of the rows."""
        self.reading.left.connect(self.leave_reading)

    def read_dates(self) -> None:
        """Read the dates of the container in hand; an answer for another one is passed over."""
        desk, dossier = self.bench.surroundings.desk, self.state.dossier
        if dossier is None or desk is None:
            self.show_dates(None)
            return
        wanted = dossier.container_id

        def show(found: LiveDates) -> None:
            if self.state.dossier is not None and self.state.dossier.container_id == wanted:
                self.show_dates(found)

        self.bench.read(lambda: live_dates(desk, wanted), show, "dates")

    def show_dates(self, found: LiveDates | None) -> None:
        """Show the dates, and mark the rows that look late."""
        self.part.show_dates(found)
        late = found.late_types if found else frozenset()
        self.state.late_from = found.late_from if found else None
        if late != self.state.late_types:
            self.state.late_types = late
            self._shown_anew()

    def open_reading(self) -> None:
        """Open the reading of the container in hand; what is half typed stays in its row."""
        if self.state.dossier is None:
            return
        self.bench.refusals.clear()
        self.is_reading = True
        self.reading.show_for(Of.CONTAINER, self.state.dossier.code)
        self._shown_anew()
        self.reading.form.focus_first()

    def is_half_read(self) -> bool:
        """Return whether a reading of the container in hand is typed and not written by who sits here."""
        dossier = self.state.dossier
        return dossier is not None and self.reading.is_half_typed(Of.CONTAINER, dossier.container_id)

    def is_behind(self) -> bool:
        """Return whether a reading that was opened is not there yet: what is typed is for its form."""
        return self.is_reading and self.reading.is_behind()

    def leave_reading(self) -> None:
        """Go back to the rows, and say no more of what was refused of the reading."""
        self.is_reading = False
        self.bench.refusals.clear()
        self._shown_anew()
