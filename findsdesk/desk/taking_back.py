"""Taking back one's last act on what lies on a sorting table, and doing it again: each a new act."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from itertools import dropwhile, tee

from sqlalchemy.orm import Session

from findsdesk.desk.acts_on_the_table import DOING_AGAIN, ON_TABLE, TAKING_BACK, acts_on, stays_since
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.drawn_shares import carry_draws, turn_draws
from findsdesk.desk.explaining import answer_at_once, need_not_shut, write_again
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_rows import erase_group, facts_from_values, rewrite_group, values_of, write_group
from findsdesk.desk.later_acts import IN_VESSELS, later_of_another_kind, refuse_gone
from findsdesk.desk.off_the_table import leave_the_table
from findsdesk.desk.on_the_table import need_on_table
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.piece_rows import bring_back_piece, erase_piece, restore_piece
from findsdesk.desk.pieces import refuse_in_use
from findsdesk.desk.vessels_gone import comes_again, goes_when_empty
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.taking_back import Found, RowChange, last_of, last_taken_back
from findsdesk.store.models import Act, Container, LedgerEntry, Piece, SherdGroup
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class TakenBack:
    """What was taken back: the deed, what it had said, and the table's container."""

    container_id: int
    code: str
    number: str
    deed: str
    said: str

    @property
    def told(self) -> str:
        """Return what it had said of itself, without the number of the container."""
        return _without_number(self.number, self.deed, self.said)


def _without_number(number: str, deed: str, said: str) -> str:
    """Return what an act said without its container; what was done with a vessel says the vessel first."""
    return said if deed in IN_VESSELS else said.removeprefix(f"{number}: ")


def take_back_last(desk: Desk, tag: str) -> TakenBack:
    """Take back the person's last act on the groups, pieces and explanations of a container since its sorting began.

    With the row that began its sorting, a container lies again where it lay, unless another's row holds it there.
    Refusals: ``nothing_to_take_back``, ``stays_written``, ``row_moved_since`` (naming the later act, of whatever kind),
    ``type_gone`` (its ware or form is no more), ``piece_in_use``, ``on_discard_list``, and those of the route.
    """
    with desk.deed(TAKING_BACK) as deed:
        container = container_of(deed.session, desk, tag)
        only_here(deed, container)
        need_not_shut(container)
        found = last_of(acts_on(deed.session, container), deed.person_id)
        if found is None:
            raise _nothing(deed, container)
        return _turned(deed, container, found)


def _nothing(deed: Deed, container: Container) -> Refusal:
    """Return that nothing can be taken back, naming what was done and stays."""
    stays = stays_since(deed.session, container, deed.person_id, None)
    if stays is None:
        text = N_("You have written nothing on {container} {number} that could be taken back.")
        return Refusal("nothing_to_take_back", text, number=container.number)
    return Refusal(
        "stays_written",
        N_("This key cannot take back what you did last on {container} {number} ({said}). Correct it where it stands."),
        number=container.number,
        said=stays.said,
    )


def do_again(desk: Desk, tag: str) -> TakenBack:
    """Do again what the person took back last on a container, as long as nothing else was written after it.

    Refusals: ``nothing_to_do_again``, and those of ``take_back_last``.
    """
    with desk.deed(DOING_AGAIN) as deed:
        container = container_of(deed.session, desk, tag)
        only_here(deed, container)
        need_not_shut(container)
        found = last_taken_back(acts_on(deed.session, container), deed.person_id)
        if found is None:
            raise Refusal(
                "nothing_to_do_again",
                N_("You have taken back nothing on {container} {number} since your last row."),
                number=container.number,
            )
        return _turned(deed, container, found)


@dataclass(frozen=True, slots=True)
class Said:
    """An act in one line: its deed, and what it said of itself, without the number of the container."""

    deed: str = ""
    said: str = ""

    def __bool__(self) -> bool:
        return bool(self.deed)


@dataclass(frozen=True, slots=True)
class InTurn:
    """What the next taking back takes back and the next doing again does, each false where there is nothing.

    ``stays`` was done after what would be taken back and is not taken back in turn; ``since`` orders the act to be
    taken back among others: when it was written, and its place at its station.
    """

    back: Said = Said()
    again: Said = Said()
    stays: Said = Said()
    since: tuple[datetime, int] | None = None


NOTHING_IN_TURN = InTurn()


def in_turn(session: Session, container: Container, person_id: int | None) -> InTurn:
    """Return what a person's next taking back and doing again would be about."""
    acts, the_same = tee(acts_on(session, container))
    back, again = last_of(acts, person_id), last_taken_back(the_same, person_id)
    act = session.get_one(Act, back.act.id) if back else None
    taken_back = _taken_back_by(session, container, person_id, again.act.id) if again else None
    return InTurn(
        _said(container, act),
        _said(container, taken_back),
        _said(container, stays_since(session, container, person_id, act)),
        (act.written_at, act.running) if act else None,
    )


