"""PINs: whose they are, that wrong ones wait, and that none is ever written where it can be read."""

from collections import Counter
from pathlib import Path

import pytest
from sqlalchemy import select

from findsdesk.desk.desk import Desk
from findsdesk.desk.pins import check_pin, pins_of_the_team, set_pin
from findsdesk.desk.playing import act_id_of
from findsdesk.desk.proving import prove
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.acts import read_acts
from findsdesk.store.models import Act, Line, PersonPin
from tests.desk.at_the_table import refused
from tests.yard import ZONE, advance, person, sitting

PIN = "740619"


def refusal_of(desk: Desk, pin: str, name: str = "Mika") -> Refusal:
    with pytest.raises(Refusal) as caught:
        check_pin(desk, person(desk, name), pin)
    return caught.value


def test_one_sets_ones_own_pin_and_says_the_old_one_to_change_it(desk: Desk) -> None:
    mika = sitting(desk, "Mika")
    set_pin(mika, "Mika", pin=PIN)
    check_pin(desk, person(desk, "Mika"), f" {PIN} ")
    with refused(desk, "pin_wrong"):
        set_pin(mika, "Mika", pin="111111")
    set_pin(mika, "Mika", pin="222222", own_pin=PIN)
    assert refusal_of(desk, PIN).code == "pin_wrong"
    check_pin(desk, person(desk, "Mika"), "222222")
    assert [one.name for one in pins_of_the_team(desk) if one.has_pin] == ["Mika Sool"]


def test_another_ones_pin_is_set_by_the_director_who_says_the_own_one(desk: Desk) -> None:
    with refused(desk, "pin_not_yours"):
        set_pin(sitting(desk, "Mika"), "Oren", pin=PIN)
    with refused(desk, "pin_not_set"):
        set_pin(desk, "Oren", pin=PIN)
    set_pin(desk, "Ilo", pin="314159")
    with refused(desk, "pin_wrong"):
        set_pin(desk, "Oren", pin=PIN, own_pin="000000")
    set_pin(desk, "Oren", pin=PIN, own_pin="314159")
    check_pin(desk, person(desk, "Oren"), PIN)


def test_five_wrong_ones_wait_half_a_minute_then_longer(desk: Desk) -> None:
    set_pin(sitting(desk, "Mika"), "Mika", pin=PIN)
    wrong = [refusal_of(desk, "9999") for _ in range(5)]
    assert [one.code for one in wrong] == ["pin_wrong"] * 5
    assert [one.facts.get("seconds") for one in wrong] == [None, None, None, None, 30]
    assert wrong[-1].in_words() == "That is not the PIN of Mika Sool, once too often. Wait 30 s, then try again."
    waiting = refusal_of(desk, PIN)
    assert (waiting.code, waiting.facts["seconds"]) == ("pin_waits", 30)
    advance(desk, seconds=30)
    assert refusal_of(desk, "9999").code == "pin_wrong"
    assert refusal_of(desk, PIN).facts["seconds"] == 60
    advance(desk, seconds=60)
    check_pin(desk, person(desk, "Mika"), PIN)
    assert [refusal_of(desk, "9999").code for _ in range(5)] == ["pin_wrong"] * 5


def test_nobody_without_a_pin_is_let_through(desk: Desk) -> None:
    assert refusal_of(desk, "").code == "pin_not_set"


def test_a_pin_is_nowhere_to_be_read(desk: Desk) -> None:
    set_pin(sitting(desk, "Mika"), "Mika", pin=PIN)
    wrong = refusal_of(desk, "740618")
    assert "740618" not in f"{wrong}{wrong.facts}{wrong.in_words()}"
    with desk.reading() as reading:
        said = " ".join(reading.session.execute(select(Act.said)).scalars())
        lines = reading.session.execute(select(Line.before, Line.after).where(Line.kind == "person_pin")).all()
        kept = reading.session.execute(select(PersonPin.pin_hash)).scalar_one()
    assert PIN not in said
    assert lines == []
    assert kept.startswith("$argon2id$v=19$m=19456,t=2,p=1$")
    path = desk.store.path
    if path is not None:
        files = [path, *path.parent.glob(f"{path.name}*")]
        assert not any(PIN.encode() in file.read_bytes() for file in files)
    assert prove(desk).sound


def test_the_id_of_a_played_act_does_not_come_from_the_pin(tmp_path: Path) -> None:
    """The id stands in the journal; made from the PIN it would let one try PINs against it."""
    ids = []
    for pin in ("1111", "2222"):
        acts = tmp_path / "pins.acts"
        acts.write_text(f"2026-07-14T10:00  mika@registry  set-pin Mika pin={pin}\n", "utf-8")
        [line] = read_acts(acts, zone=ZONE)
        ids.append(act_id_of(line, Counter()))
    assert ids[0] == ids[1]
