"""Boxes, loose bags, whole shelves and rooms that move by scan; what is on its way is checked where it arrives."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.shelves import PlaceInTree, places_tree
from findsdesk.desk.shipped import cautions_at
from findsdesk.desk.transport_rows import TransportList
from findsdesk.desk.transports import check_arrival, move_things, transport_list, under_way
from findsdesk.domain.cautions import At
from findsdesk.domain.codes import Code, Kind
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.packing_page import home_choices
from findsdesk.ui.benches.shelves.rows import (
    carried_columns,
    carried_row,
    transport_columns,
    transport_row,
)
from findsdesk.ui.benches.shelves.scanned_table import ScannedTable, described, now_at
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.benches.shelves.state import Moving, is_place
from findsdesk.ui.models.cells import TableRow
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.dossier_facts import Caution
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.slips import CautionSlip
from findsdesk.words import N_, _, plural

if TYPE_CHECKING:
    from findsdesk.desk.sheets import PrintedList


class MovingPage(ShelfPage):
    """Scan what moves, then the shelf it goes to; at the other end scan what arrived."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.moving = Moving()
        self.rows: dict[str, TableRow] = {}
        self.arriving: int | None = None
        self.transports: tuple[TransportList, ...] = ()
        self.pages = OneOf()
        self._build_leaving()
        self._build_arriving()
        self.whole.addWidget(self.pages, 1)
        self.show_scanned()

    def first_focus(self) -> QWidget | None:
        """Return what was scanned, or the transports under way."""
        if self.arriving is not None:
            return self.carried
        return self.form.entries["to"].widget

    def act_now(self) -> QPushButton | None:
        """Return what moves things; where they arrive each scan is written by itself."""
        return self.act if self.arriving is None else None

    def go_back(self) -> bool:
        """Leave a transport that is being checked."""
        if self.arriving is None:
            return False
        self.leave_transport()
        return True

    def read_again(self) -> None:
        """Read what is under way, and the places."""
        desk = self.desk
        self.read(lambda: (under_way(desk), places_tree(desk)), self._show_read, "moving")
        if self.arriving is not None:
            number = self.arriving
            self.read(lambda: transport_list(desk, number), self._show_transport, "transport")

    def _show_read(self, read: tuple[tuple[TransportList, ...], tuple[PlaceInTree, ...]]) -> None:
        self.transports, places = read
        around = self.around()
        self.form.offer("to", home_choices(places))
        if self.moving.to:
            self.form.show_values({"to": self.moving.to})
        self.way.show_rows([transport_row(one, around) for one in self.transports])
        for part in (self.way, self.way_title):
            part.setVisible(bool(self.transports))

    # Scans

    def take(self, code: Code) -> Answer | None:
        """Add a scan to what moves, or check it off where it arrives."""
        if code.kind not in (Kind.BOX, Kind.BAG) and not is_place(code):
            return None
        if self.arriving is not None:
            return None if is_place(code) else self._arrives(self.arriving, code.text)
        if not self.moving.what.codes and (number := self._carried_by(code)) is not None:
            self.open_transport(number)
            return self._arrives(number, code.text)
        before = self.moving.to
        if not self.moving.scan(code):
            return Answer(Tone.ALREADY, _("Already scanned"), f": {code.text}")
        if self.moving.to != before:
            self.form.show_values({"to": self.moving.to})
            return Answer(Tone.DONE, _("Goes to"), f": {self.form.entries['to'].in_words()}")
        desk, text = self.desk, code.text
        # On the deed lane, so that scans are answered in their order.
        self.bench.surroundings.lanes.deed(
            lambda: described(desk, text), then=self._described, refused=lambda why: self._unknown(text, why)
        )
        return Answer(Tone.PLAIN, code.text)

    def _carried_by(self, code: Code) -> int | None:
        """Return the transport on which a thing is under way: scanned before anything else it is there."""
        on_it = (one.number for one in self.transports if any(thing.code == code.text for thing in one.not_arrived))
        return next(on_it, None)

    def _described(self, row: TableRow) -> None:
        self.rows[str(row.row_id)] = row
        self.show_scanned()
        self.tell(Tone.DONE, row.cells[0].text, self._what_for(row))

    def _what_for(self, row: TableRow) -> str:
        """Return what a thing was scanned for, and where it is now."""
        if row.row_id in self.moving.met.codes:
            return _(": met where it leaves")
        whole = N_(": to be moved with all that stands there, now {where}")
        one = N_(": to be moved, now {where}")
        return self.say(whole if self.moving.whole_place else one, where=now_at(row))

    def _unknown(self, code: str, why: Any) -> None:
        self.moving.drop(code)
        self.show_scanned()
        self.bench.refuse(why)

    def _drop(self, code: object) -> None:
        self.moving.drop(code)
        self.show_scanned()

    def show_scanned(self) -> None:
        """Show what was scanned."""
        codes = [*self.moving.what.codes, *self.moving.met.codes]
        self.scanned.show_rows([self.rows[code] for code in codes if code in self.rows])
        self.scanned.setVisible(bool(codes))
        self.hint.setText(_hint(self.moving))
        self.caution.setVisible(bool(codes))
        assert self.act is not None
        self.act.setEnabled(bool(codes))
        words = plural("Move {n} thing", "Move {n} things", len(codes)) if codes else _("Move: scan what moves")
        self.act.setText(_("Move the whole of it") if self.moving.whole_place else words)

    # What is done

    def _move(self) -> None:
        said = self.form.read()
        if said is None or not self.moving.what.codes:
            return
        desk, what, to = self.desk, list(self.moving.what.codes), str(said["to"] or "")
        here: dict[str, Any] = {"scanned": self.moving.scanned(), "arrived": bool(said["there"]), "note": said["note"]}
        self.bench.deed(
            lambda: move_things(desk, what, to=to, **here),
            then=self._moved,
            sure=lambda: move_things(desk, what, to=to, sure=True, **here),
            button=self.act,
        )

    def _moved(self, transport: TransportList) -> None:
        self.moving.clear()
        self.rows.clear()
        self.form.show_values({"note": "", "there": False})
        self.show_scanned()
        self.read_again()
        there = transport.arrived_at is not None
        rest = _(": all of it is there") if there else _(": scan it where it arrives")
        self.tell(Tone.DONE, self.say(N_("Transport {number}"), number=transport.number), rest)

    def _arrives(self, number: int, code: str) -> Answer:
        desk = self.desk
        self.by_scan(lambda: check_arrival(desk, number, [code]), self._arrived)
        return Answer(Tone.PLAIN, code)

    def _arrived(self, transport: TransportList) -> None:
        left = len(transport.not_arrived)
        self._show_transport(transport)
        head = self.say(N_("Transport {number}"), number=transport.number)
        self.tell(
            Tone.DONE, head, f": {plural('{n} still to come', '{n} still to come', left)}" if left else _(": all there")
        )

    def open_transport(self, number: object) -> None:
        """Check a transport where it arrives."""
        if isinstance(number, int):
            self.arriving = number
            self.bench.refusals.clear()
            self.pages.show_page(self.at_the_end)
            self.read_again()
            self.carried.setFocus()

    def leave_transport(self) -> None:
        """Go back to what leaves."""
        self.arriving = None
        self.bench.refusals.clear()
        self.pages.show_page(self.leaving)
        self.read_again()
        self.form.entries["to"].widget.setFocus()

    def _show_transport(self, transport: TransportList) -> None:
        if transport.number == self.arriving:
            around = self.around()
            left = plural("{n} still to come", "{n} still to come", len(transport.not_arrived))
            self.heading.setText(
                self.say(N_("Transport {number} to {place}: {left}. Scan what arrived."), number=transport.number,
                         place=transport.to, left=left)
            )  # fmt: skip
            self.carried.show_rows([carried_row(one, around) for one in transport.things])

    def _print_way(self) -> None:
        number = self.way.row_id() if self.arriving is None else self.arriving
        if isinstance(number, int):
            self.print_out(lambda desk: _list_of(desk, number), f"{_('transport')}-{number}")

    # Layout

    def _build_leaving(self) -> None:
        self.leaving = QWidget()
        page = _column(self.leaving, self.theme.px(10))
        self.hint = labels.muted()
        self.scanned = ScannedTable(self, _("What moves"), self._drop)
        self.form = FieldForm(
            self.theme,
            (
                Field("to", _("Goes to"), FieldKind.CHOICE, choices=(("", _("no place yet")),)),
                Field("note", _("Note")),
                Field("there", _("There already"), FieldKind.YES),
            ),
            self.bench.surroundings.terms,
        )
        self.form.entries["to"].when_edited(lambda *_what: self._chosen_to())
        one = cautions_at(At.CARRY)[0]
        self.caution = CautionSlip(self.theme, Caution(self.say(one.lead), self.say(one.text)))
        self.act = act_button(" ")
        self.act.clicked.connect(self._move)
        self.way_title = labels.group(_("On the way: Enter opens one to be checked where it arrives"))
        self.way = RowTable(self.theme, _("On the way"), transport_columns(self.say))
        self.way.opened.connect(self.open_transport)
        paper = button(_("Transport list"), self._print_way)
        for part in (self.hint, self.scanned, self.form, self.caution):
            page.addWidget(part)
        page.addWidget(in_a_row(self.theme, self.act, paper))
        page.addWidget(self.way_title)
        page.addWidget(self.way, 1)
        page.addStretch(0)
        self.pages.add_page(self.leaving)

    def _chosen_to(self) -> None:
        self.moving.to = str(self.form.peek()["to"] or "")

    def _build_arriving(self) -> None:
        self.at_the_end = QWidget()
        page = _column(self.at_the_end, self.theme.px(10))
        self.heading = labels.plain()
        self.carried = RowTable(self.theme, _("What is carried"), carried_columns(self.say))
        self.carried.may_leave_out((2, 3))
        back = button(_("Back to what leaves"), self.leave_transport)
        page.addWidget(self.heading)
        page.addWidget(self.carried, 1)
        page.addWidget(in_a_row(self.theme, back, button(_("Transport list"), self._print_way)))
        self.pages.add_page(self.at_the_end)


def _column(of: QWidget, gap: int) -> QVBoxLayout:
    column = QVBoxLayout(of)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(gap)
    return column


def _hint(moving: Moving) -> str:
    if not moving.what.codes:
        return _(
            "Scan boxes and loose bags, then the shelf they go to. A shelf or room scanned first moves as a whole."
        )
    if moving.whole_place:
        return _("Scan each box on it as it leaves: what was not met is asked about. Then scan where it goes.")
    return _("Scan more, or the place where they go. Delete takes one off the list.")


def _list_of(desk: Desk, number: int) -> PrintedList:
    # Paper is loaded when something is printed: its libraries would hold up the window at the start.
    from findsdesk.desk.store_sheets import transport_sheet

    return transport_sheet(desk, number)
