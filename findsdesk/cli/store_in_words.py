"""Boxes, places and loans as the terminal shows them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from findsdesk.cli.saying import say, say_table
from findsdesk.words import N_, CountOf, grouped, put

if TYPE_CHECKING:
    from findsdesk.desk.box_proposals import BoxProposal
    from findsdesk.desk.boxing import BagInBox, BoxWithBags
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.in_store import InStore
    from findsdesk.desk.loan_rows import LoanFacts
    from findsdesk.desk.proxy_slips import SlipFacts
    from findsdesk.desk.shelves import PlaceWithBoxes
    from findsdesk.domain.cautions import Caution


def say_stored(desk: Desk, stored: InStore) -> None:
    """Print what the code of a box, a place or a loan stands for."""
    from findsdesk.desk.boxing import BoxWithBags
    from findsdesk.desk.loan_rows import LoanFacts

    if isinstance(stored, BoxWithBags):
        say_box(desk, stored)
    elif isinstance(stored, LoanFacts):
        say_loan(desk, stored)
    else:
        _say_place(desk, stored)


def say_box(desk: Desk, held: BoxWithBags) -> None:
    """Print a box with its bags."""
    box = held.box
    say(
        N_("Box {number} ({code}), {kind}: {weight} of {limit} kg, {bags}, {pieces}, {full} % full"),
        desk.terms,
        number=box.number,
        code=box.code,
        kind=put(box.kind_name),
        weight=f"{box.tenths / 10_000:.1f}",
        limit=f"{box.limit_tenths / 10_000:.1f}",
        bags=CountOf("{n} bag", "{n} bags", box.bags),
        pieces=CountOf("{n} piece", "{n} pieces", box.pieces),
        full=box.full_permille // 10,
    )
    print(f"  {box.place or put(N_('at no place yet'))}")
    if box.away is not None:
        when = f"{box.away.since.astimezone(desk.facts.zone):%Y-%m-%d %H:%M}"
        say(N_("  away: {to}, since {when}"), None, to=box.away.to, when=when)
    print(f"  {put(box.care)}")
    _say_bags(desk, held.bags)


def _say_bags(desk: Desk, bags: Sequence[BagInBox]) -> None:
    if not bags:
        return
    heads = (N_("Bag"), N_("{Container}"), N_("{Deposit}"), N_("What"), N_("Count"), N_("Grams"), N_("Slips"))
    rows = [
        (
            one.bag.code,
            one.bag.number,
            one.bag.deposit,
            one.bag.what,
            one.bag.pieces,
            None if one.tenths is None else f"{one.tenths / 10:,.1f}",
            one.slips or None,
        )
        for one in bags
    ]
    say_table([put(head, desk.terms) for head in heads], rows)


def _say_place(desk: Desk, held: PlaceWithBoxes) -> None:
    place = held.place
    say(
        N_("{path} ({code}): {boxes}, {bags}, {pieces}, {weight} kg"),
        None,
        path=place.path,
        code=place.code,
        boxes=CountOf("{n} box", "{n} boxes", place.boxes),
        bags=CountOf("{n} bag", "{n} bags", place.bags),
        pieces=CountOf("{n} piece", "{n} pieces", place.pieces),
        weight=f"{place.tenths / 10_000:.1f}",
    )
    if held.boxes:
        heads = (N_("Box"), N_("Kind"), N_("Bags"), N_("Kilograms"), N_("Full, %"), N_("{Deposits}"), N_("Away"))
        rows = [
            (
                box.number,
                put(box.kind_name),
                box.bags,
                f"{box.tenths / 10_000:.1f}",
                box.full_permille // 10,
                ", ".join(box.deposits),
                box.away.to if box.away is not None else "",
            )
            for box in held.boxes
        ]
        say_table([put(head, desk.terms) for head in heads], rows)
    _say_bags(desk, held.loose)


def say_proposal(desk: Desk, proposal: BoxProposal) -> None:
    """Print a proposal of boxes, how few could do, and what it leaves out."""
    heads = (N_("Box"), N_("Kind"), N_("Bags"), N_("Kilograms"), N_("Litres"), N_("{Deposits}"))
    rows = [
        (
            place,
            put(box.kind_name),
            len(box.bags),
            f"{box.tenths / 10_000:.1f}",
            f"{box.volume_ml / 1000:.1f}",
            ", ".join(box.deposits),
        )
        for place, box in enumerate(proposal.boxes, 1)
    ]
    if rows:
        say_table([put(head, desk.terms) for head in heads], rows)
    say(
        N_("{boxes} of at most {limit} kg; fewer than {fewest} cannot do."),
        None,
        boxes=CountOf("{n} box", "{n} boxes", len(proposal.boxes)),
        limit=f"{proposal.limit_tenths / 10_000:.1f}",
        fewest=grouped(proposal.fewest),
    )
    if proposal.too_large:
        say(N_("Too heavy or too large for any box: {bags}"), None, bags=", ".join(b.code for b in proposal.too_large))
    if proposal.unweighed:
        say(N_("Not weighed, counted as nothing: {bags}"), None, bags=", ".join(b.code for b in proposal.unweighed))
    say_cautions(proposal.cautions)


def say_cautions(cautions: Sequence[Caution]) -> None:
    """Print the cautions of a step."""
    for one in cautions:
        print(f"{put(one.lead)} {put(one.text)}")


def say_loans(loans: Sequence[LoanFacts]) -> None:
    """Print loans, a line each."""
    from findsdesk.domain.lending import LOAN_IN_WORDS

    heads = (N_("Loan"), N_("Stands"), N_("Who has it"), N_("What for"), N_("Lent"), N_("Due"), N_("Count"),
             N_("Still out"), N_("Days overdue"))  # fmt: skip
    rows = [
        (
            one.number,
            put(LOAN_IN_WORDS[one.standing]),
            one.borrower,
            one.purpose,
            one.lent_on,
            one.due_on,
            one.pieces,
            one.still_out or None,
            one.days_overdue or None,
        )
        for one in loans
    ]
    say_table([put(head) for head in heads], rows)


def say_loan(desk: Desk, loan: LoanFacts) -> None:
    """Print a loan with its lines, the reminders and the results."""
    say_loans([loan])
    print(f"  {' · '.join(part for part in (loan.code, loan.address, loan.permit, loan.note) if part)}")
    heads = (N_("What"), N_("{Deposit}"), N_("Count"), N_("Condition out"), N_("Came back"), N_("Used up"),
             N_("Condition back"), N_("Back"))  # fmt: skip
    rows = [
        (
            line.name,
            line.deposit,
            line.pieces,
            line.condition_out,
            line.pieces_back,
            line.pieces_used or None,
            line.condition_back,
            line.back_on,
        )
        for line in loan.lines
    ]
    say_table([put(head, desk.terms) for head in heads], rows)
    for asked in loan.chased:
        when = f"{asked.happened_at.astimezone(desk.facts.zone):%Y-%m-%d %H:%M}"
        print("  ".join(part for part in ("", when, asked.person, asked.how, asked.answer) if part))
    for result in loan.results:
        print(f"  {result.file_name}  {result.sha256[:12]}  {result.note}".rstrip())


def say_slips(desk: Desk, slips: Sequence[SlipFacts]) -> None:
    """Print proxy slips, a line each."""
    heads = (N_("Slip"), N_("In bag"), N_("{Container}"), N_("Taken out"), N_("Count"), N_("Why"), N_("Went to"),
             N_("Since"))  # fmt: skip
    rows = [
        (
            one.number,
            one.bag_code,
            one.container,
            one.what,
            one.pieces,
            one.why,
            one.went_to,
            one.made_at.astimezone(desk.facts.zone).date(),
        )
        for one in slips
    ]
    say_table([put(head, desk.terms) for head in heads], rows)
