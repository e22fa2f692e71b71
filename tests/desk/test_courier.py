"""Courier files: two stores that parted come to the same records, and nothing is overwritten unseen."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from PIL import Image
from sqlalchemy import select, text

from findsdesk.desk.bagging import bag_settled
from findsdesk.desk.boxes import add_box, change_box
from findsdesk.desk.boxing import put_into_box, take_out_of_box
from findsdesk.desk.clashes import ListedClash, clashes, clashes_waiting, decide_clash
from findsdesk.desk.counting import log_count
from findsdesk.desk.courier import write_courier
from findsdesk.desk.courier_taking import take_courier
from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.deposits import change_deposit, open_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import open_store
from findsdesk.desk.photos import add_photo
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.season_end import count_open
from findsdesk.desk.setting_up import add_period, add_person, add_ware
from findsdesk.desk.sherd_groups import add_group, change_group, remove_group
from findsdesk.desk.squares import add_squares
from findsdesk.desk.tags import issue_tags
from findsdesk.desk.the_day import the_day
from findsdesk.desk.type_series import add_form, forms
from findsdesk.desk.washing import dip_and_look, hold_back
from findsdesk.domain.settings import Role
from findsdesk.domain.standings import Hold
from findsdesk.store.models import BalanceTotal, Container, Photo, Redo, SherdGroup
from findsdesk.store.numbers import STATION_SHIFT
from tests.desk.at_the_table import dry_container
from tests.desk.two_stores import TRENCH, alike, both_ways, brought, parted, refused, sound, two_waiting
from tests.desk.whole_yard import ON_A_FILE
from tests.yard import LOOKED_AT, act_lines_of, acts, put_container, put_settled, standing_of, with_settings


def waiting(desk: Desk) -> dict[str, ListedClash]:
    return {f"{one.what} {one.name}": one for one in clashes(desk)}


def counted_in(desk: Desk, number: str) -> int:
    with desk.reading() as reading:
        counted = select(BalanceTotal.counted).join(Container).where(Container.number == number)
        return reading.session.execute(counted).scalar_one()


# --- what comes together by itself --------------------------------------------------------------------------------


def test_what_each_did_apart_is_in_both_and_the_same_file_adds_nothing(tmp_path: Path) -> None:
    with parted(tmp_path, two_waiting) as (home, trench):
        log_count(home, "131", pieces=40)
        there = issue_tags(trench, how_many=3)
        here = issue_tags(home, how_many=3)
        assert not {tag.code for tag in there.tags} & {tag.code for tag in here.tags}
        photo = tmp_path / "rim.jpg"
        Image.new("RGB", (80, 60), "#B5653A").save(photo)
        add_photo(trench, photo, of=("container", put_settled_id(trench, 140)))
        file = write_courier(trench, tmp_path / "stick").file
        taken = take_courier(home, file)
        assert (taken.station, taken.clashes, taken.same, taken.numbers, taken.files) == (TRENCH, 0, 0, 0, 1)
        before = acts(home)
        again = take_courier(home, file)
        assert (again.acts, again.already, acts(home)) == (0, taken.acts + taken.already, before)
        brought(home, trench, tmp_path, to=TRENCH)
        alike(home, trench)
        # What the laptop is known to have is left out: only the act of taking is new to it.
        small = write_courier(trench, tmp_path / "small", to="first")
        assert (small.acts, small.files) == (1, 0)


def put_settled_id(desk: Desk, number: int) -> int:
    put_settled(desk, number)
    with desk.reading() as reading:
        wanted = select(Container.id).where(Container.number == str(number))
        return reading.session.execute(wanted).scalar_one()


def test_chains_are_appended_as_they_are(tmp_path: Path) -> None:
    with parted(tmp_path, two_waiting) as (home, trench):
        log_count(trench, "131", pieces=7)
        brought(trench, home, tmp_path)
        told = "SELECT act.*, line.* FROM act LEFT JOIN line ON act_id = act.id WHERE station_id = 2 ORDER BY 3, 15"
        with home.reading() as here, trench.reading() as there:
            assert here.session.execute(text(told)).all() == there.session.execute(text(told)).all()


def test_bags_and_boxes_made_apart_keep_their_numbers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # As many as a whole season brings are looked at in batches; here two are many.
    monkeypatch.setattr("findsdesk.store.batches.AT_ONCE", 2)

    def furnish(desk: Desk) -> None:
        put_settled(desk, 101)
        put_settled(desk, 102)

    with parted(tmp_path, furnish) as (home, trench):
        for desk, number in ((home, "101"), (trench, "102")):
            bags = bag_settled(desk, [number])
            box = add_box(desk, kind="sherds")[0]
            put_into_box(desk, box.code, [bags[0].code])
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert clashes_waiting(home) == 0


def test_rows_whose_ids_differ_by_their_station_alone_are_written_side_by_side(tmp_path: Path) -> None:
    """OWN: every station counts its rows from one; what waits under a number aside takes nobody else's."""
    with parted(tmp_path) as (home, trench):
        mine = add_box(home, kind="sherds")[0]
        with trench.store.writing() as session:
            counted = mine.id % (1 << STATION_SHIFT)
            session.execute(text("UPDATE station SET next_row = :n WHERE id = 2"), {"n": counted - 1})
        trench.row_ids.forget()
        yours = add_box(trench, kind="sherds")[0]
        while yours.id - mine.id < 1 << STATION_SHIFT:
            yours = add_box(trench, kind="sherds")[0]
        assert yours.id - mine.id == 1 << STATION_SHIFT
        both_ways(home, trench, tmp_path)
        for box in (mine, yours):
            change_box(trench, box.code, note="on the upper shelf", sure=True)
        both_ways(home, trench, tmp_path)
        alike(home, trench)


