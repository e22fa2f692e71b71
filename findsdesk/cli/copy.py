"""``findsdesk copy``: make a verified copy of the store, list the copies, or write one as a new store."""

from __future__ import annotations

import argparse
from pathlib import Path

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import writing_seat
from findsdesk.words import N_, CountOf, _, put

EXAMPLE = (
    "findsdesk copy quay",
    "findsdesk copy quay --list",
    "findsdesk copy quay --restore newest --into quay-again",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("--list", action="store_true", help=_("list the copies there are"))
    parser.add_argument("--restore", metavar="COPY", help=_("write a copy (a file, or newest) as a new store"))
    parser.add_argument("--into", metavar="STORE", help=_("the new store; nothing is ever written over"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Copy the store and check the copy, list the copies, or restore one."""
    if call.restore:
        return _restore(call)
    if call.list:
        return _list(call)
    with writing_seat(call) as desk:
        made = desk.copy()
    if call.json:
        say_json(made)
    elif made is None:
        say(N_("A store on a server is copied there, by whoever looks after it."))
    else:
        say(
            N_("A checked copy with {acts}: {file}"),
            call.terms,
            acts=CountOf("{n} act", "{n} acts", made.acts),
            file=made.path,
        )
    return DONE


def _list(call: argparse.Namespace) -> int:
    from findsdesk.desk.restoring import kept_copies

    copies = kept_copies(call.store)
    if call.json:
        say_json(copies)
    else:
        heads = [put(one) for one in (N_("Made (UTC)"), N_("Head"), N_("File"))]
        say_table(heads, ((one.made_at, one.head, one.path) for one in copies))
    return DONE


def _restore(call: argparse.Namespace) -> int:
    from findsdesk.desk.restoring import kept_copies, proposed_name, restore
    from findsdesk.domain.refusals import Refusal

    copies = kept_copies(call.store)
    if call.restore == "newest":
        if not copies:
            raise Refusal("no_copies", N_("There is no copy of {store} yet."), store=call.store)
        chosen = copies[0].path
    else:
        chosen = Path(call.restore)
    written = restore(chosen, call.into or proposed_name(chosen))
    if call.json:
        say_json({"store": written})
    else:
        say(N_("The copy is written as a new store: {file}"), call.terms, file=written)
    return DONE
