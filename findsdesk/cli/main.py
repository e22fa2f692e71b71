"""The terminal: the same use cases as in the window, a command each.

Exit codes: 0 done, 1 refused, 2 wrong call, 3 store fault, 4 ``prove`` found something.
"""

from __future__ import annotations

import argparse
import difflib
import os
import sys
from collections.abc import Sequence
from importlib import import_module

from findsdesk import __version__
from findsdesk.cli.calls import DONE, EXIT_CODES, REFUSED, STORE_FAULT, WRONG_CALL, parser_of
from findsdesk.cli.command_names import COMMANDS, Command
from findsdesk.cli.several import in_words
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.words import N_, Terms, _, put

STOPPED = 130
"""What a shell says of a program that was stopped from the keyboard."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code; a refusal is a sentence on the error stream, never a trace."""
    words = list(sys.argv[1:] if argv is None else argv)
    named = next((one for one in COMMANDS if words and one.name == words[0]), None)
    try:
        return _overview(words) if named is None else _run(named, words[1:])
    except SystemExit as left:
        return left.code if isinstance(left.code, int) else WRONG_CALL
    except KeyboardInterrupt:
        return STOPPED
    except BrokenPipeError:
        # Whoever read our lines (head, less) went away; nothing more can be printed, also not while leaving.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE


def _run(command: Command, words: list[str]) -> int:
    module = import_module(f"findsdesk.cli.{command.module}")
    # Codes may stand before, between and after the options, as people type them.
    call = parser_of(command, module).parse_intermixed_args(words)
    call.terms = Terms()
    try:
        return int(module.run(call))
    except Refusal as refusal:
        print(in_words(refusal, call), file=sys.stderr)
        return REFUSED
    except StoreFault as fault:
        print(fault.in_words(call.terms), file=sys.stderr)
        return STORE_FAULT


def _overview(words: list[str]) -> int:
    """Answer a call that names no command: the overview, the version, or what was perhaps meant."""
    parser = argparse.ArgumentParser(
        prog="findsdesk",
        usage="findsdesk COMMAND STORE ... [--by NAME] [--station NAME]",
        description=_(
            "The desk of an excavation's finds yard: from the field's tags to washed, counted and labelled finds."
        ),
        epilog=_commands_in_words(),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"FindsDesk {__version__}")
    if words and not words[0].startswith("-"):
        parser.error(_no_such_command(words[0]))
    parser.parse_args(words)
    parser.print_help()
    return WRONG_CALL


def _no_such_command(word: str) -> str:
    near = difflib.get_close_matches(word, [one.name for one in COMMANDS], 1)
    if near:
        return put(N_("There is no command {word}. Was {near} meant?"), None, {"word": word, "near": near[0]})
    return put(N_("There is no command {word}. findsdesk --help lists them."), None, {"word": word})


def _commands_in_words() -> str:
    width = max(len(one.name) for one in COMMANDS)
    lines = [f"  {one.name:{width}}  {put(one.purpose)}" for one in COMMANDS]
    more = _("findsdesk COMMAND --help says more about one, with an example.")
    return "\n".join([_("commands:"), *lines, "", more, put(EXIT_CODES)])
