"""The journal: one spelling, one hash; every change of a journaled row becomes a line of its act."""

import hashlib
import itertools
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path

import pytest
from sqlalchemy import select, text

from findsdesk.desk.setting_up import add_person
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.settings import Role
from findsdesk.store.journal import ActFacts, Change, act_hash, plain, store_head
from findsdesk.store.models import Act, Container, Count, Line, Person, Station
from findsdesk.store.models.base import canonical
from tests.yard import MORNING, act_lines_of, acts, new_yard, put_container

FACTS = ActFacts(
    id="6f0c2a52-6a0e-4b0f-9c55-0b6f3d1c9a11",
    deed="log_count",
    person_id=7,
    person_name="Tessa Quill",
    happened_at=MORNING,
    zone="Etc/GMT-2",
    written_at=MORNING,
    said="131: 132",
)
CHANGE = Change("count", 12, None, None, {"pieces": 132, "container_id": 5})


def test_a_value_has_one_spelling() -> None:
    assert canonical({"b": [1, None, True], "a": "Étagère „7“"}) == '{"a":"Étagère „7“","b":[1,null,true]}'
    assert canonical({"a": 1, "b": 2}) == canonical({"b": 2, "a": 1})


def test_an_acts_hash_is_sha256_over_its_measured_parts() -> None:
    """SHA-256 (FIPS 180-4) by the standard library over the bytes written out by hand here."""
    moment = 1784004600000
    assert round(MORNING.timestamp() * 1000) == moment
    spelled = (
        "2:aa;#3;#17;36:6f0c2a52-6a0e-4b0f-9c55-0b6f3d1c9a11;9:log_count;8:131: 132;9:Etc/GMT-2;"
        f"#7;11:Tessa Quill;#{moment};#{moment};5:count;#12;-;-;31:" + '{"container_id":5,"pieces":132};'
    )
    assert act_hash("aa", 3, 17, FACTS, [CHANGE.spelled()]) == hashlib.sha256(spelled.encode()).hexdigest()


def test_whatever_is_changed_changes_the_hash() -> None:
    tried = [
        ("aa", 3, 17, FACTS, [CHANGE]),
        ("ab", 3, 17, FACTS, [CHANGE]),
        ("aa", 4, 17, FACTS, [CHANGE]),
        ("aa", 3, 18, FACTS, [CHANGE]),
        ("aa", 3, 17, replace(FACTS, person_id=None), [CHANGE]),
        ("aa", 3, 17, replace(FACTS, said="131: 13"), [CHANGE]),
        ("aa", 3, 17, replace(FACTS, zone="Etc/GMT-3"), [CHANGE]),
        ("aa", 3, 17, replace(FACTS, happened_at=MORNING + timedelta(milliseconds=1)), [CHANGE]),
        ("aa", 3, 17, FACTS, []),
        ("aa", 3, 17, FACTS, [CHANGE, CHANGE]),
        ("aa", 3, 17, FACTS, [replace(CHANGE, before=CHANGE.after, after=None)]),
        ("aa", 3, 17, FACTS, [replace(CHANGE, version=1)]),
        ("aa", 3, 17, replace(FACTS, deed="log", said="_count131: 132"), [CHANGE]),
    ]
    hashes = [act_hash(*one[:4], [change.spelled() for change in one[4]]) for one in tried]
    assert all(one != other for one, other in itertools.combinations(hashes, 2))


def test_the_same_moment_in_another_zone_is_the_same_act() -> None:
    elsewhere = MORNING.astimezone(timezone(timedelta(hours=-5)))
    moved = replace(FACTS, happened_at=elsewhere, written_at=elsewhere)
    assert act_hash("aa", 3, 17, moved, []) == act_hash("aa", 3, 17, FACTS, [])


def test_moments_and_days_are_told_plainly() -> None:
    assert plain(MORNING) == "2026-07-14T04:50:00+00:00"
    assert plain(datetime(2026, 7, 14, 4, 50, 0, 123456, tzinfo=UTC)) == "2026-07-14T04:50:00.123000+00:00"
    assert plain(date(2026, 7, 14)) == "2026-07-14"
    assert plain(None) is None


