"""Numbers as people type them: one way to read them in every field, file and command.

``.`` and ``,`` are both the decimal sign; a group separator is refused, since 1.234 means two things. Whatever comes in
leaves as a whole number: pieces, tenths of a gram, millimetres.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from findsdesk.domain.codes import could_be_code, is_dash
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

MOST_PIECES = 100_000
MOST_TENTHS = 10_000_000  # a tonne: no container on a dig weighs more
MOST_PERMILLE = 1_000_000  # a thousand whole rims in one group
MOST_MILLIMETRES = 10_000_000  # ten kilometres up or down

_DECIMAL_SIGNS = frozenset(".,\u066b\uff0e\uff0c")
_GROUP_SIGNS = frozenset("'\u2019\u02bc\u066c_")
_NUMBER = re.compile(r"([+-]?)([0-9]*)(?:\.([0-9]*))?([a-zµ%]*)")
_GROUPED = re.compile(r"[+-]?[0-9]+(?:[ .'][0-9]+){2,}[a-zµ]*|[+-]?[0-9.]+(?:[ '][0-9]+)+(?:\.[0-9]*)?[a-zµ]*")


@dataclass(frozen=True, slots=True)
class _Typed:
    """A number taken apart: what was typed, the value, the unit in small letters ('' where none was typed)."""

    said: str
    value: Decimal
    unit: str


def _plain_sign(character: str) -> str:
    digit = unicodedata.decimal(character, None)
    if digit is not None:
        return str(digit)
    if is_dash(character):
        return "-"
    if character in _DECIMAL_SIGNS:
        return "."
    if character in _GROUP_SIGNS:
        return "'"
    if unicodedata.category(character) == "Cf":
        return ""
    return " " if character.isspace() else character.lower()


def _read(text: str, *, whole: bool = False) -> _Typed:
    """Take a typed number apart; refuses a scanned code, group separators and what is no number.

    ``whole``: it is counted, so that no decimal sign is offered as the way out.
    """
    said = " ".join(text.split())[:30]
    if could_be_code(text):
        raise Refusal(
            "code_in_number_field",
            N_("{said} is a scanned code, not a number. Nothing was entered: type the number, then scan."),
            said=said,
        )
    plain = " ".join("".join(_plain_sign(character) for character in text).split())
    plain = re.sub(r"(?<=[+-]) | (?=[a-zµ%])", "", plain)
    if _GROUPED.fullmatch(plain):
        raise _grouped(said, whole)
    parts = _NUMBER.fullmatch(plain)
    if parts is None or not (parts[2] or parts[3]):
        raise _no_number(said, whole)
    return _Typed(said, Decimal(f"{parts[1]}{parts[2] or '0'}.{parts[3] or '0'}"), parts[4])


def _grouped(said: str, whole: bool) -> Refusal:
    if whole:
        return Refusal(
            "group_separator", N_("“{said}” has a sign or blank between thousands. Type its digits only."), said=said
        )
    return Refusal(
        "group_separator",
        N_("“{said}” has a sign or blank between thousands. Type it without, with one decimal sign at most."),
        said=said,
    )


def _no_number(said: str, whole: bool) -> Refusal:
    if whole:
        return Refusal("not_a_number", N_("“{said}” is not a whole number. Type digits only."), said=said)
    return Refusal(
        "not_a_number", N_("“{said}” is not a number. Type digits, with one decimal sign at most."), said=said
    )


def _without_unit(typed: _Typed, units: dict[str, int]) -> Decimal:
    """Return the value in the field's small unit; refuses a unit that the field does not know."""
    if typed.unit not in units:
        known = ", ".join(unit for unit in units if unit)
        raise Refusal(
            "wrong_unit",
            N_("“{said}” ends in a unit this field cannot read. Use {known}, or no unit."),
            said=typed.said,
            known=known,
        )
    return typed.value * units[typed.unit]


def _refuse_negative(typed: _Typed) -> None:
    if typed.value < 0:
        raise Refusal("negative", N_("“{said}” is less than nothing. Type 0 or more."), said=typed.said)


def read_decimal(text: str) -> Decimal:
    """Read a plain number of any size, with its sign, without a unit.

    Refusals: ``not_a_number``, ``group_separator``, ``code_in_number_field``.
    """
    typed = _read(text)
    if typed.unit:
        raise Refusal("not_a_number", N_("“{said}” is not a number. Type digits only."), said=typed.said)
    return typed.value


def read_pieces(text: str) -> int:
    """Read a number of pieces: whole, 0 to 100,000.

    Refusals: ``not_a_number``, ``negative``, ``fraction``, ``too_many``, ``group_separator``, ``code_in_number_field``.
    """
    typed = _read(text, whole=True)
    if typed.unit:
        raise Refusal("not_a_number", N_("“{said}” is not a number of pieces. Type digits only."), said=typed.said)
    _refuse_negative(typed)
    if any(sign in _DECIMAL_SIGNS for sign in text):
        raise Refusal(
            "fraction",
            N_("“{said}” is not a whole number. Pieces are counted whole: type digits only."),
            said=typed.said,
        )
    if typed.value > MOST_PIECES:
        raise Refusal(
            "too_many",
            N_("{said} pieces cannot be right: one {container} holds {most:,} at most. Count again or type it again."),
            said=typed.said,
            most=MOST_PIECES,
        )
    return int(typed.value)


_LIKE_A_THOUSAND = re.compile(r"\d{1,3}\D\d{3}(?!\d)")


