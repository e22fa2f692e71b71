"""``findsdesk printer``: meet a printer by a test page and four lengths measured on it; list those that were met."""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from findsdesk.cli.calls import DONE, add_json
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.domain.numbers import read_tenths_of_millimetres
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, put

if TYPE_CHECKING:
    from findsdesk.desk.printers import Printer

EXAMPLE = (
    "findsdesk printer                                              (those that were met)",
    'findsdesk printer page "trestle laser" --pdf page.pdf          (print it at actual size, then measure)',
    'findsdesk printer set "trestle laser" --measured 21.5 191.5 20.8 270.9 --dpi 600',
    'findsdesk printer forget "trestle laser"',
    'findsdesk labels quay --printer "trestle laser" --out labels.pdf --by mika',
)


_WHAT = ("list", "page", "set", "forget")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    parser.add_argument("what", nargs="?", default="list", choices=_WHAT, metavar="WHAT", help=", ".join(_WHAT))
    parser.add_argument("name", nargs="?", default="", metavar="NAME", help=_("what the printer is called here"))
    parser.add_argument("--pdf", "--out", type=Path, metavar="PDF", help=_("page: the PDF of the test page to write"))
    parser.add_argument(
        "--stock",
        default="a4-plain",
        metavar="NAME",
        help=_("page: the paper or label stock in the printer, for the size of the page") + " [a4-plain]",
    )
    parser.add_argument(
        "--measured",
        nargs=4,
        metavar=("A", "B", "C", "D"),
        help=_("set: mm from the left edge of the paper to A and B, from its top edge to C and D"),
    )
    parser.add_argument("--dpi", type=int, metavar="DPI", help=_("set: the dots an inch of the printer: 203, 300, 600"))
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """Write a test page, keep what was measured on it, or list the printers."""
    {"list": _list, "page": _page, "set": _set, "forget": _forget}[call.what](call)
    return DONE


def _list(call: argparse.Namespace) -> None:
    from findsdesk.desk.printers import printers

    listed = printers()
    if call.json:
        say_json(listed)
    elif listed:
        heads = (
            N_("Printer"),
            N_("dpi"),
            N_("Right, mm"),
            N_("Down, mm"),
            N_("Wide, ‰"),
            N_("Long, ‰"),
            N_("Measured"),
        )
        say_table([put(one) for one in heads], (_row(one) for one in listed))
    else:
        say(N_("No printer was met here. Begin with its test page: findsdesk printer page NAME --pdf page.pdf"))


def _row(printer: Printer) -> tuple[object, ...]:
    met = printer.calibration
    measured = _("yes") if printer.measured else _("no")
    return (printer.name, printer.dpi, met.right / 100, met.down / 100, met.across, met.along, measured)


def _page(call: argparse.Namespace) -> None:
    from findsdesk.desk.kept_sheets import write_paper
    from findsdesk.desk.printers import draw_test_page, keep_test_page, lengths_to_measure

    if call.pdf is None:
        raise Refusal("no_test_page_file", N_("Name the PDF of the test page to write: --pdf page.pdf."))
    page = draw_test_page(call.name, paper=call.stock, moment=datetime.now().astimezone())
    write_paper(page.pdf, call.pdf)
    keep_test_page(page)
    lines = lengths_to_measure(call.stock)._asdict()
    if call.json:
        say_json({"printer": page.printer, "pdf": call.pdf, "paper": call.stock, "lengths_mm": lines})
        return
    say(N_("The test page of {printer}: {file}"), None, printer=page.printer, file=call.pdf)
    say(N_("Print it at actual size (100 %), never “fit to page”."))
    say(
        N_("Measure with a steel rule from the paper's edges: A {a}, B {b}, C {c}, D {d} mm if the printer is true."),
        None,
        **{name: f"{length:g}" for name, length in lines.items()},
    )
    say(N_('Then: findsdesk printer set "{printer}" --measured A B C D'), None, printer=page.printer)


def _forget(call: argparse.Namespace) -> None:
    from findsdesk.desk.printers import forget_printer

    printer = forget_printer(call.name)
    if call.json:
        say_json(printer)
    else:
        say(N_("{printer} is forgotten."), None, printer=printer.name)


def _set(call: argparse.Namespace) -> None:
    from findsdesk.desk.printers import met_in_words, set_printer

    measured = None
    if call.measured is not None:
        a, b, c, d = (read_tenths_of_millimetres(text) for text in call.measured)
        measured = (a, b, c, d)
    printer = set_printer(call.name, measured=measured, dpi=call.dpi)
    if call.json:
        say_json(printer)
        return
    say(
        N_("{printer}, {dpi} dpi: from now on all that is printed on it is {how}."),
        None,
        printer=printer.name,
        dpi=printer.dpi,
        how=met_in_words(printer),
    )
    if measured is not None:
        say(N_("Print the page again and measure: what is left should be no more than 0.2 mm."))
