"""``findsdesk find``: the dossier of a container, a bag, a piece or a deposit; a box, a place or a loan by its code.

What is no code and no number of anything is looked for by its words.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import STANDING_IN_WORDS
from findsdesk.domain.season_end import STAYS_AS_IN_WORDS
from findsdesk.words import N_, _, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.dossier_pieces import PieceInHand
    from findsdesk.desk.dossiers import DepositDossier, Dossier
    from findsdesk.desk.searching import Findings

EXAMPLE = (
    "findsdesk find quay 131",
    "findsdesk find quay TQB000012N        (what the bag's label stands for)",
    "findsdesk find quay 131.4             (a piece, with its container)",
    "findsdesk find quay 2003              (a deposit, old numbers too)",
    "findsdesk find quay stopper           (what is no number is looked for everywhere)",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument(
        "what",
        metavar="CODE",
        help=_("a tag, a bag, a piece, a box, a place, a loan, a container's number or a deposit's"),
    )
    parser.add_argument(
        "--deposit", action="store_true", help=_("a deposit is meant, where a container has that number")
    )
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Show the dossier of what was scanned or typed."""
    from findsdesk.cli.search import say_findings
    from findsdesk.cli.store_in_words import say_stored
    from findsdesk.desk.dossiers import Dossier, deposit_dossier
    from findsdesk.desk.in_store import found_in_store
    from findsdesk.desk.searching import Findings

    with reading_seat(call) as desk:
        stored = None if call.deposit else found_in_store(desk, call.what)
        if stored is not None:
            say_json(stored) if call.json else say_stored(desk, stored)
            return DONE
        found = deposit_dossier(desk, call.what) if call.deposit else _found(desk, call.what)
        if isinstance(found, Findings):
            say_json(found) if call.json else say_findings(desk, found)
        elif call.json:
            say_json(found)
        elif isinstance(found, Dossier):
            _say_container(desk, found)
        else:
            _say_deposit(desk, found)
    return DONE


def _found(desk: Desk, what: str) -> Dossier | DepositDossier | Findings:
    """Return the dossier of a code or number; what is neither, and holds a word, is looked for everywhere."""
    from findsdesk.desk.dossiers import find
    from findsdesk.desk.searching import found_by_words

    try:
        return find(desk, what)
    except Refusal as refusal:
        found = found_by_words(desk, what, refusal)
        if found is None:
            raise
        return found


def _say_piece(desk: Desk, found: PieceInHand) -> None:
    """Say which piece was named, what it is and what it joins."""
    piece = found.piece
    rim = "" if piece.rim_diameter_mm is None else f"{piece.rim_diameter_mm} mm"
    print("  " + " · ".join(part for part in (piece.name, piece.code, piece.ware, piece.part, piece.form, rim) if part))
    for join in found.joins:
        other = join.other_than(piece.id)
        text = (
            N_("joins {name}, {deposit} {number}") if join.certain else N_("perhaps joins {name}, {deposit} {number}")
        )
        say(text, desk.terms, name=other.name, number=other.deposit or "–")


def _say_container(desk: Desk, found: Dossier) -> None:
    from findsdesk.desk.life_words import life_in_words

    say(
        N_("{Container} {number}, {deposit} {deposit_number}, {square} {its_square}, season {season} ({permit})"),
        desk.terms,
        number=found.number,
        deposit_number=found.deposit or "–",
        its_square=found.square or "–",
        season=found.season,
        permit=found.permit,
    )
    if found.piece is not None:
        _say_piece(desk, found.piece)
    print("  " + " · ".join(part for part in (found.code, put(found.route.name), found.description) if part))
    print(
        "  "
        + put(N_("Stands as: {standing}"), desk.terms, {"standing": put(STANDING_IN_WORDS[found.standing], desk.terms)})
    )
    if found.carried is not None:
        stays_as = put(STAYS_AS_IN_WORDS[found.carried.stays_as], desk.terms)
        facts = {"carried": stays_as, "season": found.carried.season}
        print(f"  {put(N_('{carried} since the end of season {season}'), desk.terms, facts)}")
    print()
    rows = [
        (
            f"{step.happened_at.astimezone(desk.facts.zone):%Y-%m-%d %H:%M}",
            put(said, desk.terms),
            "" if step.pieces is None else step.pieces,
            step.who,
            " · ".join(
                part for part in (step.place, step.note, put(N_("entered later")) if step.entered_later else "") if part
            ),
        )
        for step, said in zip(found.life, life_in_words(found.life), strict=True)
    ]
    say_table([put(one) for one in (N_("When"), N_("Step"), N_("Count"), N_("Who"), N_("Note"))], rows)
    ledger = found.ledger
    if ledger.expected or ledger.accounted:
        print()
        print("  " + _where_all_of_it_is(desk, found))
    for bag in found.bags:
        state = put(N_("labelled")) if bag.labelled else put(N_("no label yet"))
        box = put(N_("box {number}"), None, {"number": bag.lies.box}) if bag.lies and bag.lies.box else ""
        lies = [one for one in (box, bag.lies.place, bag.lies.away) if one] if bag.lies else []
        print("  ".join(["", bag.code, bag.what, str(bag.pieces), state, ", ".join(lies)]).rstrip())


def _where_all_of_it_is(desk: Desk, found: Dossier) -> str:
    """Return the pieces that came in, and every end of some of them: together they are the sum."""
    from findsdesk.desk.balances import where_it_is
    from findsdesk.domain.discards import Stage

    ledger = found.ledger
    signed = sum(one.pieces for one in found.discards if one.stage in (Stage.SIGNED, Stage.INSPECTED))
    ends = [f"{n:,} {put(words, desk.terms)}" for _name, words, n in where_it_is(ledger, signed) if n > 0]
    over = [put(N_("{n} over"), None, {"n": f"{ledger.over:,}"})] if ledger.over else []
    facts = {"expected": f"{ledger.expected:,}", "ends": ", ".join(ends)}
    whole = put(N_("Of {expected}: {ends}."), desk.terms, facts)
    return " ".join((whole, *(put(N_("{over}: count again or correct it."), None, {"over": one}) for one in over)))


def _say_deposit(desk: Desk, found: DepositDossier) -> None:
    text = N_("{Deposit} {number} in {square} {its_square}: {kind}, opened {opened}, closed {closed}")
    say(text, desk.terms, number=found.number, its_square=found.square, kind=found.kind, opened=found.opened,
        closed=found.closed or "–")  # fmt: skip
    if found.asked_for != found.number:
        say(N_("It had the number {old} once."), desk.terms, old=found.asked_for)
    heads = [put(one, desk.terms) for one in (N_("{Container}"), N_("Material"), N_("Stands as"))]
    rows = [
        (number, material, put(STANDING_IN_WORDS[standing], desk.terms))
        for number, material, standing in found.containers
    ]
    say_table(heads, rows)
