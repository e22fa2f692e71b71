"""A return of a loan that was written by mistake, answered by its opposite: what counts as back is out again."""

from __future__ import annotations

from sqlalchemy import select

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.finding_shelves import loan_of
from findsdesk.desk.lendable import lendable
from findsdesk.desk.loan_returns import line_of
from findsdesk.desk.loan_rows import LoanFacts, loan_rows
from findsdesk.desk.loans import keep_here
from findsdesk.desk.lying import close_taking_out
from findsdesk.desk.setting_up import need_text
from findsdesk.desk.steps import parts_of, stand, take_step
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import StepKind
from findsdesk.store.models import Bag, Box, Container, LabSample, Loan, LoanLine, LoanReturn, ProxySlip
from findsdesk.words import N_, CountOf


def take_return_back(desk: Desk, loan: str, what: str, *, why: str, pieces: int | None = None) -> LoanFacts:
    """Write that pieces of one thing of a loan are not back after all: all that count as back, or so many.

    The returns stay in the journal and are answered. What was used up stays so. Opposite: ``give_back``. Refusals:
    ``empty`` (why), ``unknown_loan``, ``not_of_this_loan``, ``not_back``, ``more_than_back``, ``fewer_here``, those of
    finding, and of lending what is whole: what was lent, discarded or used up since is not out with this loan.
    """
    with desk.deed("take_return_back") as deed:
        reason = need_text(why, N_("reason")) or ""
        keep_here(deed, [what])
        row = loan_of(deed.session, desk, loan)
        line, name = line_of(deed, row, what)
        out = line.pieces_back if pieces is None else pieces
        _check(line, name, out)
        if line.back_on is not None:
            _leaves_again(deed, row, line, what, out)
        deed.write(
            LoanReturn,
            loan_line_id=line.id,
            pieces=-out,
            used_up=0,
            condition=reason,
            back_on=deed.today(),
            happened_at=deed.happened_at,
            person_id=deed.person_id,
        )
        line.pieces_back -= out
        line.back_on = row.back_on = None
        if not line.pieces_back:
            line.condition_back = ""
        deed.said = f"{row.number}: {name}, {out}: {reason}"
        deed.session.flush()
        return loan_rows(deed, [row.id])[0]


def _check(line: LoanLine, name: str, out: int) -> None:
    if not line.pieces_back:
        raise Refusal("not_back", N_("Nothing of {name} counts as back. What was used up stays used up."), name=name)
    if not 0 < out <= line.pieces_back:
        raise Refusal(
            "more_than_back",
            N_("Of {name} {back} count as back: at least 1 and at most so many can be out after all."),
            name=name,
            back=line.pieces_back,
        )


def _leaves_again(deed: Deed, row: Loan, line: LoanLine, what: str, out: int) -> None:
    """Undo what followed when the whole of a thing was back: it is out, and its slip lies in the bag again."""
    thing = lendable(deed.session, deed.desk, what)
    if thing.pieces < out:
        raise Refusal(
            "fewer_here",
            N_("{name} holds only {here} since it came back, not {out}. Write how many are out after all."),
            name=thing.name,
            here=CountOf("{n} piece", "{n} pieces", thing.pieces),
            out=out,
        )
    if isinstance(thing.row, Bag | Box):
        close_taking_out(deed, thing.row)
    elif isinstance(thing.row, Container):
        take_step(deed, thing.row, StepKind.HANDED_ON, place=row.borrower, note=row.purpose)
        for part in parts_of(deed, thing.row):
            stand(deed, part, "gone", row.borrower)
    elif isinstance(thing.row, LabSample):
        thing.row.back_on = None
    of_line = select(ProxySlip).where(ProxySlip.loan_line_id == line.id, ProxySlip.laid_back_at.is_not(None))
    for slip in deed.session.execute(of_line).scalars():
        slip.laid_back_at = None
