"""Joins and vessel of a piece: with which others it fits, into which pot it is gathered."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QCheckBox, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.joins import JoinRow, change_join, join_named, part_pieces
from findsdesk.desk.piece_pages import PiecePage
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.vessels import VesselFacts, gather_named, leave_vessel
from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.models.cells import Cell, Column, TableRow
from findsdesk.ui.models.short import ShortTable
from findsdesk.ui.pieces_in_words import from_where
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.table_view import TableView
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural

_NOTHING_TYPED = "", True, "", False, ("", "")
"""The other piece, whether the join is certain, the vessel, whether it is to be mended; what was scanned."""


class JoinsPart(QWidget):
    """A join is written by scanning or naming the other piece; what is said of one is of the row under the cursor."""

    done = Signal()
    """Something was written: the piece is to be read again."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        theme = bench.theme
        self.page: PiecePage | None = None
        self._scanned = "", ""
        """Name and code of the piece that was scanned into the field: its name may be another's in another season."""
        self._typed: dict[int, tuple[str, bool, str, bool, tuple[str, str]]] = {}
        """What is typed and not written, by the id of its piece."""
        self.model = ShortTable(
            (Column(_("It joins"), grows=True), Column(_("How sure")), Column(_("Note"), grows=True))
        )
        self.table = TableView(theme, _("Joins"))
        self.table.setModel(self.model)
        self.other = QLineEdit()
        self.other.setAccessibleName(_("The other piece"))
        self.other.setPlaceholderText(_("131.4, or scan it"))
        self.certain = QCheckBox(_("certain"))
        self.certain.setChecked(True)
        self.join = QPushButton(_("Join"))
        self.part = QPushButton(_("They do not join"))
        self.sure = QPushButton()
        self.vessel, self.discarded = labels.plain(), labels.bold(wrap=True)
        self.number = QLineEdit()
        self.number.setAccessibleName(_("Number of the vessel, empty for a new one"))
        self.number.setPlaceholderText(_("new"))
        self.number.setProperty("number", True)
        self.mending = QCheckBox(_("to be mended"))
        self.gather = QPushButton(_("Gather into the vessel"))
        self.leave = QPushButton(_("Take out of the vessel"))
        self._lay_out()
        self._wire()

    def show_piece(self, page: PiecePage | None, around: WordsAround) -> None:
        """Show the joins of a piece and its vessel."""
        if self.page is None or page is None or self.page.piece.id != page.piece.id:
            self._keep_typed(page)
        self.page = page
        focus = QApplication.focusWidget()
        self._show_joins(page, around)
        if focus is not None and self.isAncestorOf(focus) and focus.isHidden():
            # Else the toolkit gives the keyboard to whatever comes next, often to another act.
            self.focus_first()

    def focus_first(self) -> None:
        """Give the keyboard to the field of the other piece."""
        self.other.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_joins(self, page: PiecePage | None, around: WordsAround) -> None:
        joins = page.joins if page else ()
        piece_id = page.piece.id if page else 0
        self.model.show_rows([_row(join, piece_id, around) for join in joins])
        self.table.setVisible(bool(joins))
        self.part.setVisible(bool(joins))
        self._say_sure()
        vessel = page.vessel if page else None
        self.vessel.setText(_vessel_words(vessel, around) if vessel else _("In no vessel yet."))
        self.discarded.setText(_discarded_words(page, around) if page else "")
        self.discarded.setVisible(bool(self.discarded.text()))
        self.leave.setVisible(vessel is not None)
        for widget in (self.number, self.mending, self.gather):
            widget.setVisible(vessel is None)

    def _keep_typed(self, page: PiecePage | None) -> None:
        """Keep what is typed with its piece, and bring back what was typed at the other one."""
        if self.page is not None:
            self._typed[self.page.piece.id] = (
                self.other.text(),
                self.certain.isChecked(),
                self.number.text(),
                self.mending.isChecked(),
                self._scanned,
            )
        self._show_typed(*(self._typed.pop(page.piece.id, _NOTHING_TYPED) if page else _NOTHING_TYPED))

    def _show_typed(self, other: str, certain: bool, number: str, mending: bool, scanned: tuple[str, str]) -> None:
        self._scanned = scanned
        self.other.setText(other)
        self.certain.setChecked(certain)
        self.number.setText(number)
        self.mending.setChecked(mending)

    def take_piece(self, piece: PieceRow) -> str:
        """Put a scanned piece into the field of the other one, where the keyboard is there; return its name or ''."""
        if not self.other.hasFocus() or self.page is None or piece.id == self.page.piece.id:
            return ""
        same_season = piece.season == self.page.piece.season
        name = piece.name if same_season else f"{piece.season}/{piece.name}"
        self._scanned = name, piece.code
        self.other.setText(name)
        self.bench.refusals.clear()
        return name

    def write_join(self) -> None:
        """Join the piece with the one that is named."""
        page, other = self.page, self.other.text().strip()
        if page is None or not other:
            return
        scanned, code = self._scanned
        other = code if other == scanned else other
        desk, name, certain = self._desk(), page.piece.code, self.certain.isChecked()
        self.bench.deed(
            lambda: join_named(desk, name, other, certain=certain),
            sure=lambda: join_named(desk, name, other, certain=certain, sure=True),
            then=lambda join: self._joined(page.piece, join),
            button=self.join,
        )

    def write_parting(self) -> None:
        """Part the piece from the one under the cursor."""
        desk, join = self._desk(), self._at_cursor()
        if join is not None:
            self.bench.deed(
                lambda: part_pieces(desk, join.id, seen=join.version),
                then=lambda _join: self._written(),
                button=self.part,
            )

    def write_certainty(self) -> None:
        """Write that the join under the cursor is certain, or no longer."""
        desk, join = self._desk(), self._at_cursor()
        if join is not None:
            self.bench.deed(
                lambda: change_join(desk, join.id, seen=join.version, certain=not join.certain),
                then=lambda _join: self._written(),
                button=self.sure,
            )

    def _at_cursor(self) -> JoinRow | None:
        found = self.page.joins if self.page else ()
        return next((join for join in found if join.id == self.table.row_id()), None)

    def _say_sure(self) -> None:
        join = self._at_cursor()
        self.sure.setVisible(join is not None)
        self.sure.setText(_("It is not certain") if join is not None and join.certain else _("It is certain"))

    def write_gathering(self) -> None:
        """Gather the piece into the vessel of the number, or into a new one."""
        page = self.page
        if page is None:
            return
        typed = self.number.text().strip()
        if typed and not typed.isdigit():
            self.bench.refuse(Refusal("not_a_number", N_("A vessel has a whole number. Leave it empty for a new one.")))
            return
        number, mending, name = int(typed) if typed else None, self.mending.isChecked(), page.piece.code
        desk = self._desk()

        def work(*, sure: bool = False) -> object:
            return gather_named(desk, (name,), number=number, for_mending=mending, sure=sure)

        self.bench.deed(work, sure=lambda: work(sure=True), then=lambda _done: self._written(), button=self.gather)

    def write_leaving(self) -> None:
        """Take the piece out of its vessel."""
        if self.page is not None:
            desk, piece = self._desk(), self.page.piece
            self.bench.deed(
                lambda: leave_vessel(desk, piece.id, seen=piece.version),
                then=lambda _done: self._written(),
                button=self.leave,
            )

    def _desk(self) -> Desk:
        desk: Desk = self.bench.surroundings.desk
        return desk

    def _joined(self, piece: PieceRow, join: JoinRow) -> None:
        """Say the join by its other side: the line beside the scan field still tells what Enter would do."""
        around = WordsAround.of(self._desk())
        said = from_where(join.other_than(piece.id), around)
        self.bench.surroundings.say(Answer(Tone.DONE, around.say(N_("{piece} joins"), piece=piece.name), f" {said}"))
        self._written()

    def _written(self) -> None:
        self._show_typed(*_NOTHING_TYPED)
        self.done.emit()

    def _wire(self) -> None:
        self.other.textEdited.connect(lambda _text: self.bench.refusals.clear())
        self.other.returnPressed.connect(self.write_join)
        self.join.clicked.connect(self.write_join)
        self.part.clicked.connect(self.write_parting)
        self.sure.clicked.connect(self.write_certainty)
        self.table.picked.connect(lambda _row_id: self._say_sure())
        self.number.returnPressed.connect(self.write_gathering)
        self.gather.clicked.connect(self.write_gathering)
        self.leave.clicked.connect(self.write_leaving)

    def _lay_out(self) -> None:
        theme = self.bench.theme
        joins, vessel = Card(theme, _("Joins")), Card(theme, _("Vessel"))
        line = QHBoxLayout()
        for widget in (labels.plain(_("It joins"), wrap=False), self.other, self.certain, self.join):
            line.addWidget(widget)
        line.addStretch(1)
        self.other.setMaximumWidth(theme.px(170))
        joins.body.addWidget(self.table, 1)
        joins.body.addLayout(line)
        of_row = QHBoxLayout()
        of_row.addWidget(self.sure)
        of_row.addWidget(self.part)
        of_row.addStretch(1)
        joins.body.addLayout(of_row)
        joins.body.addWidget(
            labels.muted(_("Joins change no count. A piece of another season is named with it: 2024/87.3."), small=True)
        )
        joins.body.addStretch()
        pot = QHBoxLayout()
        for widget in (self.number, self.mending, self.gather, self.leave):
            pot.addWidget(widget)
        pot.addStretch(1)
        self.number.setMaximumWidth(theme.px(90))
        vessel.body.addWidget(self.vessel)
        vessel.body.addWidget(self.discarded)
        vessel.body.addLayout(pot)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(joins, 1)
        layout.addWidget(vessel)


