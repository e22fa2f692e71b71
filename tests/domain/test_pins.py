"""What a PIN may be, and how long wrong ones cost."""

from datetime import timedelta

import pytest

from findsdesk.domain.pins import read_pin, wait_after
from findsdesk.domain.refusals import Refusal


@pytest.mark.parametrize("text", ["1234", " 0000 ", "123456789012"])
def test_four_to_twelve_digits_are_a_pin(text: str) -> None:
    assert read_pin(text) == text.strip()


@pytest.mark.parametrize("text", ["", "123", "1234567890123", "12a4", "12 34", "-1234", "١٢٣٤", "1234.0"])
def test_anything_else_is_refused_without_saying_it_back(text: str) -> None:
    with pytest.raises(Refusal) as refused:
        read_pin(text)
    assert refused.value.code == "pin_digits"
    assert not text.strip() or text not in f"{refused.value}{refused.value.facts}"


def test_five_are_free_then_it_doubles_up_to_a_quarter_of_an_hour() -> None:
    waits = [wait_after(failures) for failures in range(13)]
    assert waits[:5] == [timedelta(0)] * 5
    assert [wait.total_seconds() for wait in waits[5:]] == [30, 60, 120, 240, 480, 900, 900, 900]
    assert wait_after(10_000) == timedelta(minutes=15)
