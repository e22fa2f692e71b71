"""``findsdesk sheets``: list the sheets and reports there are, or print one as PDF."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import day_named, reading_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, plural, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.paper_kinds import PaperKind

EXAMPLE = (
    "findsdesk sheets quay                                     (which there are, and what each is for)",
    "findsdesk sheets quay yard --out yard.pdf",
    "findsdesk sheets quay day-sheets --day 2026-07-15 --out day.pdf",
    "findsdesk sheets quay deposit --deposit 2017 --out 2017.pdf",
    "findsdesk sheets quay season --season 2026 --out report.pdf --by mika",
)


CARDS = {
    "command-card": (N_("Command card"), N_("Codes for the scanner alone: digits, the commonest acts, the tubs.")),
    "scanner-test": (N_("Scanner test"), N_("Three codes by which a scanner is tried out in Set-up.")),
}
"""Cards of codes: key, name and purpose; nothing is asked of them."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("sheet", nargs="?", metavar="SHEET", help=_("its key; without one the sheets are listed"))
    parser.add_argument("--day", metavar="DAY", help=_("of which day, e.g. 2026-07-14 (else today, or no day)"))
    parser.add_argument("--deposit", default="", metavar="NUMBER", help=_("of which deposit, also by an old number"))
    parser.add_argument("--material", default="", metavar="NAME", help=_("of which material (else of all)"))
    parser.add_argument("--season", default="", metavar="NAME", help=_("of which season (else of all, or today's)"))
    parser.add_argument("--paper", default="a4-plain", metavar="NAME", help=_("the paper") + " [a4-plain]")
    parser.add_argument("--out", "--pdf", type=Path, metavar="PDF", help=_("the PDF to write"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List the sheets, or write one."""
    from findsdesk.desk.all_papers import make_paper
    from findsdesk.desk.kept_sheets import write_paper
    from findsdesk.desk.paper_kinds import paper_kind
    from findsdesk.desk.whole_papers import Asked

    with reading_seat(call) as desk:
        if not call.sheet:
            _list(call)
            return DONE
        if call.sheet not in CARDS:
            _refuse_unasked(call, paper_kind(call.sheet))
        if call.out is None:
            raise Refusal("no_pdf_named", N_("Name the PDF to write: --out {sheet}.pdf."), sheet=call.sheet)
        if call.sheet in CARDS:
            return _card(desk, call)
        asked = Asked(
            day=day_named(desk, call.day) if call.day else None,
            deposit=call.deposit,
            material=call.material,
            season=call.season,
            paper=call.paper,
            follow=_tell if sys.stderr.isatty() else None,
        )
        made = make_paper(desk, call.sheet, asked)
        path = write_paper(made.pdf, call.out)
        if call.json:
            say_json({"sheet": call.sheet, "title": made.title, "pages": made.pages, "rows": made.rows, "pdf": path})
        else:
            pages = plural("{n} page", "{n} pages", made.pages)
            say(N_("{title}, {pages}: {file}"), call.terms, title=made.title, pages=pages, file=path)
    return DONE


def _card(desk: Desk, call: argparse.Namespace) -> int:
    """Write a card of codes for the scanner."""
    from findsdesk.desk.cards import command_card, scanner_sheet
    from findsdesk.desk.kept_sheets import write_paper

    path = write_paper({"command-card": command_card, "scanner-test": scanner_sheet}[call.sheet](desk), call.out)
    if call.json:
        say_json({"sheet": call.sheet, "title": put(CARDS[call.sheet][0]), "pdf": path})
    else:
        say(N_("{title}: {file}"), call.terms, title=put(CARDS[call.sheet][0]), file=path)
    return DONE


def _refuse_unasked(call: argparse.Namespace, kind: PaperKind) -> None:
    """Refuse what a sheet does not ask for: it would be made whole, and whoever typed it would not see that."""
    for name in ("day", "deposit", "material", "season"):
        if getattr(call, name) and name not in kind.asks:
            raise Refusal(
                "not_asked",
                N_("The sheet {sheet} is not narrowed by --{option}. Leave that out. What it takes: {asks}."),
                sheet=kind.key,
                option=name,
                asks=", ".join(f"--{one}" for one in kind.asks) or N_("nothing"),
            )


def _list(call: argparse.Namespace) -> None:
    from findsdesk.desk.paper_kinds import PAPERS

    if call.json:
        say_json(
            [
                {
                    "key": one.key,
                    "name": put(one.name, call.terms),
                    "purpose": put(one.purpose, call.terms),
                    "asks": one.asks,
                }
                for one in PAPERS
            ]
        )
        return
    heads = (put(N_("Key")), put(N_("Sheet")), put(N_("Takes")), put(N_("What it is for")))
    rows = [
        (one.key, put(one.name, call.terms), " ".join(f"--{asked}" for asked in one.asks), put(one.purpose, call.terms))
        for one in PAPERS
    ]
    cards = [(key, put(name), "", put(purpose)) for key, (name, purpose) in CARDS.items()]
    say_table(heads, [*rows, *cards])


def _tell(page: int, pages: int) -> None:
    """Say on a terminal how far the work is, in one line that is written over."""
    if page:
        line = put(N_("page {page} of {pages}"), None, {"page": page, "pages": pages})
        print(f"\r{line}", end="\n" if page == pages else "", file=sys.stderr, flush=True)
