"""``findsdesk photos``: say where the photographs lie; name the folder for those of a store on a server."""

from __future__ import annotations

import argparse
from pathlib import Path

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import reading_seat
from findsdesk.words import N_, _

EXAMPLE = (
    "findsdesk photos quay",
    "findsdesk photos postgresql://finds@store/dig --folder /share/quay-photos   (this station remembers it)",
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("--folder", type=Path, metavar="FOLDER", help=_("keep those of a store on a server here"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Say where they lie, or name the folder."""
    from findsdesk.desk.photo_folders import name_photo_folder, where_photos_lie

    with reading_seat(call) as desk:
        folder = name_photo_folder(desk, call.folder) if call.folder else where_photos_lie(desk)
    if call.json:
        say_json({"folder": folder})
    elif folder is None:
        say(N_("No folder is named at this station yet for the photographs of this store. Name one with --folder."))
    else:
        say(N_("Photographs lie in {folder}"), None, folder=folder)
    return DONE
