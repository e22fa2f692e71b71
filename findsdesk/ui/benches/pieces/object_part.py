"""A short form for a coin or other find met in a container, and the new objects that the director is to know of."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.objects import (
    LEAVES_IN_WORDS,
    Leaves,
    ObjectFacts,
    RegisteredObject,
    know_of_objects,
    register_object,
)
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.pieces.kept_objects import KeptObjects, Typed
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.card import Card
from findsdesk.ui.widgets.field_form import Field, FieldForm, FieldKind
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, _

_FIELD_OF_CODE = {
    "empty": "what",
    "unknown_material": "material",
    "range_reversed": "latest",
    "more_than_there": "leaves",
    "already_settled": "leaves",
}


class ObjectPart(QWidget):
    """A coin met in a container becomes object n of the season in one act, with a tag of its own."""

    done = Signal()

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        self.code = self.number = ""
        self.kept = KeptObjects(bench, self._all_typed)
        self._typed = self.kept.read()
        """What is typed for an object and not written, by the code of the container it was met in, with its number."""
        self.elsewhere = labels.muted("", small=True)
        around = WordsAround.of(bench.surroundings.desk)
        ways = ((None, _("choose")), *((way, around.say(words)) for way, words in LEAVES_IN_WORDS.items()))
        self.form = FieldForm(
            bench.theme,
            (
                Field("what", _("What it is"), width=200, help=_("coin, bead, lamp, loom weight …")),
                Field("material", _("Material"), width=150, help=_("Any word for it: bronze, glass, bone.")),
                Field("leaves", _("Was it counted?"), FieldKind.CHOICE, choices=ways),
                Field("tenths", _("Grams"), FieldKind.GRAMS, 80),
                Field("earliest", _("From the year"), FieldKind.YEAR, 80),
                Field("latest", _("to"), FieldKind.YEAR, 80, beside=True),
                Field("description", _("Description")),
            ),
            bench.surroundings.terms,
        )
        self.button = QPushButton(_("Register the object"))
        self.choose_photo = QPushButton(_("Choose its photograph …"))
        self.photo: Path | None = None
        """The photograph that is taken in with the object."""
        self.photo_name = labels.muted(small=True)
        self.known = QPushButton(_("The director knows of them"))
        self.new = labels.plain()
        self.untold: tuple[ObjectFacts, ...] = ()
        news = Card(bench.theme, _("New objects"))
        news.body.addWidget(self.new)
        news.body.addWidget(self.known, alignment=Qt.AlignmentFlag.AlignLeading)
        self.news = news
        self.card = Card(bench.theme)
        self.card.body.addWidget(self.elsewhere)
        self.card.body.addWidget(self.form)
        pictured = QHBoxLayout()
        pictured.addWidget(self.choose_photo)
        pictured.addWidget(self.photo_name, 1)
        self.card.body.addLayout(pictured)
        self.card.body.addWidget(self.button, alignment=Qt.AlignmentFlag.AlignLeading)
        self.card.body.addWidget(
            labels.muted(
                _("It gets the next number of the season and a tag; the director finds it on the day page."), small=True
            )
        )
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(news)
        layout.addWidget(self.card)
        layout.addStretch(1)
        self.button.clicked.connect(self.write)
        self.choose_photo.clicked.connect(self._choose_photo)
        self.known.clicked.connect(self.write_known)
        self.form.entered.connect(self.write)
        self.form.edited.connect(self.kept.keep_soon)
        self.show_new(())

    def show_container(self, code: str, number: str, around: WordsAround) -> None:
        """Say in which container it was met; what is typed and not written stays with the container it is of."""
        if code != self.code:
            self._keep_typed(code)
        self.code, self.number = code, number
        self._say_elsewhere(around)
        said = N_("Met in {container} {number}") if code else N_("Scan the {container} it was met in first")
        self.card.say_heading(around.say(said, number=number))
        self.button.setEnabled(bool(code))

    def _keep_typed(self, code: str) -> None:
        typed = self.form.as_typed()
        if self.code and any(typed.values()):
            self._typed[self.code] = self.number, typed
        self.form.clear()
        self._take_photo(None)
        _number, again = self._typed.pop(code, ("", {}))
        self.form.show_values(again)

    def _all_typed(self) -> dict[str, Typed]:
        """Return all that is typed and not written: here and at other containers."""
        typed = self.form.as_typed()
        here = {self.code: (self.number, typed)} if self.code and any(typed.values()) else {}
        return self._typed | here

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.kept.keep_now()

    def _choose_photo(self) -> None:
        kinds = _("Photographs (*.jpg *.jpeg *.png *.tif *.tiff)")
        chosen = self.bench.surroundings.notices.files_to_open(_("Photograph of the object"), kinds)
        if chosen:
            self._take_photo(Path(chosen[0]))

    def _take_photo(self, path: Path | None) -> None:
        self.photo = path
        self.photo_name.setText(path.name if path else "")

    def _say_elsewhere(self, around: WordsAround) -> None:
        numbers = ", ".join(number for number, _typed in self._typed.values())
        said = N_("Not registered yet, typed at {container} {numbers}: it stands here again when that is scanned.")
        self.elsewhere.setText(around.say(said, numbers=numbers))
        self.elsewhere.setVisible(bool(numbers))

    def show_new(self, untold: tuple[ObjectFacts, ...]) -> None:
        """Show the objects that the director has not yet said to know of."""
        self.untold = untold
        say = self.bench.surroundings.words
        self.new.setText("\n".join(_of_object(one, say) for one in untold))
        self.news.setVisible(bool(untold))

    def write_known(self) -> None:
        """Write that the director knows of the new objects; only the director may."""
        desk, ids = self.bench.surroundings.desk, [one.id for one in self.untold]
        self.bench.deed(lambda: know_of_objects(desk, ids), then=lambda _n: self.done.emit(), button=self.known)

    def write(self) -> None:
        """Register the object."""
        values = self.form.read()
        if values is None:
            return
        if not self.code:
            self.bench.refuse(Refusal("no_container", N_("Scan the {container} it was met in first.")))
            return
        if values["leaves"] is None:
            text = N_("Choose first whether it was counted as a sherd: the balance of the {container} hangs on it.")
            self.bench.refuse(Refusal("leaving_unsaid", text))
            self.form.refuse_field("leaves")
            return
        desk, code = self.bench.surroundings.desk, self.code
        said: dict[str, Any] = values | {"leaves": Leaves(values["leaves"]), "photo": self.photo}
        self.bench.deed(
            lambda: register_object(desk, code, **said),
            then=lambda done: self._written(done, code),
            button=self.button,
            lost=self.form.focus_first,
            no=self._mark_refused,
        )

    def _mark_refused(self, refusal: Refusal) -> None:
        """Mark the field of the object that was refused."""
        if field := _FIELD_OF_CODE.get(refusal.code):
            self.form.refuse_field(field)

    def _written(self, done: RegisteredObject, code: str) -> None:
        self._typed.pop(code, None)
        if code == self.code:
            self.form.clear()
            self._take_photo(None)
        self.kept.keep_soon()
        around = self.bench.surroundings
        head = around.words(N_("Object {number}"), number=done.found.number)
        rest = around.words(N_(": {what}, tag {code} waits to be printed"), what=done.found.what, code=done.tag.code)
        around.say(Answer(Tone.DONE, head, rest if done.new_tag else f": {done.found.what}"))
        self.form.focus_first()
        self.done.emit()


def _of_object(one: ObjectFacts, say: Callable[..., str]) -> str:
    """Return an object with where it lies and where it was met."""
    said = N_("Object {number}, {what}: met in {container} {source}, now {container} {tag}")
    if not one.from_container or one.from_container == one.container:
        said = N_("Object {number}, {what}: {container} {tag}")
    return say(said, number=one.number, what=one.what, source=one.from_container, tag=one.container)
