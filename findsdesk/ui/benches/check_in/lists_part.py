"""Field lists brought in: one file after the other is looked at, asked about, and taken in or left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from findsdesk.desk.field_lists import ListTaken, take_in_list
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.check_in.list_asks import GivenFields
from findsdesk.ui.benches.check_in.list_state import (
    ListAsk,
    ListSeen,
    column_choices,
    look,
    preview_state,
    taken_answer,
)
from findsdesk.ui.benches.check_in.state import materials
from findsdesk.ui.table_preview import PreviewState, TablePreview
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, put

KINDS = N_("Field lists")
PATTERNS = "*.csv *.tsv *.txt *.xlsx *.xlsm *.xls *.ods"


@dataclass(frozen=True, slots=True)
class _Looked:
    """What one look brings back from the reading lane."""

    seen: ListSeen
    state: PreviewState


class ListsPart(QWidget):
    """Shows the preview of the list at hand; the others wait their turn."""

    done = Signal(object)
    """A ``ListTaken`` after the last list, or None where all were left."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        around = WordsAround.of(bench.surroundings.desk)
        self.given_fields = GivenFields(bench.theme, materials(around))
        self.preview = TablePreview(bench.theme, self.given_fields)
        self.waiting: list[Path] = []
        self.seen: ListSeen | None = None
        self._last: ListTaken | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.preview)
        self.preview.offer_columns(column_choices(around))
        self._wire()

    def choose(self) -> list[Path]:
        """Let a person choose files."""
        return self.bench.surroundings.notices.files_to_open(_("Field lists"), f"{put(KINDS)} ({PATTERNS})")

    def begin(self, paths: Sequence[Path]) -> None:
        """Look at these files, one after the other."""
        self.waiting = list(paths)
        self._last = None
        self._next()

    def _next(self) -> None:
        if not self.waiting:
            self.seen = None
            self.done.emit(self._last)
            return
        self.given_fields.forget()
        self._look(ListAsk(self.waiting.pop(0)))

    def _look(self, ask: ListAsk) -> None:
        desk = self.bench.surroundings.desk

        def work() -> _Looked:
            seen = look(desk, ask)
            return _Looked(seen, preview_state(seen, WordsAround.of(desk)))

        self.preview.take.setEnabled(False)
        self.bench.read(work, self._show, topic="list")

    def _show(self, looked: _Looked) -> None:
        self.seen = looked.seen
        self.preview.show_state(looked.state)
        first = self.preview.take if looked.state.can_take else self.preview.leave
        first.setFocus()

    def _take(self) -> None:
        seen, desk = self.seen, self.bench.surroundings.desk
        if seen is None or seen.look is None:
            return
        at_hand = seen.look
        self.bench.deed(lambda: take_in_list(desk, at_hand), then=self._taken, button=self.preview.take)

    def _taken(self, taken: ListTaken) -> None:
        self._last = taken
        self.bench.surroundings.say(taken_answer(taken, WordsAround.of(self.bench.surroundings.desk)))
        self._next()

    # What a person changes before it goes in

    def _match(self, columns: Mapping[str, str]) -> None:
        if self.seen is not None:
            self._look(replace(self.seen.ask, columns=columns))

    def _answer(self, code: str, choice: str) -> None:
        if self.seen is not None:
            self._look(self.seen.ask.answered(code, choice))

    def _give(self, column: str, value: str) -> None:
        if self.seen is not None:
            self._look(replace(self.seen.ask, given={**self.seen.ask.given, column: value}))

    def _sheet(self, sheet: str) -> None:
        if self.seen is not None:
            self._look(replace(self.seen.ask, sheet=sheet, columns=None))

    def _wire(self) -> None:
        preview = self.preview
        preview.taken.connect(self._take)
        preview.left.connect(self._next)
        preview.matched.connect(self._match)
        preview.answered.connect(self._answer)
        preview.given.connect(self._give)
        preview.sheet_chosen.connect(self._sheet)
