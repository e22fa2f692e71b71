"""Registers: windows, orders, search by old numbers too, filters, and the journal in words."""

from dataclasses import replace
from datetime import date

import pytest

from findsdesk.desk.bagging import bag_settled
from findsdesk.desk.correcting import correct_container
from findsdesk.desk.counting import log_count
from findsdesk.desk.deed_words import KIND_IN_WORDS
from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.deposits import close_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.registers import Register, RegisterQuery, act_lines, count, filters_of, page, sorts_of
from findsdesk.desk.renumbering import merge_deposits, renumber_deposit, split_deposit
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.standings import Standing, StepKind
from findsdesk.store.every_table import every_model
from findsdesk.store.models import Journaled
from tests.yard import (
    LOOKED_AT,
    advance,
    put_bag,
    put_container,
    put_containers,
    put_settled,
    sitting,
    statements_of,
)

EVERYTHING = RegisterQuery()


def numbers(desk: Desk, query: RegisterQuery = EVERYTHING, **window: int) -> list[str]:
    return [row.number for row in page(desk, Register.CONTAINERS, query, **window)]


def filtered(**filters: str) -> RegisterQuery:
    return RegisterQuery(filters=tuple(filters.items()))


def test_a_container_stands_in_its_register_with_all_that_is_asked_of_it(desk: Desk) -> None:
    code = put_container(desk, 131, steps=LOOKED_AT)
    log_count(desk, code, pieces=132)
    (row,) = page(desk, Register.CONTAINERS)
    assert (row.code, row.number, row.deposit, row.square, row.season) == (code, "131", "2017", "A1", "2026")
    assert (row.supervisor, row.material, row.standing, row.pieces) == ("Bryn Hallo", "pottery", Standing.DRYING, 132)
    assert row.collected_on == date(2026, 7, 13)


def test_numbers_are_read_in_natural_order(desk: Desk) -> None:
    put_containers(desk, ("10a", "2", "10", "11", "1"))
    assert numbers(desk) == ["1", "2", "10", "10a", "11"]
    assert numbers(desk, RegisterQuery(sort="number", descending=True)) == ["11", "10a", "10", "2", "1"]


@pytest.mark.parametrize("register", Register)
def test_pages_from_either_end_fit_together(desk: Desk, register: Register) -> None:
    for code in put_containers(desk, range(1, 24), collected_on=date(2026, 7, 12)):
        put_bag(desk, code)
    put_containers(desk, range(24, 30), collected_on=None, material="bone")
    for sort in ("", *sorts_of(register)):
        for descending in (False, True):
            query = RegisterQuery(sort=sort, descending=descending)
            total = count(desk, register, query)
            whole = page(desk, register, query, how_many=1000)
            assert len(whole) == total
            assert len({row.id for row in whole}) == total
            for known in (None, total):
                pieces = [page(desk, register, query, first, 4, total=known) for first in range(0, total + 4, 4)]
                assert tuple(row for piece in pieces for row in piece) == whole
            other_way = page(desk, register, replace(query, descending=not descending), how_many=1000)
            assert other_way == whole[::-1]


