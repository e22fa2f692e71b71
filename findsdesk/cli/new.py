"""``findsdesk new``: make a store for an excavation."""

from __future__ import annotations

import argparse
from pathlib import Path

from findsdesk.cli.calls import DONE, add_json
from findsdesk.cli.saying import say, say_json
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _

EXAMPLE = (
    "findsdesk new quay --from demo_db/excavation.toml",
    'findsdesk new quay --name "Tannery Quay" --code TQ --director "Ilo Marr" --time-zone Etc/GMT-3',
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    parser.add_argument("store", metavar="STORE", help=_("where the store is made (.findsdesk may be left out)"))
    parser.add_argument("--from", dest="file", type=Path, metavar="FILE", help=_("the set-up file (TOML)"))
    parser.add_argument("--name", help=_("the name of the site"))
    parser.add_argument("--code", help=_("its short code of 2 or 3 letters"))
    parser.add_argument("--director", default="", help=_("the director"))
    parser.add_argument("--time-zone", default="UTC", metavar="ZONE", help=_("its time zone, e.g. Etc/GMT-2"))
    parser.add_argument("--station", metavar="NAME", default="terminal", help=_("the station it is made at"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Make the store, empty or filled from a set-up file."""
    from findsdesk.desk.excavation_files import new_from_file
    from findsdesk.desk.opening import NewExcavation, new_store

    if call.file is not None:
        if call.name or call.code:
            raise Refusal("named_twice", N_("The set-up file names the excavation. Leave --name and --code out."))
        desk = new_from_file(call.store, call.file, station=call.station)
    elif call.name and call.code:
        excavation = NewExcavation(call.name, call.code.strip().upper(), call.director, call.time_zone)
        desk = new_store(call.store, excavation, station=call.station)
    else:
        raise Refusal("not_named", N_("Name the excavation: --from FILE, or --name and --code."))
    call.terms = desk.terms
    made = {"store": str(desk.store.path or call.store), "name": desk.facts.name, "code": desk.facts.code}
    desk.close()
    if call.json:
        say_json(made)
    else:
        say(N_("{name} ({code}) has its store: {store}"), call.terms, **made)
    return DONE
