"""The bench Set-up with real widgets on a real store: a ware added, a refusal that keeps what was typed, settings."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from findsdesk.desk.desk import Desk
from findsdesk.desk.setting_up import people, wares
from findsdesk.domain.settings import Role
from findsdesk.ui.benches.set_up.mark_preview import mark_in_words
from findsdesk.ui.program import Program
from findsdesk.words import Terms
from tests.ui.at_work import go_to, opened, settled
from tests.yard import new_yard


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return new_yard(tmp_path)


@pytest.fixture
def program(qtbot: Any, desk: Desk) -> Iterator[Program]:
    with opened(qtbot, desk) as at_work:
        yield at_work


def test_a_ware_is_added_and_a_second_of_its_code_is_refused(qtbot: Any, desk: Desk, program: Program) -> None:
    bench = go_to(qtbot, program, "set_up")
    bench.show_subject("wares")
    part = bench.parts["wares"]
    ware = {"code": "CKI", "name": "Coarse Kitchen", "earliest": -200, "latest": 700}
    part.form.show_values(ware)
    part.add()
    settled(qtbot, program)
    assert "CKI" in [one.code for one in wares(desk)]
    assert part.form.peek()["code"] == ""
    part.form.show_values(ware)
    part.add()
    settled(qtbot, program)
    assert "already there" in bench.refusals.accessibleName()
    assert part.form.peek()["name"] == "Coarse Kitchen"


def test_somebody_joins_the_team(qtbot: Any, desk: Desk, program: Program) -> None:
    bench = go_to(qtbot, program, "set_up")
    bench.show_subject("people")
    part = bench.parts["people"]
    part.form.show_values({"name": "Wim", "role": Role.VOLUNTEER})
    part.add()
    settled(qtbot, program)
    assert ("Wim", Role.VOLUNTEER) in [(one.name, one.role) for one in people(desk)]
    assert part.model.rowCount() == len(people(desk))


def test_settings_are_written_and_contradictions_refused(qtbot: Any, desk: Desk, program: Program) -> None:
    bench = go_to(qtbot, program, "set_up")
    part = bench.parts["excavation"]
    part.form.show_values({"soak_longest_h": 48})
    part.write()
    settled(qtbot, program)
    assert program.surroundings.desk.facts.settings.soak_longest_h == 48
    part.form.show_values({"soak_shortest_h": 99})
    part.write()
    settled(qtbot, program)
    assert "shortest soak" in bench.refusals.accessibleName()
    assert program.surroundings.desk.facts.settings.soak_shortest_h == 12


def test_the_store_is_proved_from_here(qtbot: Any, program: Program) -> None:
    bench = go_to(qtbot, program, "set_up")
    bench.show_subject("where")
    bench.parts["where"].prove()
    settled(qtbot, program)
    assert bench.parts["where"].said.text().startswith("Sound:")


def test_the_mark_is_shown_with_its_length() -> None:
    said = mark_in_words({"permit": "VE-26-014", "mark_pattern": "{permit}\n{deposit}-{container}"}, "TQ", 20, Terms())
    assert said.startswith("VE-26-014 / 2017-131: 13 mm")
