"""The sorting table without a window: words found, rows understood, rows merged, what the bar and the button say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.group_rows import GroupFacts, GroupRow
from findsdesk.desk.rows_behind import Behind
from findsdesk.desk.setting_up import add_ware
from findsdesk.desk.sorting import add_group, begin_sorting, table_of
from findsdesk.desk.table_lists import Coded, TableLists, table_lists
from findsdesk.desk.type_series import merge_wares
from findsdesk.domain.balance import Decision
from findsdesk.domain.routes import Standing
from findsdesk.domain.sorting_columns import COLUMN_IN_WORDS, USUAL
from findsdesk.ui.benches.figures.state import behind_title
from findsdesk.ui.benches.sorting import row_words, table_words
from findsdesk.ui.benches.sorting.in_columns import column_widths
from findsdesk.ui.benches.sorting.lines import Saved, TableLine, TableLines
from findsdesk.ui.benches.sorting.row_lists import RowLists
from findsdesk.ui.benches.sorting.state import Asked, SortingState
from findsdesk.ui.benches.sorting.table_sums import TableSums
from findsdesk.ui.benches.sorting.typed_row import TypedRow, as_typed, understand
from findsdesk.ui.benches.sorting.way_through import goes_on_in
from findsdesk.ui.widgets.balance_bar import Fill
from findsdesk.ui.words_around import WordsAround
from tests.desk.at_the_table import dry_container
from tests.yard import DRY, advance, new_yard, put_container

WARES = (("CKI", "Coarse Kitchen"), ("CSJ", "Comb-scored Jar"), ("MBU", "Marl Buff"), ("QRS", "Quay Red Slip"))
LISTS = RowLists.of(TableLists(wares=tuple(Coded(code, name) for code, name in WARES)))


def row(number: int, ordinal: int = 1, version: int = 1, **facts: Any) -> GroupRow:
    said = replace(GroupFacts("QRS", "rim", 11), **facts)
    return GroupRow(number, version, 1, ordinal, "Quay Red Slip", said, diagnostic=True, discarded=False)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("q", "QRS"), ("QrS", "QRS"), ("quay red slip", "QRS"), ("marl", "MBU"), ("buff", "MBU"), ("3", "MBU"),
        ("cs", "CSJ"), ("c", None), ("xyz", None), ("", None), ("9", None),
    ],
)  # fmt: skip
def test_a_ware_is_found_by_code_name_or_number_and_never_guessed(typed: str, meant: str | None) -> None:
    choice = LISTS.columns["ware"].meant(typed)
    assert (choice.key if choice else None) == meant


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("r", "rim"),
        ("rim", "rim"),
        ("b", "body"),
        ("ba", "base"),
        ("rim with", "rim_handle"),
        ("4", "body"),
        ("z", None),
    ],
)
def test_of_parts_that_begin_alike_the_first_of_the_list_is_meant(typed: str, meant: str | None) -> None:
    choice = LISTS.columns["part"].meant(typed)
    assert (choice.key if choice else None) == meant


def test_a_row_is_understood_as_it_was_typed_and_typed_as_it_is_written() -> None:
    typed = TypedRow("qrs", "rim", "11", "340,5", Decision.DISCARD, "modern")
    said = understand(typed, LISTS)
    assert not said.doubts
    assert said.facts.in_short() == "QRS rim 11, 340.5 g, discard (modern)"
    assert as_typed(said.facts, LISTS) == TypedRow("QRS", "rim", "11", "340.5", Decision.DISCARD, "modern")


def test_a_form_whose_code_begins_with_the_wares_is_said_without_it() -> None:
    """OWN: what is read back says CSJ1, not CSJ CSJ1; a form with a code of its own goes behind its ware."""
    for form, said in (("CSJ1", "CSJ1 rim"), ("B2", "CSJ B2 rim"), ("CSJX", "CSJ CSJX rim"), ("", "CSJ rim")):
        typed = TypedRow("CSJ", "rim", "2", form=form)
        assert row_words.in_short(typed, LISTS).split(",")[0] == said
        assert GroupFacts("CSJ", "rim", 2, form=form).in_short() == f"{said} 2, keep"
        behind = behind_title(Behind("sherds", "CSJ", form or None), "Bucket 131", lambda text, **_facts: text)
        assert behind == f"Bucket 131, {said.removesuffix(' rim')}, Sherds"


def test_a_ware_may_be_left_open_and_a_reason_to_keep_may_be_in_ones_own_words() -> None:
    said = understand(TypedRow("", "body", "4", decision=Decision.HOLD, reason="ask Bryn about it"), LISTS)
    assert not said.doubts
    assert (said.facts.ware, said.facts.reason) == ("", "ask Bryn about it")


@pytest.mark.parametrize(
    ("typed", "code", "column"),
    [
        (TypedRow("QRZ", "rim", "1"), "unknown_ware", "ware"),
        (TypedRow("c", "rim", "1"), "which_ware", "ware"),
        (TypedRow("QRS", "", "1"), "no_part", "part"),
        (TypedRow("QRS", "zzz", "1"), "unknown_part", "part"),
        (TypedRow("QRS", "rim", ""), "no_count", "pieces"),
        (TypedRow("QRS", "rim", "0"), "group_pieces", "pieces"),
        (TypedRow("QRS", "rim", "-3"), "negative", "pieces"),
        (TypedRow("QRS", "rim", "1", "1.234"), "too_fine", "grams"),
        (TypedRow("QRS", "body", "3", rim="5"), "no_rim_there", "rim"),
        (TypedRow("QRS", "handle", "1", rim="6"), "no_rim_there", "rim"),
        (TypedRow("QRS", "rim", "1", base="6"), "no_base_there", "base"),
        (TypedRow("QRS", "rim", "1", decision=Decision.DISCARD), "reason_needed", "reason"),
        (TypedRow("QRS", "rim", "1", decision=Decision.DISCARD, reason="ugly"), "unknown_reason", "reason"),
    ],
)
def test_what_is_doubtful_says_in_which_field(typed: TypedRow, code: str, column: str) -> None:
    doubt = understand(typed, LISTS).doubts[0]
    assert (doubt.code, doubt.column) == (code, column)
    assert "{" not in doubt.in_words()


def test_a_rim_on_a_part_without_one_waits_once_and_is_written_when_it_is_finished_again_as_it_stands() -> None:
    state = SortingState(lists=LISTS, lists_read=True)
    for part, rim in (("rim", "5"), ("profile", "5"), ("body", "0"), ("", "5")):
        assert not [one for one in understand(TypedRow("MBU", part, "3", rim=rim), LISTS).doubts if one.column == "rim"]
    typed = TypedRow("MBU", "body", "3", rim="5")
    line = state.sent(typed, again=True)
    assert line.doubt == "A rim is read on “body”, which has none. Right one of them; F2, Page down writes both."
    for row, again, saved in (
        (typed, False, Saved.WAITS),
        (replace(typed, rim="6"), True, Saved.WAITS),
        (replace(typed, rim="6", pieces=""), True, Saved.WAITS),
        (replace(typed, rim="6"), True, Saved.WAITS),
        (replace(typed, rim="6"), True, Saved.PENDING),
    ):
        assert state.sent(row, line, again=again).saved is saved


def test_the_shares_of_wares_make_up_the_whole_with_those_that_have_no_room() -> None:
    def shares(*pieces: int) -> list[tuple[str, str]]:
        rows = [row(n, n, ware=f"W{n}", pieces=count) for n, count in enumerate(pieces, start=1)]
        state = SortingState(lists=LISTS, lines=TableLines([TableLine(one) for one in rows]))
        return [(one.before, one.number) for one in table_words.ware_figures(state)]

    assert shares(30, 20, 15, 10, 8, 7, 6, 4)[-2:] == [("W6", "7 %"), ("2 others", "10 %")]
    assert [ware for ware, _share in shares(30, 20, 15, 10, 9, 8, 7)] == ["W1", "W2", "W3", "W4", "W5", "W6", "W7"]


def test_near_wares_are_named() -> None:
    assert understand(TypedRow("QRZ", "rim", "1"), LISTS).doubts[0].in_words() == "No ware QRZ. Near it: QRS."
    assert understand(TypedRow("c", "rim", "1"), LISTS).doubts[0].in_words() == "Which ware is c? CKI, CSJ."


def test_a_code_that_was_merged_is_told_with_the_one_it_was_merged_into(tmp_path: Path) -> None:
    desk = new_yard(tmp_path, by="Oren")
    merge_wares(desk, "GGL", into="CSJ", sure=True)
    merge_wares(desk, "CSJ", into="QRS", sure=True)
    lists = RowLists.of(table_lists(desk))
    [doubt] = understand(TypedRow("ggl", "rim", "1"), lists).doubts
    assert (doubt.column, doubt.in_words()) == ("ware", "ggl was merged into QRS. Type QRS.")
    assert not understand(TypedRow("qrs", "rim", "1"), lists).doubts
    # The number of a ware is its own, whatever is merged or added.
    add_ware(desk, code="ABW", name="Ash Burnished")
    wares = RowLists.of(table_lists(desk)).columns["ware"]
    assert [(wares.number_of(one), one.word) for one in wares.of] == [(1, "QRS"), (2, "MBU"), (3, "TGY"), (6, "ABW")]
    assert [wares.meant(number) and wares.meant(number).word for number in "146"] == ["QRS", None, "ABW"]
    desk.let_go()


def test_rows_keep_their_place_when_the_store_is_read_again() -> None:
    lines = TableLines()
    lines.merge([row(1, 1), row(2, 2)])
    waits, pending = lines.add(TableLine()), lines.add(TableLine())
    waits.waits_because("no_part", "No part.")
    pending.is_sent(TypedRow(), row(0).facts)
    # Row 2 was removed elsewhere, row 9 came from elsewhere: it stands in the order of the store, before what is not
    # written yet.
    lines.merge([row(1, 1, version=2), row(9, 2)])
    assert [line.row.id if line.row else None for line in lines.lines] == [1, 9, None, None]
    assert lines.lines[0].row is not None
    assert lines.lines[0].row.version == 2
    # A reading brought the row before its own answer did: it stands there once.
    lines.merge([row(1, 1), row(9, 2), row(10, 3)])
    lines.written(pending, row(10, 3))
    assert [line.row.id if line.row else None for line in lines.lines] == [1, 9, None, 10]


@pytest.mark.parametrize(
    ("said", "goes_on"),
    [
        ({}, "ware"), ({"ware": "QRS"}, "part"), ({"part": "rim"}, "ware"), ({"ware": "QRS", "part": "rim"}, "pieces"),
        ({"ware": "QRS", "part": "rim", "pieces": "9"}, "grams"),
        ({"ware": "QRS", "part": "rim", "pieces": "9", "grams": "30", "rim": "8"}, "rim"),
    ],
)  # fmt: skip
def test_a_row_goes_on_behind_what_is_filled(said: dict[str, str], goes_on: str) -> None:
    columns = ("ware", "part", "pieces", "grams", "rim", "decision", "reason")
    assert goes_on_in(columns, TypedRow(**said)) == goes_on  # type: ignore[arg-type]


def test_what_waits_counts_in_no_ledger_and_what_is_pending_does() -> None:
    lines = TableLines()
    lines.merge([row(1, tenths=100)])
    lines.add(TableLine()).is_sent(TypedRow(), row(0, pieces=5, tenths=20).facts)
    waits = lines.add(TableLine())
    waits.is_sent(TypedRow(), row(0, pieces=7, tenths=30).facts)
    waits.waits_because("unknown_ware", "No ware.")
    sums = TableSums.of(lines.lines, {})
    assert (sums.columns["kept"], sums.new["kept"], sums.tenths) == (16, 5, 120)
    # The store counted the first already: only the one being written comes to it.
    sums = TableSums.of(lines.lines, {1: row(1, tenths=100)})
    assert (sums.columns["kept"], sums.tenths) == (5, 20)
    # A change that waits leaves what is written as it is.
    lines.lines[0].is_sent(TypedRow(), row(1, pieces=99).facts)
    lines.lines[0].waits_because("changed_meanwhile", "Changed.")
    assert TableSums.of(lines.lines, {}).columns["kept"] == 16


def test_columns_share_the_whole_width() -> None:
    for width in (640, 822, 1376):
        for columns in (USUAL, tuple(COLUMN_IN_WORDS)):
            widths = column_widths(width, columns)
            assert sum(widths) == width
            assert len(widths) == len(columns) + 1
        assert min(column_widths(width, USUAL)) > 40


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = new_yard(tmp_path, by="Oren")
    yield made
    made.let_go()


def in_hand(desk: Desk, code: str) -> SortingState:
    state = SortingState(desk.facts.settings, desk.terms, LISTS)
    dossier = find(desk, code)
    assert isinstance(dossier, Dossier)
    state.take(dossier, TypedRow())
    if dossier.route.sorted_here:
        state.show_table(table_of(desk, code))
    return state


def test_the_bar_is_live_before_the_store_has_answered(desk: Desk) -> None:
    code = dry_container(desk, 131, 20)
    begin_sorting(desk, code)
    add_group(desk, code, ware="QRS", part="rim", pieces=4)
    state, around = in_hand(desk, code), WordsAround.of(desk)
    state.sent(TypedRow("QRS", "body", "6", decision=Decision.DISCARD, reason="modern"))
    state.sent(TypedRow("QRS", "body", "2", decision=Decision.HOLD))
    state.sent(TypedRow("QRZ", "body", "3"))
    parts = [(part.words, part.fill) for part in table_words.bar_parts(state)]
    assert parts == [
        ("4 to keep", Fill.SOLID), ("6 to discard, unsigned", Fill.RULED), ("2 on hold", Fill.QUIET),
        ("8 left of 20, 3 in doubt", Fill.HATCHED),
    ]  # fmt: skip
    assert table_words.settle_words(state, around) == "Settle when 1 row is put right"
    assert not state.may_settle()
    assert table_words.big_line(state) == "QRZ body, 3, keep — in doubt: F2"
    assert state.reasons == {Decision.DISCARD: "modern"}


def test_over_is_drawn_once_and_said(desk: Desk) -> None:
    code = dry_container(desk, 131, 10)
    begin_sorting(desk, code)
    state = in_hand(desk, code)
    state.sent(TypedRow("QRS", "rim", "12"))
    parts = table_words.bar_parts(state)
    assert [(part.amount, part.words) for part in parts] == [(10, "12 to keep"), (2, "2 over the 10")]
    assert table_words.settle_words(state, WordsAround.of(desk)) == "Settle when 2 over are corrected"


def test_what_is_asked_follows_from_where_it_stands(desk: Desk) -> None:
    wet = put_container(desk, 130)
    drying = dry_container(desk, 131, 10)
    dry = put_container(desk, 132, steps=DRY)
    bone = put_container(desk, 133, material="bone", steps=DRY)
    asked = {code: in_hand(desk, code).asked(desk.now()) for code in (wet, drying, dry, bone)}
    assert asked == {wet: Asked.NOT_YET, drying: Asked.READ, dry: Asked.READ, bone: Asked.ONE_BAG}
    advance(desk, hours=-3)
    state = in_hand(desk, drying)
    assert state.asked(desk.now()) is Asked.NOT_DRY
    for standing, asks in (
        (Standing.SORTING, Asked.READ),
        (Standing.SETTLED, Asked.BAG),
        (Standing.BAGGED, Asked.BAGGED),
    ):
        state.with_standing(standing)
        assert state.asked(desk.now()) is asks
    state.laid_aside = True
    assert state.asked(desk.now()) is Asked.WHAT_WAITS


def test_unwritten_rows_stay_with_their_container(desk: Desk) -> None:
    first, second = dry_container(desk, 131, 10), dry_container(desk, 132, 10)
    state = in_hand(desk, first)
    state.sent(TypedRow("QQQ", "rim", "1"))
    other = find(desk, second)
    assert isinstance(other, Dossier)
    half = TypedRow("QRS", "rim")
    assert state.take(other, half) == TypedRow()
    assert state.lines.lines == []
    assert state.kept_of == ("131", half)
    back = find(desk, first)
    assert isinstance(back, Dossier)
    assert state.take(back, TypedRow()) == half
    assert [line.saved for line in state.lines.lines] == [Saved.WAITS]
