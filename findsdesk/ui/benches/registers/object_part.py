"""An object of a season: what it is, its years and its description changed, its photographs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from findsdesk.desk.changing_objects import change_object
from findsdesk.desk.desk import Desk
from findsdesk.desk.objects import ObjectFacts, object_of
from findsdesk.desk.photos import pictures_of
from findsdesk.desk.shipped import route_of
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.registers.row_part import RowPart
from findsdesk.ui.photo_strip import PhotoStrip, Pictures
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.words import N_, _

KEYS = ("what", "made_of", "tenths", "earliest", "latest", "description")
_SIDE = 120
_FIELD_OF_CODE = {"empty": "what", "range_reversed": "latest"}


@dataclass(frozen=True, slots=True)
class _Read:
    """What one reading brings."""

    found: ObjectFacts
    pictures: Pictures


class ObjectPart(RowPart):
    """What was changed is written; photographs are taken in and off by themselves."""

    def __init__(self, bench: Bench) -> None:
        super().__init__(bench)
        self.found: ObjectFacts | None = None
        self.card = Card(bench.theme, " ")
        self.met = labels.muted("")
        self.form = FieldForm(
            bench.theme,
            (
                Field("what", _("What it is"), width=260),
                Field("made_of", _("Made of"), width=150, beside=True),
                Field("tenths", _("Grams"), FieldKind.GRAMS, 80),
                Field("earliest", _("From the year"), FieldKind.YEAR, 80),
                Field("latest", _("to"), FieldKind.YEAR, 80, beside=True),
                Field("description", _("Description")),
            ),
            bench.surroundings.terms,
        )
        self.button = QPushButton(_("Write what it is"))
        self.photos = PhotoStrip(bench, _SIDE, in_a_row=True)
        for part in (self.met, self.form):
            self.card.body.addWidget(part)
        self.card.body.addWidget(self.button, alignment=Qt.AlignmentFlag.AlignLeading)
        self.card.body.addWidget(self.photos)
        self.column.addWidget(self.card)
        self.column.addStretch(1)
        self.button.clicked.connect(self.write)
        self.form.entered.connect(self.write)
        self.photos.done.connect(self.reload)

    def show_object(self, number: int, season: str) -> None:
        """Read an object and show it; the keyboard is on its first field."""
        self.found = None
        self._read(number, season)

    def reload(self) -> None:
        """Read the object again, where there is one; what somebody types stays."""
        if self.found is not None:
            self._read(self.found.number, self.found.season)

    def _read(self, number: int, season: str) -> None:
        desk = self.bench.surroundings.desk
        self.bench.read(lambda: _read(desk, number, season), self._show, topic="object", opens=self.found is None)

    def _show(self, read: _Read) -> None:
        found, say = read.found, self.bench.surroundings.words
        other = self.found is None
        if other or not self._changed():
            self.form.clear()
            self.form.show_values({key: getattr(found, key) for key in KEYS})
        self.found = found
        self.card.say_heading(say(N_("Object {number}, season {season}"), number=found.number, season=found.season))
        lies = say(N_("Now {container} {number}."), number=found.container)
        met = say(N_("Met in {container} {number}."), number=found.from_container) if found.from_container else ""
        route = f"{say(route_of(found.material).name)}."
        self.met.setText(" ".join(part for part in (route, met, lies) if part))
        self.there.setText(say(N_("Take its {container} in hand")))
        name = say(N_("object {number}"), number=found.number)
        self.photos.show_pictures(("object", found.id), name, read.pictures)
        if other:
            self.form.focus_first()

    def _changed(self) -> dict[str, Any]:
        """Return what is typed and not written yet."""
        values, found = self.form.peek(), self.found
        return {} if found is None else {key: values[key] for key in KEYS if values[key] != getattr(found, key)}

    def write(self) -> None:
        """Write what was changed; where nothing was, lead back to the list."""
        values, found, desk = self.form.read(), self.found, self.bench.surroundings.desk
        if values is None or found is None:
            return
        said: dict[str, Any] = {key: values[key] for key in KEYS if values[key] != getattr(found, key)}
        if not said:
            self.left.emit()
            return
        self.bench.deed(
            lambda: change_object(desk, found.id, seen=found.version, **said),
            then=self._written,
            button=self.button,
            no=self._mark_refused,
        )

    def _mark_refused(self, refusal: Refusal) -> None:
        if field := _FIELD_OF_CODE.get(refusal.code):
            self.form.refuse_field(field)

    def _written(self, found: ObjectFacts) -> None:
        say = self.bench.surroundings.words
        self._show(_Read(found, self.photos.pictures))
        self.bench.surroundings.say(
            Answer(Tone.DONE, say(N_("Object {number}"), number=found.number), say(N_(": written")))
        )
        self.left.emit()


def _read(desk: Desk, number: int, season: str) -> _Read:
    found = object_of(desk, number, season)
    return _Read(found, pictures_of(desk, ("object", found.id)))
