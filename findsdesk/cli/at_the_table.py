"""Deeds of the yard and the sorting table for several tags in a row: each done by its name, told, or refused."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from typing import Any

from findsdesk.cli.calls import DONE, REFUSED, add_json, add_moment, add_store, add_sure
from findsdesk.cli.saying import say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.cli.several import each
from findsdesk.words import Terms, _


def add_tags(parser: argparse.ArgumentParser) -> None:
    """Add the store and the tags."""
    add_store(parser)
    parser.add_argument("tags", nargs="+", metavar="TAG", help=_("tags as scanned, or numbers"))


def add_how(parser: argparse.ArgumentParser, *, sure: bool = False) -> None:
    """Add the moment, the answer yes where a question can be asked, and the choice of JSON."""
    if sure:
        add_sure(parser)
    add_moment(parser)
    add_json(parser)


def for_each(
    call: argparse.Namespace, deed: str, arguments: Mapping[str, str | None], tell: Callable[[Any, Terms], None]
) -> int:
    """Do one deed for each tag; what is refused is said on the error stream and the rest goes on."""
    from findsdesk.desk.playing import do

    given = {name: text for name, text in arguments.items() if text is not None}
    if getattr(call, "sure", False):
        given["sure"] = "yes"
    with writing_seat(call) as desk:
        done, refused = each(call.tags, lambda tag: do(desk, deed, {"tag": tag} | given), call)
    if call.json:
        say_json({"done": done, "refused": refused})
    else:
        for one in done:
            tell(one, call.terms)
    return REFUSED if refused else DONE
