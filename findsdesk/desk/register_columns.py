"""The columns of each register, said once: on the screen, in a printed list and in a file they are the same."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from findsdesk.desk.bag_register import BagInRegister
from findsdesk.desk.container_register import ContainerInRegister
from findsdesk.desk.deposit_facts import DepositFacts
from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_register import DiscardInRegister
from findsdesk.desk.group_register import FIELDS as GROUPS
from findsdesk.desk.journal_register import ActInRegister
from findsdesk.desk.left_in_trench import LeftFacts
from findsdesk.desk.mark_register import MARK_FIELDS
from findsdesk.desk.people_register import FIELDS as PEOPLE
from findsdesk.desk.piece_columns import DRAWINGS, JOINS, OBJECTS, PHOTOS, PIECES, SAMPLES, VESSELS
from findsdesk.desk.print_register import FIELDS as PRINTED
from findsdesk.desk.reading_rows import ReadingFacts
from findsdesk.desk.register_fields import RegisterField, Say, SayListed, Value, against_in_words
from findsdesk.desk.registers import Register
from findsdesk.desk.shipped import routes
from findsdesk.desk.store_columns import BOXES, LOANS, PLACES
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.bags import BAG_IN_WORDS
from findsdesk.domain.deposits import KINDS, SECURITY_IN_WORDS, Security
from findsdesk.domain.discards import STAGE_IN_WORDS
from findsdesk.domain.finds_density import soil_volume
from findsdesk.domain.natural_order import folded
from findsdesk.domain.readings import PeriodSaid
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import STANDING_IN_WORDS
from findsdesk.domain.season_end import STAYS_AS_IN_WORDS
from findsdesk.words import N_, put

__all__ = ["REGISTER_IN_WORDS", "RegisterField", "Say", "SayListed", "Value", "fields_chosen", "fields_of", "wording"]


class _Wording:
    """Says texts in the language of the window or terminal."""

    def __init__(self, desk: Desk) -> None:
        self._desk, self._lists = desk, words_of(desk)

    def __call__(self, text: str, /, **facts: object) -> str:
        return put(text, self._desk.terms, facts)

    def listed(self, name: str, keys: str) -> str:
        found = ((self._lists[name].keyed(key), key) for key in keys.split())
        return ", ".join(key if term is None else term.name if term.own else self(term.name) for term, key in found)


def wording(desk: Desk) -> SayListed:
    """Return what puts marked texts and the keys of lists into the excavation's words."""
    return _Wording(desk)


def fields_of(register: Register, *, for_file: bool = False) -> tuple[RegisterField, ...]:
    """Return the columns of a register in their order, those for files alone left out unless asked for."""
    return tuple(field for field in _FIELDS[register] if for_file or not field.in_file)


def fields_chosen(desk: Desk, register: Register, names: Sequence[str]) -> tuple[RegisterField, ...]:
    """Return columns of a register in the order in which they are named, by key or by heading; those of files too.

    Refusal: ``unknown_column``.
    """
    say, known = wording(desk), _FIELDS[register]
    named = {folded(say(one.title)): one for one in reversed(known)} | {folded(one.key): one for one in known}
    for name in names:
        if folded(name) not in named:
            raise Refusal(
                "unknown_column",
                N_("This register has no column {name}. It has {known}."),
                name=name,
                known=", ".join(one.key for one in known),
            )
    return tuple(dict.fromkeys(named[folded(name)] for name in names))


