"""What stands on a kind of label, field by field, beside the very label as it prints."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QPaintEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from findsdesk.desk.label_layouts import (
    KIND_IN_WORDS,
    LARGEST,
    LEAST,
    SQUARES,
    Layout,
    LayoutFacts,
    field_titles,
    shipped_layout,
)
from findsdesk.desk.label_preview import DrawnField, LookedAt
from findsdesk.domain.numbers import read_tenths_of_points
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.bench import act_button
from findsdesk.ui.benches.labels.layout_rows import BESIDE, UNDER, FieldRow, layout_of, moved, rows_of
from findsdesk.ui.surroundings import Surroundings
from findsdesk.ui.theme import Theme
from findsdesk.ui.widgets import labels
from findsdesk.ui.widgets.choice_fields import ChoiceBox
from findsdesk.ui.widgets.flow_layout import FlowLayout
from findsdesk.ui.widgets.number_field import Measure, NumberField
from findsdesk.ui.widgets.painting import Drawn, painter_of
from findsdesk.words import N_, _, put

_NEAR = 0.8
"""The share of what was asked, under which it is said that no more fits: all lines shrink a little together."""


class LabelPicture(Drawn):
    """The label on screen, cut out of the page that would be printed."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self._image = QImage()
        self.setAccessibleName(_("The label as it prints"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_image(self, image: QImage) -> None:
        """Show another label."""
        self._image = image
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self.theme.px(420), self.theme.px(190))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.theme.px(200), self.theme.px(150))

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._image.isNull():
            return
        painter = painter_of(self)
        painter.setRenderHint(painter.RenderHint.SmoothPixmapTransform)
        size = self._image.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
        area = QRectF(0.5, 0.5, size.width() - 1, size.height() - 1)
        painter.drawImage(area, self._image)
        painter.setPen(self.theme.colour("line"))
        painter.drawRect(area)


class _FieldLine:
    """The widgets of one field."""

    def __init__(self, row: FieldRow, title: str, surroundings: Surroundings) -> None:
        self.row = row
        self.shown, self.place = QCheckBox(title), ChoiceBox()
        for key, words in _places():
            self.place.addItem(words, key)
        self.size = NumberField(Measure(_read_size, _("pt"), 10), f"{title}, {_('size')}", surroundings.terms)
        self.fits = labels.muted(small=True)
        """In which size it truly stands on the label."""
        self.note = QWidget()
        note = QHBoxLayout(self.note)
        note.setContentsMargins(0, 0, 0, 0)
        note.addWidget(self.size.said(), 1)
        note.addWidget(self.fits, 1)
        self.size.line.textChanged.connect(lambda _text: self.fits.clear())
        self.bold, self.joins = QCheckBox(_("bold")), QCheckBox(_("same line"))
        self.up, self.down = QPushButton("↑"), QPushButton("↓")
        named: tuple[tuple[QWidget, str], ...] = (
            (self.place, _("{field}: where it stands")),
            (self.bold, _("{field}: bold")),
            (self.joins, _("{field}: on the line of the one above")),
            (self.up, _("{field}: further up")),
            (self.down, _("{field}: further down")),
        )
        for part, words in named:
            part.setAccessibleName(words.format(field=title))
        self.shown.setChecked(row.shown)
        self.place.setCurrentIndex(max(0, self.place.findData(row.place)))
        self.size.set_value(round(row.size * 10))
        self.bold.setChecked(row.bold)
        self.joins.setChecked(row.joins)

    def allow(self, leads: bool = True) -> None:
        """Let be set what means something: size and letters are of a line, so the field that ``leads`` it has them."""
        shown, under = self.shown.isChecked(), self.place.currentData() == UNDER
        self.place.setEnabled(shown)
        self.joins.setEnabled(shown and not under)
        for part in (self.size, self.bold):
            part.setVisible(leads or not shown)
            part.setEnabled(shown and not under)
        self.note.setVisible(shown and leads and not under)

    def show_drawn(self, drawn: DrawnField | None, above: DrawnField | None) -> None:
        """Say in which size the field truly stands, and whether it had no room for a line of its own."""
        asked = self.row.size if self.size.wrong() else (self.size.value() or 0) / 10
        text, short = "", False
        if drawn is not None and above is not None and drawn.text == above.text:
            text, short = _("no room: stands on the line above"), True
        elif drawn is not None:
            short = drawn.points < asked * _NEAR
            text = N_("only {points} pt fit") if short else N_("stands in {points} pt")
            text = put(text, None, {"points": f"{drawn.points:.1f}"})
        self.fits.setText("" if self.size.wrong() else text)
        labels.restyle(self.fits, wrong=short, muted=not short)

    def said(self) -> FieldRow:
        """Return the row as it is set; refuses a size that is none."""
        size = self.size.value()
        return replace(
            self.row,
            shown=self.shown.isChecked(),
            place=str(self.place.currentData()),
            size=self.row.size if size is None else size / 10,
            bold=self.bold.isChecked(),
            joins=self.joins.isChecked(),
        )

    def said_or_before(self) -> FieldRow:
        """Return the row as it is set; with the size it had while the one that is typed is none."""
        try:
            return self.said()
        except Refusal:
            return replace(self.row, shown=self.shown.isChecked(), place=str(self.place.currentData()))

    def parts(self) -> tuple[QWidget, ...]:
        """Return the widgets from left to right."""
        return (self.shown, self.place, self.size, self.bold, self.joins, self.up, self.down, self.note)


