"""A stock-take: along the shelves with the scanner; found, missing, in the wrong place."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from findsdesk.desk.desk import Desk
from findsdesk.desk.missing_things import MissingThing, find_missing, missing_things
from findsdesk.desk.shelves import PlaceInTree, places_tree
from findsdesk.desk.stock_rows import StockTakeFacts
from findsdesk.desk.stock_takes import begin_stock_take, close_stock_take, scan_stock, stock_takes
from findsdesk.domain.codes import Code, Kind
from findsdesk.domain.shelving import MET_IN_WORDS, Met
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.packing_page import home_choices
from findsdesk.ui.benches.shelves.rows import (
    belongs_in_words,
    moment,
    stock_columns,
    stock_rows,
    thing_in_words,
    with_missing,
)
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.benches.shelves.state import Walk, is_place
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.words import N_, _, plural

if TYPE_CHECKING:
    from findsdesk.desk.sheets import PrintedList

_Read = tuple[tuple[StockTakeFacts, ...], tuple[PlaceInTree, ...], tuple[MissingThing, ...]]


class StockPage(ShelfPage):
    """Scan a shelf, its boxes, and the bags of a box that is opened; each scan is written at once."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.shown: StockTakeFacts | None = None
        self.walk = Walk()
        self.missing: tuple[MissingThing, ...] = ()
        """What is missing to this day, by whatever stock-take."""
        self.place_scanned = False
        self.hint = labels.muted()
        self.form = FieldForm(
            self.theme,
            (Field("place", _("Of"), FieldKind.CHOICE, choices=(("", _("no place yet")),)),),
            bench.surroundings.terms,
        )
        self.sums = labels.bold(wrap=True)
        self.table = RowTable(self.theme, _("What was met"), stock_columns(self.say))
        self.act = act_button(" ")
        self.paper = button(_("List of what is missing"), self._print_missing)
        for part in (self.hint, self.form, self.sums):
            self.whole.addWidget(part)
        self.whole.addWidget(self.table, 1)
        self.whole.addWidget(in_a_row(self.theme, self.act, self.paper))
        self.table.opened.connect(lambda code: bench.surroundings.open_thing.emit("label", str(code)))
        self.whole.addStretch(0)
        self.act.clicked.connect(self._press)
        self.form.entered.connect(self._press)
        self.show_stock_take(None)

    def first_focus(self) -> QWidget | None:
        """Return the place to take stock of, or what was met."""
        return self.table if self._is_open() and self.table.isVisible() else self.form.entries["place"].widget

    def read_again(self) -> None:
        """Read the stock-takes and the places."""
        desk = self.desk
        self.read(lambda: _read(desk), self._show_read, "stock")

    def _show_read(self, read: _Read) -> None:
        takes, places, self.missing = read
        self.form.offer("place", home_choices(places)[1:])
        open_one = next((one for one in takes if one.closed_at is None), None)
        self.show_stock_take(open_one or next(iter(takes), None))

    def _is_open(self) -> bool:
        return self.shown is not None and self.shown.closed_at is None

    def show_stock_take(self, take: StockTakeFacts | None) -> None:
        """Show the stock-take that is open, else the last one with what it found."""
        self.shown = take
        is_open = self._is_open()
        self.form.setVisible(not is_open)
        self.table.setVisible(bool(take and take.things) or bool(self.missing and not is_open))
        self.paper.setVisible(bool(self.missing) and not is_open)
        self.sums.setVisible(take is not None)
        assert self.act is not None
        self.act.setText(_("End the stock-take") if is_open else _("Begin a stock-take"))
        self.hint.setText(
            _("Scan a shelf, then what stands on it. The bags after a box lie in it. What was not met is missing.")
            if is_open
            else _("Choose or scan a building, room or shelf: everything in it will be looked for.")
        )
        if take is not None:
            self.table.show_rows(
                stock_rows(take.things if is_open else with_missing(take.things, self.missing), self.say)
            )
            self.sums.setText(self._sums(take))

    def _sums(self, take: StockTakeFacts) -> str:
        day = moment(take.closed_at or take.begun_at, self.around())
        text = (
            N_("Stock-take {number} of {place}, begun {day}")
            if take.closed_at is None
            else N_("Last: stock-take {number} of {place}, ended {day}")
        )
        head = self.say(text, number=take.number, place=take.place, day=day)
        shown = [verdict for verdict in Met if verdict is not Met.MISSING or take.closed_at is not None]
        sums = f"{head}: " + ", ".join(f"{len(take.of(one))} {self.say(MET_IN_WORDS[one])}" for one in shown)
        if take.closed_at is None or not self.missing:
            return sums
        still = plural("{n} is still missing: scan it when it is found", "{n} are still missing: scan what is found",
                       len(self.missing))  # fmt: skip
        return f"{sums}. {still}"

    # Scans

    def take(self, code: Code) -> Answer | None:
        """Write what was met; before a stock-take is begun a place says of what."""
        if not self._is_open():
            if not is_place(code):
                return self._not_begun(code)
            self.place_scanned = True
            self.form.show_values({"place": code.text})
            return Answer(Tone.DONE, _("Stock-take of"), f": {self.form.entries['place'].in_words()}")
        if code.kind not in (Kind.BOX, Kind.BAG) and not is_place(code):
            return None
        before, desk, number = replace(self.walk), self.desk, self.shown.number if self.shown else 0
        scans = self.walk.scans(code)
        self.by_scan(
            lambda: scan_stock(desk, number, scans),
            lambda take: self._met(take, code),
            lost=lambda: self._stand_at(before),
        )
        return Answer(Tone.PLAIN, code.text)

    def _not_begun(self, code: Code) -> Answer | None:
        """Answer a scan while no stock-take is open: what is missing is found; what follows a shelf is not counted."""
        desk = self.desk
        if any(one.code == code.text for one in self.missing):
            self.by_scan(lambda: find_missing(desk, [code.text]), lambda left: self._found(code.text, left))
            return Answer(Tone.PLAIN, code.text)
        if self.place_scanned and code.kind in (Kind.BOX, Kind.BAG):
            return Answer(
                Tone.REFUSED, _("Not counted"), _(": begin the stock-take first, then scan what stands there")
            )
        return None

    def _found(self, code: str, left: tuple[MissingThing, ...]) -> None:
        one = next((one for one in self.missing if one.code == code), None)
        self.missing = left
        self.show_stock_take(self.shown)
        where = (
            self.say(N_(": found. It belongs to {where}"), where=belongs_in_words(one.belongs, self.say)) if one else ""
        )
        self.tell(Tone.DONE, thing_in_words(one.number if one else None, code, self.say), where)

    def _print_missing(self) -> None:
        self.print_out(_list_of_missing, _("missing-on-shelves"))

    def _stand_at(self, walk: Walk) -> None:
        """Stand where one stood before a scan that was refused."""
        self.walk = walk

    def _met(self, take: StockTakeFacts, code: Code) -> None:
        self.show_stock_take(take)
        thing = next((one for one in reversed(take.things) if one.code == code.text), None)
        if thing is None:
            self.tell(Tone.DONE, _("Go on here"), _(": scan what stands on it"))
            return
        self.table.go_to(thing.code)
        head, verdict = thing_in_words(thing.number, thing.code, self.say), self.say(MET_IN_WORDS[thing.verdict])
        belongs = (
            self.say(N_(", belongs to {where}"), where=belongs_in_words(thing.belongs, self.say))
            if thing.verdict is Met.ELSEWHERE
            else ""
        )
        self.tell(Tone.DONE if thing.verdict is Met.FOUND else Tone.ALREADY, head, f": {verdict}{belongs}")

    # What is done

    def _press(self) -> None:
        desk = self.desk
        if self._is_open() and self.shown is not None:
            number = self.shown.number
            self.bench.deed(
                lambda: close_stock_take(desk, number),
                then=self._closed,
                sure=lambda: close_stock_take(desk, number, sure=True),
                button=self.act,
            )
            return
        place = str(self.form.peek()["place"] or "")
        self.bench.deed(lambda: begin_stock_take(desk, place), then=self._begun, button=self.act)

    def _begun(self, take: StockTakeFacts) -> None:
        self.walk, self.place_scanned = Walk(place=take.place_code), False
        self.show_stock_take(take)
        self.tell(Tone.DONE, self.say(N_("Stock-take {number}"), number=take.number), f": {take.place}")

    def _closed(self, take: StockTakeFacts) -> None:
        self.show_stock_take(take)
        self.read_again()
        missing = len(take.of(Met.MISSING))
        rest = f": {plural('{n} missing', '{n} missing', missing)}"
        self.tell(Tone.DONE, self.say(N_("Stock-take {number} ended"), number=take.number), rest)


def _read(desk: Desk) -> _Read:
    return stock_takes(desk), places_tree(desk), missing_things(desk)


def _list_of_missing(desk: Desk) -> PrintedList:
    # Paper is loaded when something is printed: its libraries would hold up the window at the start.
    from findsdesk.desk.store_sheets import missing_things_sheet

    return missing_things_sheet(desk)
