"""Rows meant by what people call them: rows of the table by their place, explanations by their kind."""

from __future__ import annotations

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.playing import do
from findsdesk.desk.sorting_table import table_of
from findsdesk.domain.refusals import Refusal
from tests.desk.at_the_table import dry_container


def test_rows_are_changed_and_removed_by_their_place(desk: Desk) -> None:
    dry_container(desk, 1, 20)
    do(desk, "sort", {}, ("1", "QRS", "rim", "3", "61,5", "keep"))
    do(desk, "sort", {}, ("1", "TGY", "body", "9"))
    do(desk, "change-row", {"pieces": "4"}, ("1", "1"))
    do(desk, "remove-row", {}, ("1", "2"))
    (row,) = table_of(desk, "1").groups
    assert (row.ware, row.pieces, row.tenths) == ("QRS", 4, 615)
    for place in ("0", "2"):
        with pytest.raises(Refusal) as caught:
            do(desk, "change-row", {"pieces": "4"}, ("1", place))
        assert caught.value.code == "no_such_row"


def test_the_newest_open_explanation_of_a_kind_is_answered(desk: Desk) -> None:
    dry_container(desk, 1, 20)
    do(desk, "begin-sorting", {}, ("1",))
    do(desk, "explain", {"why": "pebble"}, ("1", "not-a-sherd", "2"))
    do(desk, "answer-explanation", {"why": "they are sherds"}, ("1", "not a sherd"))
    assert table_of(desk, "1").ledger.not_a_sherd == 0
    with pytest.raises(Refusal) as caught:
        do(desk, "answer-explanation", {"why": "again"}, ("1", "not a sherd"))
    assert caught.value.code == "unknown_entry"


def test_what_waits_for_nothing_is_refused(desk: Desk) -> None:
    dry_container(desk, 1, 20)
    for deed, positional, more, code in (
        ("written-again", ("1", "tag"), {}, "nothing_to_redo"),
        ("answer-row", ("none.csv", "4"), {}, "no_such_row"),
        ("drop-row", ("none.csv", "4"), {"reason": "x"}, "no_such_row"),
        ("treat", ("1",), {"how": "soaking"}, "no_treatment"),
    ):
        with pytest.raises(Refusal) as caught:
            do(desk, deed, more, positional)
        assert caught.value.code == code
