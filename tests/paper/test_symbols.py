import re

import pytest
import zxingcpp
from barcode.codex import Code128
from hypothesis import given, settings
from hypothesis import strategies as st

from findsdesk.domain.refusals import Refusal
from findsdesk.paper.code128 import SymbolFault, modules_of, symbol_values, text_of
from findsdesk.paper.dots import on_grid
from findsdesk.paper.symbols import DATA_MATRIX, code128_operators, square_operators, square_rows

CODES = st.from_regex(r"[A-Z][0-9A-Z]{7,11}", fullmatch=True)


@given(CODES)
@settings(max_examples=300)
def test_a_code_reads_back_from_its_bars(code):
    assert text_of(modules_of(code)) == code


@pytest.mark.parametrize("code", ["TQB999999A", "T99999999", "AB990099", "TQT0000000", "Z9", "ABCDEFGH"])
def test_figures_the_encoder_may_lose_are_kept(code):
    assert text_of(modules_of(code)) == code


@pytest.mark.parametrize(
    "text", ["999999", "0TQ00131", "TQ-000131", "tqb000131x", "TQ 131", "", "TQ–131", "TQB131\n", "Ä1"]
)
def test_other_texts_are_refused_by_both_symbols(text):
    for make in (modules_of, square_rows):
        with pytest.raises(Refusal) as no:
            make(text)
        assert no.value.code == "unprintable_code"


def test_an_encoder_that_drops_characters_is_found_out(monkeypatch):
    right = modules_of("TQB000131")
    monkeypatch.setattr(Code128, "build", lambda _self: [right])
    with pytest.raises(SymbolFault, match="says TQB000131"):
        modules_of("TQB99000131")


def test_a_qr_writer_that_writes_something_else_is_found_out(monkeypatch):
    create = zxingcpp.create_barcode
    monkeypatch.setattr(zxingcpp, "create_barcode", lambda text, *rest, **more: create(text[:-1], *rest, **more))
    with pytest.raises(SymbolFault, match="says TQB00013"):
        square_rows("TQB000131X")


def test_a_qr_symbol_at_a_lower_level_is_found_out(monkeypatch):
    create = zxingcpp.create_barcode
    monkeypatch.setattr(zxingcpp, "create_barcode", lambda text, kind, **_level: create(text, kind, ec_level="L"))
    with pytest.raises(SymbolFault):
        square_rows("TQB000131X")


def test_a_code_too_long_for_the_qr_symbol_is_not_drawn_wrong():
    with pytest.raises(SymbolFault, match="too long"):
        square_rows("T" * 17)


@pytest.mark.parametrize("code", ["TQB0001X", "ABCB0001319Z", "ABCDEFGHIJKLMNOP"])
def test_a_data_matrix_is_always_the_same_size_and_has_its_border(code):
    rows = square_rows(code, DATA_MATRIX)
    assert (len(rows), {len(row) for row in rows}) == (16, {16})
    assert not any(rows[-1])  # ISO/IEC 16022: solid at the bottom and left, dotted at the top and right (from memory)
    assert not any(row[0] for row in rows)
    assert [bool(module) for module in rows[0]] == [False, True] * 8
    assert [bool(row[-1]) for row in rows] == [True, False] * 8


def test_a_code_too_long_for_the_data_matrix_is_not_drawn_wrong():
    with pytest.raises((SymbolFault, ValueError)):
        square_rows("T" * 25, DATA_MATRIX)


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda bars: bars[:-1], "no stop"),
        (lambda bars: bars[:11] + bars[22:], "wrong check symbol"),
        (lambda bars: bars[:22] + "11111111111" + bars[33:], "no such symbol"),
        (lambda bars: bars[11:], "no start"),
    ],
)
def test_spoilt_bars_are_found_out(spoil, said):
    with pytest.raises(SymbolFault, match=said):
        symbol_values(spoil(modules_of("TQB000131X")))


@given(CODES)
@settings(max_examples=50)
def test_every_dark_module_is_drawn_once_and_no_other(code):
    modules = modules_of(code)
    drawn = ["0"] * len(modules)
    for left, _bottom, width, _height in rectangles(code128_operators(modules)):
        for place in range(left, left + width):
            assert drawn[place] == "0"
            drawn[place] = "1"
    assert "".join(drawn) == modules

    rows = square_rows(code)
    grid = [[1] * 21 for _row in range(21)]
    for left, bottom, width, height in rectangles(square_operators(rows)):
        assert height == 1
        for place in range(left, left + width):
            grid[20 - bottom][place] = 0
    assert [bytes(0 if module == 0 else 255 for module in row) for row in grid] == rows


def rectangles(operators):
    return [tuple(int(number) for number in found) for found in re.findall(r"(\d+) (\d+) (\d+) (\d+) re", operators)]


def test_the_grid_is_that_of_eight_dots_a_millimetre():
    assert on_grid(7.2) == 7.25
    assert on_grid(15.15) == 15.125
