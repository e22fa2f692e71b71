"""``findsdesk check-in``: write that containers arrived."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, REFUSED, add_json, add_moment, add_store, add_sure
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import day_named, writing_seat
from findsdesk.cli.several import each
from findsdesk.words import N_, _

if TYPE_CHECKING:
    from findsdesk.desk.checking_in import CheckedIn
    from findsdesk.desk.desk import Desk

EXAMPLE = (
    "findsdesk check-in quay TQT000143B 132 133 --by tessa --station awning",
    "findsdesk check-in quay 132 --deposit 2017 --by tessa",
    "findsdesk check-in quay --end-of-day 2026-07-14 --by tessa",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("tags", nargs="*", metavar="TAG", help=_("tags as scanned, or numbers"))
    parser.add_argument("--deposit", metavar="NUMBER", help=_("the deposit that stands on the tag"))
    parser.add_argument("--material", metavar="NAME", help=_("the material, where it is another one than listed"))
    parser.add_argument("--collected-on", metavar="DAY", help=_("the day it was collected, e.g. 2026-07-14"))
    parser.add_argument(
        "--end-of-day", metavar="DAY", nargs="?", const="", help=_("report what was listed and did not come as missing")
    )
    add_sure(parser)
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Check in each tag; with ``--end-of-day`` report what did not come."""
    from findsdesk.desk.checking_in import close_delivery
    from findsdesk.desk.playing import do

    told = {"deposit": call.deposit, "material": call.material, "collected_on": call.collected_on}
    arguments = {name: text for name, text in told.items() if text is not None}
    if call.sure:
        arguments["sure"] = "yes"
    with writing_seat(call) as desk:
        arrived, refused = each(call.tags, lambda tag: do(desk, "check-in", {"tag": tag} | arguments), call)
        missing: tuple[str, ...] = ()
        if call.end_of_day is not None:
            missing = close_delivery(desk, day_named(desk, call.end_of_day))
        if call.json:
            say_json({"arrived": arrived, "refused": refused, "missing": missing})
        else:
            _say(desk, arrived, call.end_of_day is not None, missing)
    return REFUSED if refused else DONE


def _say(desk: Desk, arrived: list[CheckedIn], ended: bool, missing: tuple[str, ...]) -> None:
    for one in arrived:
        say(_sentence(one), desk.terms, number=one.number, deposit_number=one.deposit or "?", other=one.question,
            crate=one.crate)  # fmt: skip
    if ended and missing:
        say(N_("Missing: {numbers}."), desk.terms, numbers=", ".join(missing))
    elif ended:
        say(N_("Nothing is missing."))


def _sentence(one: CheckedIn) -> str:
    if one.question:
        return N_(
            "{Container} {number}: the tag says {deposit} {other}, the list says {deposit_number}. Checked in; the"
            " supervisor is asked."
        )
    if one.more_of_it:
        return N_("{Container} {number}: more of it came, {deposit} {deposit_number}.")
    if not one.deposit:
        return N_(
            "{Container} {number} is checked in, but it is on no list and nobody said its {deposit}. Its list will"
            " tell; at check-in, --deposit does."
        )
    if one.crate:
        return N_("{Container} {number} is checked in, {deposit} {deposit_number}: into the {crate}.")
    return N_("{Container} {number} is checked in, {deposit} {deposit_number}.")