REGISTER_IN_WORDS: dict[Register, str] = {
    Register.DEPOSITS: N_("{Deposits}"),
    Register.CONTAINERS: N_("{Containers}"),
    Register.BAGS: N_("Bags"),
    Register.BOXES: N_("Boxes"),
    Register.PLACES: N_("Places"),
    Register.LOANS: N_("Loans"),
    Register.MARKS: N_("Marks"),
    Register.READINGS: N_("Readings"),
    Register.DISCARDS: N_("Discards"),
    Register.LEFT: N_("Left in the trench"),
    Register.PRINTS: N_("Printed labels"),
    Register.PEOPLE: N_("People"),
    Register.JOURNAL: N_("Journal"),
    Register.GROUPS: N_("Groups of sherds"),
    Register.PIECES: N_("Pieces"),
    Register.OBJECTS: N_("Objects"),
    Register.VESSELS: N_("Vessels"),
    Register.JOINS: N_("Joins"),
    Register.PHOTOS: N_("Photographs"),
    Register.DRAWINGS: N_("Drawings"),
    Register.SAMPLES: N_("Samples"),
}


def _deposit_stands(row: DepositFacts, say: Say) -> str:
    if row.merged_into is not None:
        return say(N_("merged into {number}"), number=row.merged_into)
    return say(N_("open")) if row.closed is None else say(N_("closed"))


def _security(row: DepositFacts, say: Say) -> str:
    return "" if row.security is Security.NOT_SAID else say(SECURITY_IN_WORDS[row.security])


def _material(material: str, say: Say) -> str:
    route = routes().get(material)
    return say(route.name) if route else material


def _stands(row: ContainerInRegister, say: Say) -> str:
    stands = say(STANDING_IN_WORDS[row.standing])
    if row.carried is not None:
        stands = f"{stands}, {say(STAYS_AS_IN_WORDS[row.carried])}"
    return say(N_("{stands}, held back"), stands=stands) if row.held_for else stands


def _what(row: BagInRegister, say: Say) -> str:
    words = BAG_IN_WORDS.get(row.what, row.what)
    return say(words) if row.what in BAG_IN_WORDS and words else words or say(N_("everything"))


def _period(said: PeriodSaid | None) -> str:
    return "" if said is None else said.name


def _confidence(row: ReadingFacts, say: SayListed) -> str:
    return say.listed("confidences", row.confidence)


def _stage(row: DiscardInRegister, say: Say) -> str:
    return say(N_("called back")) if row.called_back_at is not None else say(STAGE_IN_WORDS[row.stage])


def _discarded(row: DiscardInRegister, say: Say) -> str:
    piece = say(N_("piece {number}"), number=row.piece) if row.piece is not None else ""
    return " ".join(word for word in (row.ware, say(row.part), piece) if word)


def _left_stands(row: LeftFacts, say: Say) -> str:
    return say(N_("answers an entry")) if row.answers_id else say(N_("answered")) if row.answered else ""


def _grams(row: BagInRegister | DiscardInRegister | LeftFacts, _say: Say) -> float | None:
    return None if row.tenths is None else row.tenths / 10


def _happened(row: ActInRegister, _say: Say) -> datetime | None:
    """Return when it truly happened, where it was entered later."""
    return None if row.happened_at == row.written_at else row.happened_at


def _soil_litres(row: DepositFacts, _say: Say) -> float | None:
    return float(soil_volume(row.soil)) if row.soil else None


_SQUARE = RegisterField("square", N_("{Square}"), lambda row, say: row.square)
_SEASON = RegisterField("season", N_("Season"), lambda row, say: row.season, in_file=True)

