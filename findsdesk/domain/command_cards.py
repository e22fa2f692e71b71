"""Command cards: what the codes on the card beside the wash station mean.

A command's serial is fixed for ever, since cards hang laminated on a post. Nothing on a card discards or deletes: a
number scanned wrong is dropped by scanning the tag again. The tubs' codes are codes of places: tub 3 has the serial 3.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from findsdesk.domain.codes import Code, Kind, make_code
from findsdesk.domain.standings import Hold
from findsdesk.words import N_


class Command(StrEnum):
    """What a command code asks for; the digits are named by themselves."""

    DIGIT_0 = "0"
    DIGIT_1 = "1"
    DIGIT_2 = "2"
    DIGIT_3 = "3"
    DIGIT_4 = "4"
    DIGIT_5 = "5"
    DIGIT_6 = "6"
    DIGIT_7 = "7"
    DIGIT_8 = "8"
    DIGIT_9 = "9"
    SAME_AGAIN = "same digit again"
    WRITE = "write"
    ONE_MORE = "one more"
    NOTHING_SEEN = "nothing seen"
    PAINTED = "painted"
    INSCRIBED = "inscribed"
    FLAKING = "flaking"
    RESIDUE = "residue"
    OTHER_SEEN = "other seen"
    COUNT_AGAIN = "count again"
    LEFT_UNWASHED = "left unwashed"
    WASHED = "washed"
    DRY = "dry"
    ALL_DUE_DRY = "all due are dry"


_SERIALS: Mapping[Command, int] = MappingProxyType(
    {Command(str(digit)): digit for digit in range(10)}
    | {
        Command.SAME_AGAIN: 10,
        Command.WRITE: 11,
        Command.ONE_MORE: 12,
        Command.NOTHING_SEEN: 20,
        Command.PAINTED: 21,
        Command.INSCRIBED: 22,
        Command.FLAKING: 23,
        Command.RESIDUE: 24,
        Command.OTHER_SEEN: 25,
        Command.COUNT_AGAIN: 30,
        Command.LEFT_UNWASHED: 31,
        Command.WASHED: 32,
        Command.DRY: 40,
        Command.ALL_DUE_DRY: 41,
    }
)
_BY_SERIAL: Mapping[int, Command] = MappingProxyType({serial: command for command, serial in _SERIALS.items()})

IN_WORDS: Mapping[Command, str] = MappingProxyType(
    {Command(str(digit)): str(digit) for digit in range(10)}
    | {
        Command.SAME_AGAIN: N_("the same digit again"),
        Command.WRITE: N_("write"),
        Command.ONE_MORE: N_("one more"),
        Command.NOTHING_SEEN: N_("looked: nothing seen"),
        Command.PAINTED: N_("hold: painted"),
        Command.INSCRIBED: N_("hold: perhaps ink"),
        Command.FLAKING: N_("hold: flaking"),
        Command.RESIDUE: N_("hold: residue"),
        Command.OTHER_SEEN: N_("hold: something else"),
        Command.COUNT_AGAIN: N_("count again"),
        Command.LEFT_UNWASHED: N_("left unwashed"),
        Command.WASHED: N_("washed, without a count"),
        Command.DRY: N_("it is dry"),
        Command.ALL_DUE_DRY: N_("all that are due are dry"),
    }
)
"""The words beside each code, marked for translation; digits stand for themselves."""

SEEN: Mapping[Command, Hold | None] = MappingProxyType(
    {
        Command.NOTHING_SEEN: None,
        Command.PAINTED: Hold.PAINTED,
        Command.INSCRIBED: Hold.INSCRIBED,
        Command.FLAKING: Hold.FLAKING,
        Command.RESIDUE: Hold.RESIDUE,
        Command.OTHER_SEEN: Hold.OTHER,
    }
)
"""What was seen at dip and look, by its command."""


def digit_of(command: Command) -> str | None:
    """Return the digit a command writes, or None where it is no digit."""
    return command.value if command.value.isdecimal() else None


def command_code(excavation: str, command: Command) -> str:
    """Return the code of a command as it is printed on the excavation's card."""
    return make_code(excavation, Kind.COMMAND, _SERIALS[command])


def tub_code(excavation: str, tub: int) -> str:
    """Return the code of a tub, counted from 1, as it hangs on the tub or stands on the card."""
    return make_code(excavation, Kind.PLACE, tub)


def command_of(code: Code) -> Command | None:
    """Return what a command code asks for; None for a code that is no command, or one of a later program."""
    return _BY_SERIAL.get(code.serial) if code.kind is Kind.COMMAND else None


def tub_of(code: Code, tubs: int) -> str | None:
    """Return the tub that a place's code names, of as many as there are; None where it names none of them."""
    return str(code.serial) if code.kind is Kind.PLACE and 1 <= code.serial <= tubs else None
