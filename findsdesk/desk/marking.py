"""Marking: what is inked on the kept pieces of each container, deposit by deposit, as a list for the marking table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Row, case, func, select

from findsdesk.desk.desk import Desk, ExcavationFacts
from findsdesk.desk.finding import deposit_of
from findsdesk.desk.label_contents import mark_of
from findsdesk.desk.redoing import SORTED
from findsdesk.desk.sheets import A4, PrintedList, Wording, printed
from findsdesk.desk.shipped import cautions_at
from findsdesk.domain.balance import COLUMN_OF_DECISION
from findsdesk.domain.cautions import At
from findsdesk.domain.marks import MARKED_MATERIALS, SMALLEST_MARKED_MM, mark_length_mm
from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, Section
from findsdesk.store.models import Container, Deposit, Season, Square
from findsdesk.store.sorted_sherds import sorted_sherds
from findsdesk.words import N_, grouped

WHERE_TO_WRITE = N_("Inside, on the surface: never on a break, on paint or a slip, or where the pot stands.")
"""British guidance on procedures and the Collections Trust's booklet, both as the trade notes quote them."""
IN_THREE_COATS = N_("Base coat, ink, top coat; each is dry before the next. Ink black, on dark pieces white.")
TOO_SMALL = N_("Under {cm} cm, painted or flaking: no ink. A slip with the mark goes into a small bag with the piece.")


@dataclass(frozen=True, slots=True)
class MarkToWrite:
    """The mark of one container: its lines, how long it becomes (tenths of a millimetre), on how many pieces."""

    container_id: int
    code: str
    number: str
    deposit: str
    square: str
    material: str
    lines: tuple[str, ...]
    length_tenths: int
    diagnostic: int
    others: int

    @property
    def pieces(self) -> int:
        """Return how many kept pieces there are."""
        return self.diagnostic + self.others


def marks_to_write(desk: Desk, deposit: str | None = None) -> tuple[MarkToWrite, ...]:
    """Return what is inked on the kept pieces of sorted containers, in natural order of deposit and container.

    ``deposit`` chooses one by a number it has or once had. What was inked already is not known here: the list says
    what belongs on each piece. Refusals: ``unknown_deposit`` and the like, from finding the deposit.
    """
    with desk.reading() as reading:
        wanted = _query()
        if deposit is not None:
            wanted = wanted.where(Container.deposit_id == deposit_of(reading.session, deposit).id)
        return tuple(_mark(row, desk.facts) for row in reading.session.execute(wanted))


def _query() -> Any:
    table = sorted_sherds("container_id", "diagnostic", "pieces", "decision")
    sherds = table.c
    kept = [decision.value for decision, column in COLUMN_OF_DECISION.items() if column == "kept"]
    return (
        select(
            Container,
            Season,
            Deposit.number.label("deposit"),
            Square.name.label("square"),
            func.sum(case((sherds.diagnostic, sherds.pieces), else_=0)).label("diagnostic"),
            func.sum(case((sherds.diagnostic, 0), else_=sherds.pieces)).label("others"),
        )
        .join(Season, Container.season_id == Season.id)
        .join(table, sherds.container_id == Container.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .where(
            Container.standing.in_(SORTED),
            Container.material.in_(MARKED_MATERIALS),
            sherds.decision.in_(kept),
            sherds.pieces > 0,
        )
        .group_by(Container.id, Season.id, Deposit.id, Square.id)
        .order_by(Deposit.number_key, Container.number_key, Container.id)
    )


def _mark(row: Row[Any], facts: ExcavationFacts) -> MarkToWrite:
    container = row.Container
    deposit, square = row.deposit or "", row.square or ""
    lines = mark_of(container, row.Season, deposit, square, facts.code)
    return MarkToWrite(
        container_id=container.id,
        code=container.code,
        number=container.number,
        deposit=deposit,
        square=square,
        material=container.material,
        lines=lines,
        length_tenths=mark_length_mm(lines),
        diagnostic=row.diagnostic,
        others=row.others,
    )


def marking_sheet(desk: Desk, deposit: str | None = None, *, paper: str = A4) -> PrintedList:
    """Return the list for the marking table: what to ink, how long it becomes, on how many pieces, room for ticks.

    The caution about solvents stands at its head. Refusals: those of ``marks_to_write``, ``unknown_paper``.
    """
    say = Wording(desk)
    marks = marks_to_write(desk, deposit)
    every = say(N_("Kept pieces of sorted {containers}"))
    chosen = say(N_("Kept pieces of {deposit} {number}"), number=marks[0].deposit if marks else deposit)
    return printed(
        say,
        paper,
        title=say(N_("Marking list")),
        filter_words=every if deposit is None else chosen,
        columns=(
            Column(say(N_("{Container}")), 0.8),
            Column(say(N_("Mark")), 2.2),
            Column(say(N_("Longest line")), 0.9, "right"),
            Column(say(N_("Diagnostic")), 0.9, "right"),
            Column(say(N_("Others kept")), 0.9, "right"),
            Column(say(N_("Written by")), 1.2),
            Column(say(N_("Checked by")), 1.2),
        ),
        rows=tuple(_by_deposit(say, marks)),
        count=len(marks),
        when_empty=say(N_("No sorted {container} has kept pieces to mark.")),
        intro=(
            say(WHERE_TO_WRITE),
            say(IN_THREE_COATS),
            say(TOO_SMALL, cm=SMALLEST_MARKED_MM // 10),
        ),
        caution=_solvents(say),
    )


def _solvents(say: Wording) -> CautionSlip | None:
    shown = cautions_at(At.MARK)
    return CautionSlip(say(shown[0].lead), say(shown[0].text)) if shown else None


def _by_deposit(say: Wording, marks: Sequence[MarkToWrite]) -> Iterator[ListRow]:
    deposit: str | None = None
    for one in marks:
        if one.deposit != deposit:
            deposit = one.deposit
            pieces = sum(other.pieces for other in marks if other.deposit == deposit)
            title = say(N_("{Deposit} {number}"), number=deposit or "–")
            yield Section(title, say(N_("{n} pieces"), n=grouped(pieces)))
        length = f"{-(-one.length_tenths // 10)} mm"
        yield (one.number, " / ".join(one.lines), length, grouped(one.diagnostic), grouped(one.others), "", "")
