"""The QR symbols on labels read module by module, by the rules of ISO/IEC 18004, with nothing of the writer's.

FROM MEMORY, as the standard was not at hand: the worked example of its annex on encoding ("01234567" as version 1-M,
data and error correction codewords), the generator of the format information (0x537, masked with 0x5412), the field
(0x11D). They hold one another: a wrong figure in the example would leave a remainder. PUBLISHED: 16 upper-case
characters fit version 1 at level Q (popvideo.app; docs.real.com). DERIVED: everything read out of our own symbols.
"""

import pytest

from findsdesk.paper.code128 import SymbolFault
from findsdesk.paper.symbols import QR, square_rows

CODES = ["TQB000131X", "TQT999999Z", "TQX000031X", "A0Z9", "QRSTUVWXYKLMNOPZ"]
ALPHANUMERIC = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"
SIDE = 21
DATA, LEVEL_Q = 13, 0b11
FINDER = [[(max(abs(row - 3), abs(column - 3)) != 2) for column in range(7)] for row in range(7)]
MASKS = [
    lambda i, j: (i + j) % 2,
    lambda i, j: i % 2,
    lambda i, j: j % 3,
    lambda i, j: (i + j) % 3,
    lambda i, j: (i // 2 + j // 3) % 2,
    lambda i, j: i * j % 2 + i * j % 3,
    lambda i, j: (i * j % 2 + i * j % 3) % 2,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2,
]

POWERS = [1]
while len(POWERS) < 255:
    POWERS.append(POWERS[-1] << 1 ^ (0x11D if POWERS[-1] & 0x80 else 0))


def times(one, other):
    return POWERS[(POWERS.index(one) + POWERS.index(other)) % 255] if one and other else 0


def syndromes(codewords, how_many):
    """Return the value of the codewords, as a polynomial, at each power of 2 that it must be 0 at."""
    found = []
    for power in range(how_many):
        value = 0
        for word in codewords:
            value = times(value, POWERS[power]) ^ word
        found.append(value)
    return found


def dark(code):
    return [[module == 0 for module in row] for row in square_rows(code, QR)]


def number(bits):
    return int("".join("01"[bit] for bit in bits), 2)


def formats_of(symbol):
    """Return the two copies of the format information, unmasked: 15 bits each."""
    beside = [(8, column) for column in (0, 1, 2, 3, 4, 5, 7, 8)] + [(row, 8) for row in (7, 5, 4, 3, 2, 1, 0)]
    apart = [(SIDE - 1 - row, 8) for row in range(7)] + [(8, SIDE - 8 + column) for column in range(8)]
    return [number([symbol[row][column] for row, column in places]) ^ 0x5412 for places in (beside, apart)]


def remainder(value, generator=0x537):
    for bit in range(14, 9, -1):
        if value >> bit & 1:
            value ^= generator << bit - 10
    return value


def in_use(row, column):
    """Tell whether a module is of a finder, its border, the format information or the timing."""
    corners = (row < 9 and (column < 9 or column >= SIDE - 8)) or (row >= SIDE - 8 and column < 9)
    return corners or row == 6 or column == 6


def codewords_of(symbol, mask):
    bits = []
    for turn, right in enumerate((20, 18, 16, 14, 12, 10, 8, 5, 3, 1)):
        rows = range(SIDE) if turn % 2 else range(SIDE - 1, -1, -1)
        for row in rows:
            for column in (right, right - 1):
                if not in_use(row, column):
                    bits.append(symbol[row][column] != (not MASKS[mask](row, column)))
    return [number(bits[start : start + 8]) for start in range(0, len(bits) - 7, 8)]


def text_of(data):
    bits = "".join(f"{word:08b}" for word in data)
    assert bits[:4] == "0010", "letters and figures, not bytes"
    many, at, text = int(bits[4:13], 2), 13, ""
    while len(text) < many:
        width = 11 if many - len(text) > 1 else 6
        value = int(bits[at : at + width], 2)
        text += ALPHANUMERIC[value // 45] + ALPHANUMERIC[value % 45] if width == 11 else ALPHANUMERIC[value]
        at += width
    return text


def test_the_worked_example_of_the_standard_leaves_no_remainder():
    data = [0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, *[0xEC, 0x11] * 5]
    correction = [0xA5, 0x24, 0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55]
    said = "0001" + f"{8:010b}" + f"{12:010b}" + f"{345:010b}" + f"{67:07b}" + "0000"
    assert [int(said.ljust(48, "0")[start : start + 8], 2) for start in range(0, 48, 8)] == data[:6]
    assert syndromes([*data, *correction], 10) == [0] * 10
    assert syndromes([*data[:-1], data[-1] ^ 1, *correction], 10) != [0] * 10


@pytest.mark.parametrize("code", CODES)
def test_a_symbol_on_a_label_is_built_as_the_standard_says(code):
    symbol = dark(code)
    for top, left in ((0, 0), (0, SIDE - 7), (SIDE - 7, 0)):
        assert [row[left : left + 7] for row in symbol[top : top + 7]] == FINDER
    assert [symbol[6][place] for place in range(8, SIDE - 8)] == [place % 2 == 0 for place in range(8, SIDE - 8)]
    assert [symbol[place][6] for place in range(8, SIDE - 8)] == [place % 2 == 0 for place in range(8, SIDE - 8)]
    assert symbol[SIDE - 8][8], "the module that is always dark"
    one, other = formats_of(symbol)
    assert one == other
    assert remainder(one) == 0
    assert one >> 13 == LEVEL_Q
    codewords = codewords_of(symbol, one >> 10 & 0b111)
    assert len(codewords) == 26
    assert syndromes(codewords, 26 - DATA) == [0] * (26 - DATA)
    assert text_of(codewords[:DATA]) == code


def test_sixteen_characters_fit_and_seventeen_are_refused():
    assert len(dark("A" * 16)) == SIDE
    with pytest.raises(SymbolFault):
        square_rows("A" * 17, QR)