def test_standings_follow_from_the_steps_of_both(tmp_path: Path) -> None:
    def arrived(desk: Desk) -> None:
        put_container(desk, 131)

    with parted(tmp_path, arrived) as (home, trench):
        dip_and_look(home, "131")
        hold_back(trench, "131", reason=Hold.PAINTED)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert standing_of(home, code_of(home, "131")) == standing_of(trench, code_of(trench, "131"))


def code_of(desk: Desk, number: str) -> str:
    with desk.reading() as reading:
        return reading.session.execute(select(Container.code).where(Container.number == number)).scalar_one()


def test_what_is_done_later_is_later_whatever_the_clock_of_the_laptop_says(tmp_path: Path) -> None:
    def furnish(desk: Desk) -> None:
        put_settled(desk, 101)
        bag_settled(desk, ["101"])
        add_box(desk, kind="sherds")

    with parted(tmp_path, furnish) as (home, trench):
        with home.reading() as reading:
            bag = reading.session.execute(text("SELECT code FROM bag")).scalar_one()
            box = reading.session.execute(text("SELECT code FROM box")).scalar_one()
        ahead = replace(trench, clock=lambda: home.clock() + timedelta(hours=3))
        put_into_box(ahead, box, [bag])
        brought(ahead, home, tmp_path)
        take_out_of_box(home, [bag])
        act = act_lines_of(home)[0].after
        assert act is not None
        assert act["happened_at"] < act["entered_at"]
        sound(home)
        brought(home, ahead, tmp_path)
        alike(home, ahead)
    again = open_store(tmp_path / "home" / "tannery", clock=home.clock) if ON_A_FILE else home
    if ON_A_FILE:
        put_into_box(again, box, [bag])
        sound(again)
        again.let_go()


# --- what a person decides ----------------------------------------------------------------------------------------