_DEPOSITS = (
    RegisterField("number", N_("{Deposit}"), lambda row, say: row.number, "number"),
    _SQUARE,
    RegisterField("kind", N_("Kind"), lambda row, say: say(row.kind) if row.kind in KINDS else row.kind),
    RegisterField("opened", N_("Opened"), lambda row, say: row.opened, "opened"),
    RegisterField("closed", N_("Closed"), lambda row, say: row.closed),
    RegisterField("stands", N_("Stands"), _deposit_stands),
    RegisterField("supervisor", N_("Supervisor"), lambda row, say: row.supervisor),
    RegisterField("containers", N_("{Containers}"), lambda row, say: row.containers, figures=True),
    RegisterField("security", N_("Security"), _security),
    RegisterField("once", N_("Once"), lambda row, say: ", ".join(row.former_numbers)),
    RegisterField("description", N_("Description"), lambda row, say: row.description, grows=True),
    RegisterField("opening_mm", N_("Opening, mm"), lambda row, say: row.opening_mm, in_file=True),
    RegisterField("closing_mm", N_("Closing, mm"), lambda row, say: row.closing_mm, in_file=True),
    RegisterField("soil", N_("Soil dug"), lambda row, say: row.soil, in_file=True),
    RegisterField("soil_litres", N_("Soil dug, litres"), _soil_litres, in_file=True),
)
_CONTAINERS = (
    RegisterField("number", N_("{Container}"), lambda row, say: row.number, "number"),
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    _SQUARE,
    RegisterField("day", N_("Day"), lambda row, say: row.collected_on, "day"),
    RegisterField("material", N_("Material"), lambda row, say: _material(row.material, say), "material"),
    RegisterField("standing", N_("Stands"), _stands, "standing"),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("supervisor", N_("Supervisor"), lambda row, say: row.supervisor),
    RegisterField("code", N_("Tag"), lambda row, say: row.code, "code"),
    RegisterField("arrived", N_("Arrived"), lambda row, say: row.arrived_at, "arrived"),
    RegisterField("description", N_("Description"), lambda row, say: row.description, grows=True),
    _SEASON,
)
_BAGS = (
    RegisterField("code", N_("Bag"), lambda row, say: row.code, "code"),
    RegisterField("what", N_("What"), _what, grows=True),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("grams", N_("Grams"), _grams, figures=True),
    RegisterField("container", N_("{Container}"), lambda row, say: row.container),
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    RegisterField("box", N_("Box"), lambda row, say: row.box, figures=True),
    RegisterField("place", N_("Place"), lambda row, say: row.place),
    _SQUARE,
    RegisterField("material", N_("Material"), lambda row, say: _material(row.material, say)),
    RegisterField("packed", N_("Packed"), lambda row, say: row.packed_at, "packed"),
    RegisterField("labelled", N_("Labelled"), lambda row, say: row.labelled_at, "labelled"),
    RegisterField("copy", N_("Copy"), lambda row, say: row.label_copy or None, figures=True),
    RegisterField("tag", N_("Tag"), lambda row, say: row.container_code, in_file=True),
    _SEASON,
)
_READINGS = (
    RegisterField("read", N_("Read"), lambda row, say: row.read_at, "read"),
    RegisterField("container", N_("{Container}"), lambda row, say: row.container),
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    _SQUARE,
    RegisterField("main", N_("Main period"), lambda row, say: _period(row.periods.main)),
    RegisterField("earlier", N_("Earlier"), lambda row, say: _period(row.periods.earlier)),
    RegisterField("latest", N_("Latest"), lambda row, say: _period(row.periods.latest)),
    RegisterField("confidence", N_("How sure"), _confidence),
    RegisterField("line", N_("In a line"), lambda row, say: row.line, grows=True),
    RegisterField("person", N_("Who"), lambda row, say: row.who),
    RegisterField("look_again", N_("Look again"), lambda row, say: row.look_again_why),
    RegisterField("looked", N_("What was seen"), lambda row, say: row.looked_again_says),
)
_JOURNAL = (
    RegisterField("written", N_("Written"), lambda row, say: row.written_at, "written"),
    RegisterField("person", N_("Who"), lambda row, say: row.person),
    RegisterField("deed", N_("Did what"), lambda row, say: say(row.in_words)),
    RegisterField("said", N_("With what"), lambda row, say: row.said, grows=True),
    RegisterField("lines", N_("Rows changed"), lambda row, say: row.lines, figures=True),
    RegisterField("happened", N_("Happened before that"), _happened),
    RegisterField("station", N_("Station"), lambda row, say: row.station),
    RegisterField("running", N_("No."), lambda row, say: row.running, figures=True),
    RegisterField("act", N_("Act"), lambda row, say: row.id, in_file=True),
)


