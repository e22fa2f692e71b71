"""What can be done with a discard list: each act with its words, its fields, when it is allowed and what it does."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from findsdesk.desk.desk import Desk
from findsdesk.desk.discard_lists import WholeList
from findsdesk.desk.discards import annotate, call_back, carried_away, inspected, sign_list, take_off
from findsdesk.domain.balance import Decision
from findsdesk.domain.discards import Stage
from findsdesk.domain.settings import Settings
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_

Values = Mapping[str, Any]
Lines = Sequence[int]


@dataclass(frozen=True, slots=True)
class DiscardAct:
    """One act; texts are marked. ``button`` stands among the acts, ``write`` on the button that does it.

    ``done`` is said once it is written, of the lines and sherds that came off the list, or of those that stand on it.

    ``of_lines``: it is done with the lines that are chosen, or with the only one; ``hurts``: the caution of
    those who carry stands above its fields.
    """

    key: str
    button: str
    title: str
    write: str
    done: str
    fields: Callable[[WordsAround, Sequence[str]], tuple[Field, ...]]
    do: Callable[[Desk, WholeList, Values, Lines], WholeList]
    allowed: Callable[[Stage, Settings], bool]
    of_lines: bool = False
    hurts: bool = False


def _why(around: WordsAround) -> Field:
    return Field("why", around.say(N_("Why")), help=around.say(N_("Stands beside the line and in the journal.")))


def _back_fields(around: WordsAround, _signers: Sequence[str]) -> tuple[Field, ...]:
    choices = (
        (Decision.HOLD, around.say(N_("on hold"))),
        (Decision.KEEP, around.say(N_("kept"))),
        (Decision.MEND, around.say(N_("kept for mending"))),
    )
    return (
        Field("to", around.say(N_("They are from now on")), FieldKind.CHOICE, 190, choices=choices),
        _why(around),
    )


def _sign_fields(around: WordsAround, signers: Sequence[str]) -> tuple[Field, ...]:
    help_ = around.say(N_("The PIN of who signs. Nobody sees it, and it is kept nowhere but as a seal of it."))
    return (
        Field(
            "signer", around.say(N_("Who signs")), FieldKind.CHOICE, 230, choices=tuple((one, one) for one in signers)
        ),
        Field("pin", around.say(N_("PIN")), FieldKind.PIN, 150, help_),
    )


def _inspected_fields(around: WordsAround, _signers: Sequence[str]) -> tuple[Field, ...]:
    return (Field("inspector", around.say(N_("Name of the inspector")), width=260),)


def _carry_fields(around: WordsAround, _signers: Sequence[str]) -> tuple[Field, ...]:
    help_ = around.say(N_("What lies with them, so that whoever digs there knows what they are."))
    return (
        Field("where", around.say(N_("Where to"))),
        Field("how", around.say(N_("How")), width=260),
        Field("marker", around.say(N_("Marker")), help=help_),
    )


def _note_fields(around: WordsAround, _signers: Sequence[str]) -> tuple[Field, ...]:
    return (Field("text", around.say(N_("Note"))),)


def _sign(desk: Desk, whole: WholeList, values: Values, _lines: Lines) -> WholeList:
    facts = whole.facts
    return sign_list(
        desk,
        facts.number,
        pin=values["pin"],
        signer=values["signer"] or None,
        pieces=facts.pieces,
        season=facts.season,
    )


def _take_off(desk: Desk, whole: WholeList, values: Values, lines: Lines) -> WholeList:
    facts = whole.facts
    return take_off(desk, facts.number, why=values["why"], to=Decision(values["to"]), lines=lines, season=facts.season)


def _call_back(desk: Desk, whole: WholeList, values: Values, lines: Lines) -> WholeList:
    facts = whole.facts
    return call_back(desk, facts.number, why=values["why"], to=Decision(values["to"]), lines=lines, season=facts.season)


def _inspected(desk: Desk, whole: WholeList, values: Values, _lines: Lines) -> WholeList:
    return inspected(desk, whole.facts.number, inspector=values["inspector"], season=whole.facts.season)


def _carry(desk: Desk, whole: WholeList, values: Values, _lines: Lines) -> WholeList:
    return carried_away(desk, whole.facts.number, season=whole.facts.season, **values)


def _note(desk: Desk, whole: WholeList, values: Values, _lines: Lines) -> WholeList:
    return annotate(desk, whole.facts.number, text=values["text"], season=whole.facts.season)


def _signed(stage: Stage, _settings: Settings) -> bool:
    return stage in (Stage.SIGNED, Stage.INSPECTED)


ACTS: tuple[DiscardAct, ...] = (
    DiscardAct(
        "sign",
        N_("Sign"),
        N_("Sign for discard list {number}"),
        N_("Sign for {pieces}"),
        N_("{sherds} signed for"),
        _sign_fields,
        _sign,
        lambda stage, _settings: stage is Stage.PROPOSED,
    ),
    DiscardAct(
        "take_off",
        N_("Take off"),
        N_("Take lines off discard list {number}"),
        N_("Take off {lines}"),
        N_("{lines} taken off: {sherds} stay"),
        _back_fields,
        _take_off,
        lambda stage, _settings: stage is Stage.PROPOSED,
        of_lines=True,
    ),
    DiscardAct(
        "inspected",
        N_("Inspector"),
        N_("The inspector has seen discard list {number} and signed it on paper"),
        N_("Write it"),
        N_("the inspector's name is written"),
        _inspected_fields,
        _inspected,
        lambda stage, settings: stage is Stage.SIGNED and settings.inspector_signs,
    ),
    DiscardAct(
        "carry",
        N_("Carried away"),
        N_("Discard list {number} is carried away"),
        N_("Write it carried away"),
        N_("{sherds} carried away"),
        _carry_fields,
        _carry,
        _signed,
        hurts=True,
    ),
    DiscardAct(
        "call_back",
        N_("Call back"),
        N_("Call sherds of discard list {number} back"),
        N_("Call back {lines}"),
        N_("{lines} called back: {sherds} stay"),
        _back_fields,
        _call_back,
        _signed,
        of_lines=True,
    ),
    DiscardAct(
        "note",
        N_("Add a note"),
        N_("A note on discard list {number}"),
        N_("Add the note"),
        N_("the note is added"),
        _note_fields,
        _note,
        lambda stage, _settings: stage is not Stage.PROPOSED,
    ),
)