def _taken_back_by(session: Session, container: Container, person_id: int | None, act_id: str) -> Act | None:
    """Return the act that a taking back took back."""
    older = dropwhile(lambda act: act.id != act_id, acts_on(session, container))
    next(older, None)
    found = last_of(older, person_id)
    return session.get_one(Act, found.act.id) if found else None


def _said(container: Container, act: Act | None) -> Said:
    if act is None:
        return Said()
    return Said(act.deed, _without_number(container.number, act.deed, _said_here(container, act)))


def _said_here(container: Container, act: Act) -> str:
    """Return what an act said of a container: of what was put into a vessel each table takes back its own rows."""
    if act.deed not in IN_VESSELS:
        return act.said
    vessel, _colon, names = act.said.partition(": ")
    ours = [name for name in names.split(", ") if name.startswith(f"{container.number} ")]
    return f"{vessel}: {', '.join(ours) or names}"


def _turned(deed: Deed, container: Container, found: Found) -> TakenBack:
    """Write the changes of an act the other way round, unless somebody worked on a row since."""
    _refuse_moved(deed, container, found)
    if any(deed.session.get(LedgerEntry, change.row_id) is None for change in found.changes):
        # It is done again as it was done: that it is dry was said then.
        need_on_table(deed, container, sure=found.act.is_taking_back)
    for change in found.changes:
        _undo(deed, container, change)
    leave_the_table(deed, container, found.act.id)
    turn_draws(deed, found.act.id, found.now_called)
    past = deed.session.get_one(Act, found.act.id)
    if past.deed == TAKING_BACK:
        past = _taken_back_by(deed.session, container, deed.person_id, past.id) or past
    deed.said = _said_here(container, past)
    return TakenBack(container.id, container.code, container.number, past.deed, deed.said)


def _refuse_moved(deed: Deed, container: Container, found: Found) -> None:
    later = later_of_another_kind(deed.session, found, ON_TABLE) or found.in_the_way
    if later is None:
        return
    later = deed.session.get_one(Act, later.id)
    if later.deed in IN_VESSELS:
        raise Refusal(
            "row_moved_since",
            N_("It was gathered into vessel {vessel} or left it ({said}; {person}). Take that back first."),
            person=later.person_name,
            vessel=later.said.partition(":")[0],
            said=later.said.partition(": ")[2],
        )
    raise Refusal(
        "row_moved_since",
        N_("{person} worked on that row of {container} {number} afterwards ({said}). Change the row itself."),
        person=later.person_name,
        number=container.number,
        said=later.said,
    )


def _undo(deed: Deed, container: Container, change: RowChange) -> None:
    if change.before == change.after:
        return
    entry = deed.session.get(LedgerEntry, change.row_id)
    if entry is not None:
        (answer_at_once if change.before is None else write_again)(deed, container, entry)
        return
    refuse_gone(deed.session, container, change.before or {})
    if _is_of_a_piece(deed, change):
        _undo_piece(deed, container, change)
        return
    if change.before is None:
        erase_group(deed, container, deed.session.get_one(SherdGroup, change.row_id))
        return
    if change.after is None:
        said, of = facts_from_values(deed.session, change.before)
        back = write_group(deed, container, said, of, ordinal=int(change.before["ordinal"]))
        back.vessel_id, back.diagnostic = comes_again(deed, change.before["vessel_id"]), change.before["diagnostic"]
        carry_draws(deed, [change.row_id], back.id)
        return
    row = deed.session.get_one(SherdGroup, change.row_id)
    now = values_of(row)
    said, of = facts_from_values(deed.session, now | dict(change.before))
    if said != facts_from_values(deed.session, now)[0]:
        rewrite_group(deed, container, row, said, of)
    row.diagnostic = change.before.get("diagnostic", row.diagnostic)
    if "vessel_id" in change.before:
        left, row.vessel_id = row.vessel_id, comes_again(deed, change.before["vessel_id"])
        goes_when_empty(deed, left)


def _is_of_a_piece(deed: Deed, change: RowChange) -> bool:
    """Tell whether a change is of a piece; ids are given once in a store, whatever they are given to."""
    if change.after is None and change.before is not None:
        return "code" in change.before
    return deed.session.get(Piece, change.row_id) is not None


def _undo_piece(deed: Deed, container: Container, change: RowChange) -> None:
    if change.after is None and change.before is not None:
        vessel = {"vessel_id": comes_again(deed, change.before["vessel_id"])}
        bring_back_piece(deed, container, {**change.before, **vessel})
        return
    row = deed.session.get_one(Piece, change.row_id)
    if change.before is None:
        refuse_in_use(deed, container, row)
        erase_piece(deed, container, row)
        return
    restore_piece(deed, container, row, change.before)
