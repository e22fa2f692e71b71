"""``findsdesk demo``: an invented excavation, played through several days of its season."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk import places
from findsdesk.cli.calls import DONE, FOUND_SOMETHING, REFUSED, add_json
from findsdesk.cli.day import say_day
from findsdesk.cli.open import open_window, there_is_a_screen
from findsdesk.cli.play import say_played, say_refused
from findsdesk.cli.saying import say, say_json
from findsdesk.words import N_, _, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.examples import Example

EXAMPLE = ("findsdesk demo", "findsdesk demo --into example --no-window", "findsdesk demo --again")
_IN_HAND = {"check_in": "132", "wash": "131", "sorting": "87"}
"""What is scanned at a bench before its picture is taken."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    parser.add_argument(
        "--into", type=Path, metavar="FOLDER", help=_("where the example goes (else beside your stores)")
    )
    parser.add_argument("--no-window", action="store_true", help=_("open no window and write no pictures"))
    parser.add_argument("--again", action="store_true", help=_("replace an example that lies there already"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Make the example, say how it stands, and show it."""
    from findsdesk.desk.examples import folder_for, make_example

    wanted = (call.into or places.default_stores_folder() / "example").resolve()
    folder = folder_for(wanted, again=call.again)
    desk, example = make_example(folder, _progress if sys.stderr.isatty() else None)
    call.terms = desk.terms
    say_refused(example.played, "season.acts", desk.terms)
    try:
        if call.json:
            say_json(example)
        else:
            _say(desk, example)
    finally:
        desk.close()
    if not call.no_window:
        _show(call, example)
    if example.played.refused:
        return REFUSED
    return DONE if example.proof.sound else FOUND_SOMETHING


def _progress(done: int, of: int) -> None:
    if done % 50 == 0 or done == of:
        end = "\n" if done == of else ""
        print(f"\r{put(N_('playing the season: {done} of {of} acts'), None, {'done': done, 'of': of})}", end=end,
              file=sys.stderr, flush=True)  # fmt: skip


def _say(desk: Desk, example: Example) -> None:
    say_day(desk, example.day)
    print()
    print(put(N_("Papers that wait for the printer")))
    width = max(len(str(paper.things)) for paper in example.papers)
    for paper in example.papers:
        print(f"  {paper.things:>{width}}  {put(paper.what, desk.terms)}: {paper.path}")
    print()
    say_played(example.played, "season.acts")
    for one in example.proof.findings:
        print(one.in_words(desk.terms))
    if example.proof.sound:
        say(N_("Proved: journal, totals and references agree. Head {head}."), None, head=example.proof.head)
    say(N_("The store: {file}"), None, file=example.store)


def _show(call: argparse.Namespace, example: Example) -> None:
    """Open the window, or write pictures of the benches where there is no screen to show it on."""
    if there_is_a_screen():
        open_window(str(example.store), by="Tessa Quill")
        return
    from findsdesk.ui.bench_pictures import render_benches

    folder = example.store.parent / "screens"
    files = render_benches(example.store, folder, by="Tessa Quill", in_hand=_IN_HAND)
    if not call.json:
        print(_("There is no screen here, so no window. Pictures of the benches instead:"))
        for file in files:
            print(f"  {file}")
