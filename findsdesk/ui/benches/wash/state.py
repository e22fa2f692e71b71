"""What is in hand at the wash yard, what is asked of it now, and what a number, a tub or a look then means.

Plain values without Qt: the page shows what stands here and does the acts this returns.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import Enum

from findsdesk.desk.dossiers import Dossier
from findsdesk.desk.word_lists import SHIPPED, WordLists
from findsdesk.domain.moments import SoakState, soak_state
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Hold, Standing, StepKind, allowed
from findsdesk.domain.settings import Settings
from findsdesk.domain.standings import BEFORE_TREATMENT
from findsdesk.ui.benches.wash.acts import Act, Count, Done, Dry, HoldBack, Look, Soak, Treat, part_outside
from findsdesk.words import N_


class Asked(Enum):
    """What the bench asks now of what is in hand."""

    NOTHING_IN_HAND = "nothing in hand"
    LOOK = "look"
    TUB = "tub"
    COUNT = "count"
    COUNT_AGAIN = "count again"
    FILLING = "filling"
    """A tub is being filled while what is in hand could be counted: a number is the next container, never its count."""
    TREATMENT = "treatment"
    """Washed, brushed or left, without a count."""
    OPEN_TUB = "which tub"
    """Which tub is filled from now on."""
    JUST_SOAKED = "just soaked"
    HELD = "held"
    DRY = "dry"
    NOTHING = "nothing"
    """There is nothing to write at this bench; its next step says why."""


@dataclass(frozen=True, slots=True)
class LeftOver:
    """A number that was typed and not written, and for which container it was meant; both empty where none is known."""

    digits: str
    number: str = ""
    code: str = ""
    back: bool = False
    """Whether it stands on the tag again, because its container was scanned again."""


SEEN: tuple[Hold | None, ...] = (None, Hold.PAINTED, Hold.INSCRIBED, Hold.FLAKING, Hold.RESIDUE, Hold.OTHER)
"""What may be seen at dip and look, in the order of its keys 1 to 6."""


@dataclass
class WashState:
    """The bench's own memory; one per bench."""

    settings: Settings = field(default_factory=Settings)
    lists: WordLists = field(default_factory=lambda: SHIPPED)
    in_hand: Dossier | None = None
    open_tub: str = ""
    """What is scanned now goes into this tub."""
    again: bool = False
    straight: bool = False
    """Count it although it was in no tub."""
    choosing_tub: bool = False
    done: Done | None = None
    """What was written last, as long as nothing else was scanned."""
    lost_track: bool = False
    """The last scan was not known: what is in hand may not be what lies on the table."""
    left_over: LeftOver | None = None

    def take(self, dossier: Dossier | None, digits: str = "") -> None:
        """Take a container in hand. ``digits`` stood half typed for the one before: kept in words, never written."""
        same = self.is_in_hand(dossier)
        if digits and self.in_hand is not None:
            self.left_over = LeftOver(digits, self.in_hand.number, self.in_hand.code)
        if not same:
            self.begin_anew()
        self.in_hand = dossier

    def begin_anew(self) -> None:
        """Forget what was asked of the thing before: a second count, no soak, which tub, what was written."""
        self.again = self.straight = self.choosing_tub = False
        self.done = None

    def bring_back(self) -> str:
        """Return the number that was typed for what is in hand and not written, or nothing."""
        left, dossier = self.left_over, self.in_hand
        if left is None or dossier is None or left.code != dossier.code:
            return ""
        self.left_over = replace(left, back=True)
        return left.digits

    def forget_what_was_answered(self) -> None:
        """Forget a number that came back onto the tag, or whose container nobody knows."""
        if self.left_over is not None and (self.left_over.back or not self.left_over.code):
            self.left_over = None

    def forget_left_over(self, code: str) -> None:
        """Forget a number not written for a container that has its count now."""
        if self.left_over is not None and self.left_over.code == code:
            self.left_over = None

    def written(self, done: Done) -> None:
        """Take note of what was written, if it is what is in hand."""
        if self.is_in_hand(done.dossier):
            self.begin_anew()
            self.in_hand, self.done = done.dossier, done

    def is_in_hand(self, dossier: Dossier | None) -> bool:
        """Return whether this is the container that is in hand already, whatever became of it meanwhile."""
        return dossier is not None and self.in_hand is not None and dossier.container_id == self.in_hand.container_id

    def asked(self) -> Asked:
        """Return what is asked now; while a tub is being filled it is no count."""
        if self.choosing_tub:
            return Asked.OPEN_TUB
        if self.in_hand is None:
            return Asked.NOTHING_IN_HAND
        asked = self._asked_of(self.in_hand)
        if self.open_tub and asked in (Asked.COUNT, Asked.COUNT_AGAIN):
            return Asked.FILLING
        if self.open_tub and asked is Asked.LOOK and not self.in_hand.route.soak:
            return Asked.NOTHING
        return asked

    def _asked_of(self, dossier: Dossier) -> Asked:
        if self.again and dossier.counted is not None:
            return Asked.COUNT_AGAIN
        if dossier.held_for is not None and dossier.standing in BEFORE_TREATMENT:
            return Asked.HELD
        if dossier.standing is Standing.ARRIVED:
            return self._asked_on_arrival(dossier)
        if dossier.standing is Standing.SOAKING and self.done is not None:
            return Asked.JUST_SOAKED
        if dossier.standing is Standing.SOAKING:
            return Asked.TUB if self.open_tub and part_outside(dossier) else self._count_or_treat(dossier)
        if dossier.standing is Standing.WASHED and self.settings.count_at_wash and dossier.route.counted:
            return self._count_or_treat(dossier)
        if dossier.standing in (Standing.WASHED, Standing.DRYING):
            return Asked.DRY
        return Asked.NOTHING

    def _asked_on_arrival(self, dossier: Dossier) -> Asked:
        if self.straight:
            return self._count_or_treat(dossier)
        first = dossier.ahead[0] if dossier.ahead else None
        if first is StepKind.LOOKED_AT:
            return Asked.LOOK
        if first is StepKind.SOAKING:
            return Asked.TUB
        return self._count_or_treat(dossier) if first is StepKind.COUNTED else Asked.NOTHING

    def _count_or_treat(self, dossier: Dossier) -> Asked:
        if not self.settings.count_at_wash or not dossier.route.counted:
            return Asked.TREATMENT
        # Taken back a step after its count: what comes out of the water now is a second count.
        return Asked.COUNT if dossier.counted is None else Asked.COUNT_AGAIN

    def counting(self) -> bool:
        """Return whether a number typed now is a count."""
        return self.asked() in (Asked.COUNT, Asked.COUNT_AGAIN)

    def treatment(self) -> StepKind:
        """Return the treatment that the button writes where nothing is counted here."""
        route = self._dossier().route
        if route.wash:
            return StepKind.WASHED
        return StepKind.DRY_BRUSHED if route.dry_brush else StepKind.LEFT_UNWASHED

    # What is written

    def count(self, pieces: int, tenths: int | None = None, wet: bool = False) -> Act:
        """Return the count as an act; refuses what cannot be counted now, naming the way out."""
        dossier = self._dossier()
        if self.lost_track:
            raise Refusal(
                "lost_track",
                N_("{pieces:,} not written: the last scan was not known. Scan the tag of what is counted."),
                pieces=pieces,
            )
        if self.asked() is Asked.COUNT_AGAIN:
            return Count(dossier.code, pieces, tenths, wet, again=True)
        if self.asked() is not Asked.COUNT:
            raise self._why_no_count(dossier, pieces)
        return Count(dossier.code, pieces, tenths, wet)

    def choose(self, number: int) -> Act:
        """Return the act of a choice made by its number; a number that is no choice was meant as a count: refused."""
        chosen = self._choice(number)
        if chosen is None:
            raise self._why_no_count(self._dossier(), number)
        return chosen

    def _choice(self, number: int) -> Act | None:
        asked = self.asked()
        if asked is Asked.LOOK and 1 <= number <= len(SEEN):
            return self.look(SEEN[number - 1])
        if asked is Asked.TUB and 1 <= number <= self.settings.tubs:
            return self.soak(str(number))
        return None

    def means_a_container(self, typed: str) -> bool:
        """Return whether what is typed is a container to find: where nothing is in hand, and for a tub being filled."""
        if self.choosing_tub:
            return False
        if self.in_hand is None:
            return True
        return bool(self.open_tub) and not (typed.isdecimal() and self._choice(int(typed)) is not None)

    def look(self, seen: Hold | None) -> Act:
        """Return the look as an act; what shows later than at the look is held back."""
        dossier = self._dossier()
        if seen is not None and dossier.standing is not Standing.ARRIVED:
            return HoldBack(dossier.code, seen)
        return Look(dossier.code, seen, self.open_tub if seen is None else "")

    def soak(self, tub: str) -> Soak:
        """Return into which tub it goes: the part that stands outside, or all of it."""
        dossier = self._dossier()
        return Soak(dossier.code, tub, part_outside(dossier))

    def fill(self, tub: str) -> None:
        """Fill this tub from now on; refuses one that is not there."""
        if not tub.isdecimal() or not 1 <= int(tub) <= self.settings.tubs:
            raise Refusal(
                "unknown_tub",
                N_("There is no tub {tub}. The tubs are 1 to {tubs}; Set-up changes that."),
                tub=tub,
                tubs=self.settings.tubs,
            )
        self.choosing_tub, self.open_tub = False, tub

    def soak_now(self) -> Act | None:
        """Return the act where a tub is open and what is in hand can only be meant for it, else None."""
        dossier = self.in_hand
        if not self.open_tub or dossier is None:
            return None
        stands_ready = self.asked() is Asked.TUB
        never = dossier.standing is Standing.ARRIVED and (not dossier.route.soak or dossier.held_for is not None)
        return self.soak(self.open_tub) if stands_ready or never else None

    def treat(self, how: StepKind | None = None) -> Act:
        """Return washed, brushed or left unwashed as an act."""
        return Treat(self._dossier().code, how or self.treatment())

    def dry(self) -> Act:
        """Return "it is dry" as an act."""
        return Dry((self._dossier().code,))

    def all_dry(self, due: tuple[str, ...]) -> Act:
        """Return "all that are due are dry" as an act; refuses where none is due."""
        if not due:
            raise Refusal("none_due", N_("Nothing in the trays is due yet. Press a tray to say that one is dry."))
        return Dry(due)

    def comes_out(self, now: datetime) -> None:
        """End the filling of a tub where what was scanned has soaked its hours, or is washed: it is to be counted."""
        dossier = self.in_hand
        if self.asked() is not Asked.FILLING or dossier is None or dossier.standing is Standing.ARRIVED:
            return
        since = max((part.since for part in dossier.stands_at if part.kind == "tub"), default=None)
        shortest, longest = self.settings.soak_shortest_h, self.settings.soak_longest_h
        if since is None or soak_state(since, now, shortest, longest) is not SoakState.TOO_SHORT:
            self.open_tub = ""

    def count_without_a_soak(self) -> None:
        """Ask for a count although it was in no tub; a tub being filled is filled no more."""
        self.straight, self.open_tub = True, ""

    def begin_again(self) -> None:
        """Ask for a second count, and fill no tub any more; refuses where there was no first."""
        dossier = self._dossier()
        if dossier.counted is None:
            raise Refusal(
                "not_counted_yet",
                N_("{Container} {number} was not counted yet. Write its first count."),
                number=dossier.number,
            )
        self.again, self.open_tub = True, ""

    def _dossier(self) -> Dossier:
        if self.in_hand is None:
            raise Refusal("nothing_in_hand", N_("Nothing is in hand. Scan a tag first."))
        return self.in_hand

    def _why_no_count(self, dossier: Dossier, pieces: int) -> Refusal:
        """Return why a number cannot be written for this container now."""
        if self.asked() is Asked.JUST_SOAKED:
            return Refusal(
                "just_soaked",
                N_("{Container} {number} has just gone into its tub. Scan its tag again to count it."),
                number=dossier.number,
            )
        if dossier.counted is not None:
            return Refusal(
                "already_counted",
                N_("{Container} {number} was counted already: {pieces:,}. Use 'Count again', or scan the next tag."),
                number=dossier.number,
                pieces=dossier.counted.pieces,
            )
        try:
            allowed(
                dossier.route,
                dossier.standing,
                dossier.held_for,
                StepKind.COUNTED,
                count_at_wash=self.settings.count_at_wash,
                looked_at=True,
                facts={"number": dossier.number},
            )
        except Refusal as refusal:
            return refusal
        return Refusal(
            "not_in_a_tub",
            N_("{pieces:,} not written: {container} {number} was in no tub. Choose 'Count without a soak' if washed."),
            number=dossier.number,
            pieces=pieces,
        )


def check_paper_time(moment: datetime | None, now: datetime) -> None:
    """Refuse a time on paper that has not come yet."""
    if moment is not None and moment > now:
        raise Refusal("later_than_now", N_("The time from paper has not come yet. Set the true time, or leave it."))
