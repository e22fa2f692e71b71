"""``findsdesk tags``: issue tags in number order, print them, and see which are out."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store, add_sure
from findsdesk.cli.paper_calls import add_paper, confirm, put_on_paper
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import writing_seat
from findsdesk.words import N_, _, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.tags import IssuedBlock

EXAMPLE = (
    'findsdesk tags quay --issue 5 --for "Bryn Hallo" --by mika --station registry',
    "findsdesk tags quay --out tags.pdf --by mika      (all that were never printed)",
    "findsdesk tags quay --came-out-well tags.pdf --by mika",
    "findsdesk tags quay                               (which are out)",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("codes", nargs="*", metavar="TAG", help=_("tags to print; else all that were never printed"))
    parser.add_argument("--issue", metavar="HOW_MANY", help=_("issue so many tags, in number order"))
    parser.add_argument("--for", dest="supervisor", default="", metavar="NAME", help=_("the supervisor they go to"))
    parser.add_argument("--material", default="pottery", metavar="NAME", help=_("the material they are meant for"))
    parser.add_argument("--season", metavar="NAME", help=_("the season, where it is not the one of today"))
    parser.add_argument("--square", metavar="NAME", help=_("the square, where numbers run within each"))
    add_paper(parser, "a4-2x4-97x67")
    add_moment(parser)
    add_sure(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Issue tags, print them, or list the blocks that are out."""
    from findsdesk.desk.laying_out import lay_out_field_tags

    with writing_seat(call) as desk:
        if call.issue is not None:
            _issue(call, desk)
        if call.out is not None:
            where = {"stock": call.stock, "first_place": call.first_place, "printer": call.printer}
            sheets = lay_out_field_tags(desk, call.codes or None, **where)
            return put_on_paper(call, desk, sheets)
        if call.came_out_well:
            return confirm(call, desk)
        if call.issue is None:
            _list(call, desk)
    return DONE


def _issue(call: argparse.Namespace, desk: Desk) -> None:
    from findsdesk.desk.playing import do

    said = {"how_many": call.issue, "supervisor": call.supervisor, "material": call.material}
    said |= {name: getattr(call, name) for name in ("season", "square") if getattr(call, name)}
    if call.sure:
        said["sure"] = "yes"
    block = do(desk, "issue-tags", said)
    if call.json and call.out is None:
        say_json(block)
    elif not call.json:
        _say_issued(call, block)


def _say_issued(call: argparse.Namespace, block: IssuedBlock) -> None:
    facts = {"first": block.first_number, "last": block.last_number, "who": block.supervisor}
    if len(block.tags) == 1:
        text = N_("Tag {first} is issued to {who}.") if block.supervisor else N_("Tag {first} is issued.")
    elif block.supervisor:
        text = N_("Tags {first} to {last} are issued to {who}.")
    else:
        text = N_("Tags {first} to {last} are issued.")
    say(text, call.terms, **facts)


def _list(call: argparse.Namespace, desk: Desk) -> None:
    from findsdesk.desk.tags import blocks

    listed = [block for block in blocks(desk) if block.tags]
    if call.json:
        say_json(listed)
        return
    heads = [put(one) for one in (N_("First"), N_("Last"), N_("Supervisor"), N_("Out"))]
    say_table(heads, ((one.first_number, one.last_number, one.supervisor, len(one.tags)) for one in listed))
