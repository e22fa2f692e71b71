"""``findsdesk loans``: what is out with whom and until when; lend, take back, ask for, keep results."""

from __future__ import annotations

import argparse
from pathlib import Path

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, plural

EXAMPLE = (
    "findsdesk loans quay                                       (what is out, the longest due first)",
    "findsdesk loans quay --overdue",
    "findsdesk loans quay show 3",
    'findsdesk loans quay lend TQB000012N 131.4 borrower="Nela Trost" kind=specialist purpose="glass report" '
    "due_on=2026-09-20 condition=sound --by mika",
    'findsdesk loans quay back 3 TQB000012N pieces=21 condition="one cracked" --by mika',
    'findsdesk loans quay ask 3 how=telephone answer="in the post" --by mika',
    "findsdesk loans quay result 3 path=glass.pdf note=report --by mika",
    "findsdesk loans quay copy-result 3 glass.pdf --out glass.pdf",
    "findsdesk loans quay slips                                 (what stands in bags for what was taken out)",
    "findsdesk loans quay slip-back 2 --by mika                 (it lies in its bag again)",
    "findsdesk loans quay print 3 --out loan-3.pdf              (the form to sign; print-return: for its way back)",
    "findsdesk loans quay change 3 due_on=2026-10-01 --by mika",
)
_DEEDS = {"back": "give-back", "ask": "chase-loan", "result": "add-result", "change": "change-loan"}
_WHAT = ("list", "all", "show", "print", "print-return", "lend", *_DEEDS, "copy-result", "slips", "slip-back")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("what", nargs="?", default="list", choices=_WHAT, metavar="WHAT", help=", ".join(_WHAT))
    parser.add_argument(
        "words", nargs="*", metavar="WORD", help=_("the loan's number or code, what leaves or comes back, NAME=VALUE")
    )
    parser.add_argument("--overdue", action="store_true", help=_("only what is late"))
    parser.add_argument(
        "--out", "--pdf", type=Path, metavar="FILE", help=_("the file to write, for print and copy-result")
    )
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List, show, lend, or do a deed on a loan."""
    if call.what in ("list", "all"):
        return _list(call)
    ways = {"show": _show, "lend": _lend, "print": _print, "print-return": _print}
    ways |= {"copy-result": _copy_result, "slips": _slips, "slip-back": _slip_back}
    return ways.get(call.what, _do)(call)


def _list(call: argparse.Namespace) -> int:
    from findsdesk.cli.store_in_words import say_loans
    from findsdesk.desk.loans import every_loan, loans_out

    with reading_seat(call) as desk:
        loans = every_loan(desk) if call.what == "all" else loans_out(desk)
    shown = [one for one in loans if one.days_overdue] if call.overdue else list(loans)
    if call.json:
        say_json({"loans": shown})
    else:
        say_loans(shown)
    return DONE


def _show(call: argparse.Namespace) -> int:
    from findsdesk.cli.store_in_words import say_loan
    from findsdesk.desk.loans import loan_named

    which = _loan(call)
    with reading_seat(call) as desk:
        loan = loan_named(desk, which)
        if call.json:
            say_json(loan)
        else:
            say_loan(desk, loan)
    return DONE


def _print(call: argparse.Namespace) -> int:
    from findsdesk.desk.kept_sheets import write_paper
    from findsdesk.desk.store_sheets import loan_sheet

    which = _loan(call)
    if call.out is None:
        raise Refusal("no_pdf", N_("Name the PDF to write: --out list.pdf."))
    with reading_seat(call) as desk:
        made = loan_sheet(desk, which, coming_back=call.what == "print-return")
        path = write_paper(made.pdf, call.out)
    if call.json:
        say_json({"title": made.title, "pages": made.pages, "rows": made.rows, "pdf": path})
    else:
        pages = plural("{n} page", "{n} pages", made.pages)
        say(N_("{title}, {pages}: {file}"), call.terms, title=made.title, pages=pages, file=path)
    return DONE


def _copy_result(call: argparse.Namespace) -> int:
    from findsdesk.desk.loan_results import copy_result
    from findsdesk.desk.loans import loan_named

    which, name = _loan(call), " ".join(call.words[1:])
    if call.out is None:
        raise Refusal("no_file", N_("Name the file to write: --out report.pdf."))
    with reading_seat(call) as desk:
        loan = loan_named(desk, which)
        found = next((one for one in loan.results if one.file_name == name), None)
        if found is None:
            known = ", ".join(one.file_name for one in loan.results) or "–"
            raise Refusal("unknown_result", N_("No result {name} came with loan {number}. There is: {known}."),
                          name=name, number=loan.number, known=known)  # fmt: skip
        path = copy_result(desk, found, call.out)
    if call.json:
        say_json({"file": path})
    else:
        print(path)
    return DONE


def _slips(call: argparse.Namespace) -> int:
    from findsdesk.cli.store_in_words import say_slips
    from findsdesk.desk.proxy_slips import slips_standing

    with reading_seat(call) as desk:
        slips = slips_standing(desk)
        if call.json:
            say_json({"slips": slips})
        else:
            say_slips(desk, slips)
    return DONE


def _slip_back(call: argparse.Namespace) -> int:
    from findsdesk.cli.store_in_words import say_slips
    from findsdesk.desk.playing import do
    from findsdesk.desk.proxy_slips import slips_standing

    if len(call.words) != 1:
        raise Refusal("no_slip_named", N_("Name the slip by its number. findsdesk loans STORE slips lists them."))
    with writing_seat(call) as desk:
        done = do(desk, "take-slip-away", {"number": call.words[0]})
        if call.json:
            say_json(done)
        else:
            say_slips(desk, slips_standing(desk))
    return DONE


def _loan(call: argparse.Namespace) -> str:
    if not call.words or "=" in call.words[0]:
        raise Refusal("no_loan_named", N_("Name the loan by its number or code. findsdesk loans STORE lists them."))
    return str(call.words[0])


def _split(words: list[str]) -> tuple[list[str], dict[str, str]]:
    """Return the words that name things, and those that say something (NAME=VALUE)."""
    said = dict(word.split("=", 1) for word in words if "=" in word)
    return [word for word in words if "=" not in word], said


def _lend(call: argparse.Namespace) -> int:
    things, said = _split(call.words)
    return _done(call, "lend", {"what": ",".join(things), **said})


def _do(call: argparse.Namespace) -> int:
    which = _loan(call)
    things, said = _split(call.words[1:])
    if things:
        said["what"] = ",".join(things)
    return _done(call, _DEEDS[call.what], {"loan": which, **said})


def _done(call: argparse.Namespace, deed: str, said: dict[str, str]) -> int:
    from findsdesk.cli.store_in_words import say_loan
    from findsdesk.desk.loan_rows import LoanFacts
    from findsdesk.desk.loans import loan_named
    from findsdesk.desk.playing import do

    with writing_seat(call) as desk:
        done = do(desk, deed, said)
        loan = done if isinstance(done, LoanFacts) else loan_named(desk, said["loan"])
        if call.json:
            say_json(loan)
        else:
            say_loan(desk, loan)
    return DONE
