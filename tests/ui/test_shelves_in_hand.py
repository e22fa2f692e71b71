"""What is scanned for an act of the shelves is in hand: the dossier shows it, and the scan line says what it is for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from findsdesk.desk.proving import prove
from findsdesk.domain.command_cards import Command, command_code
from findsdesk.ui.answers import Tone
from findsdesk.ui.benches.shelves.page import ShelvesBench
from findsdesk.ui.benches.shelves.state import Page
from findsdesk.ui.program import Program
from tests.ui.at_the_shelves import BOX1, BOX2, Store, said, turn_to
from tests.ui.at_work import go_to, opened, scan, settled
from tests.yard import new_yard, put_container

WRITE = command_code("TQ", Command.WRITE)


def in_hand(program: Program) -> str:
    """Return head and line of the dossier."""
    facts = program.window.dossier.facts
    return f"{facts.title}: {facts.line}"


def test_what_is_scanned_at_a_page_of_the_shelves_is_in_hand(qtbot: Any, tmp_path: Path) -> None:
    store = Store(new_yard(tmp_path))
    old = put_container(store.desk, 140)
    with opened(qtbot, store.desk) as program:
        bench = go_to(qtbot, program, "shelves")
        for page, act in (
            (Page.MOVE, what_moves), (Page.OUT, what_is_taken_out), (Page.STOCK, what_stands_there),
            (Page.LOANS, what_is_lent), (Page.SLIPS, what_a_slip_is_for),
        ):  # fmt: skip
            turn_to(qtbot, program, bench, page)
            scan(qtbot, program, old)
            assert in_hand(program).startswith("Bucket 140"), page
            act(qtbot, program, store, bench)
            assert bench.open is page
        assert prove(store.desk).sound


def what_moves(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    scan(qtbot, program, BOX1)
    assert in_hand(program).startswith("Box 1: 7.5 of 10.0 kg, 2 bags, Dig house › Store › Shelf 1")
    assert said(program) == (Tone.DONE, "Box 1: to be moved, now Dig house › Store › Shelf 1")
    scan(qtbot, program, store.bags[2])
    assert in_hand(program).startswith("Bucket 131")
    assert said(program) == (Tone.DONE, f"Bag {store.bags[2]}: to be moved, now at no place yet")
    scan(qtbot, program, store.bags[2])
    assert said(program)[0] is Tone.ALREADY
    scan(qtbot, program, store.places["Shelf 2"])
    assert in_hand(program).startswith("Shelf 2: Dig house › Store › Shelf 2")
    assert said(program) == (Tone.DONE, "Goes to: Dig house › Store › Shelf 2")
    scan(qtbot, program, WRITE)
    assert in_hand(program).startswith("Shelf 2: Dig house › Store › Shelf 2, 1 box"), "the dossier follows"
    scan(qtbot, program, BOX1)
    assert bench.moving.arriving == 1
    assert in_hand(program).startswith("Box 1: 7.5 of 10.0 kg, 2 bags, Dig house › Store › Shelf 2")
    scan(qtbot, program, store.bags[2])
    bench.moving.leave_transport()
    settled(qtbot, program)
    scan(qtbot, program, store.places["Shelf 2"])
    assert said(program) == (
        Tone.DONE,
        "Shelf 2: to be moved with all that stands there, now Dig house › Store › Shelf 2",
    )
    scan(qtbot, program, BOX1)
    assert said(program) == (Tone.DONE, "Box 1: met where it leaves")
    bench.moving.moving.clear()
    bench.moving.show_scanned()


def what_is_taken_out(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    scan(qtbot, program, BOX2)
    assert in_hand(program).startswith("Box 2: ")
    assert said(program) == (Tone.DONE, "Box 2: to be taken out, now Dig house › Store › Shelf 1")
    bench.out.form.show_values({"to": store.places["Drawing table"]})
    scan(qtbot, program, WRITE)
    assert in_hand(program).endswith("away: Dig house › Drawing room › Drawing table"), "the dossier follows"
    scan(qtbot, program, BOX2)
    assert in_hand(program).endswith("Dig house › Store › Shelf 1")


def what_stands_there(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    scan(qtbot, program, store.places["Store"])
    assert in_hand(program).startswith("Store: ")
    scan(qtbot, program, WRITE)
    scan(qtbot, program, BOX2)
    assert in_hand(program).startswith("Box 2: ")


def what_is_lent(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    bench.loans.begin_loan()
    scan(qtbot, program, store.glass)
    assert in_hand(program).startswith("Bucket 132")
    assert said(program) == (Tone.DONE, f"{store.glass}: to be lent, 22 pieces")
    bench.loans.lending.form.show_values({"borrower": "Nela Trost", "purpose": "report", "condition": "sound"})
    scan(qtbot, program, WRITE)
    bench.loans.begin_return()
    scan(qtbot, program, BOX1)
    assert "did not leave with loan 1" in bench.refusals.text().text()
    assert in_hand(program).startswith("Box 1: "), "what does not belong here is looked at too"
    scan(qtbot, program, store.glass)
    assert in_hand(program).startswith("Bucket 132")
    assert said(program) == (Tone.DONE, f"{store.glass}: back now, 22 pieces")


def what_a_slip_is_for(qtbot: Any, program: Program, store: Store, bench: ShelvesBench) -> None:
    scan(qtbot, program, store.bags[3])
    assert in_hand(program).startswith("Bucket 131")
    assert said(program) == (Tone.DONE, f"Bag {store.bags[3]}: the new slip is laid into it")
