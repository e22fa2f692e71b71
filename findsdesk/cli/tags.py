"""``findsdesk tags``: issue a block of tags in number order, list those still out, and print them."""

from __future__ import annotations

import argparse
from pathlib import Path

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.labels import write_pdf
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.words import N_, _

EXAMPLE = (
    'findsdesk tags quay 20 --supervisor "Bryn Hallo" --pdf tags.pdf --by mika',
    "findsdesk tags quay",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("how_many", nargs="?", type=int, metavar="HOW_MANY", help=_("how many tags to issue"))
    parser.add_argument("--supervisor", default="", metavar="NAME", help=_("to whom"))
    parser.add_argument("--material", default="pottery", metavar="NAME", help=_("for which material"))
    parser.add_argument("--season", metavar="NAME", help=_("for which season (else the one this day falls in)"))
    parser.add_argument("--square", metavar="NAME", help=_("for which square, where numbers run by square"))
    parser.add_argument("--pdf", metavar="FILE", type=Path, help=_("print them into this file"))
    parser.add_argument("--stock", metavar="NAME", help=_("the tag stock; findsdesk stocks lists them"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Issue tags; without a number, list the blocks and what of them is still out."""
    if call.how_many is None:
        return _blocks(call)
    from findsdesk.desk.printing import PrintKind, print_labels, stocks
    from findsdesk.desk.tags import issue_tags

    with writing_seat(call) as desk:
        block = issue_tags(
            desk,
            how_many=call.how_many,
            supervisor=call.supervisor,
            material=call.material,
            season=call.season,
            square=call.square,
        )
        if call.pdf is not None:
            stock = call.stock or next(one.name for one in stocks() if one.kind == "tag")
            sheets = print_labels(desk, PrintKind.TAG, stock=stock, codes=tuple(tag.code for tag in block.tags))
            write_pdf(sheets.pdf, call.pdf)
    if call.json:
        say_json(block)
    else:
        say(N_("Tags {first} to {last} are issued."), call.terms, first=block.first_number, last=block.last_number)
        say_table((call.terms.container, _("code")), [(tag.number, tag.code) for tag in block.tags])
    return DONE


def _blocks(call: argparse.Namespace) -> int:
    from findsdesk.desk.tags import blocks

    with reading_seat(call) as desk:
        issued = blocks(desk)
    if call.json:
        say_json(issued)
    else:
        headers = (_("first"), _("last"), _("supervisor"), _("still out"))
        say_table(headers, [(one.first_number, one.last_number, one.supervisor, len(one.tags)) for one in issued])
    return DONE
