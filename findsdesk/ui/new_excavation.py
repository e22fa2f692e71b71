"""The form for a new excavation: site, short code, director, time zone, its own words, and the file of its store."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from zoneinfo import available_timezones

from PySide6.QtCore import QTimeZone, Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk import places
from findsdesk.ui.bench import act_button
from findsdesk.ui.notices import Notices
from findsdesk.ui.store_work import STORE_SUFFIX
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.slips import RefusalSlip
from findsdesk.words import Terms, _


class NewExcavationForm(QWidget):
    """Nothing typed is lost when the excavation cannot be made: the form stays as it is, with the reason above it."""

    wanted = Signal(object)
    """The fields as texts, by name, when somebody asks for the excavation to be made."""
    left = Signal()

    def __init__(self, theme: Theme, notices: Notices, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.notices = notices
        self.refusals = RefusalSlip(theme)
        self.fields: dict[str, QLineEdit] = {name: QLineEdit() for name in ("name", "code", "director")}
        words = Terms()
        self.fields |= {word: QLineEdit(getattr(words, word)) for word in Terms.__slots__}
        self.fields["where"] = QLineEdit()
        self.zone = QComboBox()
        self._fill_zones()
        self.make = act_button(_("Make the excavation"))
        self.make.clicked.connect(lambda: self.wanted.emit(self.values()))
        self._where_typed = False
        self.fields["where"].textEdited.connect(self._note_typed)
        self.fields["name"].textChanged.connect(self._propose_where)
        self._propose_where("")
        self._lay_out()

    def values(self) -> Mapping[str, str]:
        """Return what stands in the fields."""
        return {name: field.text().strip() for name, field in self.fields.items()} | {
            "time_zone": self.zone.currentText()
        }

    def refuse(self, words: str) -> None:
        """Say why it was not made."""
        self.refusals.refuse(words)

    def _fill_zones(self) -> None:
        zones = sorted(available_timezones())
        self.zone.addItems(zones)
        here = bytes(QTimeZone.systemTimeZoneId().data()).decode()
        self.zone.setCurrentText(here if here in zones else "Etc/UTC")
        self.zone.setEditable(True)

    def _note_typed(self) -> None:
        self._where_typed = True

    def _propose_where(self, name: str) -> None:
        if not self._where_typed:
            plain = re.sub(r"[^\w]+", "-", name.strip().lower()).strip("-") or "excavation"
            self.fields["where"].setText(str(places.default_stores_folder() / f"{plain}{STORE_SUFFIX}"))

    def _choose_where(self) -> None:
        proposal = Path(self.fields["where"].text())
        chosen = self.notices.file_to_write(_("Where the store lies"), proposal, f"FindsDesk (*{STORE_SUFFIX})")
        if chosen is not None:
            self._where_typed = True
            self.fields["where"].setText(str(chosen))

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        rows: list[tuple[str, QWidget]] = [
            (_("Name of the site"), self.fields["name"]),
            (_("Short code, 2 or 3 letters: stands in every tag"), self.fields["code"]),
            (_("Director"), self.fields["director"]),
            (_("Time zone"), self.zone),
            (_("What you call a deposit, and several"), self._pair("deposit", "deposits")),
            (_("What you call a container, and several"), self._pair("container", "containers")),
            (_("What you call a square, and several"), self._pair("square", "squares")),
            (_("File of the store"), self._where()),
        ]
        for words, field in rows:
            label = labels.plain(words)
            inner = [field] if isinstance(field, QLineEdit | QComboBox) else field.findChildren(QLineEdit)
            label.setBuddy(inner[0])
            for one in inner:
                one.setAccessibleName(words)
            form.addRow(label, field)
        buttons = QHBoxLayout()
        back = QPushButton(_("Back"))
        back.clicked.connect(self.left)
        buttons.addWidget(self.make)
        buttons.addWidget(back)
        buttons.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.refusals)
        whole.addLayout(form)
        whole.addLayout(buttons)

    def _pair(self, one: str, several: str) -> QWidget:
        row = QWidget()
        layout = QHBoxLayout(row)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.fields[one])
        layout.addWidget(self.fields[several])
        return row

    def _where(self) -> QWidget:
        row = QWidget()
        layout = QHBoxLayout(row)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.fields["where"], 1)
        choose = QPushButton(_("Choose …"))
        choose.setProperty("quiet", True)
        choose.clicked.connect(self._choose_where)
        layout.addWidget(choose)
        return row