def test_the_same_row_changed_in_both_is_listed_with_both_words_and_decided(tmp_path: Path) -> None:
    with parted(tmp_path, two_waiting) as (home, trench):
        change_deposit(home, "2017", seen=1, description="floor")
        change_deposit(trench, "2017", seen=1, description="floor fill, burnt")
        log_count(home, "131", pieces=40)
        log_count(trench, "131", pieces=42)
        open_deposit(home, "2044", square="C1", kind="layer", sure=True)
        open_deposit(trench, "2044", square="C1", kind="layer", sure=True)
        with_settings(home, tubs=6, trays=30)
        with_settings(trench, tubs=7, dry_h=9)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        found = waiting(home)
        assert found.keys() == {"values 2017", "figures 131", "number 2044", "values "}
        (need,) = (one for one in the_day(home).needs if one.kind == "clashes")
        assert need.facts["n"] == count_open(home, "clashes") == 4, "the day and the season's end name them"
        # Settings are put together one by one; only what both changed waits.
        assert (home.facts.settings.trays, home.facts.settings.dry_h) == (30, 9)
        settings = found["values "]
        assert (settings.one.values, settings.other.values) == ({"settings": {"tubs": 6}}, {"settings": {"tubs": 7}})
        assert settings.stands == TRENCH
        decide_clash(home, settings.id, keep="first")
        assert (home.facts.settings.tubs, home.facts.settings.dry_h) == (6, 9)
        said = found["values 2017"]
        assert (said.one.values, said.other.values) == ({"description": "floor"}, {"description": "floor fill, burnt"})
        assert said.one.person == "Ilo Marr"
        assert said.stands in said.choices
        refused("unknown_choice", lambda: decide_clash(home, said.id, keep="nobody"))
        refused("unknown_clash", lambda: decide_clash(home, 17, keep="first"))
        decide_clash(home, said.id, keep="first")
        decide_clash(home, found["figures 131"].id, keep=TRENCH)
        decide_clash(home, found["number 2044"].id, keep="both")
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert clashes_waiting(trench) == count_open(trench, "clashes") == 0
        assert [one.choice for one in clashes(trench, decided=True)].count(TRENCH) == 1
        assert counted_in(trench, "131") == 42
        # Two contexts of one number are told apart, and no act takes the one for the other.
        refused("number_twice", lambda: renumber_deposit(trench, "2044", to="2045", reason="two stores"))
        assert renumber_deposit(trench, "2044@2", to="2045", reason="two stores").deposit.named == "2045"
        assert deposit_facts(trench, "2044").named == "2044"
        # A decision may be taken anew, and is an act as any other.
        decide_clash(trench, said.id, keep=TRENCH)
        for keep, pieces in (("first", 40), (TRENCH, 42), ("both", 82), ("first", 40)):
            decide_clash(trench, found["figures 131"].id, keep=keep)
            assert counted_in(trench, "131") == pieces
        both_ways(home, trench, tmp_path)
        alike(home, trench)


def test_things_of_one_code_are_the_same_thing(tmp_path: Path) -> None:
    """A ware new in both has two ids: forms that point at them mean the same, and a picture of it stands once."""
    Image.new("RGB", (4, 3), "#a9542f").save(tmp_path / "rim.png")
    with parted(tmp_path) as (home, trench):
        for desk, name in ((home, "Pitch-lined Jar"), (trench, "Pitched Jar")):
            ware = add_ware(desk, code="PLJ", name=name, earliest=300, latest=500)
            form = add_form(desk, code="PLJ1", ware="PLJ", earliest=300)
            add_form(desk, code="PLJ2", ware="PLJ" if desk is home else "CSJ")
            add_photo(desk, tmp_path / "rim.png", of=("ware", ware.id), note="" if desk is home else "fig. 3")
            add_photo(desk, tmp_path / "rim.png", of=("form", form.id), note=f"drawn at the {desk.station_name}")
            add_squares(desk, ["D7"])
            add_period(desk, code="IV", name="Harbour IV", earliest=700, latest=900)
            add_person(desk, name="Suri Tann", role=Role.VOLUNTEER)
            put_settled(desk, 150 if desk is home else 160, ware="PLJ")
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        found = waiting(home)
        assert found.keys() == {"values PLJ", "values PLJ2", "values rim.png"}
        sides = [found["values PLJ2"].one.values, found["values PLJ2"].other.values]
        assert sides == [{"ware_id": "PLJ"}, {"ware_id": "CSJ"}]
        assert found["values rim.png"].one.values.keys() == {"note"}
        decide_clash(trench, found["values PLJ"].id, keep=TRENCH)
        decide_clash(trench, found["values PLJ2"].id, keep=home.station_name)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert [(one.code, one.ware) for one in forms(trench)] == [("PLJ1", "PLJ"), ("PLJ2", "PLJ")]
        with trench.reading() as reading:
            notes = reading.session.execute(select(Photo.note).where(Photo.ware_id.is_not(None))).scalars().all()
        assert notes == ["fig. 3"], "one of the two stays, with the note that one had"


def test_a_row_taken_away_in_one_and_changed_in_the_other(tmp_path: Path) -> None:
    def sorted_there(desk: Desk) -> None:
        dry_container(desk, 131, 30)
        for ware in ("QRS", "MBU"):
            add_group(desk, "131", ware=ware, part="rim", pieces=10)

    with parted(tmp_path, sorted_there) as (home, trench):
        first, second = groups_of(home)
        remove_group(home, first, seen=1)
        change_group(trench, first, seen=1, pieces=12)
        change_group(home, second, seen=1, pieces=9)
        remove_group(trench, second, seen=1)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        found = {tuple(one.other.values): one for one in clashes(home)}
        assert [one.what for one in found.values()] == ["gone", "gone"]
        back, gone = found["pieces",], found[()]
        assert back.stands == "first"
        assert gone.stands == TRENCH
        decide_clash(home, back.id, keep=TRENCH)
        decide_clash(home, gone.id, keep=TRENCH)
        sound(home)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert groups_of(trench) == [first]


