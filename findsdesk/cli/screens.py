"""``findsdesk screens``: write a picture of every bench, for the guide and for looking at."""

from __future__ import annotations

import argparse
from pathlib import Path

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say_json
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _

EXAMPLE = (
    "findsdesk screens quay pictures",
    "findsdesk screens quay pictures --size 1920x1080 --theme sun --by tessa --in-hand wash=131",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("folder", type=Path, metavar="FOLDER", help=_("where the pictures go"))
    parser.add_argument("--size", default="1366x768", metavar="WIDTHxHEIGHT", help=_("the size in pixels [1366x768]"))
    parser.add_argument("--theme", choices=("shade", "sun"), default="shade", help=_("shade indoors, sun outside"))
    parser.add_argument("--zoom", type=int, default=100, metavar="PERCENT", help=_("the size of everything [100]"))
    parser.add_argument(
        "--in-hand", action="append", default=[], metavar="BENCH=CODE", help=_("what is scanned at a bench first")
    )
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Write the pictures and list them."""
    from findsdesk.ui.bench_pictures import render_benches

    in_hand = dict(one.split("=", 1) for one in call.in_hand if "=" in one)
    files = render_benches(
        call.store,
        call.folder,
        by=call.by,
        size=size_of(call.size),
        theme=call.theme,
        zoom=call.zoom,
        in_hand=in_hand,
    )
    if call.json:
        say_json(files)
    else:
        for file in files:
            print(file)
    return DONE


def size_of(text: str) -> tuple[int, int]:
    """Read a size in pixels such as 1366x768."""
    width, sign, height = text.lower().partition("x")
    if not (sign and width.isdecimal() and height.isdigit() and 0 < int(width) <= 8000 and 0 < int(height) <= 8000):
        raise Refusal("size_unreadable", N_("{text} is no size. Write it like 1366x768, up to 8000."), text=text)
    return int(width), int(height)
