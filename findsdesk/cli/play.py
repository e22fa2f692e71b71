"""``findsdesk play``: play a file of acts through the use cases."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, REFUSED, add_json, add_store
from findsdesk.cli.saying import say_json
from findsdesk.cli.seat import writing_seat
from findsdesk.words import _, plural

if TYPE_CHECKING:
    from findsdesk.desk.playing import Played
    from findsdesk.words import Terms

EXAMPLE = (
    "findsdesk play quay demo_db/season.acts",
    "",
    _("a line of the file:"),
    "  2026-07-14T14:48  tessa@awning  check-in 132 deposit=2017   # WHEN PERSON@STATION DEED ARGUMENTS",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("acts", type=Path, metavar="ACTS", help=_("the file of acts; a second time it adds nothing"))
    parser.add_argument("--stop-at-refusal", action="store_true", help=_("stop at the first act that is refused"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Play the file; what was refused is listed with its line, and the rest goes on."""
    from findsdesk.desk.playing import play_file

    with writing_seat(call) as desk:
        played = play_file(desk, call.acts, stop_at_refusal=call.stop_at_refusal)
    say_refused(played, call.acts.name, call.terms)
    if call.json:
        refused = [
            {
                "line": one.line_number,
                "deed": one.deed,
                "code": one.refusal.code,
                "said": one.refusal.in_words(call.terms),
            }
            for one in played.refused
        ]
        say_json({"done": played.done, "already": played.already, "refused": refused})
    else:
        say_played(played, call.acts.name)
    return REFUSED if played.refused else DONE


def say_played(played: Played, name: str) -> None:
    """Print how many acts were played, and how many were there already."""
    parts = [plural("{n} act played", "{n} acts played", played.done)]
    if played.already:
        parts.append(plural("{n} was here already", "{n} were here already", played.already))
    if played.refused:
        parts.append(plural("{n} was refused", "{n} were refused", len(played.refused)))
    print(f"{name}: {', '.join(parts)}.")


def say_refused(played: Played, name: str, terms: Terms) -> None:
    """Print what was refused on the error stream, each with its line and deed."""
    for one in played.refused:
        print(f"{name}:{one.line_number}: {one.deed}: {one.refusal.in_words(terms)}", file=sys.stderr)
