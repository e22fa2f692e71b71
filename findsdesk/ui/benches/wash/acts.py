"""Acts of the wash yard as plain values: what is done to which tag, the use case that does it, and what is then said.

An act's ``do`` runs on the deed lane and touches no widget; ``desk`` may stand at another moment (entered from paper).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from findsdesk.desk import counting, moving, washing
from findsdesk.desk.counting import Counted
from findsdesk.desk.desk import Desk
from findsdesk.desk.dossiers import Dossier, dossier_of
from findsdesk.desk.shipped import route_of
from findsdesk.domain.routes import STANDING_IN_WORDS, Hold, Standing, StepKind
from findsdesk.domain.standings import HOLD_IN_WORDS
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.benches.wash.drying_words import where_it_dries
from findsdesk.ui.next_step import next_step
from findsdesk.ui.words_around import WordsAround, pieces_in_words
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class Done:
    """What an act did: the container as it stands now, the line that says so, and the tray if one was named."""

    dossier: Dossier
    answer: Answer
    counted: Counted | None = None


class Act(Protocol):
    """One thing that can be written at this bench."""

    def do(self, desk: Desk) -> Done:
        """Write it and return what is said."""


def part_outside(dossier: Dossier) -> int | None:
    """Return the first part that lies in no tub yet, of a container that stands in several; None for a whole one."""
    if len(dossier.stands_at) < 2:
        return None
    return next((part.ordinal for part in dossier.stands_at if part.kind != "tub"), None)


def _done(desk: Desk, container_id: int, said: str, counted: Counted | None = None, **facts: object) -> Done:
    """Return the fresh dossier with "Bucket 131" and what was done."""
    dossier, around = dossier_of(desk, container_id), WordsAround.of(desk)
    head = around.say(N_("{Container} {number}"), number=dossier.number)
    return Done(dossier, Answer(Tone.DONE, head, f": {around.say(said, **facts)}"), counted)


@dataclass(frozen=True, slots=True)
class Count:
    """A count of pieces, perhaps with grams (tenths); ``again`` for a second one, ``sure`` however many they are."""

    tag: str
    pieces: int
    tenths: int | None = None
    wet: bool = False
    again: bool = False
    sure: bool = False

    def do(self, desk: Desk) -> Done:
        """Write the count; the first one says washed and takes the next free tray."""
        write = counting.count_again if self.again else counting.log_count
        counted = write(desk, self.tag, pieces=self.pieces, tenths=self.tenths, wet=self.wet, sure=self.sure)
        dossier, around = dossier_of(desk, counted.container_id), WordsAround.of(desk)
        said = ", ".join([pieces_in_words(dossier.route, counted.pieces), *where_it_dries(counted, around)])
        head = around.say(N_("{Container} {number}"), number=counted.number)
        return Done(dossier, Answer(Tone.DONE, head, f": {said}"), counted)


@dataclass(frozen=True, slots=True)
class Look:
    """Dipped, looked, tried a wet finger; what was seen holds it back, otherwise it goes into the open tub."""

    tag: str
    seen: Hold | None = None
    tub: str = ""

    def do(self, desk: Desk) -> Done:
        """Write the look, and into which tub it goes."""
        stood = washing.dip_and_look(desk, self.tag, seen=self.seen)
        if self.tub and self.seen is None and route_of(stood.material).soak:
            return Soak(self.tag, self.tub, part_outside(dossier_of(desk, stood.container_id))).do(desk)
        if self.seen is None:
            return _done(desk, stood.container_id, N_("looked at, nothing seen"))
        return _done(desk, stood.container_id, _HELD, why=_why(desk, self.seen))


_HELD = N_("held back for the ceramicist, {why}. No water, no brush")


def _why(desk: Desk, reason: Hold) -> str:
    return WordsAround.of(desk).say(HOLD_IN_WORDS[reason])


@dataclass(frozen=True, slots=True)
class HoldBack:
    """Held back later than at the look: something showed while it soaked or dried."""

    tag: str
    reason: Hold
    note: str = ""

    def do(self, desk: Desk) -> Done:
        """Write the hold."""
        stood = washing.hold_back(desk, self.tag, reason=self.reason, note=self.note)
        return _done(desk, stood.container_id, _HELD, why=_why(desk, self.reason))


@dataclass(frozen=True, slots=True)
class Release:
    """The ceramicist lets a held container go on."""

    tag: str
    reason: str

    def do(self, desk: Desk) -> Done:
        """Write the release."""
        stood = washing.release(desk, self.tag, reason=self.reason)
        return _done(desk, stood.container_id, N_("released, go on with it"))


@dataclass(frozen=True, slots=True)
class Soak:
    """Into a tub: the whole container, or one part of it."""

    tag: str
    tub: str
    part: int | None = None

    def do(self, desk: Desk) -> Done:
        """Write where it soaks."""
        stood = washing.start_soak(desk, self.tag, tub=self.tub, part=self.part)
        if self.part is not None:
            return _done(desk, stood.container_id, N_("part {part} into tub {tub}"), part=self.part, tub=self.tub)
        return _done(desk, stood.container_id, N_("into tub {tub}"), tub=self.tub)


@dataclass(frozen=True, slots=True)
class Treat:
    """Washed without a count, brushed dry, or left unwashed."""

    tag: str
    how: StepKind
    note: str = ""

    def do(self, desk: Desk) -> Done:
        """Write the treatment; what comes next is said with it."""
        stood = washing.treat(desk, self.tag, how=self.how, note=self.note)
        return _done(desk, stood.container_id, TREATED[self.how])


TREATED: dict[StepKind, str] = {
    StepKind.WASHED: N_("washed"),
    StepKind.DRY_BRUSHED: N_("brushed dry"),
    StepKind.LEFT_UNWASHED: N_("left unwashed"),
}


@dataclass(frozen=True, slots=True)
class Dry:
    """These are dry, in one act."""

    tags: tuple[str, ...]

    def do(self, desk: Desk) -> Done:
        """Write that they are dry."""
        stood = washing.mark_dry(desk, self.tags)
        if len(stood) == 1:
            return _done(desk, stood[0].container_id, N_("dry, for the sorting table"))
        around = WordsAround.of(desk)
        numbers = ", ".join(one.number for one in stood)
        head = around.say(N_("{n} {containers} are dry"), n=len(stood))
        return Done(dossier_of(desk, stood[-1].container_id), Answer(Tone.DONE, head, f": {numbers}"))


@dataclass(frozen=True, slots=True)
class InParts:
    """It stands in so many parts."""

    tag: str
    parts: int

    def do(self, desk: Desk) -> Done:
        """Write in how many parts it stands."""
        stood = washing.stand_in_parts(desk, self.tag, parts=self.parts)
        return _done(desk, stood.container_id, N_("stands in {parts}"), parts=self.parts)


@dataclass(frozen=True, slots=True)
class StepBack:
    """Back to an earlier standing, with a reason."""

    tag: str
    to: Standing
    reason: str

    def do(self, desk: Desk) -> Done:
        """Write the step back."""
        stood = washing.step_back(desk, self.tag, to=self.to, reason=self.reason)
        to = WordsAround.of(desk).say(STANDING_IN_WORDS[self.to])
        return _done(desk, stood.container_id, N_("taken back: {to}"), to=to)


@dataclass(frozen=True, slots=True)
class HandOn:
    """To trained hands or a specialist."""

    tag: str
    to: str
    note: str = ""

    def do(self, desk: Desk) -> Done:
        """Write to whom it goes."""
        stood = washing.hand_on(desk, self.tag, to=self.to, note=self.note)
        return _done(desk, stood.container_id, N_("handed on to {to}"), to=self.to)


@dataclass(frozen=True, slots=True)
class ComeBack:
    """Back from trained hands."""

    tag: str
    note: str = ""

    def do(self, desk: Desk) -> Done:
        """Write that it is back."""
        stood = washing.come_back(desk, self.tag, note=self.note)
        return _done(desk, stood.container_id, N_("back, counted as dry"))


@dataclass(frozen=True, slots=True)
class TakeOut:
    """Pieces of another material into a container of their own."""

    tag: str
    pieces: int
    material: str
    why: str = ""

    def do(self, desk: Desk) -> Done:
        """Write what was taken out; the new container's number is for its tag."""
        out = moving.take_out(desk, self.tag, pieces=self.pieces, material=self.material, why=self.why)
        new, around = dossier_of(desk, out.tag.container_id), WordsAround.of(desk)
        taken = pieces_in_words(new.route, self.pieces)
        step = next_step(new, around)
        said = N_("{taken} taken out as {container} {new}, write its tag. {new}: {step}")
        return _done(desk, out.source.container_id, said, taken=taken, new=out.tag.number, step=step)


@dataclass(frozen=True, slots=True)
class SwapTags:
    """Two tags lay with each other's finds."""

    tag: str
    other: str
    reason: str

    def do(self, desk: Desk) -> Done:
        """Put both histories right."""
        one, other = moving.swap_tags(desk, self.tag, self.other, reason=self.reason)
        return _done(desk, one.container_id, N_("changed tags with {other}, both put right"), other=other.number)


@dataclass(frozen=True, slots=True)
class PutTogether:
    """One container emptied into another."""

    tag: str
    into: str
    reason: str

    def do(self, desk: Desk) -> Done:
        """Write where its pieces are now."""
        target = moving.put_together(desk, self.tag, into=self.into, reason=self.reason)
        return _done(desk, target.container_id, N_("holds what was emptied into it"))
