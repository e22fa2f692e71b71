"""ISO/IEC 7064 MOD 37,36 against published values and an independent library.

Published values: documentation examples of the library python-stdnum 2.2 (``stdnum.iso7064.mod_37_36`` and the Global
Release Identifier ``stdnum.grid``) and the ISO 7064 samples in the test file of the package konfirm/iso7064 (which
took them from cdigit and a Java library).
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_36 as independent

from findsdesk.domain.check_characters import ALPHABET, is_valid_37_36, mod_37_36

PUBLISHED = [
    ("A12425GABC1234002", "M"),
    ("RABD", "A"),
    ("X0H", "X"),
    ("TBR", "1"),
    ("9", "J"),
    ("1M", "Q"),
    ("OW", "N"),
    ("TRO", "D"),
    ("B3739U6CR", "K"),
    ("UFSYYJO9FCID766EJYAEINTG43UZDD84MT6ZUDH08OM4N1K", "N"),
]


@pytest.mark.parametrize(("data", "check"), PUBLISHED)
def test_published_check_characters(data: str, check: str) -> None:
    assert mod_37_36(data) == check
    assert is_valid_37_36(data + check)
    assert independent.calc_check_digit(data) == check


@pytest.mark.parametrize(("data", "check"), PUBLISHED)
def test_a_neighbour_of_each_published_value_fails(data: str, check: str) -> None:
    changed = ALPHABET[(ALPHABET.index(data[0]) + 1) % 36] + data[1:]
    assert not is_valid_37_36(changed + check)
    assert not is_valid_37_36(data + ALPHABET[(ALPHABET.index(check) + 1) % 36])
    whole = data + check
    place = next((at for at in range(len(whole) - 1) if whole[at] != whole[at + 1]), None)
    assert place is not None
    swapped = whole[:place] + whole[place + 1] + whole[place] + whole[place + 2 :]
    assert not is_valid_37_36(swapped)


@given(st.text(ALPHABET, min_size=1, max_size=40))
def test_the_independent_library_agrees(data: str) -> None:
    assert mod_37_36(data) == independent.calc_check_digit(data)


@given(st.text(ALPHABET, min_size=2, max_size=14))
def test_the_independent_library_agrees_on_what_is_valid(text: str) -> None:
    assert is_valid_37_36(text) == independent.is_valid(text)
