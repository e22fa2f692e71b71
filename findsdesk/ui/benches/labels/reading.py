"""What the labels bench reads in one go, on the reading lane: how much waits, and what the chosen row shows."""

from __future__ import annotations

from dataclasses import dataclass, field

from findsdesk.desk.bagging import BagProposal, SettledContainer, propose_bags, settled_to_bag
from findsdesk.desk.desk import Desk
from findsdesk.desk.label_contents import LAYOUT_OF
from findsdesk.desk.label_layouts import LayoutFacts, label_layouts
from findsdesk.desk.labels_waiting import LabelsWaiting, TagsToPrint, labels_waiting, tags_to_print
from findsdesk.desk.marking_table import MarksShown, marks_shown
from findsdesk.desk.other_labels import OtherLabels, Which, other_labels
from findsdesk.desk.printing import LabelBatch, PrintKind, field_tags, gather, gather_again
from findsdesk.desk.redoing import ThingToRedo, things_to_redo
from findsdesk.desk.setting_up import people
from findsdesk.desk.squares import squares
from findsdesk.desk.unaccounted import unaccounted
from findsdesk.ui.benches.labels.rows import Row

_NAMES = (Row.TAGS, Row.AGAIN, Row.MARKS)
"""The rows in which somebody of the team is named."""
_MOST_PROPOSED = 60
"""Containers whose bags are worked out for the screen; the others are packed just the same."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be read: the chosen row, the kind that is printed, codes (None: all that wait), a reprint's reason."""

    row: Row
    kind: PrintKind | None = None
    codes: tuple[str, ...] | None = None
    reason: str = ""
    tags_for: str = ""
    """For tags: the key of a block, or empty for all that go to the trench."""
    marks_of: str | None = None
    """For marks: the number of a deposit that is read by itself; None: all that are shown at once."""
    done_marks: bool = False
    """For marks: whether what is done is read, too."""
    which: Which | None = None
    """For other labels: which of the kind; None: those of today, or else all that wait."""
    container_id: int | None = None
    """For other labels: the container in hand."""


@dataclass(frozen=True, slots=True)
class ToPack:
    """A settled container with the bags it would make."""

    container: SettledContainer
    bags: tuple[BagProposal, ...]


@dataclass(frozen=True, slots=True)
class BenchRead:
    """What was read; what does not belong to the chosen row is empty."""

    wanted: Wanted
    waiting: LabelsWaiting
    tags: tuple[TagsToPrint, ...]
    batch: LabelBatch | None = None
    to_pack: tuple[ToPack, ...] = ()
    redo: tuple[ThingToRedo, ...] = ()
    marks: MarksShown = field(default_factory=MarksShown)
    missing: int = 0
    people: tuple[str, ...] = ()
    squares: tuple[str, ...] = ()
    other: OtherLabels | None = None
    """For other labels: how many of each choice there are."""
    layout: LayoutFacts | None = None
    """What stands on the labels of the chosen kind."""


def read_bench(desk: Desk, wanted: Wanted) -> BenchRead:
    """Read what waits, and what the chosen row shows."""
    tags = tags_to_print(desk)
    other = None
    if wanted.row is Row.OTHER and wanted.kind and not wanted.reason:
        other = other_labels(desk, wanted.kind, wanted.which, container_id=wanted.container_id)
    return BenchRead(
        wanted=wanted,
        waiting=labels_waiting(desk),
        tags=tags,
        batch=other.batch if other else _batch(desk, wanted, tags) if wanted.kind else None,
        other=other,
        to_pack=_to_pack(desk) if wanted.row is Row.PACK else (),
        redo=things_to_redo(desk),
        marks=marks_shown(desk, wanted.marks_of, done_too=wanted.done_marks)
        if wanted.row is Row.MARKS
        else MarksShown(),
        missing=len(unaccounted(desk)) if wanted.row is Row.LISTS else 0,
        people=tuple(one.name for one in people(desk) if one.active) if wanted.row in _NAMES else (),
        squares=squares(desk) if wanted.row is Row.TAGS else (),
        layout=label_layouts(desk)[LAYOUT_OF[wanted.kind]] if wanted.kind else None,
    )


def _to_pack(desk: Desk) -> tuple[ToPack, ...]:
    settled = settled_to_bag(desk)
    near = [ToPack(one, propose_bags(desk, one.code)) for one in settled[:_MOST_PROPOSED]]
    return (*near, *(ToPack(one, ()) for one in settled[_MOST_PROPOSED:]))


def _batch(desk: Desk, wanted: Wanted, tags: tuple[TagsToPrint, ...]) -> LabelBatch:
    assert wanted.kind is not None
    if wanted.reason:
        return gather_again(desk, wanted.kind, wanted.codes or (), wanted.reason)
    if wanted.kind is not PrintKind.TAG:
        return gather(desk, wanted.kind, wanted.codes)
    named = [one for one in tags if one.key == wanted.tags_for]
    chosen = named or [one for one in reversed(tags) if one.for_the_trench]
    return field_tags(desk, [code for one in chosen for code in one.codes])
