"""What stumbled at Marks & labels: refusals that moved the page, places of a begun sheet, choices of other labels."""

from typing import Any

from PySide6.QtCore import QPoint

from findsdesk.domain.refusals import Question, Refusal
from findsdesk.ui.benches.labels.page import LabelsBench
from findsdesk.ui.program import Program
from tests.ui.at_the_labels import bench, own_memory, program  # noqa: F401
from tests.ui.at_work import settled


def test_a_refusal_moves_nothing_on_the_page(qtbot: Any, program: Program, bench: LabelsBench) -> None:
    where = bench.parts.what.mapTo(bench, QPoint())
    bench.refuse(Refusal("no", "Nothing was measured. Type the width, then the height, then look at the sheet again."))
    settled(qtbot, program)
    slip = bench.refusals
    assert slip.isVisible()
    assert bench.parts.what.mapTo(bench, QPoint()) == where
    assert slip.geometry().bottom() < where.y()
    assert slip.geometry().left() > bench._title.geometry().right()
    bench.refusals.ask(Question("sure", "Is it so?").in_words(), lambda: None)
    settled(qtbot, program)
    assert bench.parts.what.mapTo(bench, QPoint()) == where
    assert slip.height() >= slip.heightForWidth(slip.width())
