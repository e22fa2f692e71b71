"""What is said after a count: where it dries, what is free next, what was counted before, a soak that was too short."""

from __future__ import annotations

from findsdesk.desk.counting import Counted
from findsdesk.domain.routes import Standing
from findsdesk.ui import moments_in_words as times
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_


def where_it_dries(counted: Counted, around: WordsAround) -> list[str]:
    """Return what follows the number: tray and next free one, the count before, empty after washing, a short soak."""
    if counted.soaked_h is not None:
        remark = around.say(N_("soaked only {soaked}"), soaked=times.hours(counted.soaked_h))
        return [*_place_and_next(counted, around), remark]
    if counted.before is not None:
        before = around.say(N_("{before:,} before; the first count stays readable"), before=counted.before)
        return [before, *_place_and_next(counted, around)]
    return _place_and_next(counted, around)


def _place_and_next(counted: Counted, around: WordsAround) -> list[str]:
    if counted.standing is Standing.EMPTY:
        return [around.say(N_("empty after washing"))]
    named = [tray for tray in counted.trays if tray]
    if not named:
        return [around.say(N_("no tray is free"))] if counted.trays else []
    if not all(tray.isdecimal() for tray in named):
        return [around.say(named[0])]
    here = around.say(N_("tray {trays}") if len(named) == 1 else N_("trays {trays}"), trays=", ".join(named))
    free = around.say(N_("next free: {tray}"), tray=counted.next_tray or "–")
    return [here, free]
