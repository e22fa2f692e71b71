"""The rim tool: a diameter from chord and height of the arc, from points, a share from the length along the rim."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

from findsdesk.desk.photos import PhotoFacts, photo_path
from findsdesk.desk.piece_pages import PiecePage
from findsdesk.desk.rim_tools import RimReading, rim_by_chord, rim_by_points, share_by_arc
from findsdesk.domain.figures import Figure
from findsdesk.domain.pieces import DiameterMethod
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.rim_points import in_millimetres, read_points
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.pieces.photo_points import PointedPhoto
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.number_field import NumberField, calliper, lengths
from findsdesk.ui.widgets.one_of import OneOf
from findsdesk.ui.widgets.rim_picture import RimPicture
from findsdesk.words import N_, _, put

SCALE_MM = 100
"""The length of a scale that is usual on a photograph of finds."""


class RimPart(QWidget):
    """Follows the fields of the piece as they are typed; what it found goes into them only when somebody takes it."""

    taken = Signal(object)
    """Values for the fields of the piece: diameter, how, unsure by, share."""
    pointing = Signal(bool)
    """Points are being marked, which takes all the room, or not."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.bench = bench
        theme = bench.theme
        self.reading: RimReading | None = None
        self._typed: dict[str, Any] = {}
        self._first_photo: PhotoFacts | None = None
        self._share_put: int | None = None
        """The share of the rim (per mille) that was put into its field from here."""
        self._only_divided: int | None = None
        """The share of the rim that nobody read: its row's, divided evenly when it was lifted."""
        self._share_asked: int | None = None
        """The share that was left out because another one stands in the field."""
        self.picture = RimPicture(theme)
        self.said = labels.plain()
        self.take = QPushButton(_("Take it over"))
        self.arc = NumberField(calliper(), _("Length along the rim"))
        self.take_share = QPushButton(_("Take the share over"))
        self.by_points = QPushButton(_("From points …"))
        self.photo = PointedPhoto(theme)
        self.nearer = labels.muted(_("Wheel, + and −: nearer and farther; 0: all of it."), small=True)
        self.of_photo = QWidget()
        """What is asked of a photograph only: the length of the scale on it, the last mark."""
        self.scale = NumberField(lengths(), _("Length of the scale"))
        self.scale.set_value(SCALE_MM)
        self.typed_points = QPlainTextEdit()
        self.typed_points.setAccessibleName(_("Points in millimetres, one a line"))
        self.typed_points.setTabChangesFocus(True)
        self.back = QPushButton(_("Back to the chord"))
        self.undo = QPushButton(_("Take the last mark away"))
        self._pages = OneOf()
        self._shut, self._open = QWidget(), QWidget()
        self._lay_out()
        self._wire()
        self._show()

    def show_piece(self, page: PiecePage | None, *, anew: bool) -> None:
        """Begin with a piece: no points, its first photograph to mark them on; read again, what was marked stays."""
        self.by_points.setVisible(page is not None)
        has_photo = bool(page and page.photos)
        for part in (self.photo, self.nearer, self.of_photo):
            part.setVisible(has_photo)
        typed = _("Or points in millimetres: x y, one a line") if has_photo else _("x y, one point a line")
        self.typed_points.setPlaceholderText(typed)
        before, self._first_photo = self._first_photo, page.photos[0][0] if page and page.photos else None
        piece = page.piece if page else None
        self._only_divided = piece.rim_permille if piece and "rim" in piece.shared.split() else None
        if anew:
            self.typed_points.clear()
            self.arc.set_value(None)
            self._share_put = self._share_asked = None
            self._close()
        elif self.is_pointing() and self._first_photo is not None and before is None:
            # Its first photograph was taken in while its points were typed or asked for.
            self._read_photo()
            self._measure_points()

    def follow(self, values: dict[str, Any]) -> None:
        """Take note of what is typed in the fields of the piece."""
        self._typed = values
        if self._pages.shown() is self._shut:
            self._measure_chord()

    def point(self) -> None:
        """Go over to points: on the photograph where there is one, typed otherwise."""
        self._pages.show_page(self._open)
        self._whole.setDirection(QBoxLayout.Direction.RightToLeft)
        self.pointing.emit(True)
        if self.photo.isVisibleTo(self):
            self._read_photo()
        self.focus_points()
        self._measure_points()

    def _read_photo(self) -> None:
        desk, photo = self.bench.surroundings.desk, self._first_photo
        if photo is not None:
            self.bench.read(lambda: photo_path(desk, photo), self._show_photo, topic="photo")

    def _show_photo(self, path: Path) -> None:
        self.photo.show_photo(path)

    def is_pointing(self) -> bool:
        """Return whether points are being marked or typed."""
        return self._pages.shown() is self._open

    def focus_points(self) -> None:
        """Give the keyboard to where points are marked or typed."""
        points = self.photo if self.photo.isVisibleTo(self) else self.typed_points
        points.setFocus(Qt.FocusReason.OtherFocusReason)

    def _measure_chord(self) -> None:
        chord, height = self._typed.get("chord_tenths_mm"), self._typed.get("sagitta_tenths_mm")
        if chord is None or height is None:
            self._found(None, _("Measure the chord from end to end and the height of the arc over it."))
            return
        self._try(lambda: rim_by_chord(chord, height))

    def _measure_points(self) -> None:
        """Read points from where they were set: typed ones first."""
        typed = self.typed_points.toPlainText()
        if typed.strip():
            self._try(lambda: rim_by_points(read_points(typed)))
        elif self._first_photo is None:
            typed = _("Type four or more points along the rim, in millimetres: x y, one a line.")
            self._found(None, f"{typed} {_('To mark them on a photograph, take one in first.')}")
        elif self.photo.scale is None:
            self._found(None, _("Mark the two ends of the scale first, then four or more points along the rim."))
        else:
            scale, rim = self.photo.scale, list(self.photo.rim)
            self._try(lambda: rim_by_points(in_millimetres(rim, scale, self._scale_mm())))

    def _scale_mm(self) -> int:
        return self.scale.value() or 0

    def _try(self, measure: Callable[[], RimReading]) -> None:
        try:
            found = measure()
        except Refusal as refusal:
            self._found(None, refusal.in_words(self.bench.surroundings.terms))
            return
        self._found(found, reading_in_words(found))

    def _found(self, reading: RimReading | None, said: str) -> None:
        self.reading = reading
        self.said.setText(said)
        self._show()

    def _show(self) -> None:
        self.picture.show_reading(self.reading)
        self.take.setEnabled(self.reading is not None)
        tips = [put(figure.formula) for figure in _told(self.reading)] if self.reading else []
        self.said.setToolTip("\n".join(tips))

    def _take(self) -> None:
        """Give the diameter; a share that was read otherwise, as on the chart, is replaced only at a second press.

        One that nobody read, divided evenly at lifting, gives way at once: what is measured goes before.
        """
        reading = self.reading
        if reading is None:
            return
        values: dict[str, Any] = {
            "rim_diameter_mm": reading.diameter_mm,
            "diameter_uncertainty_mm": reading.uncertainty_mm,
            "diameter_method": reading.method.value,
        }
        stands, found = self._typed.get("rim_permille"), reading.share_permille
        gives_way = (found, self._share_put, self._only_divided)
        stays = stands is not None and stands not in gives_way and self._share_asked != found
        if not stays:
            values["rim_permille"] = self._share_put = found
        self._share_asked = found if stays else None
        self.taken.emit(values)
        if stays and stands is not None:
            text = _("Of the rim stays {stands} % as it was read. Take it over once more to put {found} % there.")
            self.said.setText(text.format(stands=f"{stands / 10:g}", found=f"{found / 10:g}"))

    def _take_share(self) -> None:
        """Give the share that follows from the diameter in the fields and the length along the rim."""
        diameter = self._typed.get("rim_diameter_mm")
        try:
            arc = self.arc.value()
            if diameter is None or arc is None:
                self.said.setText(_("Enter the rim diameter and the length along the rim first."))
                return
            self.taken.emit({"rim_permille": share_by_arc(diameter, arc)})
        except Refusal as refusal:
            self.said.setText(refusal.in_words(self.bench.surroundings.terms))

    def _close(self) -> None:
        self._pages.show_page(self._shut)
        self._whole.setDirection(QBoxLayout.Direction.TopToBottom)
        self.pointing.emit(False)
        self._measure_chord()

    def _go_back(self) -> None:
        self._close()
        # Else the toolkit gives the keyboard to whatever comes next: the button that writes the piece.
        self.by_points.setFocus(Qt.FocusReason.OtherFocusReason)

    def _wire(self) -> None:
        self.take.clicked.connect(self._take)
        self.take_share.clicked.connect(self._take_share)
        self.arc.entered.connect(lambda _value: self._take_share())
        self.by_points.clicked.connect(self.point)
        self.back.clicked.connect(self._go_back)
        self.undo.clicked.connect(self.photo.unmark)
        self.photo.moved.connect(self._measure_points)
        self.scale.line.textChanged.connect(lambda _text: self._measure_points())
        self.typed_points.textChanged.connect(self._measure_points)

    def _lay_out(self) -> None:
        px = self.bench.theme.px
        arc = QHBoxLayout()
        arc.addWidget(labels.plain(_("Length along the rim"), wrap=False))
        arc.addWidget(self.arc)
        arc.addStretch(1)
        self.arc.line.setMaximumWidth(px(70))
        shut = QVBoxLayout(self._shut)
        shut.setContentsMargins(0, 0, 0, 0)
        shut.addWidget(self.by_points, alignment=Qt.AlignmentFlag.AlignLeading)
        shut.addLayout(arc)
        shut.addWidget(self.take_share, alignment=Qt.AlignmentFlag.AlignLeading)
        shut.addStretch(1)
        opened = QVBoxLayout(self._open)
        opened.setContentsMargins(0, 0, 0, 0)
        scale = QHBoxLayout(self.of_photo)
        scale.setContentsMargins(0, 0, 0, 0)
        scale.addWidget(labels.plain(_("Scale"), wrap=False))
        scale.addWidget(self.scale)
        self.scale.line.setMaximumWidth(px(70))
        scale.addWidget(self.undo)
        scale.addStretch(1)
        self.typed_points.setMaximumHeight(px(76))
        opened.addWidget(self.photo, 1)
        opened.addWidget(self.nearer)
        opened.addWidget(self.of_photo)
        opened.addWidget(self.typed_points)
        opened.addWidget(self.back, alignment=Qt.AlignmentFlag.AlignLeading)
        opened.addStretch()
        self._pages.add_page(self._shut)
        self._pages.add_page(self._open)
        result = QVBoxLayout()
        result.addWidget(self.picture, alignment=Qt.AlignmentFlag.AlignHCenter)
        result.addWidget(self.said)
        result.addWidget(self.take, alignment=Qt.AlignmentFlag.AlignLeading)
        result.addStretch(1)
        self._whole = QBoxLayout(QBoxLayout.Direction.TopToBottom, self)
        self._whole.setContentsMargins(0, 0, 0, 0)
        self._whole.addLayout(result, 1)
        self._whole.addWidget(self._pages, 2)


