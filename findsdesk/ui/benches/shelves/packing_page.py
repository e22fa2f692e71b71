"""A box in hand: its weight against its limit, its bags; a bag that is scanned goes in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QWidget

from findsdesk.desk.box_kinds import box_rules
from findsdesk.desk.boxes import BoxFacts, add_box, change_box, give_up_box
from findsdesk.desk.boxing import BagInBox, BoxWithBags, box_with_bags, put_into_box, take_out_of_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.shelves import PlaceInTree, places_tree
from findsdesk.domain.box_rules import kilograms
from findsdesk.domain.codes import Code, Kind
from findsdesk.domain.shelving import FOR_A_WHILE
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.asking_form import AskingForm
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.shelves.box_card import BoxCard
from findsdesk.ui.benches.shelves.box_change import BoxChange
from findsdesk.ui.benches.shelves.rows import bag_columns, bag_row
from findsdesk.ui.benches.shelves.shelf_page import RowTable, ShelfPage, button, in_a_row
from findsdesk.ui.store_in_words import stored_in_words
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.widgets.slips import EmptySlip
from findsdesk.words import N_, _, plural

if TYPE_CHECKING:
    from findsdesk.desk.sheets import PrintedList


class PackingPage(ShelfPage):
    """Box, bag, bag, bag, next box: by scanner alone. Delete takes the chosen bag out again."""

    scans_are_in_hand = False
    """In hand is the box; a bag that goes in is seen in it."""
    labels_wanted = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.going = ""
        """The box that is being given up."""
        self.held: BoxWithBags | None = None
        self.code = ""
        """The box that bags go into; known before its look-up is back, for the bag scanned right after it."""
        self.card = BoxCard(self.theme)
        self.bags = _Bags(self)
        self.empty = EmptySlip(self.theme)
        self.empty.say(_("Scan a box, then its bags. The next box that is scanned is the one in hand."), _("New box"))
        self.new = AskingForm(bench, _("New box"), _("Make the box"))
        self.change = BoxChange(bench)
        self.act = act_button(_("New box"))
        self.take_out = button(_("Take this bag out"), self.take_bag_out)
        self.take_all = button(_("Take all bags out"), self.take_all_out)
        self.change_it = button(_("Change this box"), self._begin_change)
        self.give_up = button(_("Give up this box"), self.give_up_box)
        self.desiccant = button(_("Desiccant is in it"), self._desiccant_in)
        self.paper = button(_("List of this box"), self._print_list)
        self.tags = QPushButton(_("Labels"))
        self._lay_out()
        self.act.clicked.connect(self._begin_new)
        self.empty.act.connect(self._begin_new)
        self.new.wanted.connect(self._make)
        self.change.changed.connect(self._is_changed)
        self.tags.clicked.connect(self.labels_wanted)
        self.show_box(None)

    def first_focus(self) -> QWidget | None:
        """Return the bags of the box in hand; nothing where none is: scans come by themselves."""
        return self.new.first_field() or self.change.first_field() or (self.bags if self.bags.isVisible() else None)

    def act_now(self) -> QPushButton | None:
        """Return the button of an open form, or that of the page."""
        under_way = next((one for one in (self.new, self.change) if one.fields is not None), None)
        return self.act if under_way is None else under_way.write

    def read_again(self) -> None:
        """Read the box in hand again; one that is not there any more is said as long as it is the one in hand."""
        if self.code:
            desk, code = self.desk, self.code
            self.bench.surroundings.lanes.read(
                lambda: box_with_bags(desk, code),
                then=self._read,
                refused=lambda refusal: self.bench.refuse(refusal) if self._wants_news_of(code) else None,
                topic="shelves/box",
            )

    def _wants_news_of(self, code: str) -> bool:
        """Tell whether a box is in hand and not being given up here: the news of that comes before its answer."""
        return self.code == code != self.going

    def _read(self, held: BoxWithBags) -> None:
        before = self.bench.in_hand
        if isinstance(before, BoxWithBags) and before.box.code == held.box.code:
            self._show_everywhere(held)
        elif held.box.code == self.code:
            self.show_box(held)

    # Scans

    def take(self, code: Code) -> Answer | None:
        """Put a scanned bag into the box in hand; a box is looked up and is the one in hand from now on."""
        if code.kind is Kind.BOX:
            self.code = code.text
            return None
        if code.kind is not Kind.BAG:
            return None
        if not self.code:
            return Answer(
                Tone.REFUSED, _("Scan the box first"), self.say(N_(": bag {code} is not in yet"), code=code.text)
            )
        desk, box, bag = self.desk, self.code, code.text
        self.by_scan(
            lambda: put_into_box(desk, box, [bag]),
            lambda held: self._is_in(held, bag),
            lambda: put_into_box(desk, box, [bag], sure=True),
        )
        return Answer(Tone.PLAIN, self.say(N_("Bag {code}"), code=bag))

    def not_found(self) -> None:
        """A box that was scanned is none: the one before is in hand."""
        self.code = self.held.box.code if self.held is not None else ""

    def take_thing(self, thing: object) -> None:
        """Take a box in hand."""
        if isinstance(thing, BoxWithBags):
            self.code = thing.box.code
            self.show_box(thing)

    def _is_in(self, held: BoxWithBags, bag: str) -> None:
        self._show_everywhere(held)
        self.bags.go_to(bag)
        box = held.box
        weight = weight_in_words(box)
        rest = self.say(N_(": {weight}. The next box, please."), weight=weight) if box.nearly_full else f": {weight}"
        self.tell(Tone.DONE, self.say(N_("Box {number}"), number=box.number), rest)

    def _show_everywhere(self, held: BoxWithBags) -> None:
        """Show the box here and in the dossier."""
        if held.box.code == self.code:
            self.bench.surroundings.show_found.emit(stored_in_words(held, self.around()))
            self.show_box(held)

    def show_box(self, held: BoxWithBags | None) -> None:
        """Show the box in hand."""
        self.held = held
        self.empty.setVisible(held is None)
        for part in (self.card, self.bags, self.take_out, self.take_all, self.change_it, self.give_up, self.paper):
            part.setVisible(held is not None)
        self.desiccant.setVisible(held is not None and wants_desiccant(held.box))
        if held is not None:
            self.card.show_box(held, self.around())
            self.bags.show_rows([bag_row(one, self.say) for one in held.bags])
            for part in (self.take_out, self.take_all):
                part.setEnabled(bool(held.bags))
            self.give_up.setEnabled(not held.bags)

    # What is done with the keyboard

    def take_bag_out(self) -> None:
        """Take the chosen bag out of the box for good."""
        bag, desk = self.bags.row_id(), self.desk
        if bag is not None:
            self.bench.deed(lambda: take_out_of_box(desk, [str(bag)]), then=self._is_out)

    def take_all_out(self) -> None:
        """Take every bag out of the box for good, after asking: so a packing that was wrong is taken back."""
        held, desk = self.held, self.desk
        if held is None or not held.bags:
            return
        codes = [one.bag.code for one in held.bags]
        bags = plural("{n} bag", "{n} bags", len(codes))
        text = N_("Take {bags} out of box {number}? Each lies in no box then, and can be packed anew.")
        asked = self.say(text, bags=bags, number=held.box.number)

        def take_out() -> None:
            self.bench.deed(lambda: take_out_of_box(desk, codes), then=self._are_out)

        self.bench.refusals.ask(asked, take_out)

    def _are_out(self, bags: tuple[BagInBox, ...]) -> None:
        rest = plural(" {n} bag lies in no box now", " {n} bags lie in no box now", len(bags))
        self.tell(Tone.DONE, _("Taken out:"), rest)
        self.read_again()

    def _is_out(self, bags: tuple[BagInBox, ...]) -> None:
        said = self.say(N_("Bag {code}"), code=bags[0].bag.code)
        self.tell(Tone.DONE, said, _(" lies in no box now"))
        self.read_again()

    def _desiccant_in(self) -> None:
        desk, code, today = self.desk, self.code, self.around().today()
        self.bench.deed(lambda: change_box(desk, code, desiccant_on=today), then=lambda _box: self.read_again())

    def _begin_change(self) -> None:
        if self.held is not None:
            self.new.leave()
            self.change.begin_with(self.held.box)

    def _is_changed(self, box: BoxFacts) -> None:
        self.tell(Tone.DONE, self.say(N_("Box {number}"), number=box.number), f": {weight_in_words(box)}")
        self.read_again()
        self.bags.setFocus()

    def give_up_box(self) -> None:
        """Give up the box in hand, which is empty."""
        desk, code = self.desk, self.code
        self.going = code
        self.bench.deed(lambda: give_up_box(desk, code), then=self._is_given_up, lost=self._stays, button=self.give_up)

    def _stays(self) -> None:
        self.going = ""

    def _is_given_up(self, box: BoxFacts) -> None:
        if self.code == box.code:
            self.code = ""
            self.show_box(None)
        said = self.say(N_("Box {number}"), number=box.number)
        self.tell(Tone.DONE, said, _(": given up; its number and code are never used again"))

    def _begin_new(self) -> None:
        self.change.leave()
        desk = self.desk
        self.read(lambda: places_tree(desk), self._ask_for_box, "new")

    def _ask_for_box(self, places: tuple[PlaceInTree, ...]) -> None:
        form = FieldForm(self.theme, box_fields(self, places), self.around().terms)
        self.new.begin(form)
        form.show_values({"how_many": 1, "limit_tenths": self.around().settings.box_limit_tenths})

    def _make(self) -> None:
        said, desk = self.new.read(), self.desk
        if said is None:
            return
        wanted: dict[str, Any] = {**said, "how_many": said["how_many"] or 1, "empty_tenths": said["empty_tenths"] or 0}
        self.bench.deed(
            lambda: add_box(desk, **wanted),
            then=self._made,
            sure=lambda: add_box(desk, **wanted, sure=True),
            button=self.new.write,
        )

    def _made(self, boxes: tuple[BoxFacts, ...]) -> None:
        self.new.leave()
        first = boxes[0]
        self.bench.surroundings.take_in_hand.emit(first.code)
        self.code = first.code
        self.bags.setFocus()

    def _print_list(self) -> None:
        code = self.code
        number = self.held.box.number if self.held is not None else ""
        self.print_out(lambda desk: _list_of(desk, code), f"{_('box')}-{number}")

    def _lay_out(self) -> None:
        assert self.act is not None
        for part in (self.new, self.change, self.empty):
            self.whole.addWidget(part)
        self.whole.addWidget(self.card)
        self.whole.addWidget(self.bags, 1)
        buttons = (self.take_out, self.take_all, self.change_it, self.give_up, self.desiccant, self.paper, self.tags)
        self.whole.addWidget(in_a_row(self.theme, self.act, *buttons))


class _Bags(RowTable):
    """The bags of the box in hand; Delete takes one out."""

    def __init__(self, page: PackingPage) -> None:
        super().__init__(page.theme, _("Bags in the box"), bag_columns(page.say))
        self._page = page
        self.may_leave_out((5,))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._page.take_bag_out()
            return
        super().keyPressEvent(event)


def wants_desiccant(box: BoxFacts) -> bool:
    """Tell whether a box is to be kept dry and nobody wrote that there is desiccant in it."""
    return box_rules()[box.kind].desiccant and box.desiccant_on is None


def weight_in_words(box: BoxFacts) -> str:
    """Return the weight of a box against its limit, and its bags."""
    bags = plural("{n} bag", "{n} bags", box.bags)
    return f"{kilograms(box.tenths)} / {kilograms(box.limit_tenths)} kg, {bags}"


def box_fields(page: ShelfPage, places: tuple[PlaceInTree, ...]) -> tuple[Field, ...]:
    """Return the fields of a new box."""
    kinds = tuple((rule.key, page.say(rule.name)) for rule in box_rules().values())
    return (
        Field("kind", _("For what"), FieldKind.CHOICE, width=240, choices=kinds),
        Field("how_many", _("How many"), FieldKind.WHOLE, width=90, unit=_("boxes"), beside=True),
        Field("place", _("Stands at"), FieldKind.CHOICE, choices=home_choices(places)),
        Field("limit_tenths", _("At most"), FieldKind.GRAMS, width=120),
        Field("empty_tenths", _("Empty"), FieldKind.GRAMS, width=120, beside=True),
    )


def home_choices(places: tuple[PlaceInTree, ...]) -> tuple[tuple[str, str], ...]:
    """Return the places where something can belong, and nowhere yet."""
    homes = ((place.code, place.path) for place in places if place.kind not in FOR_A_WHILE)
    return (("", _("no place yet")), *homes)


def _list_of(desk: Desk, code: str) -> PrintedList:
    # Paper is loaded when something is printed: its libraries would hold up the window at the start.
    from findsdesk.desk.store_sheets import box_sheet
    from findsdesk.desk.whole_papers import Asked

    return box_sheet(desk, Asked(), boxes=[code])
