"""Paper out of the window: a PDF is kept where a person says, and opened in the viewer of the machine to be printed."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QStandardPaths, QUrl
from PySide6.QtGui import QDesktopServices

from findsdesk.domain.refusals import StoreFault
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.surroundings import Surroundings
from findsdesk.words import N_, _, put


def paper_folder() -> Path:
    """Return the folder that is proposed for papers."""
    return Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation) or Path.home())


def hand_over(surroundings: Surroundings, pdf: bytes, name: str) -> None:
    """Ask where a PDF is kept, write it there away from the window's thread, say so, and open it.

    ``name`` is the file name proposed, without its ending.
    """
    chosen = surroundings.notices.file_to_write(_("Keep the paper as"), paper_folder() / f"{name}.pdf", "PDF (*.pdf)")
    if chosen is None:
        return
    path = chosen if chosen.suffix else chosen.with_suffix(".pdf")

    def done(written: Path) -> None:
        surroundings.say(
            Answer(Tone.DONE, written.name, put(N_(" lies in {folder}"), None, {"folder": written.parent}))
        )
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(written)))

    surroundings.lanes.pool(lambda: write_paper(path, pdf), then=done)


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
