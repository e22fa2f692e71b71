"""Code 128: the bars of a code as a module string (python-barcode encodes), read back and compared before use.

A module string is one character a module, ``1`` for dark. Writers of bar codes have dropped characters without a word
(a leading 99 in the one used here), so nothing is drawn that does not read back as what was meant.
"""

from __future__ import annotations

import re

from barcode.codex import Code128

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

QUIET_MODULES = 10  # each side; ISO/IEC 15417:2007 4.4.2 as cited in the source of an open bar code writer
_CODE = re.compile(r"[A-Z][0-9A-Z]*\Z")

# Widths of bar, space, bar, space, bar, space of the symbols 0 to 105 (ISO/IEC 15417; from memory, held by the
# published examples in tests/outside/test_code128.py and by an independent decoder).
_WIDTHS = """
    212222 222122 222221 121223 121322 131222 122213 122312 132212 221213 221312 231212 112232 122132 122231 113222
    123122 123221 223211 221132 221231 213212 223112 312131 311222 321122 321221 312212 322112 322211 212123 212321
    232121 111323 131123 131321 112313 132113 132311 211313 231113 231311 112133 112331 132131 113123 113321 133121
    313121 211331 231131 213113 213311 213131 311123 311321 331121 312113 312311 332111 314111 221411 431111 111224
    111422 121124 121421 141122 141221 112214 112412 122114 122411 142112 142211 241211 221114 413111 241112 134111
    111242 121142 121241 114212 124112 124211 411212 421112 421211 212141 214121 412121 111143 111341 131141 114113
    114311 411113 411311 113141 114131 311141 411131 211412 211214 211232
"""
_STOP = "1100011101011"


def _bars(widths: str) -> str:
    return "".join(("1", "0")[place % 2] * int(width) for place, width in enumerate(widths))


_VALUES = {_bars(widths): value for value, widths in enumerate(_WIDTHS.split())}
_START = {103: "A", 104: "B", 105: "C"}
_SWITCH = {101: "A", 100: "B", 99: "C"}


class SymbolFault(RuntimeError):
    """A symbol would say something else than the code it was made for; it is never printed."""


def symbol_values(modules: str) -> list[int]:
    """Return the values of a module string from start to check, without the stop; raise SymbolFault where it breaks."""
    body, stop = modules[:-13], modules[-13:]
    if stop != _STOP or len(body) % 11:
        raise SymbolFault("no stop, or a symbol of the wrong width")
    try:
        values = [_VALUES[body[place : place + 11]] for place in range(0, len(body), 11)]
    except KeyError as unknown:
        raise SymbolFault(f"no such symbol: {unknown}") from None
    *data, check = values
    if not data or data[0] not in _START:
        raise SymbolFault("no start")
    if check != (data[0] + sum(place * value for place, value in enumerate(data))) % 103:
        raise SymbolFault("wrong check symbol")
    return values


def text_of(modules: str) -> str:
    """Return the text a module string says, read by a table of our own, independent of the encoder's."""
    start, *data = symbol_values(modules)[:-1]
    in_set = _START[start]
    said = []
    for value in data:
        if in_set == "C" and value < 100:
            said.append(f"{value:02d}")
        elif value in _SWITCH and _SWITCH[value] != in_set:
            in_set = _SWITCH[value]
        elif in_set == "C" or value > 95:
            raise SymbolFault(f"value {value} means nothing in set {in_set}")
        else:
            said.append(chr(value + 32) if in_set == "B" or value < 64 else chr(value - 64))
    return "".join(said)


def check_code(code: str) -> None:
    """Refuse a text that cannot stand in our symbols: other than 0-9 and A-Z, or not beginning with a letter."""
    if not _CODE.match(code):
        raise Refusal(
            "unprintable_code",
            N_("“{given}” cannot be printed as a symbol: use capital letters and figures, beginning with a letter."),
            given=code,
        )


def modules_of(code: str) -> str:
    """Return the module string of a code, proved to say that code; without quiet zones."""
    check_code(code)
    modules: str = Code128(code).build()[0]
    said = text_of(modules)
    if said != code:
        raise SymbolFault(f"the symbol for {code} says {said}")
    return modules
