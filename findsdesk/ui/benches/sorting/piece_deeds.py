"""What is done with a row at the table: sherds lifted as pieces, a vessel it is of, the share that a rule keeps."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from findsdesk.desk.group_rows import GroupRow
from findsdesk.desk.pieces import Lifted, lift_pieces
from findsdesk.desk.shares import DrawnShare, ShareAhead, draw_share, shares_ahead
from findsdesk.desk.vessel_rows import group_leaves_vessel
from findsdesk.desk.vessels import VesselFacts, gather_vessel
from findsdesk.domain.refusals import Refusal
from findsdesk.ui.bench import Bench
from findsdesk.ui.benches.sorting.ask_line import Answered
from findsdesk.ui.benches.sorting.keys_in_turn import KeysInTurn
from findsdesk.ui.benches.sorting.state import SortingState
from findsdesk.words import N_


class Say(Protocol):
    """Tells in the scan line what was done."""

    def __call__(self, text: str, *, across: str = "", **facts: object) -> None:
        """Say a marked text with its facts, ``across`` the table in other words where given."""


class PieceDeeds:
    """One deed each; ``say`` tells what was done, ``read`` reads the container afresh."""

    def __init__(
        self, bench: Bench, state: SortingState, say: Say, read: Callable[[], None], in_turn: KeysInTurn
    ) -> None:
        self._bench, self._state = bench, state
        self._around = bench.surroundings
        self._say, self._read, self._in_turn = say, read, in_turn

    def _code(self) -> str:
        return self._state.dossier.code if self._state.dossier is not None else ""

    def lift(self, said: Answered, then: Callable[[], None], no: Callable[[Refusal], None]) -> None:
        """Lift sherds out of a row as pieces; ``no`` is called with what is refused."""
        desk, of, seen, n = self._around.desk, said.asking.of, said.asking.seen, said.pieces or 0
        self._bench.deed(
            lambda: lift_pieces(desk, of, seen=seen, how_many=n, tenths=said.tenths),
            then=lambda done: self._lifted(done, then),
            no=no,
        )

    def refuse_to_lift(self) -> None:
        """Say that there is no row to lift from."""
        text = N_("Pieces are lifted out of a row that is written. Write the row first, or go up to one.")
        self._bench.refuse(Refusal("no_row_to_lift", text))

    def _lifted(self, done: Lifted, then: Callable[[], None]) -> None:
        then()
        self._say(N_("lifted out: {pieces}"), pieces=", ".join(piece.name for piece in done.pieces))
        self._read()

    def gather(self, said: Answered, then: Callable[[], None], no: Callable[[Refusal], None]) -> None:
        """Gather all sherds of a row into a vessel, a new one where no number was said."""
        desk, asking, number = self._around.desk, said.asking, said.pieces

        def work(sure: bool = False) -> VesselFacts:
            return gather_vessel(desk, [], number=number, group_ids=[asking.of], for_mending=asking.mends, sure=sure)

        self._bench.deed(work, sure=lambda: work(sure=True), then=lambda done: self._gathered(done, then), no=no)

    def refuse_to_gather(self) -> None:
        """Say that there is no row to gather."""
        text = N_("Rows that are written are gathered into a vessel. Write the row first, or go up to one.")
        self._bench.refuse(Refusal("no_row_to_gather", text))

    def _gathered(self, done: VesselFacts, then: Callable[[], None]) -> None:
        then()
        self._say(N_("gathered into vessel {number}. Ctrl+G on the row takes it out."), number=done.number)
        self._read()

    def leave_vessel(self, row: GroupRow) -> None:
        """Take a row out of its vessel."""
        desk = self._around.desk
        self._bench.deed(
            lambda: group_leaves_vessel(desk, row.id, seen=row.version), then=lambda _row: self._left(row.vessel)
        )

    def _left(self, vessel: int | None) -> None:
        self._say(N_("taken out of vessel {number}"), number=vessel)
        self._read()

    def share_ahead(self, group_id: int | None, then: Callable[[ShareAhead], None]) -> None:
        """Find the row whose share is to be drawn, this one or the first that waits, and go on with it."""
        desk, code = self._around.desk, self._code()

        def found(ahead: tuple[ShareAhead, ...]) -> None:
            one = next((one for one in ahead if one.group_id == group_id), next(iter(ahead), None))
            if one is None:
                self._bench.refuse(Refusal("no_share", N_("No row of this table waits for a share to be drawn.")))
            else:
                then(one)

        self._in_turn.look_up(lambda: shares_ahead(desk, code), found)

    def draw(self, said: Answered, then: Callable[[], None], no: Callable[[Refusal], None]) -> None:
        """Draw the share that a rule keeps of a row."""
        desk, of, seen = self._around.desk, said.asking.of, said.asking.seen
        start = said.pieces if said.asking.has_number else None
        self._bench.deed(
            lambda: draw_share(desk, of, seen=seen, start=start, kept_tenths=said.tenths),
            then=lambda done: self._drawn(done, then),
            no=no,
        )

    def _drawn(self, done: DrawnShare, then: Callable[[], None]) -> None:
        then()
        share = done.share
        self._say(N_("share drawn, kept: {kept} of {all}"), kept=share.kept, all=share.laid_out)
        self._read()
