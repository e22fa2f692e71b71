"""The printers that were met at this machine: the test page, what was measured on it, and what is kept of each.

Kept is a small file in the settings folder, for window and terminal alike; nothing of the excavation stands in it.
Nothing here asks the store.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from findsdesk import places
from findsdesk.desk.own_stocks import every_stock
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.writing import written_whole
from findsdesk.paper import stocks as paper_stocks
from findsdesk.paper.calibration import NONE, Calibration, Lines, Measured, calibrate, lines_to_measure
from findsdesk.paper.dots import COMMON_DPI
from findsdesk.paper.printer_page import print_test_page
from findsdesk.words import N_, put

RESOLUTIONS = (203, 300, 600)
"""Dots an inch of printers for labels and paper."""


@dataclass(frozen=True, slots=True)
class DrawnOn:
    """What a test page was drawn on, and how its printer was met then: lengths measured on it count against that."""

    paper: str
    calibration: Calibration = NONE


@dataclass(frozen=True, slots=True)
class Printer:
    """A printer by the name people call it; ``dpi`` in dots an inch. Without a name it is printed to as it is."""

    name: str = ""
    calibration: Calibration = NONE
    dpi: int = COMMON_DPI
    measured: bool = False
    """Whether lengths measured on its test page were entered."""
    test_page: DrawnOn | None = None
    """Its newest test page."""


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """A test page that nobody has printed yet: its printer, what it is drawn on, the PDF."""

    printer: str
    drawn_on: DrawnOn
    pdf: bytes


AS_IT_IS = Printer()


def printers() -> tuple[Printer, ...]:
    """Return the printers that were met, by name. Refuses ``printers_unreadable``."""
    return tuple(sorted(_read().values(), key=lambda one: folded(one.name)))


def printer_named(name: str) -> Printer:
    """Return the printer of a name, whatever its capitals; an empty name is any printer as it is.

    Refusals: ``unknown_printer``, ``printers_unreadable``.
    """
    if not name.strip():
        return AS_IT_IS
    known = _read()
    if not known:
        text = N_("No printer {printer} was met here, and no other either. Print its test page first.")
        raise Refusal("unknown_printer", text, printer=name)
    if folded(name) not in known:
        raise Refusal(
            "unknown_printer",
            N_("No printer {printer} was met here. Known: {known}. Print its test page first."),
            printer=name.strip(),
            known=", ".join(one.name for one in known.values()),
        )
    return known[folded(name)]


def lengths_to_measure(paper: str) -> Lines:
    """Return how far (mm) the lines of a test page on a paper are from its edges. Refuses ``unknown_paper``."""
    size = _paper_named(paper)
    return lines_to_measure(size.page_width / 100, size.page_height / 100)


def draw_test_page(name: str, *, paper: str, moment: datetime, language: str = "en") -> DrawnPage:
    """Draw the test page of a printer, new or met before, on the page size of a paper or label stock.

    Keeps nothing: ``keep_test_page`` does, once the PDF lies somewhere. Refusals: ``printer_without_name``,
    ``unknown_paper``, ``printers_unreadable``, those of the paper.
    """
    printer = _met_or_new(name)
    pdf = print_test_page(
        _paper_named(paper), printer.name, moment=moment, calibration=printer.calibration, language=language
    )
    return DrawnPage(printer.name, DrawnOn(paper, printer.calibration), pdf)


def keep_test_page(page: DrawnPage) -> Printer:
    """Keep which test page of a printer is the newest: what is measured counts against how that one was drawn.

    Refusals: ``printers_unreadable``, ``cannot_write``.
    """
    return _keep(replace(_met_or_new(page.printer), test_page=page.drawn_on))


def set_printer(name: str, *, measured: tuple[int, int, int, int] | None = None, dpi: int | None = None) -> Printer:
    """Keep what was measured on a printer's newest test page, its dots an inch, or both.

    ``measured`` are the lengths to the lines A, B, C and D in tenths of a millimetre; they may be entered again from
    the same page. Refusals: ``printer_without_name``, ``nothing_to_set``, ``no_such_resolution``, ``no_test_page``,
    ``not_a_calibration``, ``printers_unreadable``, ``cannot_write``.
    """
    printer = _met_or_new(name)
    if measured is None and dpi is None:
        raise Refusal(
            "nothing_to_set", N_("Nothing was said of the printer. Enter the four lengths or its dots an inch.")
        )
    if dpi is not None:
        printer = replace(printer, dpi=_resolution(dpi))
    if measured is not None:
        printer = replace(printer, calibration=_calibration(printer, Measured(*measured)), measured=True)
    return _keep(printer)


def forget_printer(name: str) -> Printer:
    """Forget a printer with all that was measured on it; labels are printed for it as it is from then on.

    Refusals: ``unknown_printer``, ``printer_without_name``, ``printers_unreadable``, ``cannot_write``.
    """
    if not name.strip():
        raise _without_name()
    printer = printer_named(name)
    _write({known: one for known, one in _read().items() if known != folded(printer.name)})
    return printer


def _without_name() -> Refusal:
    return Refusal("printer_without_name", N_("A printer needs a name to be found by: give it one."))


def _resolution(dpi: int) -> int:
    if dpi not in RESOLUTIONS:
        known = ", ".join(map(str, RESOLUTIONS))
        raise Refusal("no_such_resolution", N_("Printers have {known} dots an inch. Choose one."), known=known)
    return dpi


def _calibration(printer: Printer, measured: Measured) -> Calibration:
    page = printer.test_page
    if page is None:
        text = N_("{printer} has no test page yet. Print it, measure it, then enter the lengths.")
        raise Refusal("no_test_page", text, printer=printer.name)
    size = _paper_named(page.paper)
    return calibrate(size.page_width / 100, size.page_height / 100, measured, page.calibration)


def _paper_named(name: str) -> paper_stocks.LabelStock:
    known = paper_stocks.plain_paper() | every_stock()
    if name not in known:
        text = N_("There is no paper {paper}. Choose one of: {known}.")
        raise Refusal("unknown_paper", text, paper=name, known=", ".join(known))
    return known[name]


def met_in_words(printer: Printer) -> str:
    """Return what is done for a printer from now on: moved 1.5 mm to the left, 0.9 mm up, 2 ‰ wider."""
    met = printer.calibration
    moved = [
        put(text, None, {"mm": f"{abs(by) / 100:g}"})
        for by, text in (
            (met.right, N_("{mm} mm to the right") if met.right > 0 else N_("{mm} mm to the left")),
            (met.down, N_("{mm} mm down") if met.down > 0 else N_("{mm} mm up")),
        )
        if by
    ]
    spread = [
        put(text, None, {"n": abs(by)})
        for by, text in (
            (met.across, N_("{n} ‰ wider") if met.across > 0 else N_("{n} ‰ narrower")),
            (met.along, N_("{n} ‰ longer") if met.along > 0 else N_("{n} ‰ shorter")),
        )
        if by
    ]
    done = [put(N_("moved {how}"), None, {"how": ", ".join(moved)})] if moved else []
    return ", ".join([*done, *spread]) or put(N_("moved nowhere: it is true"))


def _met_or_new(name: str) -> Printer:
    plain = " ".join(name.split())
    if not plain:
        raise _without_name()
    return _read().get(folded(plain), Printer(plain))


# --- the file -----------------------------------------------------------------------------------------------------


def _file() -> Path:
    return places.settings_folder() / "printers.json"


def _read() -> dict[str, Printer]:
    """Return the printers by folded name; a file that cannot be read is refused, for it would be written over."""
    try:
        said = json.loads(_file().read_text(encoding="utf-8"))
        return {folded(name): _printer(name, one) for name, one in dict(said).items()}
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, KeyError, TypeError) as fault:
        text = N_("The printers kept in {file} cannot be read. Move the file away, then meet the printers again.")
        raise Refusal("printers_unreadable", text, file=str(_file())) from fault


def _printer(name: str, said: Mapping[str, Any]) -> Printer:
    page = said["test_page"]
    return Printer(
        name=name,
        calibration=_whole(said["calibration"]),
        dpi=int(said["dpi"]),
        measured=bool(said["measured"]),
        test_page=DrawnOn(str(page["paper"]), _whole(page["calibration"])) if page else None,
    )


def _whole(said: Mapping[str, Any]) -> Calibration:
    return Calibration(**{str(key): int(value) for key, value in said.items()})


def _keep(printer: Printer) -> Printer:
    _write(_read() | {folded(printer.name): printer})
    return printer


def _write(known: Mapping[str, Printer]) -> None:
    said = {one.name: {name: value for name, value in asdict(one).items() if name != "name"} for one in known.values()}
    file = _file()
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        text = N_("The folder {folder} cannot be made ({why}). Ask whoever looks after this machine.")
        raise Refusal("cannot_write", text, folder=str(file.parent), why=fault.strerror or "") from fault
    with written_whole(file) as stream:
        stream.write(json.dumps(said, ensure_ascii=False, indent=1).encode())
