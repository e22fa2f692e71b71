"""The bench of pieces: a list at the side, one piece on its pages, one button that writes what was changed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QPushButton, QWidget

from findsdesk.desk.changing_pieces import change_piece
from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.objects import ObjectFacts, new_objects
from findsdesk.desk.piece_pages import PiecePage, drawings_wanted, page_if_there
from findsdesk.desk.piece_rows import PieceRow
from findsdesk.desk.pieces import lay_back
from findsdesk.desk.setting_up import wares
from findsdesk.desk.type_series import forms
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench, act_button
from findsdesk.ui.benches.pieces.further_parts import SamplesPart
from findsdesk.ui.benches.pieces.head_part import HeadPart
from findsdesk.ui.benches.pieces.joins_part import JoinsPart
from findsdesk.ui.benches.pieces.keeping_fields import KeepingFields
from findsdesk.ui.benches.pieces.object_part import ObjectPart
from findsdesk.ui.benches.pieces.pages import TakenPage, beside_list, fields_page, measures_page, to_top
from findsdesk.ui.benches.pieces.photos_part import PhotosPart
from findsdesk.ui.benches.pieces.piece_dossier import PieceDossier
from findsdesk.ui.benches.pieces.piece_forms import PieceForms
from findsdesk.ui.benches.pieces.piece_keyboard import PieceKeyboard
from findsdesk.ui.benches.pieces.piece_keys import NOT_BY_KEY, hear, hear_on_bench, hear_writing, keys_in_words
from findsdesk.ui.benches.pieces.piece_list import PieceList
from findsdesk.ui.benches.pieces.rim_part import RimPart
from findsdesk.ui.benches.pieces.state import (
    CLAY,
    JOINS,
    MEASURES,
    PAGES,
    PHOTOS,
    TAKEN,
    WHAT,
    PiecesState,
    refused_field,
    same_in_hand,
)
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.tab_row import TabRow
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _, plural

_WAY_BACK = N_("Ctrl+Z at the sorting table brings it back.")


class PiecesBench(Bench):
    """What is typed stays until it is written, also when the piece is read again."""

    key = "pieces"
    kinds = frozenset(
        {"piece", "sherd_join", "vessel", "photo", "lab_sample", "found_object", "ware", "form", "word", "container"}
    )

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(surroundings, parent)
        self.state = PiecesState()
        self.keeping = KeepingFields(self, self.state)
        self._wanted = ""
        self._just_taken = False
        """A container came in hand and its page is not chosen yet."""
        self._looks_up = False
        """Something was scanned or chosen: what comes in hand now is wanted here, else it is only read again."""
        self.dossier, self.keyboard = PieceDossier(self), PieceKeyboard(self)
        self.list = PieceList(self)
        self.head = HeadPart(self.theme)
        self.tabs = TabRow(_("Pages of the piece"))
        self.forms = PieceForms(self.theme, WordsAround.of(surroundings.desk))
        self.rim = RimPart(self)
        self.joins, self.photos = JoinsPart(self), PhotosPart(self)
        self.samples, self.object = SamplesPart(self), ObjectPart(self)
        self.write_button = act_button("")
        self.back_button = QPushButton(_("Lay it back"))
        self.before_button = QPushButton(_("As the piece before"))
        self.taken = TakenPage(self.samples, self.object)
        self._pages = OneOf()
        self.pages = self._build_pages()
        self._lay_out_parts()
        self._wire()
        self._shortcuts()
        self.show_page(WHAT)
        self._show(None)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.dossier.show_again()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.keeping.keep_now()

    # What every bench says

    def title(self) -> str:
        return _("Pieces")

    def what_waits(self) -> str:
        """Return how many drawings are wanted."""
        wanted = drawings_wanted(self.surroundings.desk)
        return plural("{n} drawing wanted", "{n} drawings wanted", wanted) if wanted else ""

    def keys(self) -> tuple[tuple[str, str], ...]:
        return keys_in_words()

    def first_focus(self) -> QWidget | None:
        """Return the list of pieces, or the search where it is empty."""
        return self.list.table if self.list.table.isVisible() else self.list.search

    def refresh(self) -> None:
        desk = self.surroundings.desk
        self.list.ask(self.state.query(), self.state.empty(self._around()))
        self.read(lambda: (wares(desk), forms(desk)), self._show_types, topic="types")
        self._read_new_objects()
        self.keeping.look_what_is_gone(self._say_unwritten)
        if self.state.piece is not None:
            self.open_piece(self.state.piece.code)
        self.object.show_container(*self.state.met_in(), self._around())

    def look_up_begins(self) -> None:
        """Take what comes in hand next as wanted here."""
        self._looks_up = True

    def look_up_ended(self, found: bool) -> None:
        """Take what comes in hand without a look-up as read again."""
        self._looks_up = False

    def show_in_hand(self, in_hand: object) -> None:
        """List the pieces of a container that was scanned, or open a piece."""
        before = self.in_hand
        super().show_in_hand(in_hand)
        if not isinstance(in_hand, Dossier) or (not self._looks_up and same_in_hand(before, in_hand)):
            return
        piece = in_hand.piece.piece if in_hand.piece else None
        if in_hand.code != self.state.code:
            self.refusals.clear()
        self.list.forget_search()
        self.state.take_container(in_hand.code, in_hand.number)
        self.state.text = ""
        if piece is not None:
            self.keyboard.follow_scan(piece.code)
            self.open_piece(piece.code)
        elif self.state.piece is not None and self.state.piece.container_code != in_hand.code:
            self._show(None)
        self.list.ask(self.state.query(), self.state.empty(self._around()))
        if piece is not None:
            self.list.go_to(piece.code)
        else:
            self.object.show_container(*self.state.met_in(), self._around())
        self._just_taken = True
        self._read_new_objects()

    def take_beside(self, thing: object) -> Answer | None:
        """Put a piece that is scanned into "It joins" there; what is in hand stays, here and at every bench."""
        if not isinstance(thing, Dossier) or thing.piece is None:
            return None
        named = self.joins.take_piece(thing.piece.piece)
        return Answer(Tone.PLAIN, named, self.surroundings.words(N_(": Enter joins it"))) if named else None

    # Showing a piece

    def open_piece(self, code: str) -> None:
        """Read a piece and show it."""
        desk, self._wanted = self.surroundings.desk, code
        self.read(lambda: page_if_there(desk, code), self._show, topic="piece")

    def is_behind(self) -> bool:
        """Return whether a piece that was asked for is not shown yet."""
        return self._wanted != (self.state.piece.code if self.state.piece else "") and self.reads("piece")

    def show_page(self, key: str) -> None:
        """Open a page of the piece by its key."""
        around = self._around()
        self.tabs.show_tabs([(one, around.say(words)) for one, words in PAGES.items()], key)
        self._pages.show_page(self.pages[key])
        to_top(self._pages)

    def shown_page(self) -> str:
        """Return the key of the page that is open."""
        return next(key for key, page in self.pages.items() if page is self._pages.shown())

    def _show(self, page: PiecePage | None) -> None:
        around = self._around()
        same = page is not None and self.state.piece is not None and page.piece.id == self.state.piece.id
        self.state.keep_typed(self.forms.as_typed())
        self.state.show_piece(page, around)
        self.forms.show_values(self.state.shown_values, self.state.typed_at(page))
        self.rim.show_piece(page, anew=not same)
        self.rim.follow(self.forms.peek())
        self.joins.show_piece(page, around)
        self.photos.show_piece(page)
        self.samples.show_piece(page, around)
        self.object.show_container(*self.state.met_in(), around)
        self.head.show_state(self.state, around)
        self._say_unwritten()
        if not same:
            to_top(self._pages)
        self.dossier.show_piece(page.piece.code if page else "")
        said = N_("Write {name}") if page else N_("Write")
        self.write_button.setText(around.say(said, name=page.piece.name if page else ""))
        for part in (self.forms, self.joins, self.photos, self.samples):
            part.setEnabled(page is not None)
        for button in (self.write_button, self.back_button):
            button.setEnabled(page is not None)
        self.before_button.setEnabled(page is not None and self.state.before is not None)
        self.keyboard.piece_shown(page.piece.code if page else "")

    def _typed(self) -> None:
        """Follow what is typed in the fields of the piece."""
        self.rim.follow(self.forms.peek())
        self._say_unwritten()

    def _say_unwritten(self) -> None:
        """Keep what is typed at the piece, and say above it what of it is not written."""
        around = self._around()
        fields = self.state.keep_typed(self.forms.as_typed())
        self.keeping.keep_soon()
        self.head.show_unwritten(self.state.not_written([self.forms.field_in_words(key) for key in fields], around))
        self.say_going_on(self.state.going_on(around))

    def _read_new_objects(self) -> None:
        desk = self.surroundings.desk
        self.read(lambda: new_objects(desk), self._show_new_objects, topic="new objects")

    def _show_new_objects(self, untold: tuple[ObjectFacts, ...]) -> None:
        self.object.show_new(untold)
        if self._just_taken and self.state.code in {one.container_code for one in untold}:
            self.show_page(TAKEN)
        self._just_taken = False

    def _show_types(self, types: tuple[Any, Any]) -> None:
        known_wares, known_forms = types
        self.forms.offer_types("ware", [(one.code, one.name) for one in known_wares])
        self.forms.offer_types("form", [(one.code, one.name) for one in known_forms])

    # Deeds

    def write(self) -> None:
        """Write what was changed in the fields of the piece."""
        piece, values = self.state.piece, self.forms.read(self.show_page)
        if piece is None or values is None:
            return
        said = self.state.changed(values)
        around = self._around()
        if not said:
            self.surroundings.say(Answer(Tone.ALREADY, piece.name, f": {around.say(N_('nothing was changed'))}"))
            return
        desk = self.surroundings.desk
        self.deed(
            lambda: change_piece(desk, piece.id, seen=piece.version, **said),
            sure=lambda: change_piece(desk, piece.id, seen=piece.version, sure=True, **said),
            then=lambda written: self._written(written, said),
            button=self.write_button,
            no=self._mark_refused,
        )

    def write_laying_back(self) -> None:
        """Lay the piece back into its row; where more is said of it than the row does, only after a question."""
        piece, desk = self.state.piece, self.surroundings.desk
        if piece is None:
            return

        def lay() -> None:
            self.deed(
                lambda: lay_back(desk, piece.id, seen=piece.version), then=self._laid_back, button=self.back_button
            )

        if self.state.says_more_than_its_row():
            asked = N_("Measured or described: {name}. Lay it back all the same? {way_back}")
            words = self.surroundings.words(asked, name=piece.name, way_back=self.surroundings.words(_WAY_BACK))
            self.refusals.ask(words, lay, _("Lay it back"))
        else:
            lay()

    def as_before(self) -> None:
        """Let the fields say what the piece before says of ware, clay and years; nothing is written yet."""
        before = self.state.as_before()
        if before and self.state.before is not None:
            self.forms.show_values(self.forms.in_words(self.state.before, tuple(before), self._around()), {})
            self._typed()

    def _mark_refused(self, refusal: Refusal) -> None:
        """Mark the field of the piece that was refused: what is refused of an object or a sample marks none of it."""
        if field := refused_field(refusal):
            self.forms.refuse_field(field, self.show_page)

    def refuse(self, refusal: Refusal) -> None:
        super().refuse(refusal)
        if refusal.code == "changed_meanwhile" and self.state.piece is not None:
            self.open_piece(self.state.piece.code)

    def _written(self, piece: PieceRow, said: Mapping[str, Any]) -> None:
        self.state.was_written(piece.id, said)
        self.keeping.keep_soon()
        self.surroundings.say(Answer(Tone.DONE, self.surroundings.words(N_("Written: {name}"), name=piece.name)))
        if self.state.piece is not None and self.state.piece.id == piece.id:
            self.open_piece(piece.code)
        self.say_going_on(self.state.going_on(self._around()))
        if self.write_button.hasFocus():
            self.keyboard.to_list()

    def _laid_back(self, piece: PieceRow) -> None:
        say = self.surroundings.words
        self.surroundings.say(Answer(Tone.DONE, say(N_("Laid back: {name}"), name=piece.name), f". {say(_WAY_BACK)}"))
        self._show(None)
        self.state.unwritten.pop(piece.id, None)
        self.keeping.keep_soon()
        self.keyboard.to_list()
        self.refresh()

    # Frame

    def _around(self) -> WordsAround:
        return WordsAround.of(self.surroundings.desk)

    def _search(self, text: str) -> None:
        self.state.text = text
        self.list.ask(self.state.query(), self.state.empty(self._around()))

    def _count(self, found: int) -> None:
        self.state.counted = found
        self.say_going_on(self.state.going_on(self._around()))
        if not found and not self.state.text:
            self._show(None)

    def _build_pages(self) -> dict[str, QWidget]:
        return {
            WHAT: fields_page(self.theme, self.forms, WHAT),
            MEASURES: measures_page(self.theme, self.forms, self.rim),
            CLAY: fields_page(self.theme, self.forms, CLAY),
            JOINS: self.joins,
            PHOTOS: self.photos,
            TAKEN: self.taken,
        }

    def _lay_out_parts(self) -> None:
        for page in self.pages.values():
            self._pages.add_page(page)
        buttons = (self.write_button, self.before_button, self.back_button)
        self.body.addLayout(beside_list(self.theme, self.list, (self.head, self.tabs), self._pages, buttons), 1)

    def _wire(self) -> None:
        self.list.picked.connect(self._pick)
        self.list.opened.connect(self.keyboard.to_fields)
        self.list.searched.connect(self._search)
        self.list.counted.connect(self._count)
        self.tabs.chosen.connect(self.show_page)
        self.tabs.chosen.connect(lambda _page: self.refusals.clear())
        self.forms.edited.connect(self._typed)
        self.forms.entered.connect(self.write)
        self.rim.taken.connect(self.forms.take)
        self.write_button.clicked.connect(self.write)
        self.back_button.clicked.connect(self.write_laying_back)
        self.before_button.clicked.connect(self.as_before)
        for part in (self.joins, self.photos, self.samples, self.object):
            part.done.connect(self.refresh)

    def _pick(self, code: str) -> None:
        if self.state.piece is None or self.state.piece.code != code:
            self.open_piece(code)

    def _shortcuts(self) -> None:
        hear_on_bench(
            self,
            {
                "F3": lambda: self.list.search.setFocus(Qt.FocusReason.OtherFocusReason),
                "F6": self.keyboard.other_side,
                "Ctrl+PgDown": lambda: self.keyboard.turn_page(1),
                "Ctrl+PgUp": lambda: self.keyboard.turn_page(-1),
            },
        )
        hear(
            self,
            {
                "Ctrl+D": self.as_before,
                "Ctrl+M": lambda: self.rim.take.click(),
                **dict.fromkeys(("Ctrl+Z", "Ctrl+Y"), lambda: self.refuse(NOT_BY_KEY)),
            },
        )
        buttons = (self.write_button, self.before_button, self.back_button)
        parts = (self.list, self.tabs, self.rim, self.joins, self.photos, self.samples.table, *buttons)
        hear_writing(parts, self.write)
