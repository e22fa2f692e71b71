"""Code 128 against published examples, and the printed page against a decoder that is not ours (zxing-cpp).

Symbol values and check symbols: pages of barcodeisland and crifan (HI345678), a mirror of the encyclopaedia article on
Code 128 (PJJ123C), barcoderesource (ABCDEF, abcdef, 345678). Widths: "All About Code 128", an open leaflet.
"""

import numpy
import pytest
import zxingcpp
from PIL import Image

from findsdesk.paper.code128 import SymbolFault, modules_of, symbol_values, text_of
from findsdesk.paper.labels import lay_out
from findsdesk.paper.reading_back import read_back
from findsdesk.paper.stocks import stocks
from tests.printed import MOMENT, bag

A, B, C = 103, 104, 105
STOP = "1100011101011"
CODE_128 = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.Code128)

# data, start, symbol values, check symbol
PUBLISHED = [
    ("HI345678", A, [40, 41, 99, 34, 56, 78], 67),  # barcodeisland, crifan
    ("PJJ123C", A, [48, 42, 42, 17, 18, 19, 35], 54),  # encyclopaedia article
    ("ABCDEF", A, [33, 34, 35, 36, 37, 38], 42),  # barcoderesource
    ("abcdef", B, [65, 66, 67, 68, 69, 70], 97),  # barcoderesource
    ("345678", C, [34, 56, 78], 73),  # barcoderesource
]

# The bar patterns as zxing-cpp's own writer draws them: the table our reader uses must be the same.
EXAMPLES = ["HI345678", "PJJ123C", "ABCDEF", "TQB000131X", "TQT999999Z", "A0Z9", "QRSTUVWXY", "KLMNOP", "GHIJ2468"]


def bars_of(values):
    """Put published symbol values into bars with the patterns an independent writer draws."""
    return "".join(PATTERNS[value] for value in values) + STOP


def independent_bars(text):
    symbol = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.Code128)
    picture = symbol.to_image(scale=1, add_quiet_zones=False)
    return "".join("1" if dot == 0 else "0" for dot in numpy.asarray(picture)[0])


def learn_patterns():
    """Learn the pattern of each value from symbols an independent writer drew: pairs of figures, and letters."""
    patterns = {C: independent_bars("00")[:11]}
    patterns |= {value: independent_bars(f"{value:02d}")[11:22] for value in range(100)}
    patterns |= {B: independent_bars("aa")[:11], A: independent_bars("\x01\x02")[:11]}
    return patterns


PATTERNS = learn_patterns()


def read(bars):
    """Read bars with the independent decoder, as a picture with quiet zones."""
    row = bytes(255 if module == "0" else 0 for module in "0" * 10 + bars + "0" * 10)
    picture = Image.frombytes("L", (len(row), 1), row).resize((len(row) * 3, 60), Image.Resampling.NEAREST)
    found = zxingcpp.read_barcode(picture, formats=CODE_128, text_mode=zxingcpp.TextMode.Plain)
    return found.text if found else None


@pytest.mark.parametrize(("data", "start", "values", "check"), PUBLISHED, ids=[row[0] for row in PUBLISHED])
def test_published_symbols_mean_what_was_published(data, start, values, check):
    bars = bars_of([start, *values, check])
    assert symbol_values(bars) == [start, *values, check]
    assert text_of(bars) == data
    assert read(bars) == data


@pytest.mark.parametrize(("data", "start", "values", "check"), PUBLISHED, ids=[row[0] for row in PUBLISHED])
def test_any_other_check_symbol_is_wrong(data, start, values, check):
    for wrong in ((check + 1) % 103, (check - 1) % 103):
        bars = bars_of([start, *values, wrong])
        with pytest.raises(SymbolFault, match="wrong check symbol"):
            symbol_values(bars)
        assert read(bars) is None
    swapped = [values[1], values[0], *values[2:]]
    with pytest.raises(SymbolFault, match="wrong check symbol"):
        symbol_values(bars_of([start, *swapped, check]))


@pytest.mark.parametrize(("data", "start", "values", "check"), PUBLISHED[:3], ids=[row[0] for row in PUBLISHED[:3]])
def test_what_we_print_has_the_published_values(data, start, values, check):
    # The published examples begin in set A, our encoder in set B, where letters and figures have the same values:
    # the start counts once, so the check is one more.
    assert start == A
    assert symbol_values(modules_of(data)) == [B, *values, (check + 1) % 103]


@pytest.mark.parametrize("code", EXAMPLES)
def test_the_independent_decoder_reads_what_we_print(code):
    assert read(modules_of(code)) == code


def test_a_symbol_is_as_wide_as_published():
    # (11 n + 35) modules for n characters of set A or B, without quiet zones ("All About Code 128").
    for code in ("ABCDEF", "TQBX", "ABCDEFGHIJKL"):
        assert len(modules_of(code)) == 11 * len(code) + 35


@pytest.mark.parametrize("dpi", [203, 300, 600])
def test_printed_labels_are_read_by_the_independent_decoder(dpi):
    labels = [bag(number, code=code) for number, code in enumerate([*EXAMPLES, "TQB999999A", "ABCDEFGHIJKL"])]
    pdf = lay_out(labels, stocks()["a4-3x8-70x37"], moment=MOMENT, title="Labels").pdf
    assert sorted(read_back(pdf, dpi)) == sorted((1, label.code) for label in labels for _symbol in ("bars", "QR"))