def _row(join: JoinRow, piece_id: int, around: WordsAround) -> TableRow:
    sure = Cell(_("certain") if join.certain else _("not certain"), "" if join.certain else "ochre")
    cells = (Cell(from_where(join.other_than(piece_id), around), strong=True), sure, Cell(join.note))
    return TableRow(join.id, cells)


def _vessel_words(vessel: VesselFacts, around: WordsAround) -> str:
    """Return number and pieces of a vessel, those that hang together by joins with a + between them."""
    parts = "; ".join(" + ".join(part) for part in vessel.parts)
    said = N_("Vessel {number}, to be mended: {parts}.") if vessel.for_mending else N_("Vessel {number}: {parts}.")
    return f"{around.say(said, number=vessel.number, parts=parts)} {_in_rows(vessel, around)}".strip()


def _discarded_words(page: PiecePage, around: WordsAround) -> str:
    """Return a word of caution where pieces of a pot, or the one that may go into it, are to be discarded."""
    pieces = page.vessel.pieces if page.vessel else (page.piece,)
    named = ", ".join(one.name for one in pieces if one.decision == Decision.DISCARD)
    said = N_("To be discarded: {pieces}. Change that if it is kept with the pot.")
    return around.say(said, pieces=named) if named else ""


def _in_rows(vessel: VesselFacts, around: WordsAround) -> str:
    """Return how many sherds of a vessel lie in rows, and at which table they are taken out of it."""
    if not vessel.in_groups:
        return ""
    sherds = plural("{n} sherd", "{n} sherds", vessel.in_groups)
    rows = ", ".join(vessel.rows_of)
    return around.say(N_("Also {sherds} in rows of {rows}, taken out at the sorting table."), sherds=sherds, rows=rows)
