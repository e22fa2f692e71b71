"""``findsdesk export``: write everything that is known as files, in forms that others can read."""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import reading_seat
from findsdesk.words import N_, _, grouped, put

if TYPE_CHECKING:
    from findsdesk.domain.square_grid import GridPlace

EXAMPLE = (
    "findsdesk export quay --as csv --into out",
    "findsdesk export quay --as data-package --into out --json",
    "findsdesk export quay --as geopackage --into out --square-metres 5 --corner 500000,4000000 --epsg 32636",
    "findsdesk export quay --as bundle --into hand-over --by mika",
)
_FORMS = ("csv", "xlsx", "json", "data-package", "geopackage", "photos", "bundle")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("--as", dest="form", choices=_FORMS, required=True, metavar="FORM", help=", ".join(_FORMS))
    parser.add_argument(
        "--into",
        type=Path,
        required=True,
        metavar="FOLDER",
        help=_("the folder in which it is written, made if need be"),
    )
    parser.add_argument(
        "--without-mark",
        action="store_true",
        help=_("CSV without a byte order mark, for programs other than spreadsheets"),
    )
    parser.add_argument(
        "--square-metres",
        type=float,
        metavar="M",
        help=_("the side of a square of the grid, for the map (else as the set-up has it)"),
    )
    parser.add_argument(
        "--corner",
        metavar="EAST,NORTH",
        help=_("where the south-western corner of square A1 is, in metres (else as the set-up has it)"),
    )
    parser.add_argument("--epsg", type=int, metavar="CODE", help=_("the system of these coordinates, by its EPSG code"))
    parser.add_argument("--turned", type=float, metavar="DEGREES", help=_("by how much the grid is turned, clockwise"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Write the export and say what is in it."""
    from findsdesk.desk.exporting import FileForm, How, export
    from findsdesk.desk.following import quietly

    with reading_seat(call) as desk:
        grid = _grid(call, desk.facts.settings.grid)
        follow = _tell if sys.stderr.isatty() else quietly
        how = How(with_mark=not call.without_mark, grid=grid)
        made = export(desk, FileForm(call.form), call.into, how=how, follow=follow)
    if call.json:
        say_json(made)
        return DONE
    for name, rows in made.rows.items():
        print(f"  {name:24} {grouped(rows):>12}")
    for name in made.missing:
        say(N_("Not written, its file is gone or changed: {file}"), None, file=name)
    say(N_("Written as at {head}: {file}"), None, head=made.head, file=made.path)
    return DONE


def _grid(call: argparse.Namespace, known: GridPlace) -> GridPlace:
    """Return where the grid lies: as the excavation has it, but for what the call says."""
    from findsdesk.domain.square_grid import read_corner

    east, north = (known.east, known.north) if call.corner is None else read_corner(call.corner)
    said = {"square_m": call.square_metres, "turned": call.turned, "epsg": call.epsg}
    return replace(known, east=east, north=north, **{key: value for key, value in said.items() if value is not None})


def _tell(done: int, of: int) -> None:
    """Say on a terminal how far the work is, in one line that is written over."""
    if of:
        line = put(N_("{percent} %"), None, {"percent": 100 * done // of})
        print(f"\r{line}", end="\n" if done == of else "", file=sys.stderr, flush=True)
