"""The places as a tree with how full each is; beside it the chosen one as a picture, with its boxes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.boxes import BoxFacts
from findsdesk.desk.boxing import BoxWithBags
from findsdesk.desk.desk import Desk
from findsdesk.desk.shelves import PlaceInTree, PlaceWithBoxes, boxes_within, places_tree
from findsdesk.desk.store_places import PlaceFacts, add_place, give_up_place
from findsdesk.desk.store_waits import store_waits
from findsdesk.domain.box_rules import kilograms
from findsdesk.domain.shelving import PLACE_IN_WORDS, PlaceKind
from findsdesk.ui.answers import Tone
from findsdesk.ui.asking_form import AskingForm
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.rows import box_columns, box_row, place_columns, place_row
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.benches.shelves.shelf_picture import BoxOnShelf, ShelfPicture
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.words import N_, _, plural

if TYPE_CHECKING:
    from findsdesk.desk.sheets import PrintedList

_SIDE_BY_SIDE = 760


@dataclass(frozen=True, slots=True)
class PlacesRead:
    """What the page shows: the tree, the chosen place with the boxes in it and within it, the bags in no box."""

    places: tuple[PlaceInTree, ...]
    chosen: PlaceInTree | None
    boxes: tuple[BoxFacts, ...]
    unboxed: int


def read_places(desk: Desk, code: str) -> PlacesRead:
    """Read the tree and one place of it, the first where the code is of none; runs on the reading lane."""
    places = places_tree(desk)
    which = code if any(one.code == code for one in places) else places[0].code if places else ""
    chosen = next((one for one in places if one.code == which), None)
    boxes = boxes_within(desk, which) if which else ()
    return PlacesRead(places, chosen, boxes, store_waits(desk).unboxed)


class PlacesPage(ShelfPage):
    """A scan of a shelf or a box shows it; Enter on a box takes it in hand to be packed."""

    box_chosen = Signal(object)
    """The code of a box to be packed."""
    propose_wanted = Signal()
    labels_wanted = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.shown: PlacesRead | None = None
        self.wanted = ""
        self._box = ""
        self.tree = RowTable(self.theme, _("Places"), place_columns(self.say))
        self.tree.may_leave_out((3, 5))
        self.picture = ShelfPicture(self.theme)
        self.boxes = RowTable(self.theme, _("Boxes here"), box_columns(self.say))
        self.boxes.may_leave_out((1,))
        self.line = labels.muted()
        self.unboxed = QPushButton()
        self.empty = EmptySlip(self.theme)
        self.new = AskingForm(bench, _("New place"), _("Add the place"))
        self.act = act_button(_("New place"))
        self._lay_out()
        self.tree.picked.connect(self._choose)
        self.tree.opened.connect(lambda _code: self.boxes.setFocus())
        self.boxes.opened.connect(self.box_chosen)
        self.act.clicked.connect(self._begin_new)
        self.unboxed.clicked.connect(self.propose_wanted)
        self.empty.act.connect(self._begin_new)
        self.new.wanted.connect(self._add)

    def first_focus(self) -> QWidget | None:
        """Return the tree, or what makes the first place."""
        return self.new.first_field() or (self.tree if self.tree.isVisible() else None)

    def act_now(self) -> QPushButton | None:
        """Return the button of an open form, or that of the page."""
        return self.new.write if self.new.fields is not None else self.act

    def read_again(self) -> None:
        """Read the tree and the chosen place again."""
        desk, wanted = self.desk, self.wanted
        self.read(lambda: read_places(desk, wanted), self.show_places, "places")

    def show_places(self, read: PlacesRead) -> None:
        """Show the tree and the chosen place."""
        self.shown = read
        some = bool(read.places)
        self._middle.setVisible(some)
        self.give_up.setVisible(some)
        self.empty.setVisible(not some)
        text = N_("No place yet. Buildings, rooms, shelves and tables are places, each within another.")
        self.empty.say(self.say(text), _("New place"))
        self.unboxed.setVisible(bool(read.unboxed))
        self.unboxed.setText(plural("{n} bag lies in no box", "{n} bags lie in no box", read.unboxed))
        self.tree.blockSignals(True)
        self.tree.show_rows([place_row(one, self.say) for one in read.places])
        if read.chosen is not None:
            self.tree.go_to(read.chosen.code)
        self.tree.blockSignals(False)
        if read.chosen is not None:
            self._show_chosen(read.chosen, read.boxes)

    def take_thing(self, thing: object) -> None:
        """Show the place that was scanned, or the one where the scanned box belongs."""
        if isinstance(thing, PlaceWithBoxes):
            self.wanted, self._box = thing.place.code, ""
        elif isinstance(thing, BoxWithBags) and thing.box.place_code:
            self.wanted, self._box = thing.box.place_code, thing.box.code
        else:
            return
        self.read_again()

    def _choose(self, code: object) -> None:
        if str(code) != self.wanted:
            self.wanted, self._box = str(code), ""
            self.read_again()

    def _show_chosen(self, place: PlaceInTree, boxes: tuple[BoxFacts, ...]) -> None:
        self.wanted = place.code
        self.card.say_heading(f"{place.name} · {self.say(PLACE_IN_WORDS[place.kind])}")
        self.picture.show_boxes([on_shelf(one) for one in boxes], place.holds_boxes)
        for_a_while = place.kind in (PlaceKind.TABLE, PlaceKind.PERSON)
        self.picture.setVisible(bool(boxes or place.kind is PlaceKind.SHELF))
        self.boxes.setVisible(bool(boxes))
        self.boxes.show_rows([box_row(one, self.say) for one in boxes])
        if self._box:
            self.boxes.go_to(self._box)
        self.line.setText(_place_line(place, for_a_while))

    # A new place

    def _begin_new(self) -> None:
        self.new.begin(FieldForm(self.theme, self._fields(), self.around().terms))

    def _fields(self) -> tuple[Field, ...]:
        places = self.shown.places if self.shown else ()
        within = ((place.code, place.path) for place in places if place.kind is not PlaceKind.PERSON)
        kinds = tuple((str(kind), self.say(PLACE_IN_WORDS[kind])) for kind in PlaceKind if kind != PlaceKind.PERSON)
        return (
            Field("name", _("Name"), width=200),
            Field("kind", _("What it is"), FieldKind.CHOICE, width=200, choices=kinds),
            Field("within", _("Lies within"), FieldKind.CHOICE, choices=(("", _("nothing")), *within)),
            Field("holds_boxes", _("Room for boxes"), FieldKind.WHOLE, width=120, unit=_("boxes")),
        )

    def _add(self) -> None:
        said, desk = self.new.read(), self.desk
        if said is None:
            return
        values = {**said, "kind": PlaceKind(said["kind"])}
        self.bench.deed(lambda: add_place(desk, **values), then=self._added, button=self.new.write)

    def _added(self, place: PlaceFacts) -> None:
        self.new.leave()
        self.wanted = place.code
        code = self.say(N_("its code is {code}: print its label"), code=place.code)
        self.tell(Tone.DONE, place.path, f", {code}")
        self.read_again()
        self.tree.setFocus()

    def give_up_place(self) -> None:
        """Give up the chosen place; one with things in it, or away to it, is refused."""
        desk, code = self.desk, self.wanted
        if code:
            self.bench.deed(lambda: give_up_place(desk, code), then=self._is_given_up, button=self.give_up)

    def _is_given_up(self, place: PlaceFacts) -> None:
        self.wanted = place.within
        self.tell(Tone.DONE, place.path, _(": given up; its code is never used again"))
        self.read_again()
        self.tree.setFocus()

    # Layout

    def fit(self, width: int) -> None:
        """Set the chosen place below the tree where there is too little room beside it."""
        wide = width >= self.theme.px(_SIDE_BY_SIDE)
        self._sides.setDirection(QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom)

    def _lay_out(self) -> None:
        self.card = Card(self.theme, " ")
        for part in (self.line, self.picture):
            self.card.body.addWidget(part)
        self.card.body.addWidget(self.boxes, 1)
        self.card.body.addStretch(0)
        self._middle = QWidget()
        self._sides = QBoxLayout(QBoxLayout.Direction.LeftToRight, self._middle)
        self._sides.setContentsMargins(0, 0, 0, 0)
        self._sides.setSpacing(self.theme.px(12))
        self._sides.addWidget(self.tree, 1)
        self._sides.addWidget(self.card, 1)
        paper = button(_("Box list"), lambda: self.print_out(_box_list, _("boxes")))
        tags = button(_("Labels"), self.labels_wanted.emit)
        self.give_up = button(_("Give up this place"), self.give_up_place)
        assert self.act is not None
        self.foot = in_a_row(self.theme, self.act, self.unboxed, self.give_up, paper, tags)
        top = QVBoxLayout()
        top.addWidget(self.new)
        self.whole.addLayout(top)
        self.whole.addWidget(self._middle, 1)
        self.whole.addWidget(self.empty)
        self.whole.addWidget(self.foot)
        self.empty.hide()
        self.unboxed.hide()


def on_shelf(box: BoxFacts) -> BoxOnShelf:
    """Return a box as the picture draws it."""
    missing = box.not_met is not None and box.away is None
    return BoxOnShelf(str(box.number), box.full_permille, box.away is not None, box.nearly_full, missing)


def _place_line(place: PlaceInTree, for_a_while: bool) -> str:
    if for_a_while:
        if not place.taken_here:
            return _("Nothing is out here. Boxes and bags come here for a while and go back.")
        return plural(
            "{n} thing is out here: see Taken out.", "{n} things are out here: see Taken out.", place.taken_here
        )
    parts = [
        plural("{n} box", "{n} boxes", place.boxes),
        plural("{n} loose bag", "{n} loose bags", place.loose_bags) if place.loose_bags else "",
        plural("{n} away", "{n} away", place.boxes_away) if place.boxes_away else "",
        plural("{n} met by nobody", "{n} met by nobody", place.not_met) if place.not_met else "",
        f"{kilograms(place.tenths)} kg",
    ]
    return ", ".join(part for part in parts if part)


def _box_list(desk: Desk) -> PrintedList:
    # Paper is loaded when something is printed: its libraries would hold up the window at the start.
    from findsdesk.desk.store_sheets import box_sheet
    from findsdesk.desk.whole_papers import Asked

    return box_sheet(desk, Asked())
