"""A scanner compared with what is printed. Layouts: on QWERTZ keyboards Y and Z change places (from memory)."""

import pytest

from findsdesk.domain.codes import could_be_code, read_code
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.scanner_check import TEST_CODES, Arrival, compare, nearest_code


def test_the_test_codes_hold_every_sign_once() -> None:
    assert sorted("".join(TEST_CODES)) == sorted("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")


@pytest.mark.parametrize("code", TEST_CODES)
def test_no_test_code_is_taken_for_a_find(code: str) -> None:
    if could_be_code(code):
        with pytest.raises(Refusal):
            read_code(code, "TQ")


@pytest.mark.parametrize(
    ("received", "arrival"),
    [
        ("OPQRSTUVWXYZ", Arrival.AS_PRINTED),
        ("opqrstuvwxyz", Arrival.OTHER_CASE),
        ("OPQRSTUVWXZY", Arrival.OTHER_LETTERS),
        ("OPQRSTUVWX", Arrival.INCOMPLETE),
        ("]C1OPQRSTUVWXYZ", Arrival.LONGER),
    ],
)
def test_how_a_code_arrived_is_told(received: str, arrival: Arrival) -> None:
    scan = compare("OPQRSTUVWXYZ", received)
    assert scan.arrival is arrival
    assert scan.good is (arrival in (Arrival.AS_PRINTED, Arrival.OTHER_CASE))


def test_signs_that_change_places_are_named() -> None:
    assert compare("OPQRSTUVWXYZ", "OPQRSTUVWXZY").wrong == (("Y", "Z"), ("Z", "Y"))


def test_a_garbled_code_is_known_by_most_of_its_signs() -> None:
    assert nearest_code("opqrstuvwxzy", TEST_CODES) == TEST_CODES[2]
    assert nearest_code('§"34567890AB', TEST_CODES) == TEST_CODES[0]
