"""Deposits and corrections as lines of a file of acts: the same use cases by their names."""

from datetime import date

from findsdesk.desk.deposit_facts import deposit_facts
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, find
from findsdesk.desk.playing import do
from findsdesk.domain.deposits import Security
from tests.yard import put_containers


def test_deposits_are_opened_renumbered_split_and_closed_by_name(desk: Desk) -> None:
    put_containers(desk, (1, 2, 3), deposit="2003")
    do(
        desk,
        "open-deposit",
        {"square": "B3", "opened": "2026-07-13", "opening": "3.465", "security": "sealed"},
        ("2024",),
    )
    do(desk, "close-deposit", {"benchmark": "4.210", "backsight": "1.325", "foresight": "2.110"}, ("2024",))
    assert (deposit_facts(desk, "2024").opening_mm, deposit_facts(desk, "2024").closing_mm) == (3465, 3425)
    do(desk, "change-deposit", {"closed": "2026-07-13", "kind": "fill"}, ("2024",))
    assert (deposit_facts(desk, "2024").closed, deposit_facts(desk, "2024").kind) == (date(2026, 7, 13), "fill")
    do(desk, "renumber-deposit", {"to": "2031", "reason": "misread"}, ("2003",))
    do(desk, "split-deposit", {"containers": "1, 2", "to": "2032", "reason": "pit"}, ("2003",))
    do(desk, "declare-mixed", {"reason": "dug together"}, ("2032",))
    assert (deposit_facts(desk, "2032").containers, deposit_facts(desk, "2032").security) == (2, Security.MIXED)
    do(desk, "merge-deposits", {"into": "2031", "reason": "one layer"}, ("2032",))
    assert deposit_facts(desk, "2032").number == "2031"


def test_containers_are_corrected_by_name(desk: Desk) -> None:
    put_containers(desk, (1,))
    do(desk, "move-container", {"to": "2019", "reason": "misread"}, ("1",))
    do(desk, "correct-container", {"material": "bone", "collected-on": "2026-07-10", "reason": "looked"}, ("1",))
    found = find(desk, "1")
    assert isinstance(found, Dossier)
    assert (found.deposit, found.material, found.collected_on) == ("2019", "bone", date(2026, 7, 10))
