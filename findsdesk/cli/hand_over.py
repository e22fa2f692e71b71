"""``findsdesk hand-over``: a season at its end: what is open, by when; signed for by two and carried over."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.pin_asked import ask_pin
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf, _, grouped, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.season_end import SeasonEnd

EXAMPLE = (
    "findsdesk hand-over quay                                   (what is open, the first of each, the deadlines)",
    "findsdesk hand-over quay rows unread --season 2024         (all rows of one line)",
    "findsdesk hand-over quay sign second=Mika --by ilo         (asks for the PINs of those who have one)",
    "findsdesk hand-over quay take-deadlines --by mika          (those that ship, to change by the permit)",
    'findsdesk hand-over quay add-deadline "crates to the depot" counts_from="season end" offset=-7 --by mika',
    'findsdesk hand-over quay change-deadline "final report" permit_on=2027-03-31 permit_says="clause 9" --by mika',
    "findsdesk hand-over quay print --out open.pdf              (the list with lines to sign on)",
)
_DEEDS = {
    "take-deadlines": "take-starting-deadlines",
    "add-deadline": "add-deadline",
    "change-deadline": "change-deadline",
}
_WHAT = ("show", "rows", "sign", "print", *_DEEDS)
_PAPERS = ("open", "inspector", "balance", "season")
"""The sheets that go with it."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("what", nargs="?", default="show", choices=_WHAT, metavar="WHAT", help=", ".join(_WHAT))
    parser.add_argument("words", nargs="*", metavar="WORD", help=_("the line or the deadline, then KEY=VALUE"))
    parser.add_argument("--season", default="", metavar="NAME", help=_("of which season (else today's, or the newest)"))
    parser.add_argument("--out", "--pdf", type=Path, metavar="PDF", help=_("the PDF to write, for print"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Show, list, sign, print, or change a deadline."""
    return {"show": _show, "rows": _rows, "sign": _sign, "print": _print}.get(call.what, _change)(call)


def _show(call: argparse.Namespace) -> int:
    from findsdesk.desk.season_end import season_end

    with reading_seat(call) as desk:
        end = season_end(desk, call.season or None)
        if call.json:
            say_json({"season_end": end, "open": end.open, "unsigned": end.unsigned, "sheets": _PAPERS})
        else:
            _say(desk, end)
    return DONE


def _say(desk: Desk, end: SeasonEnd) -> None:
    from findsdesk.desk.season_end_words import days_in_words, name_of_row, rule_of
    from findsdesk.desk.sheets import Wording

    words, terms = Wording(desk), desk.terms
    say(N_("Season {season}, permit {permit}, last day {day}. Open: {open}, not signed for: {unsigned}."), terms,
        season=end.season, permit=end.permit or "–", day=end.ends.isoformat(), open=grouped(end.open),
        unsigned=grouped(end.unsigned))  # fmt: skip
    rows = []
    for line in end.lines:
        if line.many:
            names = ", ".join(name_of_row(row, words) for row in line.rows)
            more = f" +{grouped(line.many - len(line.rows))}" if line.many > len(line.rows) else ""
            rows.append((line.many, put(line.requirement.name, terms), line.requirement.key, names + more))
    if rows:
        say_table([put(head, terms) for head in (N_("Open"), N_("What"), N_("Line"), N_("Which"))], rows)
    if end.deadlines:
        heads = (N_("Due"), N_("Day"), N_("Left"), N_("Rule"), N_("Source"))
        table = [(o.deliverable, o.due_on, days_in_words(o, words), rule_of(o, words), o.source) for o in end.deadlines]
        say_table([put(head, terms) for head in heads], table)
    else:
        say(N_("No deadline is written. findsdesk hand-over STORE take-deadlines takes in those that ship."), terms)
    for one in end.signed:
        say(N_("List {number}: {lines}, signed by {first} and {second}; done since: {done}."), terms,
            number=one.number, lines=CountOf("{n} thing", "{n} things", one.lines), first=one.first,
            second=one.second, done=one.done)  # fmt: skip
    say(N_("findsdesk sheets STORE open, inspector, balance or season prints what goes with it."), terms)
    say(N_("findsdesk export STORE --as bundle --into FOLDER writes the hand-over: records, papers, pictures."), terms)


def _rows(call: argparse.Namespace) -> int:
    from findsdesk.desk.season_end import open_rows
    from findsdesk.desk.season_end_words import name_of_row
    from findsdesk.desk.sheets import Wording

    if not call.words:
        raise Refusal("no_line_named", N_("Name the line. findsdesk hand-over STORE lists them."))
    with reading_seat(call) as desk:
        rows = open_rows(desk, call.words[0], call.season or None, how_many=1_000_000)
        words = Wording(desk)
        if call.json:
            say_json(rows)
        else:
            heads = (N_("What"), N_("Tag"), N_("Count"), N_("Season"), N_("Signed for"))
            table = [(name_of_row(o, words), o.code, o.pieces, o.season, "✓" if o.signed else "") for o in rows]
            say_table([put(head, desk.terms) for head in heads], table)
    return DONE


def _sign(call: argparse.Namespace) -> int:
    from findsdesk.desk.playing import do

    said = _said(call.words) | ({"season": call.season} if call.season else {})
    for name in ("pin", "second_pin"):
        if name in said:
            raise Refusal("pin_is_asked", N_("A PIN is never written into the call. It is asked for."))
    with writing_seat(call) as desk:
        done = do(desk, "sign-open", said | _pins(desk, said.get("second", "")))
    if call.json:
        say_json(done)
    else:
        say(N_("List {number} of season {season}: {lines}, signed by {first} and {second}, carried over."),
            call.terms, number=done.number, season=done.season, first=done.first, second=done.second,
            lines=CountOf("{n} thing", "{n} things", done.lines))  # fmt: skip
        _say_cautions()
    return DONE


def _pins(desk: Desk, second: str) -> dict[str, str]:
    """Ask whoever of the two has a PIN for it, the one at the desk first."""
    from findsdesk.desk.opening import find_person
    from findsdesk.desk.pins import pins_of_the_team

    with desk.reading() as reading:
        other = find_person(reading.session, second) if second else None
    with_pin = {one.person_id for one in pins_of_the_team(desk) if one.has_pin}
    asked: dict[str, str] = {}
    if desk.person.id in with_pin:
        asked["pin"] = ask_pin(N_("PIN of the first:"))
    if other is not None and other.id in with_pin:
        asked["second_pin"] = ask_pin(N_("PIN of the second:"))
    return asked


def _say_cautions() -> None:
    from findsdesk.desk.shipped import cautions

    for key in ("mould", "lifting"):
        one = cautions()[key]
        print(f"{put(one.lead)} {put(one.text)}")


def _print(call: argparse.Namespace) -> int:
    from findsdesk.desk.all_papers import make_paper
    from findsdesk.desk.kept_sheets import write_paper
    from findsdesk.desk.whole_papers import Asked

    if call.out is None:
        raise Refusal("no_pdf", N_("Name the PDF to write: --out list.pdf."))
    with reading_seat(call) as desk:
        made = make_paper(desk, "open", Asked(season=call.season))
        path = write_paper(made.pdf, call.out)
    if call.json:
        say_json({"title": made.title, "pages": made.pages, "rows": made.rows, "pdf": path})
    else:
        say(N_("{title}: {file}"), call.terms, title=made.title, file=path)
    return DONE


def _change(call: argparse.Namespace) -> int:
    from findsdesk.desk.deadlines import deadlines
    from findsdesk.desk.playing import do

    season = {"season": call.season} if call.season else {}
    bare = [word for word in call.words if "=" not in word]
    with writing_seat(call) as desk:
        done = do(desk, _DEEDS[call.what], _said(call.words) | season, bare)
        if call.json:
            say_json(done)
        else:
            heads = (N_("Due"), N_("Day"), N_("Source"))
            rows = [(one.deliverable, one.due_on, one.source) for one in deadlines(desk, call.season or None)]
            say_table([put(head, desk.terms) for head in heads], rows)
    return DONE


def _said(words: list[str]) -> dict[str, str]:
    return dict(word.split("=", 1) for word in words if "=" in word)
