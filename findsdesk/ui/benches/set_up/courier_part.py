"""Couriers between stations without a network: a store for one, files written and taken in, clashes decided."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.clash_words import side_in_words, way_in_words, what_in_words
from findsdesk.desk.clashes import BOTH, ListedClash, clashes, decide_clash
from findsdesk.desk.courier import StationStore, WrittenCourier, make_station_store, write_courier
from findsdesk.desk.courier_taking import TakenCourier, take_courier
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.set_up.courier_words import made_in_words, taken_in_words, written_in_words
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.paper_out import paper_folder
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.key_hints import KeyHints
from findsdesk.ui.widgets.said_over import SaidOver
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.words import N_, _, put

_COURIERS, _STORES = "FindsDesk (*.courier)", "FindsDesk (*.findsdesk)"


class ClashTable(TableView):
    """The keys 1, 2 and 3 choose whose word stands."""

    kept = Signal(int)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_1, Qt.Key.Key_2, Qt.Key.Key_3) and not event.modifiers():
            self.kept.emit(event.key() - Qt.Key.Key_1)
        else:
            super().keyPressEvent(event)


class CourierPart(QWidget):
    """Files out and in above, and below what both said differently, with both words side by side."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        theme = bench.theme
        self.shown: ListedClash | None = None
        self._clashes: tuple[ListedClash, ...] = ()
        self.files = Card(theme, _("Between stations without a network"))
        self.said = labels.plain(
            _("Each writes a file and takes in the other's: acts, photographs and numbers come along as they are.")
        )
        self.take = act_button(_("Take in a courier file …"))
        self.write = QPushButton(_("Write a courier file …"))
        self.station = FieldForm(theme, (Field("station", _("Station"), width=200),), bench.surroundings.terms)
        self.make = QPushButton(_("Make a store for it …"))
        self.lies = QWidget()
        self.over = SaidOver(self.lies)
        self.asked = self.over.asked
        self.differ = Card(theme, _("What both said differently"))
        self.model = ShortTable([Column(_("Which"), grows=True), Column(_("Stands"))])
        self.table = ClashTable(theme, _("What both said differently"))
        self.table.setModel(self.model)
        self.nothing = labels.muted(_("Nothing waits for a decision."))
        self.way = labels.plain()
        self.sides = [labels.plain(), labels.plain()]
        self.keeps = [QPushButton(" "), QPushButton(" "), QPushButton(_("It is right as it stands"))]
        self.hints = KeyHints(theme)
        self._wire()
        self._lay_out()
        self._show(())

    def refresh(self) -> None:
        """Read again what waits for a decision."""
        desk = self.bench.surroundings.desk
        self.bench.read(lambda: clashes(desk), self._show, "clashes")

    # Files

    def take_in(self) -> None:
        """Let somebody choose a courier file, and take it in as one act."""
        desk, notices = self.bench.surroundings.desk, self.bench.surroundings.notices
        chosen = notices.file_to_open(_("Take in a courier file"), _COURIERS, paper_folder(desk))
        if chosen is not None:
            self.bench.deed(lambda: take_courier(desk, chosen), then=self._taken, button=self.take)

    def write_file(self) -> None:
        """Let somebody say where a courier file is written; nothing of the store changes."""
        desk, notices = self.bench.surroundings.desk, self.bench.surroundings.notices
        name = f"{desk.facts.code} {desk.station_name} {desk.now().astimezone(desk.facts.zone):%Y-%m-%d}.courier"
        chosen = notices.file_to_write(_("Write a courier file"), paper_folder(desk) / name, _COURIERS)
        if chosen is not None:
            self.bench.read(lambda: write_courier(desk, chosen), self._written, "courier")

    def make_store(self) -> None:
        """Make a store for the station that is typed."""
        said = self.station.read()
        station = str((said or {}).get("station") or "").strip()
        if not station:
            self.station.focus_first()
            return
        notices = self.bench.surroundings.notices
        into = notices.file_to_write(_("The store of that station"), Path(f"{station}.findsdesk"), _STORES)
        if into is not None:
            work = self._making(station, into)
            self.bench.deed(work, then=self._made, button=self.make)

    def _making(self, station: str, into: Path) -> Callable[[], StationStore]:
        desk = self.bench.surroundings.desk
        return lambda: make_station_store(desk, station=station, into=into)

    def _taken(self, taken: TakenCourier) -> None:
        self.said.setText(taken_in_words(taken))
        self.refresh()
        if taken.clashes:
            self.table.setFocus()

    def _written(self, written: WrittenCourier) -> None:
        self.said.setText(written_in_words(written))

    def _made(self, made: StationStore) -> None:
        self.said.setText(made_in_words(made))
        self.station.show_values({"station": ""})

    # Clashes

    def _show(self, found: tuple[ListedClash, ...]) -> None:
        self._clashes = found
        terms = self.bench.surroundings.terms
        self.model.show_rows(
            [TableRow(one.id, (Cell(what_in_words(one, terms), "", True), Cell(one.stands or "–"))) for one in found]
        )
        for part in (self.table, self.way, self.hints):
            part.setVisible(bool(found))
        self.nothing.setVisible(not found)
        self.table.fit_columns()
        wanted = self.shown.id if self.shown is not None else None
        place = next((place for place, one in enumerate(found) if one.id == wanted), 0)
        if found:
            self.table.setCurrentIndex(self.model.index(place, 0))
        self._show_clash(found[place] if found else None)

    def _pick(self, row_id: object) -> None:
        self._show_clash(next((one for one in self._clashes if one.id == row_id), None))

    def _show_clash(self, one: ListedClash | None) -> None:
        self.shown = one
        terms, zone = self.bench.surroundings.terms, self.bench.surroundings.desk.facts.zone
        for label in self.sides:
            label.setVisible(one is not None)
        for button in self.keeps:
            button.setVisible(False)
        if one is None:
            return
        self.way.setText(way_in_words(one, terms))
        hints = []
        for place, (label, side) in enumerate(zip(self.sides, (one.one, one.other), strict=True)):
            label.setText(f"{side.station}\n{side_in_words(side, terms, zone)}")
            labels.restyle(label, agreed=one.stands == side.station)
            self.keeps[place].setText(put(N_("Keep {station}"), None, {"station": side.station}).replace("&", "&&"))
            self.keeps[place].setVisible(side.station in one.choices)
            if side.station in one.choices:
                hints.append((str(place + 1), put(N_("keep {station}"), None, {"station": side.station})))
        self.keeps[2].setVisible(BOTH in one.choices)
        if BOTH in one.choices:
            hints.append(("3", _("as it stands")))
        self.hints.show_keys(hints)

    def keep(self, place: int) -> None:
        """Decide the clash that is shown: 0 and 1 for the two stations, 2 for both."""
        one, desk = self.shown, self.bench.surroundings.desk
        if one is None:
            return
        word = (one.one.station, one.other.station, BOTH)[place]
        if word in one.choices:
            self.bench.deed(lambda: decide_clash(desk, one.id, keep=word), then=self._decided, button=self.keeps[place])

    def _decided(self, one: ListedClash) -> None:
        said = put(N_(": {choice}"), None, {"choice": one.choice if one.choice != BOTH else _("as it stands")})
        name = what_in_words(one, self.bench.surroundings.terms)
        self.bench.surroundings.say(Answer(Tone.DONE, name, said))
        self.table.setFocus()
        self.refresh()

    # Layout

    def _wire(self) -> None:
        self.take.clicked.connect(self.take_in)
        self.write.clicked.connect(self.write_file)
        self.make.clicked.connect(self.make_store)
        self.station.entered.connect(self.make_store)
        self.table.picked.connect(self._pick)
        self.table.kept.connect(self.keep)
        for place, button in enumerate(self.keeps):
            button.clicked.connect(lambda _on=False, at=place: self.keep(at))

    def _in_a_row(self, *parts: QWidget) -> QWidget:
        row = QWidget()
        flow = FlowLayout(self.bench.theme.px(10), self.bench.theme.px(6))
        row.setLayout(flow)
        for part in parts:
            flow.addWidget(part)
        return row

    def _lay_out(self) -> None:
        px = self.bench.theme.px
        inside = QVBoxLayout(self.lies)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.said)
        self.files.body.addWidget(self.over)
        self.files.body.addWidget(self._in_a_row(self.take, self.write))
        made = QHBoxLayout()
        made.addWidget(self.station)
        made.addWidget(self.make, 0, Qt.AlignmentFlag.AlignBottom)
        made.addStretch(1)
        self.files.body.addLayout(made)
        beside = QGridLayout()
        beside.setHorizontalSpacing(px(18))
        for column, (label, button) in enumerate(zip(self.sides, self.keeps, strict=False)):
            beside.setColumnStretch(column, 1)
            beside.addWidget(label, 0, column, Qt.AlignmentFlag.AlignTop)
            beside.addWidget(button, 1, column, Qt.AlignmentFlag.AlignLeading)
        beside.addWidget(self.keeps[2], 2, 0, 1, 2, Qt.AlignmentFlag.AlignLeading)
        self.table.setMinimumHeight(px(110))
        self.differ.body.addWidget(self.nothing)
        self.differ.body.addWidget(self.table, 1)
        self.differ.body.addWidget(self.way)
        self.differ.body.addLayout(beside)
        self.differ.body.addWidget(self.hints)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(px(12))
        layout.addWidget(self.files)
        layout.addWidget(self.differ, 1)
        layout.addStretch(0)
