"""``findsdesk courier``: bring acts between stores without a network, and decide where both said different things."""

from __future__ import annotations

import argparse
from datetime import tzinfo
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, plural, put

if TYPE_CHECKING:
    from findsdesk.desk.clashes import ListedClash
    from findsdesk.words import Terms

EXAMPLE = (
    'findsdesk courier quay --make-for "trench laptop" --into laptop/quay   (once, before the laptop goes out)',
    'findsdesk courier laptop/quay --station "trench laptop" --write stick/14-july',
    "findsdesk courier quay --take stick/14-july.courier --by mika",
    "findsdesk courier quay                                                 (what both said differently)",
    'findsdesk courier quay --decide 754059554568890 --keep "trench laptop" --by ilo',
    'findsdesk courier quay --call-back "trench laptop"                      (its store is given up)',
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--write", type=Path, metavar="FILE", help=_("write a courier file; changes nothing"))
    what.add_argument("--take", type=Path, metavar="FILE", help=_("take a courier file in, all of it or nothing"))
    what.add_argument(
        "--make-for", metavar="STATION", help=_("make a store for a station that writes without a network")
    )
    what.add_argument("--call-back", metavar="STATION", help=_("let a station write here again"))
    what.add_argument("--decide", type=int, metavar="CLASH", help=_("decide a clash, by its number in the list"))
    parser.add_argument("--to", metavar="STATION", help=_("with --write: leave out what the store of that station has"))
    parser.add_argument("--into", type=Path, metavar="STORE", help=_("with --make-for: the file of the new store"))
    parser.add_argument("--keep", metavar="STATION", help=_("with --decide: whose word stands, or both"))
    parser.add_argument("--decided", action="store_true", help=_("list the clashes that were decided"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Write, take, make, call back, decide, or list the clashes."""
    if call.write is not None:
        return _write(call)
    if call.take is not None:
        return _take(call)
    if call.make_for is not None:
        return _make(call)
    if call.call_back is not None:
        return _call_back(call)
    return _list(call) if call.decide is None else _decide(call)


def _write(call: argparse.Namespace) -> int:
    from findsdesk.desk.courier import write_courier

    with reading_seat(call) as desk:
        written = write_courier(desk, call.write, to=call.to)
    if call.json:
        say_json(written)
        return DONE
    say(N_("{file}: {acts}; photographs and results: {files}."), call.terms, file=written.file,
        acts=plural("{n} act", "{n} acts", written.acts), files=written.files)  # fmt: skip
    if written.missing:
        say(N_("Not as they were taken in, and so not along: {names}."), names=", ".join(written.missing))
    return DONE


def _take(call: argparse.Namespace) -> int:
    from findsdesk.desk.courier_taking import take_courier

    with writing_seat(call) as desk:
        taken = take_courier(desk, call.take)
    if call.json:
        say_json(taken)
        return DONE
    if not taken.acts:
        say(N_("All that is in it ({already}) is here already; nothing was written. From: {station}."),
            already=taken.already, station=taken.station)  # fmt: skip
        return DONE
    say(N_("From {station}: {acts} appended, {already} here already; photographs and results: {files}."),
        acts=plural("{n} act", "{n} acts", taken.acts), already=taken.already, files=taken.files,
        station=taken.station)  # fmt: skip
    if taken.same or taken.numbers:
        say(N_("Put together by their codes: {same}. Given another number here: {numbers}."), same=taken.same,
            numbers=taken.numbers)  # fmt: skip
    if taken.clashes:
        clashes = plural("{n} clash waits", "{n} clashes wait", taken.clashes)
        say(N_("{clashes} for a decision: findsdesk courier STORE lists them."), clashes=clashes)
    return DONE


def _make(call: argparse.Namespace) -> int:
    from findsdesk.desk.courier import make_station_store

    if call.into is None:
        raise Refusal("no_target", N_("Name the file of the new store: --into FILE."))
    with writing_seat(call) as desk:
        made = make_station_store(desk, station=call.make_for, into=call.into)
    if call.json:
        say_json(made)
    else:
        say(N_("{file} is the store of {station}; its own numbers are {first}–{last}. Open it with --station."),
            call.terms, file=made.store, station=made.station, first=made.first_number,
            last=made.last_number)  # fmt: skip
    return DONE


def _call_back(call: argparse.Namespace) -> int:
    from findsdesk.desk.courier import call_station_back

    with writing_seat(call) as desk:
        call_station_back(desk, station=call.call_back)
    if call.json:
        say_json({"station": call.call_back})
    else:
        say(N_("{station} writes here again. Let nobody write in its own store any more."), station=call.call_back)
    return DONE


def _list(call: argparse.Namespace) -> int:
    from findsdesk.desk.clashes import clashes

    with reading_seat(call) as desk:
        found, zone = clashes(desk, decided=call.decided), desk.facts.zone
    if call.json:
        say_json(found)
        return DONE
    for one in found:
        _say_clash(one, call.terms, zone)
    if not found:
        say(N_("No clash was decided.") if call.decided else N_("No clash waits for a decision."))
    return DONE


def _say_clash(one: ListedClash, terms: Terms, zone: tzinfo) -> None:
    from findsdesk.desk.clash_words import side_in_words, what_in_words

    print(f"{one.id}  {what_in_words(one, terms)}")
    for side in (one.one, one.other):
        stands = "*" if side.station == one.stands else " "
        print(f"  {stands} {side.station}: {side_in_words(side, terms, zone)}")
    if one.choice:
        say(N_("    decided: {choice}"), terms, choice=one.choice)
    else:
        print("    " + put(N_("keep: {choices}"), terms, {"choices": ", ".join(one.choices)}))


def _decide(call: argparse.Namespace) -> int:
    from findsdesk.desk.clashes import decide_clash

    if call.keep is None:
        raise Refusal("no_choice", N_("Say whose word stands: --keep STATION, or --keep both."))
    with writing_seat(call) as desk:
        decided, zone = decide_clash(desk, call.decide, keep=call.keep), desk.facts.zone
    if call.json:
        say_json(decided)
    else:
        _say_clash(decided, call.terms, zone)
    return DONE
