"""Changing what was set up: what is not named stays, papers follow, nothing is lost between two people."""

from dataclasses import replace
from datetime import date

import pytest

from findsdesk.desk.changing_excavation import change_excavation
from findsdesk.desk.changing_set_up import change_period, change_person, change_season, change_square, change_ware
from findsdesk.desk.desk import Desk
from findsdesk.desk.redoing import Written, redo_done, things_to_redo
from findsdesk.desk.setting_up import open_season, people, periods, seasons, wares
from findsdesk.desk.squares import add_squares, square_list, squares
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import NumberScope, Role
from tests.yard import acts, last_said, put_bag, put_containers, put_settled, sitting


def refused(code: str, desk: Desk, work: object) -> Refusal:
    """Return the refusal of a deed that must have written nothing."""
    before = acts(desk)
    with pytest.raises(Refusal) as told:
        work()  # type: ignore[operator]
    assert told.value.code == code
    assert acts(desk) == before
    return told.value


def test_a_season_is_changed_and_what_is_not_named_stays(desk: Desk) -> None:
    changed = change_season(desk, "2026", permit="VE-26-015", ends=date(2026, 8, 20)).season
    assert (changed.permit, changed.starts, changed.ends) == ("VE-26-015", date(2026, 7, 6), date(2026, 8, 20))
    assert changed == seasons(desk)[0]
    assert changed.version == 2


def test_another_permit_asks_for_the_labels_and_marks_that_bear_it(desk: Desk) -> None:
    put_bag(desk, put_settled(desk, 131, kept=22, marked=True))
    asked = change_season(desk, "2026", permit="VE-26-015").asked
    assert (asked.labels, asked.marks, asked.tags) == (1, 22, 0)
    assert {thing.what for thing in things_to_redo(desk)} == {Written.LABEL, Written.MARK}


def test_how_containers_are_numbered_stays_once_there_are_some(desk: Desk) -> None:
    change_season(desk, "2026", number_scope=NumberScope.EXCAVATION)
    put_containers(desk, (131,))
    refused("scope_in_use", desk, lambda: change_season(desk, "2026", number_scope=NumberScope.SQUARE))


def test_what_a_season_cannot_be_is_refused(desk: Desk) -> None:
    open_season(desk, name="2024", permit="", starts=date(2024, 7, 1), ends=date(2024, 8, 1))
    refused("season_dates", desk, lambda: change_season(desk, "2026", ends=date(2026, 7, 1)))
    refused("already_there", desk, lambda: change_season(desk, "2026", to="2024"))
    refused("empty", desk, lambda: change_season(desk, "2026", to=" "))
    refused("unknown_season", desk, lambda: change_season(desk, "1999", permit="x"))
    refused("unknown_field", desk, lambda: change_season(desk, "2026", mark_pattern="{bucket}"))


def test_somebody_leaves_and_comes_back_under_another_name(desk: Desk) -> None:
    change_person(desk, "bryn hallo", active=False)
    assert not next(one for one in people(desk) if one.name == "Bryn Hallo").active
    changed = change_person(desk, "Bryn Hallo", to="Bryn Hallo-Sand", active=True, role=Role.REGISTRAR).person
    assert (changed.name, changed.role, changed.active) == ("Bryn Hallo-Sand", Role.REGISTRAR, True)


def test_a_supervisors_new_name_asks_for_the_tags_that_bear_the_old_one(desk: Desk) -> None:
    put_containers(desk, (131, 132), supervisor="Bryn Hallo")
    assert change_person(desk, "Bryn Hallo", to="Bryn Hallo-Sand").asked.tags == 2


def test_the_only_director_can_neither_leave_nor_take_another_role(desk: Desk) -> None:
    refused("last_director", desk, lambda: change_person(desk, "Ilo Marr", active=False))
    refused("last_director", desk, lambda: change_person(desk, "Ilo Marr", role=Role.VOLUNTEER))
    change_person(desk, "Tessa Quill", role=Role.DIRECTOR)
    assert not change_person(desk, "Ilo Marr", active=False).person.active


def test_a_name_of_the_team_is_not_given_twice(desk: Desk) -> None:
    refused("already_there", desk, lambda: change_person(desk, "Lio", to="TESSA QUILL"))
    refused("unknown_person", desk, lambda: change_person(desk, "Nobody", role=Role.VOLUNTEER))


def test_wares_and_periods_are_changed(desk: Desk) -> None:
    ware = change_ware(desk, "qrs", to="qrt", name="Quay Red", latest=330)
    assert (ware.code, ware.name, ware.earliest, ware.latest) == ("QRT", "Quay Red", 180, 330)
    assert ware in wares(desk)
    period = change_period(desk, "II", latest=430)
    assert (period.code, period.latest) == ("II", 430)
    assert period in periods(desk)
    refused("years_reversed", desk, lambda: change_ware(desk, "QRT", latest=100))
    refused("already_there", desk, lambda: change_period(desk, "II", to="III"))
    refused("unknown_ware", desk, lambda: change_ware(desk, "ZZZ", name="x"))


def test_a_change_begun_before_another_is_refused_with_what_differs(desk: Desk) -> None:
    seen = next(one for one in wares(desk) if one.code == "QRS").version
    change_ware(sitting(desk, "Oren"), "QRS", name="Quay Red")
    told = refused("changed_meanwhile", desk, lambda: change_ware(desk, "QRS", seen=seen, name="Red Slip"))
    assert told.facts["who"] == "Oren Vade"
    (difference,) = told.facts["differences"]  # type: ignore[misc]
    assert (difference.mine, difference.theirs, difference.before) == ("Red Slip", "Quay Red", "Quay Red Slip")  # type: ignore[has-type]


def test_a_square_gets_another_name_and_what_says_the_old_one_is_written_again(desk: Desk) -> None:
    put_settled(desk, 131, deposit="2017", kept=22, marked=True)
    change_season(desk, "2026", mark_pattern="{square}-{deposit}-{container}")
    redo_done(desk, [thing.id for thing in things_to_redo(desk)], sure=True)
    seen = next(one.version for one in square_list(desk) if one.name == "A1")
    changed = change_square(desk, "a1", to="A10", seen=seen)
    assert (changed.square.name, changed.asked.tags, changed.asked.marks) == ("A10", 1, 22)
    assert squares(desk)[:5] == ("A2", "A3", "A4", "A10", "B1")
    assert last_said(desk) == "A1 → A10"
    refused("changed_meanwhile", desk, lambda: change_square(desk, "A10", to="A11", seen=seen))
    refused("already_there", desk, lambda: change_square(desk, "A10", to="b2"))
    refused("empty", desk, lambda: change_square(desk, "A10", to=" "))
    refused("unknown_square", desk, lambda: change_square(desk, "Z9", to="Z8"))
    change_square(desk, "A10", to="A1")
    assert things_to_redo(desk) == ()


def test_a_square_written_otherwise_is_not_added_a_second_time(desk: Desk) -> None:
    assert add_squares(desk, ["a1", "D1", "d1", " D2 "]) == ("D1", "D2")


def test_two_stations_that_change_different_settings_lose_neither(desk: Desk) -> None:
    other = replace(desk, shared=replace(desk.shared, listeners=[]))
    change_excavation(desk, settings=replace(desk.facts.settings, tubs=7))
    assert last_said(desk) == "tubs 7"
    change_excavation(other, settings=replace(other.facts.settings, trays=30), terms=other.terms)
    assert (other.facts.settings.tubs, other.facts.settings.trays) == (7, 30)
    before = other.facts.settings
    refused("soak_times", desk, lambda: change_excavation(desk, settings=replace(before, soak_longest_h=2)))
