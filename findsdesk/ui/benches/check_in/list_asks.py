"""What a field list leaves out in every row and is told once: its material, its day."""

from __future__ import annotations

from collections.abc import Sequence

from findsdesk.ui.table_preview import GivenPart
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.day_field import DayField
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.words import _


class GivenFields(GivenPart):
    """What is the same for all rows of a list that has no column for it."""

    def __init__(self, theme: Theme, materials: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._materials = materials
        self.material = ChoiceBox()
        self.material.setAccessibleName(_("The same material for all rows"))
        self.day = DayField(_("The same date for all rows"))
        self.day.setMaximumWidth(theme.px(160))
        theme.changed.connect(lambda: self.day.setMaximumWidth(theme.px(160)))
        self.material.activated.connect(self._tell_material)
        self.day.returnPressed.connect(self._tell_day)
        self._material_label = labels.plain(_("All rows are"), wrap=False)
        self._day_label = labels.plain(_("All rows are of"), wrap=False)
        flow = FlowLayout(theme.px(8), theme.px(6))
        self.setLayout(flow)
        for part in (self._material_label, self.material, self._day_label, self.day):
            flow.addWidget(part)
        self.hide()

    def show_missing(self, columns: Sequence[str]) -> None:
        """Ask for these columns."""
        self.setVisible(bool(columns))
        if "material" in columns and not self.material.count():
            self.material.addItem(_("choose"), "")
            for key, name in self._materials:
                self.material.addItem(name, key)
        for part in (self._material_label, self.material):
            part.setVisible("material" in columns)
        for field in (self._day_label, self.day):
            field.setVisible("collected_on" in columns)

    def forget(self) -> None:
        """Begin anew with another list."""
        self.material.setCurrentIndex(0)
        self.day.clear()

    def _tell_material(self) -> None:
        if self.material.currentData():
            self.given.emit("material", str(self.material.currentData()))

    def _tell_day(self) -> None:
        day = self.day.day()
        if day is not None:
            self.given.emit("collected_on", day.isoformat())
