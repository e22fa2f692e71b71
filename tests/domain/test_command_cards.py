"""Command codes: each means one thing for ever, survives being printed and read, and none takes anything away."""

import pytest

from findsdesk.domain.codes import Kind, make_code, read_code
from findsdesk.domain.command_cards import IN_WORDS, SEEN, Command, command_code, command_of, digit_of, tub_code, tub_of
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.standings import Hold


@pytest.mark.parametrize("command", list(Command))
def test_a_command_is_read_back_from_its_code(command: Command) -> None:
    assert command_of(read_code(command_code("TQ", command), "TQ")) is command
    assert IN_WORDS[command]


def test_serials_on_cards_that_hang_already() -> None:
    # Frozen on purpose: a laminated card must mean the same after the program was renewed. (Our own table; no source.)
    frozen = {"4": 4, "same digit again": 10, "write": 11, "one more": 12, "nothing seen": 20, "painted": 21, "dry": 40}
    for name, serial in frozen.items():
        assert command_code("TQ", Command(name)) == make_code("TQ", Kind.COMMAND, serial)


def test_no_two_commands_share_a_code() -> None:
    assert len({command_code("TQ", command) for command in Command}) == len(Command)


def test_only_digits_write_digits() -> None:
    assert [digit_of(command) for command in Command if digit_of(command) is not None] == list("0123456789")


def test_nothing_on_the_card_discards_or_deletes() -> None:
    words = " ".join([*IN_WORDS.values(), *Command]).lower()
    assert not any(word in words for word in ("discard", "delete", "remove", "void", "throw", "undo"))


def test_every_hold_can_be_scanned() -> None:
    assert {hold for hold in SEEN.values() if hold is not None} == set(Hold)


def test_a_tub_is_a_place_of_its_number() -> None:
    code = read_code(tub_code("TQ", 3), "TQ")
    assert code.kind is Kind.PLACE
    assert tub_of(code, 5) == "3"
    assert tub_of(code, 2) is None
    assert command_of(code) is None
    assert tub_of(read_code(command_code("TQ", Command("3")), "TQ"), 5) is None


def test_a_code_of_a_later_program_means_nothing_here() -> None:
    assert command_of(read_code(make_code("TQ", Kind.COMMAND, 999), "TQ")) is None


def test_a_card_of_another_excavation_is_refused() -> None:
    with pytest.raises(Refusal, match="foreign_code"):
        read_code(command_code("KS", Command.WRITE), "TQ")
