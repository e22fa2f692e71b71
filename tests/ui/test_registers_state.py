"""The registers in words, without a window: how a list is narrowed, counted, empty and sorted; a deposit's acts.

Levelling: height of instrument = benchmark + backsight, elevation = height of instrument − foresight (docs/sources.md,
"Levelling").
"""

from collections.abc import Iterator
from pathlib import Path

import pytest

from findsdesk.desk.boxes import add_box
from findsdesk.desk.container_register import ContainerInRegister
from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.deposits import close_deposit, open_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.redoing import Asked
from findsdesk.desk.registers import Register, RegisterQuery, act_lines, page
from findsdesk.desk.renumbering import declare_mixed, merge_deposits, renumber_deposit
from findsdesk.desk.tags import report_missing
from findsdesk.desk.type_series import add_form
from findsdesk.desk.vessels import gather_vessel
from findsdesk.ui.benches.registers.act_part import act_in_words, line_rows
from findsdesk.ui.benches.registers.deposit_acts import ACTS, changed_values
from findsdesk.ui.benches.registers.deposit_words import facts_in_words, levelling_in_words, redo_in_words
from findsdesk.ui.benches.registers.filter_values import filter_values
from findsdesk.ui.benches.registers.list_kinds import Asked as Given
from findsdesk.ui.benches.registers.lists import CONTAINERS, DEPOSITS, JOURNAL, LISTS, REDO, TAGS_OUT
from findsdesk.ui.benches.registers.rows import ListReads, columns_of, register_row
from findsdesk.ui.benches.registers.state import (
    Chip,
    ListState,
    chip_words,
    counted_words,
    emptiness,
    narrowing_words,
    sortings,
)
from findsdesk.ui.models.paged import Wanted
from findsdesk.ui.words_around import WordsAround
from tests.desk.on_the_shelves import furnish_store
from tests.desk.test_joins_and_vessels import put_pieces
from tests.yard import new_yard, put_container, put_containers, put_settled


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = new_yard(tmp_path, by="Mika")
    yield opened
    opened.close()


@pytest.fixture
def around(desk: Desk) -> WordsAround:
    return WordsAround.of(desk)


def chip(list_kind: object, name: str, value: str, words: str = "") -> Chip:
    kind = next(one for one in list_kind.filters if one.name == name)  # type: ignore[attr-defined]
    return Chip(kind, value, words or value)


SQUARE = chip(CONTAINERS, "square", "A1")
DRY = chip(CONTAINERS, "standing", "dry")


def test_a_list_is_narrowed_in_words_and_widened_again(around: WordsAround) -> None:
    state = ListState(CONTAINERS).narrowed(SQUARE).narrowed(DRY).narrowed(DRY).searched("  kiln   waster ")
    assert [chip_words(one, around) for one in state.chips] == ["square A1", "dry"]
    assert narrowing_words(state, around) == "square A1; dry; “kiln waster”"
    assert state.query("day", falling=True) == RegisterQuery(
        "kiln waster", (("square", "A1"), ("standing", "dry")), "day", True
    )
    assert state.widened(SQUARE).chips == (DRY,)
    assert not state.unfiltered().is_narrowed


def test_tags_out_are_those_issued_listed_or_missing_until_one_is_chosen() -> None:
    standings = [value for _name, value in ListState(TAGS_OUT).query().filters]
    assert standings == ["issued", "listed", "missing"]
    missing = ListState(TAGS_OUT).narrowed(chip(TAGS_OUT, "standing", "missing"))
    assert missing.query().filters == (("standing", "missing"),)


def test_rows_are_counted_in_the_excavations_own_words(around: WordsAround) -> None:
    whole = ListState(CONTAINERS)
    assert counted_words(whole, 1240, 1240, around) == "1,240 buckets"
    assert counted_words(whole, 1, 1, around) == "1 bucket"
    assert counted_words(whole.narrowed(DRY), 38, 1240, around) == "38 of 1,240 buckets"
    assert counted_words(ListState(DEPOSITS), 1, 1, around) == "1 context"


