"""Courier files that are not right, and stations that wrote where they may not: refused, and nothing taken in."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from sqlalchemy import select

from findsdesk.desk.counting import log_count
from findsdesk.desk.courier import call_station_back, make_station_store, write_courier
from findsdesk.desk.courier_taking import take_courier
from findsdesk.desk.desk import Desk
from findsdesk.desk.marking import write_marks
from findsdesk.desk.opening import at_station, open_store
from findsdesk.desk.photos import add_photo
from findsdesk.desk.sherd_groups import add_group, change_group
from findsdesk.desk.sorting import reopen, settle
from findsdesk.domain.balance import Decision
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, SherdGroup
from tests.desk.two_stores import TRENCH, parted, records_of, refused, sound, two_waiting
from tests.desk.whole_yard import ON_A_FILE
from tests.yard import acts, new_yard, put_container, put_settled


def rewritten(file: Path, change: Callable[[dict[str, Any], list[Any]], None], *, honest: bool = True) -> Path:
    """Write a courier file anew after a change to what it says; ``honest`` lets its hash be that of its acts."""
    import hashlib

    with zipfile.ZipFile(file) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    said, told = json.loads(members["courier.json"]), [json.loads(one) for one in members["acts.jsonl"].splitlines()]
    change(said, told)
    members["acts.jsonl"] = b"".join(json.dumps(one, ensure_ascii=False).encode() + b"\n" for one in told)
    if honest:
        said["acts_sha256"] = hashlib.sha256(members["acts.jsonl"]).hexdigest()
    members["courier.json"] = json.dumps(said).encode()
    made = file.with_name(f"changed {file.name}")
    with zipfile.ZipFile(made, "w") as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return made


SAID = 9
RUNNING = 1


def _other_word(_said: dict[str, Any], told: list[Any]) -> None:
    told[-1][SAID] = "131: 700"


def _gap(_said: dict[str, Any], told: list[Any]) -> None:
    del told[-2]


def _cut_off(_said: dict[str, Any], told: list[Any]) -> None:
    del told[-1]


def _newer(said: dict[str, Any], _told: list[Any]) -> None:
    said["schema"] = "9999"


def _newer_form(said: dict[str, Any], _told: list[Any]) -> None:
    said["courier"] = 2


def _other_kind(said: dict[str, Any], _told: list[Any]) -> None:
    said["program"] = "another"


def _no_stations(said: dict[str, Any], _told: list[Any]) -> None:
    said["stations"] = [{"id": "x"}]


def _no_series(said: dict[str, Any], _told: list[Any]) -> None:
    said["series"] = [1]


def _odd_block(said: dict[str, Any], _told: list[Any]) -> None:
    said["blocks"] = [{"id": 1}]


def _short_act(_said: dict[str, Any], told: list[Any]) -> None:
    told[-1] = told[-1][:5]


def _no_values(_said: dict[str, Any], told: list[Any]) -> None:
    told[-1][-1][0][4] = "[1]"


def _half_values(_said: dict[str, Any], told: list[Any]) -> None:
    told[-1][-1][0][4] = told[-1][-1][0][4][:-1]


def _file_missing(said: dict[str, Any], _told: list[Any]) -> None:
    said["files"] = [{"sha256": "0" * 64, "suffix": ".jpg"}]


WRONG = (
    (_other_word, "courier_changed"),
    (_gap, "courier_gap"),
    (_cut_off, "courier_gap"),
    (_newer, "courier_newer"),
    (_newer_form, "courier_newer"),
    (_other_kind, "no_courier"),
    (_no_stations, "courier_value"),
    (_no_series, "courier_value"),
    (_odd_block, "courier_value"),
    (_short_act, "courier_value"),
    (_no_values, "courier_value"),
    (_half_values, "courier_value"),
    (_file_missing, "courier_damaged"),
)


def test_a_file_that_is_not_right_is_refused_and_nothing_is_taken_in(tmp_path: Path) -> None:
    with parted(tmp_path, two_waiting) as (home, trench):
        log_count(trench, "131", pieces=7)
        log_count(trench, "132", pieces=8)
        good = write_courier(trench, tmp_path / "good").file
        before, there = records_of(home), acts(home)
        for change, code in WRONG:
            wrong = rewritten(good, change)
            refused(code, lambda wrong=wrong: take_courier(home, wrong))
        dishonest = rewritten(good, _other_word, honest=False)
        refused("courier_damaged", lambda: take_courier(home, dishonest))
        for cut in (200, len(good.read_bytes()) // 2, len(good.read_bytes()) - 10):
            half = tmp_path / f"half {cut}.courier"
            half.write_bytes(good.read_bytes()[:cut])
            refused("courier_damaged", lambda half=half: take_courier(home, half))
        refused("no_courier", lambda: take_courier(home, tmp_path / "nowhere.courier"))
        other_zip = tmp_path / "photos.zip"
        with zipfile.ZipFile(other_zip, "w") as archive:
            archive.writestr("rim.jpg", b"x")
        refused("no_courier", lambda: take_courier(home, other_zip))
        assert (records_of(home), acts(home)) == (before, there)
        assert take_courier(home, good).acts == 2


def test_a_file_of_another_excavation_is_refused(tmp_path: Path) -> None:
    from findsdesk.desk.opening import NewExcavation, new_store

    other = new_store(tmp_path / "mill", NewExcavation("Mill Lane", "ML", "Ilo Marr", "Etc/GMT-2"))
    try:
        file = write_courier(other, tmp_path / "mill").file
    finally:
        other.let_go()
    desk = new_yard(tmp_path / "home")
    try:
        told = refused("other_excavation", lambda: take_courier(desk, file))
        assert "Mill Lane" in told.in_words()
    finally:
        desk.let_go()


@pytest.mark.skipif(not ON_A_FILE, reason="a store on a server is not copied by hand")
def test_a_station_that_wrote_in_both_stores_is_refused(tmp_path: Path) -> None:
    """Whoever copies the file by hand and goes on at the same station forks its chain: nothing can put that right."""
    import shutil

    desk = new_yard(tmp_path / "home")
    desk.let_go()
    shutil.copytree(tmp_path / "home", tmp_path / "away")
    home, away = (open_store(tmp_path / one / "tannery", clock=desk.clock) for one in ("home", "away"))
    try:
        put_container(home, 131)
        put_container(away, 132)
        file = write_courier(away, tmp_path / "away").file
        refused("courier_forked", lambda: take_courier(home, file))
        put_container(away, 133)
        refused("courier_forked", lambda: take_courier(home, write_courier(away, tmp_path / "more").file))
    finally:
        home.let_go()
        away.let_go()


def test_a_station_writes_in_one_store_at_a_time(tmp_path: Path) -> None:
    with parted(tmp_path) as (home, trench):
        refused("station_elsewhere", lambda: at_station(home, TRENCH))
        told = refused("station_elsewhere", lambda: at_station(trench, "first"))
        assert TRENCH in told.in_words()
        refused("own_station", lambda: make_station_store(home, station="first", into=tmp_path / "x"))
        refused("store_not_empty", lambda: make_station_store(home, station="b", into=tmp_path / "away" / "trench"))
        refused("needs_a_file", lambda: make_station_store(home, station="b", into="postgresql://localhost/x"))
        refused("numbers_at_once", lambda: make_station_store(home, station="b", into=tmp_path / "x", how_many=0))
        refused("unknown_station", lambda: write_courier(home, tmp_path / "x", to="nobody"))
        refused("unknown_station", lambda: call_station_back(home, station="nobody"))
        refused("station_is_here", lambda: call_station_back(home, station="first"))
        # Stations that either store meets afterwards never get one number.
        assert at_station(home, "awning").station_id != at_station(trench, "porch").station_id
        call_station_back(home, station=TRENCH)
        assert at_station(home, TRENCH).station_id == 2


def test_a_station_whose_store_cannot_be_written_writes_here_as_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = new_yard(tmp_path / "home")

    def no_room(*_told: object) -> None:
        raise Refusal("cannot_write", "The disk is full.")

    monkeypatch.setattr("findsdesk.desk.courier._copy_for", no_room)
    try:
        refused("cannot_write", lambda: make_station_store(home, station=TRENCH, into=tmp_path / "x"))
        assert at_station(home, TRENCH).station_name == TRENCH
        sound(home)
    finally:
        home.let_go()


def test_what_cannot_stand_together_is_refused_with_its_name(tmp_path: Path) -> None:
    def furnish(desk: Desk) -> None:
        put_settled(desk, 101)

    with parted(tmp_path, furnish) as (home, trench):
        write_marks(home, "101")
        reopen(trench, "101", reason="ten are for the conservator")
        with trench.reading() as reading:
            wanted = select(SherdGroup.id, SherdGroup.version).where(SherdGroup.part == "rim")
            group, version = reading.session.execute(wanted).one()
        change_group(trench, group, seen=version, pieces=12)
        add_group(trench, "101", ware="QRS", part="rim", pieces=10, decision=Decision.HOLD, reason="painted")
        settle(trench, "101")
        file = write_courier(trench, tmp_path / "x").file
        before = records_of(home)
        told = refused("cannot_stand_together", lambda: take_courier(home, file))
        assert "101" in told.in_words()
        assert records_of(home) == before


def test_a_photograph_that_was_changed_on_the_way_is_refused(tmp_path: Path) -> None:
    with parted(tmp_path, two_waiting) as (home, trench):
        picture = io.BytesIO()
        Image.new("RGB", (80, 60), "#B5653A").save(picture, "PNG")
        (tmp_path / "rim.png").write_bytes(picture.getvalue())
        with trench.reading() as reading:
            row_id = reading.session.execute(select(Container.id).where(Container.number == "131")).scalar_one()
        add_photo(trench, tmp_path / "rim.png", of=("container", row_id))
        file = write_courier(trench, tmp_path / "good").file
        content = file.read_bytes()
        at = content.index(picture.getvalue())
        file.write_bytes(content[: at + 30] + b"\0" + content[at + 31 :])
        refused("courier_damaged", lambda: take_courier(home, file))
        file.write_bytes(content)
        assert take_courier(home, file).files == 1
        sound(home)
