"""``findsdesk deposits``: open, close, change, renumber, merge and split deposits, or list them."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store, add_sure
from findsdesk.cli.registers import say_register
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf, _, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.redoing import ThingToRedo
    from findsdesk.desk.renumbering import Concordance

EXAMPLE = (
    "findsdesk deposits quay                                            (those that are open)",
    "findsdesk deposits quay open 2032 square=B2 kind=fill opening=3.918 --by bryn",
    "findsdesk deposits quay close 2017 benchmark=4.500 backsight=0.842 foresight=1.601 --by bryn",
    'findsdesk deposits quay renumber 2003 to=2031 reason="the same silt" --by mika',
    'findsdesk deposits quay split 2017 containers=131,142 to=2033 reason="a pit in it" --by bryn',
    "findsdesk deposits quay write-again                                (what is to be written again)",
)
_DEEDS = {
    "open": "open-deposit",
    "close": "close-deposit",
    "change": "change-deposit",
    "renumber": "renumber-deposit",
    "merge": "merge-deposits",
    "split": "split-deposit",
    "mixed": "declare-mixed",
    "move": "move-container",
    "written-again": "written-again",
}
_LISTS = ("list", "concordance", "write-again")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    known = ", ".join((*_LISTS, *_DEEDS))
    parser.add_argument("what", nargs="?", default="list", choices=(*_LISTS, *_DEEDS), metavar="WHAT", help=known)
    parser.add_argument(
        "number", nargs="?", metavar="NUMBER", help=_("the deposit (for move and written-again: the tag)")
    )
    parser.add_argument("words", nargs="*", metavar="KEY=VALUE", help=_("what is to be said of it"))
    add_sure(parser)
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Do the deed, or list."""
    return _list(call) if call.what in _LISTS else _do(call)


def _do(call: argparse.Namespace) -> int:
    from findsdesk.desk.playing import do

    if call.number is None:
        raise Refusal("no_number", N_("Name the {deposit} by its number."))
    said = dict(_pair(word) for word in call.words)
    if call.sure:
        said["sure"] = "yes"
    with writing_seat(call) as desk:
        result = do(desk, _DEEDS[call.what], said, (call.number,))
    if call.json:
        say_json(result)
    else:
        _say(call, result)
    return DONE


def _say(call: argparse.Namespace, result: Any) -> None:
    facts = getattr(result, "deposit", result)
    if hasattr(facts, "opened"):
        text = N_("{Deposit} {number} in {square}: opened {opened}, closed {closed}, {inside}.")
        closed = facts.closed or "–"
        say(text, call.terms, number=facts.number, opened=facts.opened, closed=closed, square=facts.square,
            inside=CountOf("{n} {container}", "{n} {containers}", facts.containers))  # fmt: skip
    else:
        say(N_("Done: {deed}."), call.terms, deed=call.what)
    asked = getattr(result, "asked", None)
    if asked is not None and asked.together:
        things = ", ".join(str(one) for one in asked.counts)
        say(N_("To be written again: {things}."), call.terms, things=things)


def _list(call: argparse.Namespace) -> int:
    from findsdesk.desk.deposit_facts import open_deposits
    from findsdesk.desk.redoing import things_to_redo
    from findsdesk.desk.registers import Register, RegisterQuery, count
    from findsdesk.desk.renumbering import concordance

    with reading_seat(call) as desk:
        listing: Callable[[Desk], Any] = {"concordance": concordance, "write-again": things_to_redo}.get(
            call.what, open_deposits
        )
        rows = listing(desk)
        if call.json:
            say_json(rows)
        elif not rows:
            say(N_("Nothing stands on this list."))
        elif call.what == "list":
            say_register(desk, Register.DEPOSITS, rows)
            text = N_("These are open, {n} of {all}. All of them: findsdesk registers STORE deposits.")
            say(text, call.terms, n=len(rows), all=count(desk, Register.DEPOSITS, RegisterQuery()))
        elif call.what == "write-again":
            _say_redo(desk, rows)
        else:
            _say_concordance(desk, rows)
    return DONE


def _say_redo(desk: Desk, rows: Iterable[ThingToRedo]) -> None:
    from findsdesk.desk.redoing import WRITTEN_IN_WORDS

    heads = (N_("What"), N_("{Container} or box"), N_("Bag or piece"), N_("How many"), N_("Says"), N_("Has to say"))
    shown = [
        (
            put(WRITTEN_IN_WORDS[row.what]),
            row.number,
            row.bag_code or row.piece_code,
            row.pieces,
            row.said,
            row.says_now,
        )
        for row in rows
    ]
    say_table([put(head, desk.terms) for head in heads], shown)


def _say_concordance(desk: Desk, rows: Iterable[Concordance]) -> None:
    from findsdesk.domain.deposits import HOW_NUMBERED_IN_WORDS

    heads = (N_("{Deposit}"), N_("Is now"), N_("How"), N_("When"), N_("Who"), N_("Why"))
    shown = [
        (
            row.number,
            row.now,
            put(HOW_NUMBERED_IN_WORDS[row.how]),
            row.when.astimezone(desk.facts.zone),
            row.who,
            row.reason,
        )
        for row in rows
    ]
    say_table([put(head, desk.terms) for head in heads], shown)


def _pair(text: str) -> tuple[str, str]:
    name, sign, value = text.partition("=")
    if not sign:
        raise Refusal("pair_unreadable", N_("{text} is no pair. Write NAME=VALUE."), text=text)
    return name.strip(), value
