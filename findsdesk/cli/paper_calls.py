"""Sheets of labels from the terminal: drawn into a PDF, read back, and written as printed once they came out well."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from findsdesk.cli.calls import DONE
from findsdesk.cli.saying import quoted, say, say_json
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, plural, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.laying_out import ReadBack, Sheets
    from findsdesk.desk.printing import PrintedSheets


def add_paper(parser: argparse.ArgumentParser, stock: str) -> None:
    """Add what a call that draws labels takes; ``stock`` is the one used where none is named."""
    parser.add_argument(
        "--stock",
        default=stock,
        metavar="NAME",
        help=_("the label stock (findsdesk stocks lists them)") + f" [{stock}]",
    )
    parser.add_argument("--first-place", type=int, default=1, metavar="N", help=_("the first free label of the sheet"))
    parser.add_argument(
        "--printer", default="", metavar="NAME", help=_("the printer it is drawn for (findsdesk printer lists them)")
    )
    parser.add_argument("--out", "--pdf", type=Path, metavar="PDF", help=_("the PDF to write"))
    parser.add_argument(
        "--came-out-well",
        nargs="?",
        const="",
        metavar="PDF",
        help=_("write that the labels of a PDF written before (or of this one) came out well"),
    )
    parser.add_argument(
        "--jammed", action="append", default=[], metavar="CODE", help=_("a label of the PDF that did not come out well")
    )


def confirm(call: argparse.Namespace, desk: Desk) -> int:
    """Write that the labels of a PDF written before came out well, all but those that jammed."""
    from findsdesk.desk.kept_sheets import kept_sheets

    printed = _confirmed(call, desk, kept_sheets(Path(call.came_out_well)))
    if call.json:
        say_json(printed)
    else:
        _say_printed(printed)
    return DONE


def say_what_waits(call: argparse.Namespace, sheets: Sheets) -> int:
    """Say which labels would stand on the sheets; nothing is drawn into a file."""
    if call.json:
        say_json({"kind": sheets.kind, "stock": sheets.stock, "pages": sheets.pages, "labels": _placed(sheets)})
        return DONE
    print(_on_pages(sheets))
    for one in sheets.placed:
        print(f"  {one.code}")
    say(N_("Name the PDF to write: --out labels.pdf."))
    return DONE


def put_on_paper(call: argparse.Namespace, desk: Desk, sheets: Sheets) -> int:
    """Write drawn sheets into their PDF, read every symbol back, and say where each label is."""
    from findsdesk.desk.kept_sheets import keep_sheets
    from findsdesk.desk.laying_out import read_back

    if call.out is None:
        raise Refusal("no_pdf", N_("Name the PDF to write: --out labels.pdf."))
    back = read_back(sheets)
    if not back.all_well:
        text = N_(
            "Only {read} of {of} symbols can be read back from the PDF. Nothing was written; choose larger labels."
        )
        raise Refusal("not_read_back", text, read=back.read, of=back.of)
    keep_sheets(sheets, call.out)
    printed = None if call.came_out_well is None else _confirmed(call, desk, sheets)
    if call.json:
        say_json(_plain(call.out, sheets, back, printed))
    else:
        _say_sheets(call, sheets, back)
        if printed is not None:
            _say_printed(printed)
    return DONE


def _confirmed(call: argparse.Namespace, desk: Desk, sheets: Sheets) -> PrintedSheets:
    from findsdesk.desk.printing import came_out_well

    jammed = {code.strip().upper() for code in call.jammed}
    strange = sorted(jammed - set(sheets.codes))
    if strange:
        text = N_("{code} does not stand on these sheets. Choose from what was printed.")
        raise Refusal("not_on_the_sheets", text, code=strange[0])
    return came_out_well(
        desk, sheets, codes=[code for code in sheets.codes if code not in jammed], spoiled="jammed" if jammed else ""
    )


def _plain(path: Path, sheets: Sheets, back: ReadBack, printed: PrintedSheets | None) -> dict[str, Any]:
    return {
        "pdf": path,
        "kind": sheets.kind,
        "stock": sheets.stock,
        "pages": sheets.pages,
        "read_back": back.read,
        "labels": _placed(sheets),
        "printed": printed,
    }


def _placed(sheets: Sheets) -> list[dict[str, Any]]:
    return [{"code": one.code, "page": one.page, "place": one.place, "copy": one.copy} for one in sheets.placed]


def _on_pages(sheets: Sheets) -> str:
    labels = plural("{n} label", "{n} labels", len(sheets.placed))
    pages = plural("{n} page", "{n} pages", sheets.pages)
    return put(N_("{labels} on {pages}"), None, {"labels": labels, "pages": pages})


def _say_sheets(call: argparse.Namespace, sheets: Sheets, back: ReadBack) -> None:
    say(N_("{on}, {read} of {of} read back: {file}"), None, on=_on_pages(sheets), read=back.read, of=back.of,
        file=call.out)  # fmt: skip
    if call.came_out_well is None:
        say(N_("Print it, look at it, then call again with: --came-out-well {file}"), None,
            file=quoted(str(call.out)))  # fmt: skip


def _say_printed(printed: PrintedSheets) -> None:
    print(plural("{n} label is written as printed.", "{n} labels are written as printed.", len(printed.codes)))
    if printed.left_over:
        say(N_("Still to be printed: {codes}."), None, codes=", ".join(printed.left_over))
