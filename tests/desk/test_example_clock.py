"""Time in an example: it stands where the last act left it, runs on, and never goes back."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from findsdesk.desk.example_clock import ExampleClock
from findsdesk.desk.opening import NewExcavation, new_store, open_store
from findsdesk.desk.setting_up import add_person
from findsdesk.domain.settings import Role

THEN = datetime(2026, 7, 14, 14, 40, tzinfo=UTC)
SOON = timedelta(minutes=5)
"""More than any machine needs for a test, less than the acts lie apart."""


def test_it_goes_on_and_never_back() -> None:
    clock = ExampleClock(THEN)
    first = clock()
    assert THEN <= first < THEN + SOON
    clock.it_is(THEN - timedelta(days=700))
    assert first <= clock() < THEN + SOON
    clock.it_is(THEN + timedelta(days=1))
    assert THEN + timedelta(days=1) <= clock() < THEN + timedelta(days=1) + SOON


def test_an_example_opens_at_its_last_act_a_real_store_now(tmp_path: Path) -> None:
    for example in (True, False):
        excavation = NewExcavation("Tannery Quay", "TQ", "Ilo Marr", "Etc/GMT-3", example=example)
        desk = new_store(tmp_path / f"quay-{example}", excavation, clock=ExampleClock(THEN))
        add_person(desk, name="Tessa Quill", role=Role.WASH_LEAD)
        desk.close()
        opened = open_store(tmp_path / f"quay-{example}")
        try:
            assert (THEN <= opened.clock() < THEN + SOON) is example
            assert isinstance(opened.clock, ExampleClock) is example
        finally:
            opened.close()
