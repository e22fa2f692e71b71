"""The form that goes with a loan to a specialist, and the one on which it comes back. Plain values in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from findsdesk.paper.list_kinds import CautionSlip, Column, ListRow, Signature
from findsdesk.paper.page_frame import PageHead
from findsdesk.paper.report_kinds import Facts, Heading, Part, Report, Table, Words
from findsdesk.words import N_, grouped


@dataclass(frozen=True, slots=True)
class ThingOnLoan:
    """A thing that goes out: its code, where it is from, what it is; ``back`` are the pieces that came back."""

    code: str
    deposit: str
    container: str
    what: str
    pieces: int
    tenths: int | None
    condition: str = ""
    back: int = 0


@dataclass(frozen=True, slots=True)
class LoanOnPaper:
    """A loan: its number, to whom and what for, since when and until when, under which permit, and its things."""

    number: str
    to: str
    address: str
    purpose: str
    since: date
    due: date | None
    permit: str
    things: tuple[ThingOnLoan, ...]
    insured: str = ""


TERMS_OF_A_LOAN = (
    N_("The finds stay the excavation's and the state's; they go to nobody else and leave the country only by permit."),
    N_("Nothing is cut, ground, drilled or taken off without the director's written word and the authority's permit."),
    N_("Tags and bags stay with the finds; what comes apart or is lost is told at once."),
)
"""Common practice, no source; the permit in hand and the authority's own text come first."""


def loan_form(head: PageHead, loan: LoanOnPaper, caution: CautionSlip | None = None) -> Report:
    """Return the form that goes along: what, to whom, until when, on what terms; both sides sign."""

    def parts() -> Iterator[Part]:
        yield from _beginning(head, loan, caution)
        yield _things(head, loan, coming_back=False)
        yield Heading(head.say(N_("On these terms")), 1)
        yield from (Words(head.say(text)) for text in TERMS_OF_A_LOAN)
        yield Signature(head.say(N_("Lent by")))
        yield Signature(head.say(N_("Received by")), loan.to)

    return Report(head, parts)


def return_form(head: PageHead, loan: LoanOnPaper, caution: CautionSlip | None = None) -> Report:
    """Return the form on which a loan comes back: what was lent, what is back already, room for what comes now."""

    def parts() -> Iterator[Part]:
        yield from _beginning(head, loan, caution)
        yield _things(head, loan, coming_back=True)
        out = sum(one.pieces - one.back for one in loan.things)
        yield Words(head.say(N_("Pieces still out when this was printed: {n}."), n=grouped(out)))
        yield Signature(head.say(N_("Given back by")), loan.to)
        yield Signature(head.say(N_("Received by")))

    return Report(head, parts)


def _beginning(head: PageHead, loan: LoanOnPaper, caution: CautionSlip | None) -> Iterator[Part]:
    if caution is not None:
        yield caution
    yield Facts(
        (
            (head.say(N_("Loan")), loan.number),
            (head.say(N_("To")), loan.to),
            (head.say(N_("Address")), loan.address or "–"),
            (head.say(N_("For")), loan.purpose or "–"),
            (head.say(N_("Since")), loan.since.isoformat()),
            (head.say(N_("Due")), loan.due.isoformat() if loan.due else "–"),
            (head.say(N_("Permit")), loan.permit or "–"),
            (head.say(N_("Insured")), loan.insured or "–"),
        )
    )


def _things(head: PageHead, loan: LoanOnPaper, *, coming_back: bool) -> Table:
    def rows() -> Iterator[ListRow]:
        for one in loan.things:
            weight = "–" if one.tenths is None else f"{one.tenths / 10:,.1f}"
            known = (one.code, one.deposit, one.container, one.what, grouped(one.pieces), weight)
            yield (*known, grouped(one.back), "", "") if coming_back else (*known, one.condition)

    columns = [
        Column(head.say(N_("Code")), 1.3),
        Column(head.say(N_("{Deposit}")), 0.8),
        Column(head.say(N_("{Container}")), 0.8),
        Column(head.say(N_("What")), 1.8),
        Column(head.say(N_("Count")), 0.6, "right"),
        Column(head.say(N_("Grams")), 0.8, "right"),
    ]
    last: tuple[str, ...] = ("",)
    if coming_back:
        columns += [
            Column(head.say(N_("Back before")), 0.7, "right"),
            Column(head.say(N_("Back now")), 0.8),
            Column(head.say(N_("Condition")), 1.6),
        ]
        last = (grouped(sum(one.back for one in loan.things)), "", "")
    else:
        columns.append(Column(head.say(N_("Condition")), 2.0))
    sums = grouped(sum(one.pieces for one in loan.things)), f"{sum(one.tenths or 0 for one in loan.things) / 10:,.1f}"
    return Table(
        tuple(columns),
        rows,
        (head.say(N_("Total")), "", "", "", *sums, *last),
        head.say(N_("Nothing stands on this loan.")),
        least=7.5,
        ruled=True,
    )
