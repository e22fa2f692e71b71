"""What comes back from a loan, all at once or in parts, in which condition, and what was used up."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from sqlalchemy import select

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding_shelves import loan_of
from findsdesk.desk.ledgers import enter
from findsdesk.desk.lendable import COLUMNS, name_in, thing_named
from findsdesk.desk.loan_rows import LoanFacts, container_with, loan_rows, thing_of
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.packed_bags import use_up_of_bag
from findsdesk.desk.sample_use import use_up_of_a_piece, write_used_up
from findsdesk.desk.shipped import route_of
from findsdesk.desk.steps import come_home
from findsdesk.domain.balance import Entry
from findsdesk.domain.lending import check_return
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Bag, Container, LabSample, Loan, LoanLine, LoanReturn, Piece, ProxySlip
from findsdesk.words import N_


def give_back(
    desk: Desk,
    loan: str,
    what: Sequence[str] = (),
    *,
    pieces: int | None = None,
    used_up: int = 0,
    condition: str = "",
    back_on: date | None = None,
) -> LoanFacts:
    """Write what of a loan came back, in one act; nothing named means all that is still out.

    ``pieces`` and ``used_up`` are said of one thing: 21 of 22 came back; what is not named stays out. What was used
    up leaves the ledger as such. Opposite: ``take_return_back``. Refusals: ``unknown_loan``,
    ``loan_is_back``, ``not_of_this_loan``, ``back_already``, ``one_thing``, ``nothing_back``, ``more_back_than_out``,
    ``used_up_of_a_bag``, ``back_before_lent``, those of finding.
    """
    with desk.deed("give_back") as deed:
        row = loan_of(deed.session, desk, loan)
        day = back_on or deed.today()
        _check(row, day)
        lines = _lines(deed, row, what)
        if (pieces is not None or used_up) and len(lines) != 1:
            raise Refusal("one_thing", N_("Pieces are counted of one thing. Scan it alone, then write how many."))
        for line in lines:
            still = line.pieces - line.pieces_back - line.pieces_used
            _back(deed, row, line, still - used_up if pieces is None else pieces, used_up, condition.strip(), day)
        deed.session.flush()
        _close(deed, row, day)
        said = ", ".join(name_in(deed.session, thing_of(deed.session, line)) for line in lines)
        deed.said = f"{row.number}: {said}"
        deed.session.flush()
        return loan_rows(deed, [row.id])[0]


def _check(row: Loan, day: date) -> None:
    if row.back_on is not None:
        raise Refusal("loan_is_back", N_("Loan {number} is back. Nothing of it is asked for."), number=row.number)
    if day < row.lent_on:
        raise Refusal(
            "back_before_lent",
            N_("Loan {number} left on {lent} and cannot be back on {back}."),
            number=row.number,
            lent=row.lent_on,
            back=day,
        )


def _lines(deed: Deed, row: Loan, what: Sequence[str]) -> list[LoanLine]:
    of_it = select(LoanLine).where(LoanLine.loan_id == row.id).order_by(LoanLine.ordinal)
    if not what:
        return list(deed.session.execute(of_it.where(LoanLine.back_on.is_(None))).scalars())
    return [_line(deed, row, one) for one in dict.fromkeys(what)]


def _line(deed: Deed, row: Loan, which: str) -> LoanLine:
    line, name = line_of(deed, row, which)
    if line.back_on is not None:
        raise Refusal("back_already", N_("{name} is back since {day}."), name=name, day=line.back_on)
    return line


def line_of(deed: Deed, row: Loan, which: str) -> tuple[LoanLine, str]:
    """Return the line of a thing in a loan, and the name of the thing. Refusals: ``not_of_this_loan``."""
    thing = thing_named(deed.session, deed.desk, which)
    its_line = select(LoanLine).where(LoanLine.loan_id == row.id, COLUMNS[type(thing)] == thing.id)
    line, name = deed.session.execute(its_line).scalar(), name_in(deed.session, thing)
    if line is None:
        raise Refusal(
            "not_of_this_loan",
            N_("{name} did not leave with loan {number}. Check the code, or the number of the loan."),
            name=name,
            number=row.number,
        )
    return line, name


def _back(deed: Deed, loan: Loan, line: LoanLine, pieces: int, used_up: int, condition: str, day: date) -> None:
    thing = thing_of(deed.session, line)
    still = line.pieces - line.pieces_back - line.pieces_used
    check_return(pieces, used_up, still, thing=name_in(deed.session, thing))
    if used_up:
        _used_up(deed, thing, used_up, loan, day)
    deed.write(
        LoanReturn,
        loan_line_id=line.id,
        pieces=pieces,
        used_up=used_up,
        condition=condition,
        back_on=day,
        happened_at=deed.happened_at,
        person_id=deed.person_id,
    )
    line.pieces_back += pieces
    line.pieces_used += used_up
    line.condition_back = condition or line.condition_back
    if line.pieces_back + line.pieces_used == line.pieces:
        line.back_on = day
        _settled(deed, line, thing, day)


def _settled(deed: Deed, line: LoanLine, thing: object, day: date) -> None:
    """Write what follows when the whole of a thing is back: the slip is taken away, the container stands here."""
    if isinstance(thing, Container):
        come_home(deed, thing)
    elif isinstance(thing, LabSample):
        thing.back_on = day
    slips = select(ProxySlip).where(ProxySlip.loan_line_id == line.id, ProxySlip.laid_back_at.is_(None))
    if line.pieces_back:
        for slip in deed.session.execute(slips).scalars():
            slip.laid_back_at = deed.happened_at


def _used_up(deed: Deed, thing: object, pieces: int, loan: Loan, day: date) -> None:
    """Write pieces that the analysis used up out of what is kept, so that the balance holds."""
    if isinstance(thing, LabSample):
        write_used_up(thing, day)
        return
    if isinstance(thing, Piece):
        container = deed.session.get_one(Container, thing.container_id)
        only_here(deed, container)
        share = None if thing.tenths is None else thing.tenths * pieces // max(1, thing.pieces)
        use_up_of_a_piece(deed, container, thing, share or 0, pieces, loan.purpose)
        return
    container = _unsorted(deed, thing)
    only_here(deed, container)
    enter(deed, container, Entry.USED_UP, pieces, why=loan.purpose)
    if isinstance(thing, Bag):
        use_up_of_bag(deed, thing, pieces)


def _unsorted(deed: Deed, thing: object) -> Container:
    """Return the container of finds that nobody sorts here; of sorted ones it must be said which sherds they were."""
    container = container_with(deed.session, thing) if isinstance(thing, Bag | Container) else None
    if container is None or route_of(container.material).sorted_here:
        raise Refusal(
            "used_up_of_a_bag",
            N_("Write which sherds were used up: lift them as pieces, and write the return of each."),
        )
    return container


def _close(deed: Deed, row: Loan, day: date) -> None:
    still = select(LoanLine.id).where(LoanLine.loan_id == row.id, LoanLine.back_on.is_(None)).limit(1)
    if deed.session.execute(still).first() is None:
        row.back_on = day