def test_an_empty_list_says_why_and_what_to_do(around: WordsAround) -> None:
    whole = ListState(CONTAINERS)
    said = [
        emptiness(whole, 0, around),
        emptiness(whole.searched("kiln"), 12, around),
        emptiness(whole.searched("kiln").narrowed(DRY), 12, around),
        emptiness(whole.narrowed(DRY), 12, around),
    ]
    assert len({one.text for one in said}) == 4
    assert [one.does for one in said] == ["first", "search", "search", "filters"]
    assert "12 buckets" in said[1].text
    assert "“kiln”" in said[1].text
    assert "dry" in said[3].text


@pytest.mark.parametrize("kind", LISTS, ids=lambda kind: kind.key)
def test_each_list_has_its_own_words_for_having_nothing(kind: object, around: WordsAround) -> None:
    said = emptiness(ListState(kind), 0, around).text  # type: ignore[arg-type]
    assert "{" not in said
    assert [emptiness(ListState(other), 0, around).text for other in LISTS].count(said) == 1


@pytest.mark.parametrize("kind", LISTS, ids=lambda kind: kind.key)
def test_what_a_list_may_leave_out_are_columns_it_has(kind: object, desk: Desk) -> None:
    names = [name for name, _column in columns_of(kind, desk)]  # type: ignore[arg-type]
    assert set(kind.spare) <= set(names)  # type: ignore[attr-defined]


@pytest.mark.parametrize("kind", [kind for kind in LISTS if kind.register], ids=lambda kind: kind.key)
def test_every_filter_and_every_order_that_is_offered_is_one_the_desk_knows(kind: object, desk: Desk) -> None:
    around = WordsAround.of(desk)
    put_settled(desk, 131)
    values = filter_values(desk, kind)  # type: ignore[arg-type]
    add_form(desk, code="QRS1")
    gather_vessel(desk, [put_pieces(desk, 132)[0].id])
    furnish_store(desk)
    add_box(desk, kind="sherds")
    typed = {"deposit": "2017", "container": "131", "ware": "QRS", "form": "QRS1", "vessel": "1"}
    typed |= {"box": "1", "place": "Store"}
    for one in kind.filters:  # type: ignore[attr-defined]
        given = values[one.name] if one.asked is Given.CHOICE else ((typed.get(one.name, "2026-07-14"), ""),)
        assert given, one.name
        for value, words in given:
            state = ListState(kind).narrowed(Chip(one, value, words))  # type: ignore[arg-type]
            page(desk, kind.register, state.query())  # type: ignore[attr-defined]
    for order in sortings(kind, around):  # type: ignore[arg-type]
        page(desk, kind.register, ListState(kind).query(order.name, falling=order.falling))  # type: ignore[arg-type, attr-defined]


def test_the_journal_begins_with_the_newest(around: WordsAround) -> None:
    assert [one.words for one in sortings(JOURNAL, around)] == ["newest first", "oldest first"]
    assert sortings(REDO, around) == ()


def test_a_missing_container_is_late_and_stands_in_madder(desk: Desk) -> None:
    code = put_container(desk, 131, steps=())
    report_missing(desk, code)
    (row,) = page(desk, Register.CONTAINERS)
    assert isinstance(row, ContainerInRegister)
    shown = register_row(Register.CONTAINERS, row, desk)
    assert shown.late
    assert [cell.tone for cell in shown.cells if cell.text == "missing"] == ["madder"]


def test_short_lists_are_searched_too(desk: Desk) -> None:
    put_containers(desk, ("101", "102", "777"))
    renumber_deposit(desk, "2017", to="2050", reason="drawn so")
    reads = ListReads(desk, REDO)
    assert reads.reads().count(Wanted(ListState(REDO))) == 3
    assert reads.reads().count(Wanted(ListState(REDO).searched("tag 777"))) == 1
    assert reads.whole == 3
    (row,) = reads.reads().page(Wanted(), 0, 10)
    assert [cell.text for cell in row.cells][:3] == ["2050", "777", "tag"]


