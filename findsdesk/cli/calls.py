"""What every command's call has in common: its parser, its help, its store, person, station and moment."""

from __future__ import annotations

import argparse
from types import ModuleType

from findsdesk.cli.command_names import Command
from findsdesk.words import N_, _, put

DONE, REFUSED, WRONG_CALL, STORE_FAULT, FOUND_SOMETHING = 0, 1, 2, 3, 4
EXIT_CODES = N_("exit codes: 0 done, 1 refused, 2 wrong call, 3 store fault, 4 prove found something")


def parser_of(command: Command, module: ModuleType) -> argparse.ArgumentParser:
    """Return the parser of a command; its help says what it is for, with an example of the invented excavation."""
    purpose = put(command.purpose)
    parser = argparse.ArgumentParser(
        prog=f"findsdesk {command.name}",
        description=purpose[:1].upper() + purpose[1:] + ".",
        epilog="\n".join([_("example:"), *(f"  {line}" for line in module.EXAMPLE), "", put(EXIT_CODES)]),
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    module.add_arguments(parser)
    return parser


def add_store(parser: argparse.ArgumentParser) -> None:
    """Add the store, the first argument of every command that looks into one."""
    parser.add_argument(
        "store", metavar="STORE", help=_("the store: a file (.findsdesk may be left out) or an address")
    )
    parser.add_argument("--by", metavar="NAME", help=_("who does it, or the beginning of the name (else the director)"))
    parser.add_argument("--station", metavar="NAME", default="terminal", help=_("the station it is done at"))


def add_moment(parser: argparse.ArgumentParser) -> None:
    """Add the moment of what is entered later from paper."""
    parser.add_argument(
        "--at", metavar="MOMENT", help=_("when it truly happened, for a later entry: 2026-07-14T14:40, or 14:40 today")
    )


def add_sure(parser: argparse.ArgumentParser) -> None:
    """Add the answer yes to a question."""
    parser.add_argument("--sure", action="store_true", help=_("answer yes to the question that was asked"))


def add_json(parser: argparse.ArgumentParser) -> None:
    """Add the choice to print for programs."""
    parser.add_argument("--json", action="store_true", help=_("print for programs, as JSON"))
