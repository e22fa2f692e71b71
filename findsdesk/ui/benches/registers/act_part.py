"""One act of the journal: who, when, at which station, and each row it changed as it was and as it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

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

_QUIET = frozenset({"id", "version", "number_key", "number_folded", "search_text", "name_key", "scope"})
"""Columns that the store keeps for itself: no news to a person."""
_CALLED = {
    "container_id": N_("{container}"),
    "from_container_id": N_("from {container}"),
    "into_container_id": N_("into {container}"),
    "other_container_id": N_("other {container}"),
    "deposit_id": N_("{deposit}"),
    "merged_into_id": N_("merged into {deposit}"),
    "square_id": N_("{square}"),
    "season_id": N_("season"),
    "supervisor_id": N_("supervisor"),
    "person_id": N_("who"),
    "entered_by_id": N_("entered by"),
    "ware_id": N_("ware"),
    "bag_id": N_("bag"),
    "form_id": N_("form"),
    "piece_id": N_("piece"),
    "left_id": N_("piece"),
    "right_id": N_("joins the piece"),
    "object_id": N_("object"),
    "vessel_id": N_("vessel"),
    "rim_permille": N_("rim, per mille"),
    "base_permille": N_("base, per mille"),
    "rim_diameter_mm": N_("rim diameter, mm"),
    "base_diameter_mm": N_("base diameter, mm"),
    "diameter_uncertainty_mm": N_("diameter unsure by, mm"),
    "diameter_method": N_("how the diameter was found"),
    "chord_tenths_mm": N_("chord, tenths of a mm"),
    "sagitta_tenths_mm": N_("height of the arc, tenths of a mm"),
    "wall_tenths_mm": N_("wall, tenths of a mm"),
    "height_mm": N_("height, mm"),
    "colour_surface": N_("colour outside"),
    "colour_inside": N_("colour inside"),
    "colour_core": N_("colour of the core"),
    "colour_slip": N_("colour of the slip"),
    "shared": N_("shared, not measured"),
    "told_at": N_("director knows since"),
    "collected_on": N_("day in the field"),
    "opening_mm": N_("opening elevation, mm"),
    "closing_mm": N_("closing elevation, mm"),
    "tenths": N_("tenths of a gram"),
    "held_for": N_("held back for"),
    "on_list": N_("on a field list"),
    "tag_copy": N_("copy of the tag"),
}
"""What columns are called where the store's own word says little."""


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
            called = around.say(_CALLED[column]) if column in _CALLED else column.replace("_", " ")
            before, after = (_plain(values, column, around) for values in (line.before, line.after))
            cells = (Cell(named, "", strong=True), Cell(called), Cell(before, "muted"), Cell(after))
            rows.append(TableRow((place, column), cells))
            named = ""
    return rows


def _columns(line: ActLine) -> list[str]:
    """Return the columns of a line that say something: of a new row what is not empty, of a changed one the changes."""
    before, after = line.before or {}, line.after or {}
    names = [name for name in {**before, **after} if name not in _QUIET]
    if line.before is None or line.after is None:
        only = after or before
        return [name for name in names if only.get(name) not in (None, "", {}, [])] or names[:1]
    return [name for name in names if before.get(name) != after.get(name)] or names[:1]


def _plain(values: Mapping[str, Any] | None, column: str, around: WordsAround) -> str:
    value = None if values is None else values.get(column)
    if value is None:
        return ""
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, str) and column.endswith("_at"):
        return f"{datetime.fromisoformat(value).astimezone(around.zone):%Y-%m-%d %H:%M}"
    return str(value)


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
