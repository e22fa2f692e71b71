"""A scanned label of the store in hand: the box, the shelf or the loan in the dossier, on every bench."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QCoreApplication

from findsdesk.desk.boxes import add_box, give_up_box
from findsdesk.desk.boxing import put_into_box
from findsdesk.desk.desk import Desk
from findsdesk.desk.in_store import found_in_store
from findsdesk.desk.loan_returns import give_back
from findsdesk.desk.loans import lend
from findsdesk.desk.news import everything
from findsdesk.desk.renumbering import renumber_deposit
from findsdesk.desk.shelves import places_tree
from findsdesk.desk.taking_away import bring_back, take_away
from findsdesk.domain.codes import Kind, make_code
from findsdesk.domain.lending import BorrowerKind
from findsdesk.ui import store_work
from findsdesk.ui.all_benches import BENCHES
from findsdesk.ui.answers import Tone
from findsdesk.ui.program import Program, _concerns
from findsdesk.ui.store_in_words import stored_in_words
from findsdesk.ui.widgets.dossier_facts import DossierFacts
from findsdesk.ui.words_around import WordsAround
from tests.desk.on_the_shelves import furnish_store, put_bags
from tests.ui.at_work import go_to, opened, scan, settled
from tests.yard import advance, new_yard


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A box with two bags on shelf 1, out at the drawing table; a loan four days late."""
    desk = new_yard(tmp_path)
    furnish_store(desk)
    box = add_box(desk, kind="sherds", place="Shelf 1")[0]
    put_into_box(desk, box.code, put_bags(desk, 131, [2_000, 1_500]))
    take_away(desk, ["1"], to="Drawing table")
    lend(
        desk,
        put_bags(desk, 132, [84], material="glass", pieces=22),
        borrower="Nela Trost",
        kind=BorrowerKind.SPECIALIST,
        purpose="glass report",
        due_on=date(2026, 7, 15),
    )
    advance(desk, days=5)
    return desk


def codes(desk: Desk) -> dict[str, str]:
    tree = {one.name: one.code for one in places_tree(desk)}
    return {
        "box": make_code("TQ", Kind.BOX, 1),
        "shelf": tree["Shelf 1"],
        "loan": make_code("TQ", Kind.LOAN, 1),
    }


def test_each_label_in_words(desk: Desk) -> None:
    said = {name: store_work.find(desk, code).dossier for name, code in codes(desk).items()}
    box, shelf, loan = said["box"], said["shelf"], said["loan"]
    assert box is not None
    assert (box.title, box.aside) == ("Box 1", "Sherds")
    assert box.line == (
        "3.5 of 10.0 kg, 2 bags, Dig house › Store › Shelf 1, away: Dig house › Drawing room › Drawing table"
    )
    assert box.sections[1].rows[0] == ("bucket 131", "context 2017", "10 pieces")
    assert any("Lift with two hands" in one.head for one in box.cautions)
    assert shelf is not None
    assert shelf.line == "Dig house › Store › Shelf 1, 1 box, 2 bags, 3.5 kg"
    assert shelf.sections[0].rows == (("Box 1", "2017", "Dig house › Drawing room › Drawing table"),)
    assert loan is not None
    assert (loan.title, loan.aside) == ("Loan 1", "overdue")
    assert "Nela Trost, specialist, glass report" in loan.line
    assert loan.line.endswith("4 days overdue, 22 pieces still out")
    desk.close()


def test_a_long_box_says_how_many_more_there_are(desk: Desk) -> None:
    add_box(desk, kind="sherds")
    put_into_box(desk, "2", put_bags(desk, 140, [10] * 61))
    stored = found_in_store(desk, make_code("TQ", Kind.BOX, 2))
    assert stored is not None
    facts = stored_in_words(stored, WordsAround.of(desk)).dossier
    assert facts is not None
    assert len(facts.sections[1].rows) == 60
    assert "and 1 more" in facts.sections[1].text
    desk.close()


def test_a_tub_of_the_command_card_is_no_place(desk: Desk) -> None:
    assert store_work.find(desk, make_code("TQ", Kind.PLACE, 3)).answer.tone is Tone.REFUSED
    desk.close()


def test_every_bench_bears_a_box_a_shelf_and_a_loan_in_hand_and_they_follow_the_news(qtbot: Any, desk: Desk) -> None:
    """OWN: a second act on what is in hand, done elsewhere, changes the dossier; benches keep what they show."""
    labels, bags = codes(desk), iter(put_bags(desk, 150, [100] * len(BENCHES)))
    with opened(qtbot, desk) as program:
        scan(qtbot, program, labels["box"])
        for many, bench in enumerate(BENCHES, start=3):
            go_to(qtbot, program, bench)
            put_into_box(desk, labels["box"], [next(bags)])
            assert f", {many} bags, " in facts_of(qtbot, program).line, bench
        bring_back(desk, [labels["box"]])
        assert facts_of(qtbot, program).line.endswith("Dig house › Store › Shelf 1")
        renumber_deposit(desk, "2017", to="2117", reason="taken twice")
        assert facts_of(qtbot, program).sections[1].rows[0][1] == "context 2117"
        scan(qtbot, program, labels["shelf"])
        add_box(desk, kind="sherds", place="Shelf 1")
        assert ", 2 boxes, " in facts_of(qtbot, program).line
        scan(qtbot, program, make_code("TQ", Kind.BOX, 2))
        give_up_box(desk, "2")
        gone = facts_of(qtbot, program)
        assert (gone.title, gone.line, gone.sections) == ("Box 2", "Box 2 was given up. Take another box.", ())
        scan(qtbot, program, labels["loan"])
        for bench in BENCHES:
            go_to(qtbot, program, bench)
        give_back(desk, "1", condition="sound")
        assert "still out" not in facts_of(qtbot, program).line
        assert program.window.dossier.title().startswith("Loan 1")


def facts_of(qtbot: Any, program: Program) -> DossierFacts:
    """Return what the dossier says once the news of an act done elsewhere has come."""
    QCoreApplication.processEvents()
    settled(qtbot, program)
    facts = program.window.dossier.facts
    assert facts is not None
    return facts


def test_news_of_very_much_at_once_is_of_what_is_in_hand_too(desk: Desk) -> None:
    for text in (*codes(desk).values(), "131", "2017"):
        assert _concerns(everything(), store_work.find(desk, text)), text
    box = store_work.find(desk, codes(desk)["box"])
    assert not _concerns(frozenset({("container", 1), ("piece", 2), ("act", 3)}), box)
    desk.close()
