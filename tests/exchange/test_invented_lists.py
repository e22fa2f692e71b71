"""The invented excavation's lists, read as the program reads them: their numbers agree with one another."""

from __future__ import annotations

import tomllib
from datetime import UTC, date
from itertools import pairwise
from typing import Any

import pytest

from findsdesk import places
from findsdesk.domain.field_lists import FieldList, match_columns, read_field_list
from findsdesk.domain.numbers import read_metres
from findsdesk.domain.refusals import Question
from findsdesk.exchange.acts import read_acts
from findsdesk.exchange.tables import read_table
from findsdesk.words import Terms

SET_UP = tomllib.loads(places.demo_file("excavation.toml").read_text(encoding="utf-8"))
TERMS = Terms(**SET_UP["terms"])
SEASONS = {season["name"]: (season["starts"], season["ends"]) for season in SET_UP["seasons"]}


def opened_in_the_season() -> list[dict[str, Any]]:
    """Return the contexts that the acts of the season open and close, as the set-up file has those of 2024."""
    opened: dict[str, dict[str, Any]] = {}
    for act in read_acts(places.demo_file("season.acts"), zone=UTC):
        if act.deed == "open-deposit":
            said = act.arguments
            level = read_metres(said["opening"]) if "opening" in said else None
            its = {"number": act.positional[0], "season": "2026", "opened": act.at.date(), "opening_mm": level}
            opened[act.positional[0]] = {**said, **its}
        elif act.deed == "close-deposit":
            closing_mm = read_metres(act.arguments["closing"])
            opened[act.positional[0]] |= {"closed": act.at.date(), "closing_mm": closing_mm}
    return list(opened.values())


STACK = SET_UP["deposits"] + opened_in_the_season()
DEPOSITS = {deposit["number"]: deposit for deposit in STACK}
LISTS = sorted(places.demo_file("lists").iterdir())


def read(name: str) -> FieldList:
    path = next(one for one in LISTS if one.name == name)
    try:
        table = read_table(path)
    except Question as question:
        assert name == "2026-07-09_pela.csv"
        table = read_table(path, encoding=str(question.facts["encoding"]))
    day = date.fromisoformat(name[:10])
    return read_field_list(table, match_columns(table.headers, TERMS), season=SEASONS[name[:4]], today=day, terms=TERMS)


def of_season(year: str) -> list[tuple[str, FieldList]]:
    return [(path.name, read(path.name)) for path in LISTS if path.name.startswith(year)]


def test_every_bucket_of_2026_is_listed_once_but_for_the_list_that_is_missing() -> None:
    rows = [row for _name, listing in of_season("2026") for row in listing.rows]
    numbers = sorted(int(row.number) for row in rows)
    assert [number for number in range(1, 162) if number not in numbers] == [139, 140]
    assert [number for number in set(numbers) if numbers.count(number) > 1] == [118]


@pytest.mark.parametrize("year", ["2024", "2026"])
def test_every_bucket_lies_in_a_context_open_that_day_in_its_square_by_its_supervisor(year) -> None:
    for name, listing in of_season(year):
        for row in listing.rows:
            deposit = DEPOSITS[row.deposit]
            assert row.collected_on is not None
            assert row.square == deposit["square"], (name, row)
            assert row.supervisor == deposit["supervisor"]
            assert deposit["opened"] <= row.collected_on <= deposit.get("closed", SEASONS[year][1])
            assert row.collected_on.weekday() != 5, "Saturdays are free"
            if year == "2026":
                assert str(row.collected_on) == name[:10]


def test_the_fourteenth_of_july_has_two_rows_to_ask_about() -> None:
    lists = [(name, listing) for name, listing in of_season("2026") if name.startswith("2026-07-14")]
    assert [name[11:] for name, _ in lists] == ["bryn.csv", "joren.csv", "sefi.xlsx"]
    rows = [row for _name, listing in lists for row in listing.rows]
    assert len(rows) == 19
    (asked,) = [row for row in rows if row.doubts]
    assert (asked.number, asked.deposit, asked.doubts[0].code) == ("129", "2017", "cleaned")
    # The other is known only to who has the earlier lists: 118 was collected the day before.
    before = [row for name, listing in of_season("2026") if name.startswith("2026-07-13") for row in listing.rows]
    assert [row.number for row in rows if row.number in {one.number for one in before}] == ["118"]


def test_the_buckets_of_the_scenario_are_there() -> None:
    rows = {row.number: row for _name, listing in of_season("2026") for row in listing.rows}
    assert (rows["131"].deposit, rows["131"].square) == ("2017", "B2")
    assert rows["130"].parts == 2
    assert "painted" in rows["109"].description
    assert "ink" in rows["127"].description
    assert rows["132"].deposit == "2019"
    assert all(rows[number].collected_on == date(2026, 7, 12) for number in ("101", "102"))
    assert sum(1 for row in rows.values() if row.deposit == "2003") == 6, "139, without a list, is the seventh"


def test_contexts_follow_one_another_in_each_square_without_two_open_at_once() -> None:
    for square in SET_UP["grid"]["squares"]:
        for season, (_starts, ends) in SEASONS.items():
            stack = [one for one in STACK if one["square"] == square and one["season"] == season]
            stack.sort(key=lambda one: one["opened"])
            for above, below in pairwise(stack):
                assert above["closed"] < below["opened"] <= ends
                # One was levelled from its readings instead: benchmark 4.500 + backsight 0.842 - foresight 1.354.
                assert above["closing_mm"] == (below["opening_mm"] or 4500 + 842 - 1354)
    assert "2031" not in DEPOSITS, "2003 is renumbered to it"


def test_one_list_has_decimal_commas_one_a_formula_one_another_encoding() -> None:
    joren, sefi, pela = read("2026-07-14_joren.csv"), read("2026-07-14_sefi.xlsx"), read("2026-07-09_pela.csv")
    assert (joren.decimal, joren.day_order, joren.match.unused) == (",", "dmy", ("Soil (l)",))
    assert [note.code for note in sefi.notes] == ["formula"]
    assert any("½" in row.description for row in pela.rows)
