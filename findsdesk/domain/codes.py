"""Codes on tags, bags, boxes, places, people, pieces, loans and command cards.

A code is the excavation's short code (2-3 letters), a kind letter, a six-digit serial and a check character, without
any separator: keyboard layouts of scanners turn a hyphen into something else. It is read from the right.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import StrEnum

from findsdesk.domain.check_characters import is_valid_37_36, mod_37_36
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

LAST_SERIAL = 999_999


class Kind(StrEnum):
    """What a code stands on; the value is the kind letter."""

    TAG = "T"
    BAG = "B"
    BOX = "X"
    PLACE = "L"
    PERSON = "H"
    PIECE = "P"
    LOAN = "A"
    """Away."""
    COMMAND = "C"


@dataclass(frozen=True, slots=True)
class Code:
    """A code taken apart: whose it is, what it stands on, its serial."""

    excavation: str
    kind: Kind
    serial: int

    @property
    def text(self) -> str:
        """Return the code as it is printed, with its check character."""
        return make_code(self.excavation, self.kind, self.serial)


_SHORT_CODE = re.compile(r"[A-Z]{2,3}")
_SHAPE = re.compile(rf"([A-Z]{{2,3}})([{''.join(Kind)}])([0-9]{{6}})[0-9A-Z]")

# Signs that people and keyboards use as a dash although Unicode files them elsewhere than under dashes (Pd).
_MORE_DASHES = frozenset("\u2212\u207b\u02d7\u2043")
# Blanks, line ends, control characters, soft hyphens and direction marks that come along with scans and pastes.
_DROPPED_CATEGORIES = frozenset({"Pd", "Cc", "Cf", "Zs", "Zl", "Zp"})
_FULL_WIDTH = {wide: wide - 0xFEE0 for wide in range(0xFF01, 0xFF5F)}


def is_dash(character: str) -> bool:
    """Return whether a character is a hyphen, dash or minus sign of any kind."""
    return unicodedata.category(character) == "Pd" or character in _MORE_DASHES


def _tidy_character(character: str) -> str:
    if unicodedata.category(character) in _DROPPED_CATEGORIES or character in _MORE_DASHES:
        return ""
    digit = unicodedata.decimal(character, None)
    return str(digit) if digit is not None else character.upper()


def tidy(text: str) -> str:
    """Return a scanned, typed or pasted code in its plain form.

    Upper case; blanks, dashes of any kind and control characters dropped; full-width letters and other scripts' digits
    folded. Says nothing about whether it is a code.
    """
    return "".join(_tidy_character(character) for character in text.translate(_FULL_WIDTH))


def check_short_code(text: str) -> str:
    """Return an excavation's short code in plain form; refuses anything but 2 or 3 letters A-Z (``bad_short_code``)."""
    short_code = tidy(text)
    if not _SHORT_CODE.fullmatch(short_code):
        raise Refusal(
            "bad_short_code",
            N_("“{said}” cannot be a short code. Use two or three letters from A to Z."),
            said=_shortened(text),
        )
    return short_code


def make_code(excavation: str, kind: Kind, serial: int) -> str:
    """Return the printed code: short code, kind letter, six digits, check character.

    Refuses a bad short code (``bad_short_code``) and a serial above 999999 (``serials_used_up``).
    """
    if serial < 0:
        raise ValueError(f"a serial is counted from 0, not {serial}")
    if serial > LAST_SERIAL:
        raise Refusal(
            "serials_used_up",
            N_(
                "Number {serial} is beyond the last code, {last}. Start an excavation with another short code for more."
            ),
            serial=serial,
            last=LAST_SERIAL,
        )
    body = f"{check_short_code(excavation)}{kind.value}{serial:06d}"
    return body + mod_37_36(body)


def could_be_code(text: str) -> bool:
    """Return whether a text has the shape of a code, whatever its excavation and check character."""
    return _SHAPE.fullmatch(tidy(text)) is not None


def could_be_misread(text: str, excavation: str) -> bool:
    """Return whether a text is a code, or what a scan of one of this excavation's comes to where signs were lost.

    Its short code, a letter and three digits at least, or all but one sign; several run together as well. With a blank
    in it, it is words, unless it is a whole code: no scanner sends blanks.
    """
    if could_be_code(text):
        return True
    if not excavation or any(map(str.isspace, text)):
        return False
    plain, one = tidy(text), rf"{tidy(excavation)}[A-Z][0-9]{{3,6}}[0-9A-Z]?"
    return re.fullmatch(rf"(?:{one})+", plain) is not None or _lacks_one_sign(plain, excavation)


def check_none_is_missing(text: str, excavation: str) -> None:
    """Refuse a code of this excavation of which one character was lost on the way (``one_character_missing``)."""
    plain = tidy(text)
    if _lacks_one_sign(plain, excavation):
        raise Refusal(
            "one_character_missing",
            N_("One character is missing in {said}. Scan again, or type the code as it stands on the tag."),
            said=plain,
        )


def _lacks_one_sign(plain: str, excavation: str) -> bool:
    whole = f"{tidy(excavation)}{Kind.TAG.value}{0:06d}0"
    if len(plain) + 1 != len(whole):
        return False
    shapes = (_SHAPE.fullmatch(plain[:place] + sign + plain[place:]) for place, sign in enumerate(whole))
    return any(shape is not None and shape[1] == tidy(excavation) for shape in shapes)


def read_code(text: str, excavation: str) -> Code:
    """Read a scanned or typed code of this excavation.

    Four different refusals: ``one_character_missing``, ``not_a_code`` (wrong shape), ``wrong_check_character``
    (misread; never looked up) and ``foreign_code`` (sound, but of another excavation).
    """
    plain = tidy(text)
    shape = _SHAPE.fullmatch(plain)
    if shape is None:
        check_none_is_missing(text, excavation)
        example = make_code(excavation, Kind.TAG, 131)
        raise Refusal(
            "not_a_code",
            N_("“{said}” is not a code. A code looks like {example}: scan it again or type it from the tag."),
            said=_shortened(text),
            example=example,
        )
    if not is_valid_37_36(plain):
        raise Refusal(
            "wrong_check_character",
            N_(
                "{said} was read or typed wrong: its last character does not fit. Scan again or compare each character."
            ),
            said=plain,
        )
    short_code, letter, serial = shape.groups()
    if short_code != tidy(excavation):
        raise Refusal(
            "foreign_code",
            N_("{said} belongs to another excavation, {theirs}. Here codes begin with {ours}: set it aside and ask."),
            said=plain,
            theirs=short_code,
            ours=tidy(excavation),
        )
    return Code(short_code, Kind(letter), int(serial))


def _shortened(text: str, longest: int = 30) -> str:
    """Return a text that fits into a sentence; a whole paste would hide the way out."""
    shown = " ".join(text.split())
    return shown if len(shown) <= longest else shown[: longest - 1] + "…"