def test_an_act_and_its_lines_stand_in_the_store_as_they_were_hashed(tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    add_person(desk, name="Ruan", role=Role.VOLUNTEER)
    (line,) = act_lines_of(desk)
    assert (line.kind, line.row_version, line.before) == ("person", 1, None)
    assert line.after is not None
    assert {key: line.after[key] for key in ("name", "role", "active")} == {
        "name": "Ruan",
        "role": "volunteer",
        "active": True,
    }
    with desk.reading() as reading:
        act = reading.session.execute(select(Act).order_by(Act.running.desc()).limit(1)).scalar_one()
        station = reading.session.get_one(Station, act.station_id)
        facts = ActFacts(
            act.id, act.deed, act.person_id, act.person_name, act.happened_at, act.zone, act.written_at, act.said
        )
        change = Change(line.kind, line.row_id, line.row_version, line.before, line.after)
        assert (
            act.hash
            == act_hash(act.hash_before, act.station_id, act.running, facts, [change.spelled()])
            == station.head
        )
        asked = text("SELECT after FROM line WHERE act_id = :act")
        spelled = reading.session.execute(asked, {"act": act.id})
        assert spelled.scalar() == canonical(line.after)
    desk.let_go()


def test_a_change_tells_what_was_and_what_is_and_nothing_else(tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    with desk.deed("change_person") as deed:
        row = deed.session.execute(select(Person).where(Person.name == "Lio")).scalar_one()
        row.role = Role.REGISTRAR
        deed.session.flush()
        deed.session.delete(deed.session.execute(select(Person).where(Person.name == "Oren Vade")).scalar_one())
    change, deletion = act_lines_of(desk)
    assert (change.before, change.after, change.row_version) == ({"role": "volunteer"}, {"role": "registrar"}, 2)
    assert deletion.after is None
    assert deletion.before is not None
    assert deletion.before["name"] == "Oren Vade"
    desk.let_go()


def test_a_fact_is_told_with_every_column_and_after_the_rows_it_points_to(tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    code = put_container(desk, 131)
    with desk.deed("put_note") as deed:
        container = deed.session.execute(select(Container).where(Container.code == code)).scalar_one()
        person = deed.add(Person(name="Ruan", role=Role.VOLUNTEER, active=True))
        written = deed.write(
            Count,
            container_id=container.id,
            pieces=12,
            tenths=None,
            purpose="first",
            happened_at=deed.happened_at,
            person_id=person.id,
        )
    of_person, of_count = act_lines_of(desk)
    assert (of_person.kind, of_count.kind, of_count.row_id) == ("person", "count", written)
    assert of_count.after is not None
    with desk.reading() as reading:
        row = reading.session.get_one(Count, written)
        stored = {column.name: plain(getattr(row, column.name)) for column in Count.__table__.columns}
    assert of_count.after == stored
    desk.let_go()


def test_an_act_met_twice_is_written_once(tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    named = desk.as_act("3a0c2a52-6a0e-4b0f-9c55-0b6f3d1c9a11")
    add_person(named, name="Ruan", role=Role.VOLUNTEER)
    before = acts(desk), desk.head()
    with pytest.raises(Refusal, match="already_written"):
        add_person(named, name="Sefa", role=Role.VOLUNTEER)
    assert (acts(desk), desk.head()) == before
    assert desk.has_act("3a0c2a52-6a0e-4b0f-9c55-0b6f3d1c9a11")
    desk.let_go()


def test_a_deed_that_fails_writes_no_act(tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    before = acts(desk), desk.head()
    with pytest.raises(RuntimeError), desk.deed("half"):
        raise RuntimeError
    assert (acts(desk), desk.head()) == before
    desk.let_go()


def test_the_stores_head_covers_every_station(tmp_path: Path) -> None:
    desk = new_yard(tmp_path)
    with desk.reading() as reading:
        one = reading.session.execute(select(Station)).scalar_one()
        expected = hashlib.sha256(f'[[{one.id},"{one.head}"]]'.encode()).hexdigest()
        assert store_head(reading.session) == expected
        assert reading.session.execute(select(Line)).first() is not None
    assert desk.head() == expected[:12]
    desk.let_go()