def _told(reading: RimReading) -> tuple[Figure, ...]:
    """Return the figures that are told of a reading."""
    diameter, uncertainty, share = reading.figures
    return (diameter, share) if reading.uncertainty_mm is None else (diameter, uncertainty, share)


def reading_in_words(reading: RimReading) -> str:
    """Return diameter, what it is unsure by and why, the share of the circle, and what is doubtful about it."""
    text = _("{diameter} mm, ± {unsure} {because}; {percent} % of the circle.")
    if reading.uncertainty_mm is None:
        text = _(
            "{diameter} mm; {percent} % of the circle. Three points always fit a circle exactly: "
            "how far it is off cannot be told from them. Four or more tell it."
        )
    said = text.format(
        diameter=reading.diameter_mm,
        unsure=reading.uncertainty_mm,
        because=_because(reading),
        percent=f"{reading.share_permille / 10:g}",
    )
    if not reading.offered:
        return f"{said} {_('So little of it is there that the diameter is a guess.')}"
    if reading.more_than_half:
        return f"{said} {_('More than half of the rim is rare: was the height measured right?')}"
    return said


def _because(reading: RimReading) -> str:
    """Return what a diameter is unsure by, as its uncertainty was worked out."""
    if reading.method is DiameterMethod.CHORD:
        return _("if the height is misread by half a millimetre")
    said = (
        N_("by the scatter of {n} points")
        if reading.scatters
        else N_("if {n} points are off by half a millimetre each")
    )
    return put(said, None, {"n": len(reading.points)})