def _rule_of_discard(row: DiscardInRegister, say: SayListed) -> str:
    return against_in_words(row.rule, row.proposed, say, say.listed("decisions", row.proposed))


_DISCARDS = (
    RegisterField("list", N_("List"), lambda row, say: str(row.list_number), "list"),
    RegisterField("stage", N_("Stands"), _stage),
    RegisterField("container", N_("{Container}"), lambda row, say: row.container),
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    _SQUARE,
    RegisterField("what", N_("What"), _discarded, grows=True),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("grams", N_("Grams"), _grams, figures=True),
    RegisterField("reason", N_("Why"), lambda row, say: say(row.reason)),
    RegisterField("rule", N_("Rule"), _rule_of_discard),
    RegisterField("decided_by", N_("Decided by"), lambda row, say: row.decided_by),
    RegisterField("made_by", N_("Listed by"), lambda row, say: row.made_by),
    RegisterField("signed", N_("Signed"), lambda row, say: row.signed_at),
    RegisterField("signed_by", N_("Signed by"), lambda row, say: row.signed_by),
    RegisterField("carried", N_("Carried away"), lambda row, say: row.carried_at),
    RegisterField("carried_to", N_("Where to"), lambda row, say: row.carried_to),
    RegisterField("made", N_("Listed"), lambda row, say: row.made_at, in_file=True),
    RegisterField("inspector", N_("Inspector"), lambda row, say: row.inspector, in_file=True),
    RegisterField("inspected", N_("Seen by the inspector"), lambda row, say: row.inspected_at, in_file=True),
    RegisterField("carried_how", N_("How"), lambda row, say: row.carried_how, in_file=True),
    RegisterField("marker", N_("Marker"), lambda row, say: row.marker, in_file=True),
    RegisterField("called_back", N_("Called back"), lambda row, say: row.called_back_at, in_file=True),
    RegisterField("called_back_by", N_("Called back by"), lambda row, say: row.called_back_by, in_file=True),
    RegisterField("called_back_why", N_("Called back why"), lambda row, say: row.called_back_why, in_file=True),
    _SEASON,
)
_LEFT = (
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    _SQUARE,
    RegisterField("material", N_("Material"), lambda row, say: _material(row.material, say)),
    RegisterField("what", N_("What"), lambda row, say: row.what, grows=True),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("grams", N_("Grams"), _grams, figures=True),
    RegisterField("why", N_("Why"), lambda row, say: row.why, grows=True),
    RegisterField("stands", N_("Stands"), _left_stands),
    RegisterField("person", N_("Who"), lambda row, say: row.person),
    RegisterField("seen", N_("Seen"), lambda row, say: row.happened_at, "seen"),
)
_FIELDS: dict[Register, tuple[RegisterField, ...]] = {
    Register.DEPOSITS: _DEPOSITS,
    Register.CONTAINERS: _CONTAINERS,
    Register.BAGS: _BAGS,
    Register.BOXES: BOXES,
    Register.PLACES: PLACES,
    Register.LOANS: LOANS,
    Register.MARKS: MARK_FIELDS,
    Register.READINGS: _READINGS,
    Register.DISCARDS: _DISCARDS,
    Register.LEFT: _LEFT,
    Register.PRINTS: PRINTED,
    Register.PEOPLE: PEOPLE,
    Register.JOURNAL: _JOURNAL,
    Register.GROUPS: GROUPS,
    Register.PIECES: PIECES,
    Register.OBJECTS: OBJECTS,
    Register.VESSELS: VESSELS,
    Register.JOINS: JOINS,
    Register.PHOTOS: PHOTOS,
    Register.DRAWINGS: DRAWINGS,
    Register.SAMPLES: SAMPLES,
}