def _read_size(text: str) -> int:
    """Read a size of letters in tenths of a point; refuses ``layout_size`` beside what is no number."""
    tenths = read_tenths_of_points(text)
    if not LEAST * 10 <= tenths <= LARGEST * 10:
        said = N_("Type {least} to {most} points.")
        raise Refusal("layout_size", said, least=f"{LEAST:g}", most=f"{LARGEST:g}")
    return tenths


class LayoutEditor(QWidget):
    """What is set stays until it is kept or left; every change asks for the label anew."""

    changed = Signal()
    keep_wanted = Signal()
    refused = Signal(object)

    def __init__(self, surroundings: Surroundings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme, self._around = surroundings.theme, surroundings
        self._facts: LayoutFacts | None = None
        self._before: Layout | None = None
        self._lines: list[_FieldLine] = []
        self.picture, self.head = LabelPicture(self.theme), labels.bold()
        self.about = labels.muted(small=True)
        """Whose label is drawn: of one that waits, or an invented one."""
        self.square, self.bars = ChoiceBox(), QCheckBox(_("bars (Code 128) where there is room"))
        self.hole, self.counterfoil = QCheckBox(_("hole for string")), QCheckBox(_("counterfoil to tear off"))
        self.keep, self.as_shipped = act_button(_("Keep the layout")), QPushButton(_("As it ships"))
        self.leave = QPushButton(_("Back"))
        self._grid, self._holder, self._flows = QGridLayout(), QWidget(), list[FlowLayout]()
        self._fill()

    def _fill(self) -> None:
        self.square.setAccessibleName(_("Symbol"))
        for key, words in zip(SQUARES, _squares(), strict=True):
            self.square.addItem(words, key)
        self._holder.setLayout(self._grid)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setColumnStretch(7, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        beside = QVBoxLayout()
        beside.addWidget(self.head)
        beside.addWidget(self.about)
        beside.addWidget(self._flowing(self.square, self.bars, self.hole, self.counterfoil))
        beside.addStretch(1)
        beside.addWidget(self._flowing(self.keep, self.as_shipped, self.leave))
        top = QHBoxLayout()
        top.addWidget(self.picture, 1)
        top.addLayout(beside, 1)
        layout.addLayout(top)
        layout.addWidget(self._holder)
        layout.addStretch(1)
        self.keep.clicked.connect(self.keep_wanted)
        self.as_shipped.clicked.connect(self._ship)
        self.square.activated.connect(self._told)
        for box in (self.bars, self.hole, self.counterfoil):
            box.clicked.connect(self._told)

    def begin(self, facts: LayoutFacts) -> None:
        """Begin with the layout as it stands."""
        self._facts = facts
        self.head.setText(put(KIND_IN_WORDS[facts.layout.kind]))
        self._show(facts.layout)

    def is_changed(self) -> bool:
        """Return whether something is set otherwise than it holds."""
        try:
            return self._facts is not None and self.said() != self._facts.layout
        except Refusal:
            return True

    @property
    def seen(self) -> int:
        """Return the version that was looked at."""
        return self._facts.version if self._facts else 0

    def said(self) -> Layout:
        """Return the layout as it is set. Refuses a size that is no number; the desk judges the rest."""
        assert self._before is not None
        return layout_of([line.said() for line in self._lines], self._symbols(self._before))

    def _symbols(self, layout: Layout) -> Layout:
        shipped = shipped_layout(layout.kind).counterfoil
        return replace(
            layout,
            square=self.square.currentData(),
            bars=self.bars.isChecked(),
            hole=self.hole.isChecked(),
            counterfoil=(layout.counterfoil or shipped) if self.counterfoil.isChecked() else (),
        )

    def _show(self, layout: Layout) -> None:
        self._before = layout
        self.square.setCurrentIndex(self.square.findData(layout.square))
        self.bars.setChecked(layout.bars)
        self.hole.setChecked(layout.hole)
        self.counterfoil.setChecked(bool(layout.counterfoil))
        may = bool(shipped_layout(layout.kind).counterfoil)
        self.hole.setVisible(may)
        self.counterfoil.setVisible(may)
        titles = field_titles(layout.kind, self._around.terms)
        self._show_rows(rows_of(layout, tuple(titles)), titles)
        self.changed.emit()

    def _show_rows(self, rows: tuple[FieldRow, ...], titles: dict[str, str]) -> None:
        for line in self._lines:
            for part in line.parts():
                part.deleteLater()
        self._lines = [_FieldLine(row, titles[row.name], self._around) for row in rows]
        for place, line in enumerate(self._lines):
            for column, part in enumerate(line.parts()):
                self._grid.addWidget(part, place, column)
                part.show()  # now: the keyboard may be given to it before the layout would show it
            self._wire(line, place)
        self._allow()
        self._fit_lines()

    def _allow(self) -> None:
        """Let each line's first field alone set size and letters, as they hold for the whole line."""
        begun = False
        for line in self._lines:
            row = line.said_or_before()
            stands = row.shown and row.place != UNDER
            line.allow(leads=not (stands and row.joins and begun))
            begun = begun or stands

    def show_looked(self, picture: QImage, looked: LookedAt) -> None:
        """Show the label as it prints, and beside each line in which size it truly stands."""
        self.picture.show_image(picture)
        sample = _("An invented label: none of this kind waits.")
        self.about.setText(sample if looked.invented else _("The first of those that wait, as it prints."))
        above: DrawnField | None = None
        for line in self._lines:
            drawn = looked.fields.get(line.row.name) if line.shown.isChecked() else None
            line.show_drawn(drawn, above)
            above = drawn or above

    def go_to_wrong(self) -> bool:
        """Take the keyboard to the first size that is none; returns whether there is one."""
        wrong = next((line for line in self._lines if line.shown.isChecked() and not line.size.judge()), None)
        if wrong is not None:
            wrong.size.line.setFocus(Qt.FocusReason.OtherFocusReason)
            wrong.size.line.selectAll()
        return wrong is not None

    def _wire(self, line: _FieldLine, place: int) -> None:
        for box in (line.shown, line.bold, line.joins):
            box.clicked.connect(self._told)
        line.place.activated.connect(self._told)
        line.size.settled.connect(self._told)
        line.up.clicked.connect(lambda: self._move(place, -1))
        line.down.clicked.connect(lambda: self._move(place, 1))
        line.up.setEnabled(place > 0)
        line.down.setEnabled(place < len(self._lines) - 1)

    def _move(self, place: int, steps: int) -> None:
        try:
            rows = moved([line.said() for line in self._lines], place, steps)
        except Refusal as refusal:
            self.refused.emit(refusal)
            return
        assert self._before is not None
        self._show_rows(rows, field_titles(self._before.kind, self._around.terms))
        there = self._lines[max(0, min(len(rows) - 1, place + steps))]
        button = there.up if steps < 0 else there.down
        self.changed.emit()
        (button if button.isEnabled() else there.shown).setFocus(Qt.FocusReason.OtherFocusReason)

    def take_keyboard(self) -> None:
        """Take the keyboard to the first field."""
        self._lines[0].shown.setFocus(Qt.FocusReason.OtherFocusReason)

    def come_into_sight(self) -> None:
        """Scroll to the top once the lines have their place: what is changed below is looked at there."""
        above = self.parentWidget()
        while above is not None and not isinstance(above, QScrollArea):
            above = above.parentWidget()
        if above is not None:
            above.verticalScrollBar().setValue(0)

    def _ship(self) -> None:
        assert self._before is not None
        self._show(shipped_layout(self._before.kind))

    def _told(self) -> None:
        self._allow()
        self.changed.emit()

    def space(self, gap: int) -> None:
        """Set the gap between the parts, in pixels."""
        for flow in self._flows:
            flow.set_gaps(gap, gap)
        self._grid.setHorizontalSpacing(gap)
        self._grid.setVerticalSpacing(max(2, gap // 2))
        self._fit_lines()

    def _fit_lines(self) -> None:
        for line in self._lines:
            line.size.line.setFixedWidth(self.theme.px(54))
            for button in (line.up, line.down):
                button.setFixedWidth(self.theme.px(48))

    def _flowing(self, *parts: QWidget) -> QWidget:
        holder, flow = QWidget(), FlowLayout()
        holder.setLayout(flow)
        holder.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        for part in parts:
            flow.addWidget(part)
        self._flows.append(flow)
        return holder


def _places() -> tuple[tuple[str, str], ...]:
    return (
        ("words", _("words")),
        ("numbers", _("number, captioned")),
        ("boxes", _("box to write in")),
        ("text", _("text, fills the rest")),
        (BESIDE, _("beside the number")),
        (UNDER, _("under the symbol")),
    )


def _squares() -> tuple[str, ...]:
    return (put(N_("symbol that fits")), put(N_("QR")), put(N_("Data Matrix")))