# Deposits


def allowed(desk: Desk, number: str) -> list[str]:
    facts = deposit_facts(desk, number)
    return [act.key for act in ACTS if act.allowed(facts)]


def test_what_may_be_done_with_a_deposit_follows_from_how_it_stands(desk: Desk) -> None:
    assert allowed(desk, "2017") == ["close", "change", "renumber", "merge", "mixed", "left"]
    put_containers(desk, (1, 2))
    assert "split" in allowed(desk, "2017")
    close_deposit(desk, "2017")
    declare_mixed(desk, "2017", reason="a drain cuts it")
    assert allowed(desk, "2017") == ["reopen", "change", "renumber", "merge", "split", "left"]


def test_nothing_is_done_with_a_deposit_that_was_merged(desk: Desk) -> None:
    merge_deposits(desk, "2019", into="2017", reason="one layer", sure=True)
    (merged,) = (row for row in page(desk, Register.DEPOSITS) if row.merged_into)
    assert [act.key for act in ACTS if act.allowed(merged)] == []


def test_only_what_differs_is_changed(desk: Desk) -> None:
    facts = deposit_facts(desk, "2017")
    values = {"square": "A1", "kind": "fill", "opened": None, "supervisor": "", "description": "dark"}
    assert changed_values(facts, values) == {"kind": "fill", "description": "dark"}


def test_levelling_is_worked_out_while_it_is_typed(around: WordsAround) -> None:
    def said(**values: int | None) -> str:
        return levelling_in_words(values, "opening_mm", around)

    assert said() == ""
    assert "all three" in said(benchmark_mm=12340)
    readings = {"benchmark_mm": 12340, "backsight_mm": 1250, "foresight_mm": 830}
    assert said(**readings) == "12.340 + 1.250 − 0.830 = 12.760 m"
    assert "not 12.000 m" in said(**readings, opening_mm=12000)


def test_what_is_known_of_a_deposit_stands_in_words(desk: Desk, around: WordsAround) -> None:
    open_deposit(desk, "2031", square="C1", kind="fill", opening_mm=12760, sure=True)
    renumber_deposit(desk, "2031", to="2032", reason="drawn so")
    known = dict(facts_in_words(deposit_facts(desk, "2032"), around))
    assert known["Square"] == "C1"
    assert known["Opening elevation"] == "12.760 m"
    assert known["Once"] == "2031"
    assert known["Open"] == "since 2026-07-14"
    assert "Security" not in known


def test_what_is_to_be_written_again_is_counted_by_kind(around: WordsAround) -> None:
    assert redo_in_words(Asked(7, 1, 40), around) == "To write again: 7 tags, 1 bag label, 40 inked marks"
    assert redo_in_words(Asked(), around) == ""


# The journal


def test_an_act_shows_who_when_and_each_value_before_and_after(desk: Desk, around: WordsAround) -> None:
    renumber_deposit(desk, "2017", to="2050", reason="drawn so")
    newest = page(desk, Register.JOURNAL)[0]
    head, about = act_in_words(newest, around)
    assert head == "Context renumbered: 2017 → 2050: drawn so"
    assert about.startswith("Mika Sool at first, act ")
    assert "2026-07-14 06:50" in about
    rows = [[cell.text for cell in row.cells] for row in line_rows(act_lines(desk, newest.id), around)]
    assert ["context 2050", "number", "2017", "2050"] in rows


def test_ids_of_the_store_are_no_news_to_a_person(desk: Desk, around: WordsAround) -> None:
    put_settled(desk, 131)
    for act in page(desk, Register.JOURNAL, RegisterQuery(filters=(("container", "131"),))):
        for row in line_rows(act_lines(desk, act.id), around):
            assert not any(cell.text.isdigit() and len(cell.text) > 9 for cell in row.cells), row