def _too_fine(said: str, nearest: str) -> Refusal:
    if _LIKE_A_THOUSAND.match(said):
        text = N_(
            "“{said}” has more than one decimal of a gram. Type {nearest} g, or a thousand without its separator."
        )
    else:
        text = N_("“{said}” has more than one decimal of a gram. Type {nearest} g.")
    return Refusal("too_fine", text, said=said, nearest=nearest)


def read_grams(text: str) -> int:
    """Read a weight in grams (or kilograms where ``kg`` is typed) as whole tenths of a gram, 0 to a tonne.

    Refusals: those of ``read_pieces`` except ``fraction``, and ``too_fine`` (more than one decimal of a gram),
    ``wrong_unit``.
    """
    typed = _read(text)
    tenths = _without_unit(typed, {"": 10, "g": 10, "kg": 10_000})
    _refuse_negative(typed)
    if tenths != int(tenths):
        nearest = tenths.quantize(Decimal(1), ROUND_HALF_UP)
        raise _too_fine(typed.said, grams_in_words(int(nearest)))
    if tenths > MOST_TENTHS:
        raise Refusal(
            "too_many", N_("“{said}” is more than a tonne. Look at the unit and type it again."), said=typed.said
        )
    return int(tenths)


def read_percent(text: str) -> int:
    """Read a percentage as whole per mille: ``12,5 %`` is 125; what is said of several sherds may pass 100 %.

    Refusals: those of ``read_pieces`` except ``fraction``, and ``too_fine`` (more than one decimal), ``wrong_unit``.
    """
    typed = _read(text)
    permille = _without_unit(typed, {"": 10, "%": 10})
    _refuse_negative(typed)
    if permille != int(permille):
        raise Refusal(
            "too_fine", N_("“{said}” is finer than the chart can be read. Type one decimal at most."), said=typed.said
        )
    if permille > MOST_PERMILLE:
        raise Refusal("too_many", N_("“{said}” is too much. Type the percent of a whole circle."), said=typed.said)
    return int(permille)


def read_millimetres(text: str) -> int:
    """Read a length in millimetres (or centimetres where ``cm`` is typed) as whole millimetres, 0 to ten kilometres.

    Refusals: those of ``read_pieces`` except ``fraction``, and ``too_fine`` (below a millimetre), ``wrong_unit``.
    """
    return _length(text, {"": 1, "mm": 1, "cm": 10}, N_("“{said}” is finer than a millimetre. Type it whole."))


def read_tenths_of_millimetres(text: str) -> int:
    """Read a length as a calliper shows it, in millimetres with one decimal, as whole tenths of a millimetre.

    Refusals: those of ``read_millimetres``; ``too_fine`` is below a tenth.
    """
    return _length(
        text, {"": 10, "mm": 10, "cm": 100}, N_("“{said}” is finer than a tenth of a millimetre. Type one decimal.")
    )


def read_hundredths_of_millimetres(text: str) -> int:
    """Read a length of paper in millimetres with two decimals, as whole hundredths of a millimetre.

    Refusals: those of ``read_millimetres``; ``too_fine`` is below a hundredth.
    """
    return _length(
        text,
        {"": 100, "mm": 100, "cm": 1000},
        N_("“{said}” is finer than a hundredth of a millimetre. Type two decimals."),
    )


def read_tenths_of_points(text: str) -> int:
    """Read a size of letters in points with one decimal, as whole tenths of a point.

    Refusals: those of ``read_millimetres``; ``too_fine`` is below a tenth.
    """
    return _length(text, {"": 10, "pt": 10}, N_("“{said}” is finer than a tenth of a point. Type one decimal."))


def _length(text: str, units: dict[str, int], too_fine: str) -> int:
    typed = _read(text)
    length = _without_unit(typed, units)
    _refuse_negative(typed)
    if length != int(length):
        raise Refusal("too_fine", too_fine, said=typed.said)
    if length > MOST_MILLIMETRES:
        raise Refusal(
            "too_many", N_("“{said}” is longer than any find. Look at the unit and type it again."), said=typed.said
        )
    return int(length)


def read_metres(text: str) -> int:
    """Read a length or an elevation in metres as whole millimetres, with its sign, up to ten kilometres.

    Refusals: ``not_a_number``, ``group_separator``, ``code_in_number_field``, ``too_fine`` (below a millimetre),
    ``too_many``, ``wrong_unit``.
    """
    typed = _read(text)
    millimetres = _without_unit(typed, {"": 1000, "m": 1000})
    if millimetres != int(millimetres):
        raise Refusal(
            "too_fine", N_("“{said}” is finer than a millimetre. Type three decimals at most."), said=typed.said
        )
    if abs(millimetres) > MOST_MILLIMETRES:
        raise Refusal("too_many", N_("“{said}” is more than ten kilometres. Type it in metres."), said=typed.said)
    return int(millimetres)


def _in_words(number: int, decimals: int, decimal: str) -> str:
    sign = "-" if number < 0 else ""
    whole, rest = divmod(abs(number), 10**decimals)
    return f"{sign}{whole}{decimal}{rest:0{decimals}d}"


def grams_in_words(tenths: int, decimal: str = ".") -> str:
    """Return tenths of a gram as grams with one decimal, without the unit: 175 is ``17.5``."""
    return _in_words(tenths, 1, decimal)


def metres_in_words(mm: int, decimal: str = ".") -> str:
    """Return millimetres as metres with three decimals, without the unit: -1250 is ``-1.250``."""
    return _in_words(mm, 3, decimal)
