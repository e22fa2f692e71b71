"""``findsdesk discards``: lists of what is discarded: made, signed, carried away; called back until then; printed."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.pin_asked import ask_pin
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf, _, grouped, plural, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.discard_lists import WholeList

EXAMPLE = (
    "findsdesk discards quay                                    (the lists there are, and what is on none)",
    "findsdesk discards quay make --by oren",
    "findsdesk discards quay print 3 --out list-3.pdf",
    "findsdesk discards quay sign 3 --by ilo                    (asks for Ilo's PIN, or reads it from the input)",
    'findsdesk discards quay carry 3 where="marked pit in A4" how=barrow marker="tile dated 2026" --by tessa',
    'findsdesk discards quay call-back 3 tags=131 why="one joins 87" to=keep --by oren',
    "findsdesk discards quay show 3",
)
_DEEDS = {
    "sign": "sign-list",
    "take-off": "take-off-list",
    "call-back": "call-back",
    "inspected": "inspected",
    "carry": "carried-away",
    "note": "annotate-list",
}
_WHAT = ("list", "make", "show", "print", *_DEEDS)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("what", nargs="?", default="list", choices=_WHAT, metavar="WHAT", help=", ".join(_WHAT))
    parser.add_argument("number", nargs="?", type=int, metavar="NUMBER", help=_("the number of the list"))
    parser.add_argument("words", nargs="*", metavar="KEY=VALUE", help=_("what is to be said of it"))
    parser.add_argument("--season", metavar="NAME", help=_("the season of the list (else the newest that has it)"))
    parser.add_argument("--out", "--pdf", type=Path, metavar="PDF", help=_("the PDF to write, for print"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List, make, show, print, or do a deed on one."""
    if call.what == "list":
        return _list(call)
    if call.what == "make":
        return _make(call)
    if call.number is None:
        raise Refusal("no_list_number", N_("Name the list by its number. findsdesk discards STORE lists them."))
    return {"show": _show, "print": _print}.get(call.what, _do)(call)


def _season(call: argparse.Namespace) -> dict[str, str]:
    return {"season": call.season} if call.season else {}


def _list(call: argparse.Namespace) -> int:
    from findsdesk.desk.discard_lists import discard_lists
    from findsdesk.desk.retention import need_discards
    from findsdesk.desk.unlisted_discards import unlisted_discards
    from findsdesk.domain.discards import STAGE_IN_WORDS

    with reading_seat(call) as desk:
        need_discards(desk)
        lists, rest, zone = discard_lists(desk, **_season(call)), unlisted_discards(desk), desk.facts.zone
    if call.json:
        say_json({"lists": lists, "on_no_list": rest})
        return DONE
    heads = (
        N_("List"),
        N_("Season"),
        N_("Stands"),
        N_("Lines"),
        N_("Count"),
        N_("Grams"),
        N_("Made"),
        N_("Signed by"),
    )
    rows = [
        (
            one.number,
            one.season,
            put(STAGE_IN_WORDS[one.stage]),
            one.lines,
            grouped(one.pieces),
            f"{one.tenths / 10:,.1f}",
            one.made_at.astimezone(zone),
            one.signed_by,
        )
        for one in lists
    ]
    if rows:
        say_table([put(head) for head in heads], rows)
    say(N_("On no list yet: {pieces} of {settled}."), call.terms,
        pieces=CountOf("{n} sherd", "{n} sherds", rest.pieces),
        settled=CountOf("{n} settled {container}", "{n} settled {containers}", rest.containers))  # fmt: skip
    return DONE


def _make(call: argparse.Namespace) -> int:
    from findsdesk.desk.discards import make_list

    with writing_seat(call) as desk:
        whole = make_list(desk, **_season(call))
        _say_list(call, desk, whole)
    return DONE


def _show(call: argparse.Namespace) -> int:
    from findsdesk.desk.discard_lists import discard_list

    with reading_seat(call) as desk:
        _say_list(call, desk, discard_list(desk, call.number, **_season(call)), lines=True)
    return DONE


def _print(call: argparse.Namespace) -> int:
    from findsdesk.desk.discard_sheet import discard_sheet
    from findsdesk.desk.kept_sheets import write_paper

    if call.out is None:
        raise Refusal("no_pdf", N_("Name the PDF to write: --out list.pdf."))
    with reading_seat(call) as desk:
        printed = discard_sheet(desk, call.number, **_season(call))
        path = write_paper(printed.pdf, call.out)
    if call.json:
        say_json({"pdf": path, "lines": printed.rows, "pages": printed.pages})
    else:
        rows = plural("{n} line", "{n} lines", printed.rows)
        say(N_("{title}, {rows}: {file}"), None, title=printed.title, rows=rows, file=path)
    return DONE


def _do(call: argparse.Namespace) -> int:
    from findsdesk.desk.playing import do

    said = dict(_pair(word) for word in call.words) | _season(call)
    if call.what == "sign":
        said["pin"] = ask_pin(N_("PIN:"))
    with writing_seat(call) as desk:
        whole: WholeList = do(desk, _DEEDS[call.what], said, (str(call.number),))
        _say_list(call, desk, whole)
        if call.what == "carry" and not call.json:
            _say_cautions()
    return DONE


def _say_cautions() -> None:
    from findsdesk.desk.shipped import cautions_at
    from findsdesk.domain.cautions import At

    for one in cautions_at(At.DISCARD):
        print(f"{put(one.lead)} {put(one.text)}")


def _say_list(call: argparse.Namespace, desk: Desk, whole: WholeList, *, lines: bool = False) -> None:
    from findsdesk.desk.discard_lists import rule_of_line
    from findsdesk.desk.register_columns import wording
    from findsdesk.desk.word_lists import words_of
    from findsdesk.domain.discards import STAGE_IN_WORDS

    facts = whole.facts
    if call.json:
        say_json(whole)
        return
    say(N_("Discard list {number}, {stage}: {lines_n}, {pieces}, {grams} g."), None, number=facts.number,
        stage=put(STAGE_IN_WORDS[facts.stage]), lines_n=CountOf("{n} line", "{n} lines", facts.lines),
        pieces=CountOf("{n} sherd", "{n} sherds", facts.pieces),
        grams=f"{facts.tenths / 10:,.1f}")  # fmt: skip
    if not lines:
        return
    words = words_of(desk)
    heads = (N_("{Container}"), N_("{Deposit}"), N_("Ware"), N_("Part"), N_("Count"), N_("Grams"), N_("Why"),
             N_("Rule"), N_("Called back why"))  # fmt: skip
    rows = [
        (
            one.number,
            one.deposit,
            one.ware,
            put(words["parts"].called(one.part)),
            one.pieces,
            None if one.tenths is None else f"{one.tenths / 10:.1f}",
            put(words["discard_reasons"].called(one.reason)),
            rule_of_line(one, wording(desk), words),
            one.called_back_why,
        )
        for one in whole.lines
    ]
    say_table([put(head, desk.terms) for head in heads], rows)
    for note in whole.notes:
        print(f"{note.happened_at.astimezone(desk.facts.zone):%Y-%m-%d %H:%M}  {note.person}  {note.text}")


def _pair(text: str) -> tuple[str, str]:
    name, sign, value = text.partition("=")
    if not sign or name.strip() in ("pin", "signer"):
        raise Refusal("pair_unreadable", N_("{text} is no pair. Write NAME=VALUE."), text=name if sign else text)
    return name.strip(), value
