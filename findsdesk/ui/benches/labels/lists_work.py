"""A list on paper is made away from the window: how far it is stands beside the title, and it can be called off."""

from __future__ import annotations

from collections.abc import Callable

from findsdesk.desk.desk import Desk
from findsdesk.desk.sheets import PrintedList
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.answers import Answer, Tone
from findsdesk.ui.background import Job
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.labels.lists_page import ListsPage, Wanted
from findsdesk.words import N_, _, put


def make(desk: Desk, key: str, wanted: Wanted, follow: Callable[[int, int], None]) -> PrintedList:
    """Make a list with what is asked of it; loads what makes papers when the first is made."""
    from findsdesk.desk.all_papers import make_paper
    from findsdesk.desk.whole_papers import Asked

    asked = Asked(day=wanted.day, deposit=wanted.deposit, material=wanted.material, season=wanted.season, follow=follow)
    return make_paper(desk, key, asked)


class ListsWork:
    """One list at a time; pressing its button again calls it off."""

    def __init__(self, bench: Bench, page: ListsPage, keep: Callable[[PrintedList, str], None]) -> None:
        self.bench, self.page, self._keep = bench, page, keep
        self._job: Job | None = None
        self._was_going_on = ""

    def print(self, key: str, in_hand: str = "") -> None:
        """Make a list, or call off the one that is being made; ``in_hand`` is the deposit of what is in hand."""
        if self._job is not None:
            self._job.call_off()
            return
        self.bench.refusals.clear()
        asked = self.page.asked()
        if asked is None:
            return
        wanted = asked._replace(deposit=asked.deposit.strip() or (in_hand if key == "deposit" else ""))
        desk, lanes = self.bench.surroundings.desk, self.bench.surroundings.lanes
        job = lanes.job("long", topic="labels/list", progress=self._say_progress, when_called_off=self._called_off)
        self._job, self._was_going_on = job, self.bench.going_on()
        self.page.is_made(key)
        lanes.read(
            lambda: make(desk, key, wanted, job.follow),
            then=lambda made: self._made(made, key),
            refused=self._refused,
            failed=self._failed,
            job=job,
        )

    def _say_progress(self, page: int, pages: int) -> None:
        so_far = N_("pages so far: {pages}") if pages else N_("gathering what stands on it")
        text = N_("page {page} of {pages}") if page else so_far
        self.bench.say_going_on(put(text, None, {"page": page, "pages": pages}))

    def _ended(self) -> None:
        self._job = None
        self.page.is_made(None)
        self.bench.say_going_on(self._was_going_on)

    def _made(self, made: PrintedList, key: str) -> None:
        self._ended()
        self._keep(made, key)

    def _refused(self, refusal: Refusal) -> None:
        self._ended()
        self.bench.refuse(refusal)

    def _failed(self, fault: BaseException) -> None:
        self._ended()
        self.bench.surroundings.notices.failed(fault)

    def _called_off(self) -> None:
        self._ended()
        self.bench.surroundings.say(Answer(Tone.PLAIN, _("Called off"), _(": nothing is kept")))
