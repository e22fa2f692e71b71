"""Paper out of the window: a PDF is kept where a person says, and opened in the viewer of the machine to be printed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QStandardPaths, QUrl
from PySide6.QtGui import QDesktopServices

from findsdesk.desk.desk import Desk
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.paper_memory import read_paper
from findsdesk.ui.paper_memory import write_paper as remember
from findsdesk.ui.surroundings import Surroundings
from findsdesk.words import N_, _, put

_MOST_OF_A_NAME = 100
PAPERS = "papers"
"""The folder beside a store in which its papers are kept, where somebody has made one."""


def paper_folder(desk: Desk) -> Path:
    """Return the folder proposed for papers: the one used last at the station, or the excavation's own.

    Only folders that are there: a file dialog turns to wherever the program was started when its folder is missing.
    """
    store = desk.store.path
    beside = (store.parent / PAPERS, store.parent) if store else ()
    documents = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
    last = read_paper(desk.station_name).folder
    wanted = [*map(Path, filter(None, (last,))), *beside[:1], *map(Path, filter(None, (documents,))), *beside[1:]]
    return next((folder for folder in wanted if folder.is_dir()), Path.home())


def unused(folder: Path, name: str) -> Path:
    """Return the PDF proposed in a folder: of a second print on a day "…-2", so that none is written over."""
    names = (f"{name}.pdf", *(f"{name}-{number}.pdf" for number in range(2, _MOST_OF_A_NAME)))
    return next((folder / one for one in names if not (folder / one).exists()), folder / names[0])


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
    proposed = unused(paper_folder(surroundings.desk), name)
    if show:
        surroundings.say(Answer(Tone.PLAIN, _("Where is the PDF kept?"), _(" It is printed from your viewer.")))
    chosen = surroundings.notices.file_to_write(_("Keep the PDF as"), proposed, "PDF (*.pdf)")
    if chosen is None:
        surroundings.say(Answer(Tone.PLAIN, _("Nothing is kept"), _(": no place was chosen for the PDF")))
        return False
    path = chosen if chosen.suffix else chosen.with_suffix(".pdf")

    def done(written: Path) -> None:
        seen = show and QDesktopServices.openUrl(QUrl.fromLocalFile(str(written)))
        lies = N_("lies in {folder}") if seen or not show else N_("lies in {folder}. Open it there and print it.")
        surroundings.say(Answer(Tone.DONE, written.name, f" {put(lies, None, {'folder': written.parent})}"))
        if then:
            then(written)

    def work() -> Path:
        from findsdesk.desk.kept_sheets import write_paper  # only here: it brings the drawing of labels with it

        written = write_paper(pdf, path)
        remember(station, replace(read_paper(station), folder=str(written.parent)))
        return written

    surroundings.lanes.pool(work, then=done)
    return True
