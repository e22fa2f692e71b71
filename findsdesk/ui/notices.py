"""Notices: the only place that opens dialogs. What went wrong, a question, the choice of a file.

The dialogs are loaded with the first that opens: a window that has nothing to tell stands earlier.
"""

from __future__ import annotations

import logging
import sys
import threading
import traceback
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import qVersion
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

import findsdesk
from findsdesk.domain.refusals import Refusal, StoreFault
from findsdesk.words import Terms, _

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import datetime

    from PySide6.QtPrintSupport import QPrinter
    from PySide6.QtWidgets import QFileDialog

    from findsdesk.ui.keys_page import KeysOf
    from findsdesk.ui.notice import Notice

_log = logging.getLogger(__name__)


class Notices:
    """Tells and asks. Handed to all who may have to; tests put their own answers in its place."""

    def __init__(self, terms: Terms | None = None, log_folder: Path | None = None) -> None:
        self.terms = terms or Terms()
        self.parent: QWidget | None = None
        self._log_folder = log_folder
        self._showing_fault = False

    def tell(self, head: str, text: str = "", report: str = "") -> None:
        """Show something and wait until it is closed."""
        notice = self._notice(head, text, report)
        notice.add_no(_("Close"))
        if report:
            notice.add_aside(_("Copy the report"), lambda: QGuiApplication.clipboard().setText(report))
        notice.exec()

    def show_keys(self, groups: Sequence[KeysOf]) -> None:
        """Show the page of keys until it is closed."""
        from findsdesk.ui.keys_page import KeysPage

        KeysPage(groups, self.parent).exec()

    def ask(self, head: str, text: str, yes: str, no: str = "") -> bool:
        """Ask for a yes or no in words of the deed, e.g. yes="Discard 12 sherds"; return the answer."""
        notice = self._notice(head, text)
        notice.add_yes(yes)
        notice.add_no(no or _("Leave it"))
        return notice.exec() == notice.DialogCode.Accepted

    def _notice(self, head: str, text: str, report: str = "") -> Notice:
        from findsdesk.ui.notice import Notice

        return Notice(head, text, report, self.parent)

    def failed(self, fault: BaseException) -> None:
        """Show what went wrong: a refusal or a fault of the store in one sentence, anything else as a report."""
        if isinstance(fault, Refusal | StoreFault):
            self.tell(fault.in_words(self.terms))
            return
        report = self.report_on(fault)
        _log.error("%s", report)
        self._keep(report)
        if self._showing_fault:
            return
        self._showing_fault = True
        try:
            self.tell(
                _("Something in the program went wrong"),
                _("What was written stays written. Please give this report to whoever looks after the program."),
                report,
            )
        finally:
            self._showing_fault = False

    def report_on(self, fault: BaseException) -> str:
        """Return a readable report: versions, time in UTC, where it happened; no finds, no names."""
        import platform

        trace = "".join(traceback.format_exception(type(fault), fault, fault.__traceback__))
        head = [
            f"FindsDesk {findsdesk.__version__}, Python {platform.python_version()}, Qt {qVersion()}",
            f"{platform.system()} {platform.release()}",
            _now().isoformat(timespec="seconds"),
        ]
        return "\n".join([*head, "", trace])

    def catch_the_rest(self) -> None:
        """Bring every exception that nobody caught here, from any thread."""

        def hook(kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
            if issubclass(kind, KeyboardInterrupt):
                sys.__excepthook__(kind, fault, trace)
            else:
                self.failed(fault)

        def thread_hook(args: threading.ExceptHookArgs) -> None:
            if args.exc_value is not None:
                report = self.report_on(args.exc_value)
                _log.error("%s", report)
                self._keep(report)

        sys.excepthook = hook
        threading.excepthook = thread_hook

    def scan_during_dialog(self, dialog: QWidget | None) -> None:
        """Tell in the open dialog that a scan came and was not acted upon."""
        if dialog is None:
            return
        from findsdesk.ui.notice import Notice

        if isinstance(dialog, Notice):
            dialog.say_scan_received()

    def file_to_open(self, head: str, kinds: str, folder: Path | None = None) -> Path | None:
        """Let a person choose a file; ``kinds`` as in "Field lists (*.csv *.xlsx)"; None if they chose none."""
        name, _kind = _file_dialog().getOpenFileName(self.parent, head, str(folder or ""), kinds)
        self._back_to_the_window()
        return Path(name) if name else None

    def files_to_open(self, head: str, kinds: str, folder: Path | None = None) -> list[Path]:
        """Let a person choose several files."""
        names, _kind = _file_dialog().getOpenFileNames(self.parent, head, str(folder or ""), kinds)
        self._back_to_the_window()
        return [Path(name) for name in names]

    def file_to_write(self, head: str, proposal: Path, kinds: str) -> Path | None:
        """Let a person choose where a file is written; Qt asks before one that exists is replaced."""
        name, _kind = _file_dialog().getSaveFileName(self.parent, head, str(proposal), kinds)
        self._back_to_the_window()
        return Path(name) if name else None

    def printer_to_use(self, head: str, make_ready: Callable[[QPrinter], None]) -> QPrinter | None:
        """Let a person choose a printer in the system's own dialog; ``make_ready`` sets the page before and after."""
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter

        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        make_ready(printer)
        dialog = QPrintDialog(printer, self.parent)
        dialog.setWindowTitle(head)
        if dialog.exec() != QPrintDialog.DialogCode.Accepted:
            return None
        make_ready(printer)
        return printer

    def folder_to_use(self, head: str, folder: Path | None = None) -> Path | None:
        """Let a person choose a folder."""
        name = _file_dialog().getExistingDirectory(self.parent, head, str(folder or ""))
        self._back_to_the_window()
        return Path(name) if name else None

    def _back_to_the_window(self) -> None:
        """Take the keyboard back at once: where no window manager gives it back, the next key would be lost."""
        if self.parent is not None:
            self.parent.activateWindow()

    def _keep(self, report: str) -> None:
        if self._log_folder is None:
            return
        try:
            self._log_folder.mkdir(parents=True, exist_ok=True)
            stamp = _now().strftime("%Y%m%d-%H%M%S")
            (self._log_folder / f"report-{stamp}.txt").write_text(report, encoding="utf-8")
        except OSError:
            _log.exception("the report could not be kept")


def _file_dialog() -> type[QFileDialog]:
    from PySide6.QtWidgets import QFileDialog

    return QFileDialog


def _now() -> datetime:
    from datetime import UTC, datetime

    return datetime.now(UTC)