def groups_of(desk: Desk) -> list[int]:
    with desk.reading() as reading:
        return list(reading.session.execute(select(SherdGroup.id).order_by(SherdGroup.id)).scalars())


def test_a_number_given_twice_stays_with_one_and_a_person_may_say_with_whom(tmp_path: Path) -> None:
    with parted(tmp_path) as (home, trench):
        put_container(home, 777)
        put_container(trench, 777)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        one = waiting(home)["number 777"]
        assert one.stands == "first"
        with home.reading() as reading:
            again = reading.session.execute(select(Redo)).scalars().all()
            assert [(row.what, row.said) for row in again] == [("tag", "777")]
            (mine, number) = reading.session.execute(
                select(Container.id, Container.number).where(Container.id == again[0].container_id)
            ).one()
        assert number not in ("777", "")
        decide_clash(home, one.id, keep=TRENCH)
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        with trench.reading() as reading:
            assert reading.session.get_one(Container, mine).number == "777"


def test_whatever_two_stores_did_they_come_to_the_same(tmp_path: Path) -> None:
    """OWN: deeds by chance in both, the files carried in any order, every clash decided by chance."""
    chance = random.Random(20261130)
    with parted(tmp_path, two_waiting) as (home, trench):
        for turn in range(2):
            for desk in (home, trench):
                for deed in chance.sample(BY_CHANCE, 5):
                    deed(desk, turn, chance)
            carried = [(home, trench), (trench, home)]
            chance.shuffle(carried)
            for sender, taker in carried:
                brought(sender, taker, tmp_path)
            for one in clashes(chance.choice((home, trench))):
                desk = chance.choice((home, trench))
                if desk is trench and one.id not in {other.id for other in clashes(trench)}:
                    continue
                decide_clash(desk, one.id, keep=chance.choice(one.choices))
        both_ways(home, trench, tmp_path)
        for one in clashes(home):
            decide_clash(home, one.id, keep=one.choices[0])
        both_ways(home, trench, tmp_path)
        alike(home, trench)
        assert clashes_waiting(home) == clashes_waiting(trench) == 0


def _version(desk: Desk, number: str) -> int:
    with desk.reading() as reading:
        found = text("SELECT version FROM deposit WHERE number = :number")
        return reading.session.execute(found, {"number": number}).scalar_one()


def _describe(desk: Desk, _turn: int, chance: random.Random) -> None:
    number = chance.choice(("2003", "2017", "2019"))
    said = chance.choice(("ash", "clay", "floor", "fill"))
    change_deposit(desk, number, seen=_version(desk, number), description=said)


def _ware(desk: Desk, turn: int, chance: random.Random) -> None:
    code = f"W{turn}"
    with desk.reading() as reading:
        if reading.session.execute(text("SELECT 1 FROM ware WHERE code = :c"), {"c": code}).first() is None:
            reading.session.rollback()
            add_ware(desk, code=code, name=chance.choice(("Grey", "Red")), earliest=None, latest=None)


def _typed_number(desk: Desk, turn: int, _chance: random.Random) -> None:
    with desk.reading() as reading:
        taken = reading.session.execute(select(Container.id).where(Container.number == str(900 + turn))).first()
    if taken is None:
        put_container(desk, 900 + turn)


def _count(desk: Desk, _turn: int, chance: random.Random) -> None:
    code = put_container(desk, f"{desk.station_id}{chance.randrange(10**6)}", steps=LOOKED_AT)
    log_count(desk, code, pieces=chance.randrange(1, 50))


def _tags(desk: Desk, _turn: int, _chance: random.Random) -> None:
    issue_tags(desk, how_many=2)


def _squares(desk: Desk, turn: int, _chance: random.Random) -> None:
    with desk.reading() as reading:
        there = reading.session.execute(text("SELECT 1 FROM square WHERE name = :n"), {"n": f"E{turn + 1}"}).first()
    if there is None:
        add_squares(desk, [f"E{turn + 1}"])


BY_CHANCE = (_describe, _describe, _ware, _typed_number, _count, _tags, _squares)
