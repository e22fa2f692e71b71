"""Marking: how many kept sherds bear their mark, lie in slip bags or were checked, and what may be ticked off next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, CountOf

PAINT = ("painted",)
"""Decorations that take no ink."""
LOOSE = ("painted", "inscribed", "graffito", "laminated", "salts", "residue", "soot")
"""Conditions of a surface that takes no ink: painted, written on, coming off, or wanted for analysis."""


class Tick(StrEnum):
    """What an entry says of marks."""

    WRITTEN = "written"
    CHECKED = "checked"
    WRONG = "wrong"
    """Looked at by a second person, wrong or unreadable, and taken off again."""
    SLIP = "slip"
    """Not inked: a slip with the mark lies with the sherds in a small bag."""


TICK_IN_WORDS: dict[Tick, str] = {
    Tick.WRITTEN: N_("written"),
    Tick.CHECKED: N_("checked"),
    Tick.WRONG: N_("found wrong"),
    Tick.SLIP: N_("slip bag"),
}


class NoInk(StrEnum):
    """Why a sherd gets a slip instead of ink."""

    TOO_SMALL = "too small"
    PAINTED = "painted"
    FLAKING = "flaking"
    INSCRIBED = "inscribed"
    OTHER = "other"


NO_INK_IN_WORDS: dict[NoInk, str] = {
    NoInk.TOO_SMALL: N_("too small"),
    NoInk.PAINTED: N_("painted"),
    NoInk.FLAKING: N_("flaking"),
    NoInk.INSCRIBED: N_("inscribed"),
    NoInk.OTHER: N_("other"),
}


@dataclass(frozen=True, slots=True)
class MarkTally:
    """How the marking of one container (or of one piece with a mark of its own) stands; all in sherds but ``bags``."""

    kept: int = 0
    wanted: int = 0
    """Of the kept ones, those that bear a mark by the excavation's rule."""
    written: int = 0
    """Marks that say what they must."""
    outdated: int = 0
    """Marks that say what was true when they were written."""
    slipped: int = 0
    bags: int = 0
    """Small bags with a slip."""
    checked: int = 0
    wrong: int = 0
    """Found wrong at a check since the text was last changed; they are among neither the written nor the checked."""

    @property
    def marked(self) -> int:
        """Return the sherds that bear ink or lie with a slip, whatever it says."""
        return self.written + self.outdated + self.slipped

    @property
    def room(self) -> int:
        """Return how many kept sherds have no mark and no slip yet."""
        return max(0, self.kept - self.marked)

    @property
    def left(self) -> int:
        """Return how many are still to be marked by the rule."""
        return max(0, self.wanted - self.marked)

    def to_check(self, one_in: int) -> int:
        """Return how many marks a second person still has to look at.

        One in so many of those written (0: none), rounded up; all of them once one was found wrong (common practice,
        no source).
        """
        if one_in == 0:
            return 0
        wanted = self.written if self.wrong else -(-self.written // one_in)
        return max(0, wanted - self.checked)

    def is_done(self, one_in: int) -> bool:
        """Tell whether nothing is to be written, checked or inked again."""
        return not (self.left or self.outdated or self.to_check(one_in))


def wanted_marks(diagnostic: int, plain: int, plain_one_in: int) -> int:
    """Return how many kept sherds are marked: all diagnostic ones, and one in so many plain ones, rounded up (0: none).

    All, or all diagnostics and about 10 % of plain pieces per provenience: both are asked for somewhere (state
    guidance of Louisiana on labelling, as the trade notes quote it).
    """
    return diagnostic + (-(-plain // plain_one_in) if plain_one_in else 0)


def may_mark(tally: MarkTally, pieces: int, facts: Mapping[str, object]) -> None:
    """Refuse more marks or slips than there are kept sherds without one: ``more_than_kept``, ``no_pieces``.

    ``facts`` name the container.
    """
    need_pieces(pieces)
    if pieces > tally.room and tally.outdated:
        raise Refusal(
            "more_than_kept",
            N_(
                "{Container} {number}: {kept} kept, {marked} with mark or slip. "
                "{again} to be written again: tick those as again."
            ),
            kept=CountOf("{n} sherd", "{n} sherds", tally.kept),
            marked=tally.marked,
            again=tally.outdated,
            **facts,
        )
    if pieces > tally.room:
        raise Refusal(
            "more_than_kept",
            N_("{Container} {number}: {kept} kept, {marked} with mark or slip. Write at most {room} more."),
            kept=CountOf("{n} sherd", "{n} sherds", tally.kept),
            marked=tally.marked,
            room=tally.room,
            **facts,
        )


def may_check(
    tally: MarkTally, pieces: int, wrong: int, facts: Mapping[str, object], *, by_others: int, looked_at: int
) -> None:
    """Refuse a check that cannot be: ``no_pieces``, ``more_wrong_than_checked``, ``more_than_written``,
    ``checks_own_marks``.

    ``by_others`` are the marks that somebody else than the checker wrote, ``looked_at`` those the checker has looked
    at before; ``wrong`` of the ``pieces`` are wrong.
    """
    need_pieces(pieces)
    unseen = tally.written - tally.checked
    if not 0 <= wrong <= pieces:
        raise Refusal(
            "more_wrong_than_checked",
            N_("{Container} {number}: {wrong} wrong of {pieces} checked cannot be. Wrong ones count as checked."),
            wrong=wrong,
            pieces=pieces,
            **facts,
        )
    if pieces > unseen:
        raise Refusal(
            "more_than_written",
            N_("{Container} {number}: {unseen} not checked yet. Check at most that many."),
            unseen=CountOf("{n} written mark", "{n} written marks", unseen),
            **facts,
        )
    if pieces > by_others - looked_at:
        raise Refusal(
            "checks_own_marks",
            N_(
                "{Container} {number}: a second person checks. {others} there by others than {who}. "
                "Choose another under “checked by”."
            ),
            others=CountOf("{n} mark", "{n} marks", max(0, by_others - looked_at)),
            **facts,
        )


def need_pieces(pieces: int) -> None:
    """Refuse a number that is none: ``no_pieces``."""
    if pieces < 1:
        raise Refusal("no_pieces", N_("Write how many sherds are meant, at least 1."))
