"""Where everything is: the store, its copies, this station's settings; and the proof of the store."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk import places
from findsdesk.desk.desk import Desk
from findsdesk.desk.proving import Proof, prove
from findsdesk.desk.restoring import kept_copies
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.slips import RefusalSlip
from findsdesk.words import N_, _, plural, put


@dataclass(frozen=True, slots=True)
class Places:
    """Where things lie, as plain texts."""

    store: str
    copies: int
    newest: datetime | None
    folder: str
    settings: str


def places_of(desk: Desk) -> Places:
    """Return where the store, its copies and this station's settings lie."""
    path = desk.store.path
    copies = kept_copies(path) if path is not None else ()
    return Places(
        store=str(path) if path is not None else desk.store.name,
        copies=len(copies),
        newest=copies[0].made_at if copies else None,
        folder=str(path.with_suffix(".backups")) if path is not None else "",
        settings=str(places.settings_folder()),
    )


class WherePart(QWidget):
    """Says where things lie, makes a copy, and proves the store."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self.lines = labels.plain("")
        self.findings = RefusalSlip(bench.theme)
        self.copy_button = QPushButton(_("Make a verified copy now"))
        self.prove_button = QPushButton(_("Prove the store"))
        self.copy_button.clicked.connect(self.copy)
        self.prove_button.clicked.connect(self.prove)
        self.said = labels.plain("")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(bench.theme.px(12))
        layout.addWidget(self.lines)
        buttons = QHBoxLayout()
        buttons.addWidget(self.copy_button)
        buttons.addWidget(self.prove_button)
        buttons.addStretch(1)
        layout.addLayout(buttons)
        layout.addWidget(self.said)
        layout.addWidget(self.findings)
        layout.addStretch(1)

    def refresh(self) -> None:
        """Look again where things lie."""
        desk = self.bench.surroundings.desk
        self.bench.read(lambda: places_of(desk), self._show, "places")

    def copy(self) -> None:
        """Make a verified copy on the reading lane."""
        self._busy(_("The copy is being made …"), self.bench.surroundings.desk.copy, lambda _copy: self._copied())

    def prove(self) -> None:
        """Prove the store on the reading lane."""
        desk = self.bench.surroundings.desk
        self._busy(_("The journal, the totals and the references are being read …"), lambda: prove(desk), self._proved)

    def _busy(self, words: str, work: Callable[[], object], then: Callable[[object], None]) -> None:
        self.findings.clear()
        self.said.setText(words)
        for button in (self.copy_button, self.prove_button):
            button.setEnabled(False)

        def done(value: object) -> None:
            for button in (self.copy_button, self.prove_button):
                button.setEnabled(True)
            then(value)

        def failed(fault: BaseException) -> None:
            self.said.setText("")
            for button in (self.copy_button, self.prove_button):
                button.setEnabled(True)
            self.bench.surroundings.notices.failed(fault)

        self.bench.surroundings.lanes.read(work, then=done, failed=failed)

    def _copied(self) -> None:
        self.said.setText(_("A copy was made, opened again and checked."))
        self.refresh()

    def _proved(self, value: object) -> None:
        assert isinstance(value, Proof)
        if value.sound:
            acts = plural("{n} act", "{n} acts", value.acts)
            self.said.setText(
                put(N_("Sound: {acts}, nothing found. Head {head}."), None, {"acts": acts, "head": value.head})
            )
            self.bench.surroundings.say(
                Answer(Tone.DONE, _("Proved"), put(N_(": journal, totals and references agree")))
            )
            return
        self.said.setText("")
        terms = self.bench.surroundings.terms
        lines = [f"{one.where}: {one.in_words(terms)}" for one in value.findings[:10]]
        self.findings.refuse("\n".join(lines))

    def _show(self, where: Places) -> None:
        zone = self.bench.surroundings.desk.facts.zone
        newest = times.day_and_time(where.newest, zone) if where.newest else _("none yet")
        facts = {
            "store": where.store,
            "copies": where.copies,
            "folder": where.folder,
            "newest": newest,
            "settings": where.settings,
        }
        lines = (
            put(N_("The excavation: {store}"), None, facts),
            put(N_("Copies: {copies} in {folder}, the newest {newest}"), None, facts),
            put(N_("This station's settings: {settings}"), None, facts),
        )
        self.lines.setText("\n".join(lines))