def test_filtered_pages_fit_together_whether_gathered_or_walked(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    put_containers(desk, range(1, 31), deposit="2017")
    put_containers(desk, range(31, 61), deposit="2019")
    query = replace(filtered(square="A2"), text="TQT")
    for few in (5_000, 3):
        monkeypatch.setattr("findsdesk.desk.register_windows.FEW", few)
        for total in (None, 30):
            pieces = [page(desk, Register.CONTAINERS, query, first, 7, total=total) for first in range(0, 35, 7)]
            assert [row.number for piece in pieces for row in piece] == [str(number) for number in range(31, 61)]
            assert numbers(desk, query, first=99, how_many=5) == []


def test_a_search_finds_words_in_any_case_and_accent(desk: Desk) -> None:
    put_containers(desk, (1, 2, 3))
    for tag, said in (("1", "Rims of an Étagère, red"), ("2", "red 50% slip"), ("3", "grey_ware")):
        correct_container(desk, tag, description=said, reason="looked")
    assert numbers(desk, RegisterQuery("ETAGERE")) == ["1"]
    assert numbers(desk, RegisterQuery("red")) == ["1", "2"]
    assert numbers(desk, RegisterQuery("red rims")) == ["1"]
    assert numbers(desk, RegisterQuery("50%")) == ["2"]
    assert numbers(desk, RegisterQuery("%")) == ["2"]
    assert numbers(desk, RegisterQuery("grey_")) == ["3"]
    assert numbers(desk, RegisterQuery("d_")) == []
    code = page(desk, Register.CONTAINERS)[2].code
    assert numbers(desk, RegisterQuery(code.lower())) == ["3"]


def test_old_numbers_are_found_in_every_register(desk: Desk) -> None:
    first, _second = put_containers(desk, (1, 2), deposit="2003")
    put_bag(desk, first)
    put_container(desk, 3, deposit="2019")
    renumber_deposit(desk, "2003", to="2031", reason="misread")
    assert numbers(desk, RegisterQuery("2003")) == numbers(desk, RegisterQuery("2031")) == ["1", "2"]
    assert [row.number for row in page(desk, Register.DEPOSITS, RegisterQuery("2003"))] == ["2031"]
    assert [row.container for row in page(desk, Register.BAGS, RegisterQuery("2003"))] == ["1"]
    assert numbers(desk, filtered(deposit="2003")) == ["1", "2"]

    merge_deposits(desk, "2031", into="2019", reason="one layer", sure=True)
    assert numbers(desk, RegisterQuery("2003")) == ["1", "2", "3"]
    assert [row.number for row in page(desk, Register.DEPOSITS, RegisterQuery("2003"))] == ["2019"]
    assert deposit_facts(desk, "2003").number == "2019"
    split_deposit(desk, "2019", containers=["3"], to="2050", reason="pit")
    assert numbers(desk, RegisterQuery("2050")) == ["3"]
    assert numbers(desk, RegisterQuery("2003")) == ["1", "2"]


def test_containers_are_filtered(desk: Desk) -> None:
    put_containers(desk, (1, 2), collected_on=date(2026, 7, 10))
    put_container(desk, 3, deposit="2019", material="bone", collected_on=date(2026, 7, 12))
    put_container(desk, 4, deposit="2003", steps=(StepKind.ISSUED,), supervisor="Lio", collected_on=None)
    assert numbers(desk, filtered(square="a1")) == ["1", "2"]
    assert numbers(desk, filtered(material="bone")) == ["3"]
    assert numbers(desk, filtered(standing="issued")) == ["4"]
    assert numbers(desk, filtered(supervisor="Lio")) == ["4"]
    assert numbers(desk, filtered(season="2026", day="2026-07-12")) == ["3"]
    assert numbers(desk, filtered(**{"from": "2026-07-11"})) == ["3"]
    assert numbers(desk, filtered(until="2026-07-11")) == ["1", "2"]
    assert numbers(desk, filtered(held="yes")) == []
    both = RegisterQuery(filters=(("deposit", "2017"), ("deposit", "2019"), ("material", "pottery")))
    assert numbers(desk, both) == ["1", "2"]
    assert count(desk, Register.CONTAINERS, both) == 2


def test_deposits_and_bags_are_filtered(desk: Desk) -> None:
    close_deposit(desk, "2017")
    merge_deposits(desk, "2003", into="2019", reason="one layer", sure=True)

    def found(**filters: str) -> list[str]:
        return [row.number for row in page(desk, Register.DEPOSITS, filtered(**filters))]

    assert found(state="open") == ["2019"]
    assert found(state="closed") == ["2017"]
    assert found(state="merged") == ["2003"]
    assert found(square="A1", security="sealed", kind="layer") == ["2017"]
    settled = put_settled(desk, 131, deposit="2019")
    put_bag(desk, settled)
    put_bag(desk, settled, labelled=False)
    assert count(desk, Register.BAGS, filtered(labelled="no", deposit="2019", square="A2", season="2026")) == 1
    assert count(desk, Register.BAGS, filtered(labelled="yes", what="diagnostic")) == 1
    assert count(desk, Register.BAGS, filtered(square="A1")) == 0


@pytest.mark.parametrize(
    ("code", "register", "query"),
    [
        ("unknown_sort", Register.CONTAINERS, RegisterQuery(sort="colour")),
        ("unknown_filter", Register.CONTAINERS, filtered(colour="red")),
        ("unknown_deposit", Register.CONTAINERS, filtered(deposit="2999")),
        ("not_a_day", Register.CONTAINERS, filtered(day="14/07/26")),
        ("unknown_state", Register.DEPOSITS, filtered(state="ajar")),
        ("not_a_row", Register.JOURNAL, filtered(row="sherd")),
    ],
)
def test_what_a_register_does_not_know_is_said(desk: Desk, code: str, register: Register, query: RegisterQuery) -> None:
    with pytest.raises(Refusal) as refused:
        page(desk, register, query)
    assert refused.value.code == code
    assert refused.value.in_words(desk.terms)


def test_the_journal_says_who_did_what_newest_first(desk: Desk) -> None:
    code = put_container(desk, 131, steps=LOOKED_AT)
    when = advance(desk, minutes=20)
    log_count(sitting(desk, "Tessa"), code, pieces=132)
    newest = page(desk, Register.JOURNAL)[0]
    assert (newest.deed, newest.person, newest.said, newest.station) == (
        "log_count",
        "Tessa Quill",
        "131: 132",
        "first",
    )
    assert (newest.happened_at, newest.written_at, newest.zone) == (when, when, "Etc/GMT-2")
    lines = act_lines(desk, newest.id)
    assert newest.lines == len(lines)
    assert {"container", "step", "count", "ledger_entry"} <= {line.kind for line in lines}
    (container,) = (line for line in lines if line.kind == "container")
    assert (container.before, container.after) == ({"standing": "arrived"}, {"standing": "drying"})
    assert page(desk, Register.JOURNAL, RegisterQuery(descending=True))[0].deed == "new_excavation"
    with pytest.raises(Refusal, match="unknown_act"):
        act_lines(desk, "no such act")


def test_the_journal_is_searched_and_filtered(desk: Desk) -> None:
    code = put_container(desk, 131, steps=LOOKED_AT)
    advance(desk, days=1)
    log_count(sitting(desk, "Tessa"), code, pieces=132)
    renumber_deposit(desk, "2017", to="2018", reason="Übersehen")

    def deeds(query: RegisterQuery) -> list[str]:
        return [row.deed for row in page(desk, Register.JOURNAL, query)]

    assert deeds(RegisterQuery("tessa 131:")) == ["log_count"]
    assert deeds(RegisterQuery("ubersehen")) == ["renumber_deposit"]
    assert deeds(filtered(person="Tessa Quill")) == ["log_count"]
    assert deeds(filtered(deed="log_count", station="first")) == ["log_count"]
    assert deeds(filtered(container=code)) == ["log_count", "put_containers"]
    assert deeds(filtered(**{"from": "2026-07-15"})) == ["renumber_deposit", "log_count"]
    assert "log_count" not in deeds(filtered(until="2026-07-14"))
    deposit = deposit_facts(desk, "2018")
    assert deeds(filtered(row=f"deposit {deposit.id}")) == ["renumber_deposit", "put_deposit"]


def test_every_offered_order_is_read_from_an_index(desk: Desk) -> None:
    if desk.store.path is None:
        pytest.skip("the plan is told here as SQLite tells it")
    put_containers(desk, range(1, 50))
    for register in Register:
        for sort in sorts_of(register):
            for falls in (False, True):
                with desk.reading() as reading:
                    heard = keys_statement(desk, register, RegisterQuery(sort=sort, descending=falls))
                    plan = [
                        row[3] for row in reading.session.connection().exec_driver_sql(f"EXPLAIN QUERY PLAN {heard}")
                    ]
                assert any("USING COVERING INDEX" in step or "USING INDEX" in step for step in plan), (sort, plan)
                assert not any("TEMP B-TREE" in step for step in plan), (register, sort, plan)


def keys_statement(desk: Desk, register: Register, query: RegisterQuery) -> str:
    """Return the statement that reads the keys of a first page, with its numbers filled in."""
    with statements_of(desk, reading=True) as heard:
        page(desk, register, query)
    return next(one for one in heard if "ORDER BY" in one).replace("?", "200", 1).replace("?", "0", 1)


def test_a_page_takes_a_handful_of_statements(desk: Desk) -> None:
    put_containers(desk, range(1, 200))
    for register in Register:
        with statements_of(desk, reading=True) as heard:
            page(desk, register, first=100, how_many=90, total=199)
        assert len(heard) <= 3, (register, heard)


def test_every_kind_of_row_has_words() -> None:
    kinds = {model.__tablename__ for model in every_model() if issubclass(model, Journaled)}
    assert len(kinds) > 15
    assert kinds == set(KIND_IN_WORDS)


def test_filters_and_sorts_are_offered_by_name() -> None:
    assert sorts_of(Register.CONTAINERS)[0] == "number"
    assert {"deposit", "square", "standing"} <= set(filters_of(Register.CONTAINERS))


def test_a_bare_number_is_not_found_in_the_middle_of_a_code(desk: Desk) -> None:
    """Serials of tags and bags hold any digits: what is listed for 1 must show a 1 that somebody sees."""
    codes = {number: put_settled(desk, number) for number in ("131", "132")}
    bag_settled(desk)
    serial = codes["132"][-3:-1]
    assert serial.isdecimal()
    for register in (Register.BAGS, Register.CONTAINERS):
        assert count(desk, register, RegisterQuery("132")) > 0
        assert count(desk, register, RegisterQuery(codes["132"])) > 0, "a code as a whole is found"
        assert count(desk, register, RegisterQuery(codes["132"].lower()[:-2])) > 0, "and its beginning"
        assert count(desk, register, RegisterQuery(serial)) == 0
