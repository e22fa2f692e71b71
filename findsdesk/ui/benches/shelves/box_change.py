"""What is changed of a box in hand: how much it may weigh, what it weighs empty, a note; and that it is given up."""

from __future__ import annotations

from PySide6.QtCore import Signal

from findsdesk.desk.boxes import BoxFacts, change_box
from findsdesk.desk.desk import Desk
from findsdesk.ui.asking_form import AskingForm
from findsdesk.ui.bench import Bench
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.words import _


class BoxChange(AskingForm):
    """Asks before a limit that is heavy to lift, as a new box does."""

    changed = Signal(object)
    """The box's ``BoxFacts`` as it is now."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench, _("Change this box"), _("Write the change"))
        self._box: BoxFacts | None = None
        self.wanted.connect(self._change)

    def begin_with(self, box: BoxFacts) -> None:
        """Open with what is said of a box now."""
        form = FieldForm(self.theme, _fields(), self.bench.surroundings.terms)
        self.begin(form)
        self._box = box
        form.show_values({"limit_tenths": box.limit_tenths, "empty_tenths": box.empty_tenths, "note": box.note})

    def _change(self) -> None:
        said, box = self.read(), self._box
        if said is None or box is None:
            return
        desk: Desk = self.bench.surroundings.desk
        limit = said["limit_tenths"] if said["limit_tenths"] != box.limit_tenths else None
        empty, note = said["empty_tenths"] or 0, said["note"]

        def work(sure: bool) -> BoxFacts:
            return change_box(
                desk, box.code, seen=box.version, limit_tenths=limit, empty_tenths=empty, note=note, sure=sure
            )

        self.bench.deed(lambda: work(False), then=self._is_changed, sure=lambda: work(True), button=self.write)

    def _is_changed(self, box: BoxFacts) -> None:
        self.leave()
        self.changed.emit(box)


def _fields() -> tuple[Field, ...]:
    return (
        Field("limit_tenths", _("At most"), FieldKind.GRAMS, width=120),
        Field("empty_tenths", _("Empty"), FieldKind.GRAMS, width=120, beside=True),
        Field("note", _("Note")),
    )
