"""One act of the journal: who, when, at which station, and each row it changed as it was and as it is."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.columns_in_words import QUIET, column_in_words, value_in_words
from findsdesk.desk.journal_register import ActInRegister, ActLine, act_lines
from findsdesk.desk.registers import Register, RegisterQuery, page
from findsdesk.ui.bench import Bench
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural


@dataclass(frozen=True, slots=True)
class ShownAct:
    """An act with its lines."""

    act: ActInRegister | None
    lines: tuple[ActLine, ...]


def act_in_words(act: ActInRegister, around: WordsAround) -> tuple[str, str]:
    """Return the head of an act and a sentence about it: who, when, at which station, with which number."""
    written = f"{act.written_at.astimezone(around.zone):%Y-%m-%d %H:%M:%S}"
    parts = [
        around.say(N_("{who} at {station}, act {running}"), who=act.person, station=act.station, running=act.running),
        around.say(N_("written {written}"), written=written),
    ]
    if act.happened_at != act.written_at:
        happened = f"{act.happened_at.astimezone(around.zone):%Y-%m-%d %H:%M}"
        parts.append(around.say(N_("happened {happened}"), happened=happened))
    head = around.say(act.in_words)
    return f"{head[:1].upper()}{head[1:]}" + (f": {act.said}" if act.said else ""), " · ".join(parts)


def line_rows(lines: tuple[ActLine, ...], around: WordsAround) -> list[TableRow]:
    """Return a row for each value that an act wrote, changed or took away."""
    rows = []
    for place, line in enumerate(lines):
        named = f"{around.say(line.in_words)} {line.name}".strip()
        for column in _columns(line):
            called = column_in_words(column, around.terms)
            before, after = (
                value_in_words(column, (values or {}).get(column), around.zone, around.terms)
                for values in (line.before, line.after)
            )
            cells = (Cell(named, "", strong=True), Cell(called), Cell(before, "muted"), Cell(after))
            rows.append(TableRow((place, column), cells))
            named = ""
    return rows


def _columns(line: ActLine) -> list[str]:
    """Return the columns of a line that say something: of a new row what is not empty, of a changed one the changes."""
    before, after = line.before or {}, line.after or {}
    names = [name for name in {**before, **after} if name not in QUIET]
    if line.before is None or line.after is None:
        only = after or before
        return [name for name in names if only.get(name) not in (None, "", {}, [])] or names[:1]
    return [name for name in names if before.get(name) != after.get(name)] or names[:1]


class ActPart(QWidget):
    """Shows one act of the journal."""

    left = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.back = QPushButton(_("Back to the journal"))
        self.head = labels.bold(wrap=True)
        self.about = labels.muted()
        titles = (_("Row"), _("What of it"), _("Before"), _("After"))
        self.model = ShortTable([Column(title, grows=place >= 2) for place, title in enumerate(titles)])
        self.table = TableView(bench.theme, _("What the act changed"))
        self.table.setModel(self.model)
        self.back.clicked.connect(self.left)
        px = bench.theme.px
        top = QWidget()
        flow = FlowLayout(px(14), px(6))
        top.setLayout(flow)
        flow.addWidget(self.back)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(px(8))
        whole.addWidget(top)
        whole.addWidget(self.head)
        whole.addWidget(self.about)
        whole.addWidget(self.table, 1)

    def show_act(self, act_id: str) -> None:
        """Read an act and show it."""
        desk = self.bench.surroundings.desk

        def work() -> ShownAct:
            found = page(desk, Register.JOURNAL, RegisterQuery(filters=(("act", act_id),)))
            return ShownAct(found[0] if found else None, act_lines(desk, act_id))

        self.bench.read(work, self._show, topic="act")

    def _show(self, shown: ShownAct) -> None:
        around = WordsAround.of(self.bench.surroundings.desk)
        if shown.act is not None:
            head, about = act_in_words(shown.act, around)
            changed = plural("{n} row changed", "{n} rows changed", len(shown.lines))
            self.head.setText(head)
            self.about.setText(f"{about} · {changed}")
        self.model.show_rows(line_rows(shown.lines, around))
        self.table.fit_columns()
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
