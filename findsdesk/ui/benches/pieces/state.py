"""What the bench of pieces has in hand, what was changed in its fields, and what its parts say. No Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.piece_pages import PiecePage
from findsdesk.desk.piece_rows import COLOURS, MEASURED, PieceRow
from findsdesk.desk.registers import RegisterQuery
from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.benches.pieces.fields import LIST_OF, REASONS_OF
from findsdesk.ui.pieces_in_words import measured, what_it_is
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, plural

WHAT, MEASURES, CLAY, JOINS, PHOTOS, TAKEN = "what", "measures", "clay", "joins", "photos", "taken"
PAGES: dict[str, str] = {
    WHAT: N_("What"),
    MEASURES: N_("Measures"),
    CLAY: N_("Clay"),
    JOINS: N_("Joins"),
    PHOTOS: N_("Photographs"),
    TAKEN: N_("Taken out"),
}
ALIKE = (
    "ware",
    "form",
    "part",
    "surface",
    "decoration",
    "condition",
    "earliest",
    "latest",
    "dated_by",
    "parallels",
    "colour_surface",
    "colour_inside",
    "colour_core",
    "colour_slip",
    "firing",
    "inclusions",
)
"""What "as the piece before" repeats: what pieces of one ware share, nothing that is measured."""


OF_PIECE_ALONE = (
    "note",
    "drawing",
    "drawing_wanted",
    "photo_wanted",
    "conservation",
    "dated_by",
    "parallels",
    "earliest",
    "latest",
    "inclusions",
    "firing",
    *COLOURS,
    *(name for name in MEASURED if not name.endswith("_permille")),
)
"""What a row does not say: it goes with a piece that is laid back."""
NAMED_UNWRITTEN = 6
"""So many fields that are not written are named; of more it is said how many."""


def refused_field(refusal: Refusal) -> str:
    """Return the field of a piece that a refusal is about, '' where it is about none alone."""
    return _FIELD_OF_CODE.get(refusal.code, "") or _FIELD_OF_LIST.get(str(refusal.facts.get("list", "")), "")


def same_in_hand(one: object, other: Dossier) -> bool:
    """Return whether two dossiers are of the same container, found by the same piece or by none."""
    return (
        isinstance(one, Dossier)
        and one.code == other.code
        and (one.piece.piece.id if one.piece else None) == (other.piece.piece.id if other.piece else None)
    )


_FIELD_OF_CODE = {
    "unknown_ware": "ware",
    "unknown_form": "form",
    "unknown_part": "part",
    "reason_needed": "reason",
    "unknown_reason": "reason",
    "override_reason": "reason",
    "said_twice": "inclusions",
    "inclusion_kind_missing": "inclusions",
    "range_reversed": "latest",
}
_FIELD_OF_LIST = {words: field for field, words in LIST_OF.items()} | {
    "conservation_needs": "conservation",
    "inclusions": "inclusions",
    "methods": "diameter_method",
}


@dataclass(frozen=True, slots=True)
class Unwritten:
    """What was typed at a piece and is not written: the name of the piece, the values by their fields."""

    name: str
    values: Mapping[str, Any]


@dataclass(slots=True)
class PiecesState:
    """``code`` and ``number`` are of the container in hand, '' while nothing is; ``text`` is what is searched."""

    code: str = ""
    number: str = ""
    text: str = ""
    page: PiecePage | None = None
    before: PieceRow | None = None
    """The piece that was shown before this one."""
    counted: int = 0
    shown_values: dict[str, Any] = field(default_factory=dict)
    unwritten: dict[int, Unwritten] = field(default_factory=dict)
    """What is typed and not written, by the id of its piece: there again when the piece is chosen again."""

    @property
    def piece(self) -> PieceRow | None:
        """Return the piece that is shown."""
        return self.page.piece if self.page else None

    def take_container(self, code: str, number: str) -> None:
        """Take a container in hand; its pieces are listed."""
        if code != self.code:
            self.code, self.number, self.text = code, number, ""

    def met_in(self) -> tuple[str, str]:
        """Return code and number of the container of the piece that is shown, or else of the one in hand."""
        return (self.piece.container_code, self.piece.container) if self.piece else (self.code, self.number)

    def show_piece(self, page: PiecePage | None, around: WordsAround) -> None:
        """Show a piece; the one before is kept, to repeat what it says."""
        if self.piece is not None and (page is None or page.piece.id != self.piece.id):
            self.before = self.piece
        self.page = page
        self.shown_values = values_of(page.piece, around) if page else {}

    def query(self) -> RegisterQuery:
        """Return which pieces the list shows: those of the container, all where one is searched for."""
        own = (("container", self.code),) if self.code and not self.text else ()
        return RegisterQuery(self.text, own)

    def changed(self, values: Mapping[str, Any]) -> dict[str, Any]:
        """Return what of the fields is not as it was shown, as the desk takes it."""
        moved = {key: value for key, value in values.items() if value != self.shown_values.get(key)}
        if "decision" in moved:
            moved["decision"] = Decision(moved["decision"])
        return moved

    def keep_typed(self, typed: Mapping[str, Any]) -> tuple[str, ...]:
        """Keep what is typed at the piece that is shown; return the fields that are not written yet."""
        if self.piece is None:
            return ()
        moved = self.changed(typed)
        if moved:
            self.unwritten[self.piece.id] = Unwritten(self.piece.name, moved)
        else:
            self.unwritten.pop(self.piece.id, None)
        return tuple(moved)

    def typed_at(self, page: PiecePage | None) -> Mapping[str, Any]:
        """Return what was typed at a piece and is not written."""
        kept = self.unwritten.get(page.piece.id) if page else None
        return kept.values if kept else {}

    def says_more_than_its_row(self) -> bool:
        """Return whether something of the piece goes when it is laid back, also what is typed and not written yet."""
        piece = self.piece
        return piece is not None and (
            piece.id in self.unwritten or any(getattr(piece, name) for name in OF_PIECE_ALONE)
        )

    def was_written(self, piece_id: int, said: Mapping[str, Any]) -> None:
        """Take note that values of a piece were written; what was typed since then is not."""
        kept = self.unwritten.pop(piece_id, None)
        left = {key: value for key, value in kept.values.items() if said.get(key, _NOT_SAID) != value} if kept else {}
        if kept and left:
            self.unwritten[piece_id] = Unwritten(kept.name, left)
        if self.piece is not None and self.piece.id == piece_id:
            self.shown_values |= said

    def not_written(self, fields: Sequence[str], around: WordsAround) -> str:
        """Return the line that names the fields of the piece that are not written; '' where all are."""
        if not fields:
            return ""
        named = ", ".join(fields[:NAMED_UNWRITTEN])
        if len(fields) > NAMED_UNWRITTEN:
            more = len(fields) - NAMED_UNWRITTEN
            said = N_("Not written yet: {named} and {more} more. Ctrl+Enter writes.")
            return around.say(said, named=named, more=more)
        return around.say(N_("Not written yet: {named}. Ctrl+Enter writes."), named=named)

    def as_before(self) -> dict[str, Any]:
        """Return what the piece before says that pieces of a kind share; nothing where there was none."""
        return {} if self.before is None else {key: getattr(self.before, key) for key in ALIKE}

    def going_on(self, around: WordsAround) -> str:
        """Return the line beside the title: whose pieces, how many, at which of them something is not written."""
        names = [kept.name for kept in self.unwritten.values()]
        waits = around.say(N_("not written: {names}"), names=", ".join(names)) if names else ""
        return " · ".join(part for part in (self._listed_pieces(around), waits) if part)

    def _listed_pieces(self, around: WordsAround) -> str:
        n = plural("{n} piece", "{n} pieces", self.counted)
        if self.text:
            return around.say(N_("{n} found"), n=n)
        if self.code:
            return around.say(N_("{container} {number}, {n}"), number=self.number, n=n)
        return around.say(N_("{n} of all {containers}"), n=n)

    def empty(self, around: WordsAround) -> str:
        """Return what stands where no piece is listed."""
        if self.text:
            return around.say(N_("No piece is found for “{searched}”."), searched=self.text)
        if self.code:
            return around.say(
                N_("No piece of {container} {number} yet. Sherds are lifted out of a row at the sorting table."),
                number=self.number,
            )
        return around.say(N_("No piece yet. Sherds are lifted out of a row at the sorting table."))

    def heading(self, around: WordsAround) -> tuple[str, str]:
        """Return the name of the piece shown, and what it is and measures."""
        if self.piece is None:
            return around.say(N_("No piece chosen")), ""
        parts = (what_it_is(self.piece, around), measured(self.piece, around))
        return self.piece.name, " · ".join(part for part in parts if part)

    def doubts(self, around: WordsAround) -> str:
        """Return what about the piece is worth a second look, '' where nothing is."""
        if self.piece is None:
            return ""
        said = [doubt.in_words(around.terms) for doubt in self.piece.doubts]
        shared = {"grams": N_("grams"), "rim": N_("share of the rim"), "base": N_("share of the base")}
        words = ", ".join(around.say(shared[key]) for key in self.piece.shared.split())
        if words:
            said.append(around.say(N_("Not measured, its share of the row: {words}."), words=words))
        return " ".join(said)


def values_of(piece: PieceRow, around: WordsAround) -> dict[str, Any]:
    """Return what the fields show of a piece."""
    values = {name: getattr(piece, name) for name in _SHOWN}
    values["reason"] = reason_of(piece, around)
    return values | {name: around.listed(LIST_OF[name], getattr(piece, name)) for name in LIST_OF}


def reason_of(piece: PieceRow, around: WordsAround) -> str:
    """Return why a piece is kept, held or discarded: the word of its list, or what somebody wrote."""
    term = around.lists[REASONS_OF[piece.decision]].keyed(piece.reason)
    if term is None:
        return piece.reason
    return term.name if term.own else around.say(term.name)


_NOT_SAID = object()
_SHOWN = (
    "ware",
    "part",
    "form",
    "tenths",
    "decision",
    "reason",
    "earliest",
    "latest",
    "dated_by",
    "parallels",
    "conservation",
    "drawing",
    "drawing_wanted",
    "photo_wanted",
    "note",
    "chord_tenths_mm",
    "sagitta_tenths_mm",
    "rim_diameter_mm",
    "diameter_uncertainty_mm",
    "diameter_method",
    "rim_permille",
    "base_diameter_mm",
    "base_uncertainty_mm",
    "base_method",
    "base_permille",
    "height_mm",
    "wall_tenths_mm",
    "colour_surface",
    "colour_inside",
    "colour_core",
    "colour_slip",
    "inclusions",
)
