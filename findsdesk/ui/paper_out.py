"""Paper out of the window: a PDF is kept where a person says, and opened in the viewer of the machine to be printed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QStandardPaths, QUrl
from PySide6.QtGui import QDesktopServices

from findsdesk.domain.refusals import StoreFault
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.paper_memory import read_paper
from findsdesk.ui.paper_memory import write_paper as remember
from findsdesk.ui.surroundings import Surroundings
from findsdesk.words import N_, _, put


def paper_folder(station: str = "") -> Path:
    """Return the folder that is proposed for papers: the one used last at the station, if it is still there."""
    last = read_paper(station).folder if station else ""
    if last and Path(last).is_dir():
        return Path(last)
    return Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation) or Path.home())


def hand_over(
    surroundings: Surroundings,
    pdf: bytes,
    name: str,
    *,
    show: bool = True,
    then: Callable[[Path], None] | None = None,
) -> bool:
    """Ask where a PDF is kept, write it there away from the window's thread, say so, and (``show``) open it.

    ``name`` is the file name proposed, without its ending; ``then`` is called once it is written. Returns whether a
    place was chosen.
    """
    station = surroundings.desk.station_name
    proposed = paper_folder(station) / f"{name}.pdf"
    chosen = surroundings.notices.file_to_write(_("Keep the paper as"), proposed, "PDF (*.pdf)")
    if chosen is None:
        return False
    path = chosen if chosen.suffix else chosen.with_suffix(".pdf")

    def done(written: Path) -> None:
        seen = show and QDesktopServices.openUrl(QUrl.fromLocalFile(str(written)))
        lies = N_("lies in {folder}") if seen or not show else N_("lies in {folder}. Open it there and print it.")
        surroundings.say(Answer(Tone.DONE, written.name, f" {put(lies, None, {'folder': written.parent})}"))
        if then:
            then(written)

    def work() -> Path:
        written = write_paper(path, pdf)
        remember(station, replace(read_paper(station), folder=str(written.parent)))
        return written

    surroundings.lanes.pool(work, then=done)
    return True


def write_paper(path: Path, pdf: bytes) -> Path:
    """Write a PDF whole or not at all; raises StoreFault ``cannot_write_paper``."""
    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(pdf)
        beside.replace(path)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise StoreFault(
            "cannot_write_paper",
            N_("{name} cannot be written in {folder}: {why}. Choose another folder."),
            name=path.name,
            folder=str(path.parent),
            why=error.strerror or str(error),
        ) from error
    return path
