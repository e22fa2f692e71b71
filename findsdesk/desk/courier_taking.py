"""A courier file taken in: the other store's acts appended as they are, the rows of both put together, all or nothing.

What both said differently stands as the later version has it and is listed until somebody decides (``desk.clashes``).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from findsdesk.desk.courier import TAKEN, pass_on
from findsdesk.desk.courier_arrived import InWords, acts_of, refuse_forked, sender_of, stations_of
from findsdesk.desk.courier_files_kept import keep_files
from findsdesk.desk.courier_numbers import give_another, given_twice
from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.standing_together import beyond_what_is_kept, refuse_what_cannot_stand, sorted_here, what_is_wrong
from findsdesk.desk.written_things import Written
from findsdesk.exchange.courier_files import ArrivedCourier, read_courier_file
from findsdesk.store.courier_chains import (
    ChainWrong,
    StationTold,
    append_acts,
    gone_before,
    hash_at,
    keep_others_waiting,
    lines_between,
    meet_stations,
    move_heads,
    raise_numbers,
    stations_told,
)
from findsdesk.store.courier_clashes import (
    BY_NAME,
    FIGURES,
    GONE,
    NUMBER,
    VALUES,
    ClashFound,
    Said,
    by_name_together,
    clashes_between,
    found,
    said_by,
    write_clashes,
)
from findsdesk.store.courier_rows import SAME_BY_KEY, Meeting, Row, Twice
from findsdesk.store.done_twice import done_twice
from findsdesk.store.emptied import emptied_in_one, empty_beside_sorted, let_sorted_stand
from findsdesk.store.figures_decided import figures_decided, put_figures_right
from findsdesk.store.journal import Change, Changes, plain
from findsdesk.store.loose_references import looked_at_in_the_end
from findsdesk.store.meant_alike import as_meant
from findsdesk.store.models import Clash, Redo
from findsdesk.store.numbers import STATION_SHIFT
from findsdesk.store.one_of_two import put_twice_right
from findsdesk.store.put_right import containers_of, given_up_but_used, put_right
from findsdesk.store.same_pictures import put_pictures_together
from findsdesk.store.search_index import keep_index
from findsdesk.store.sums import deposits_of, put_totals_right
from findsdesk.store.told_changes import plain_columns, tell_change, tell_new
from findsdesk.store.written_elsewhere import last_written_elsewhere


@dataclass(frozen=True, slots=True)
class TakenCourier:
    """What a courier file brought: from whom, its new acts, those here already, clashes, files; what was put together.

    ``same`` are things that both stores had by the same code, ``numbers`` such as had to get another number here.
    """

    station: str
    acts: int
    already: int
    rows: int
    clashes: int
    same: int
    numbers: int
    files: int


def take_courier(desk: Desk, file: Path) -> TakenCourier:
    """Take in a courier file: all of it or nothing. A file that brings nothing new writes nothing.

    Refusals: those of ``read_courier_file``; ``courier_newer``; ``other_excavation``; ``courier_gap`` (acts are missing
    between), ``courier_changed``, ``courier_forked`` (one station wrote in both stores), ``courier_value``,
    ``courier_broken_reference``; ``cannot_stand_together``. StoreFault: ``photo_not_kept``.
    """
    arrived = read_courier_file(file)
    stations = stations_of(desk, arrived)
    with desk.reading() as reading:
        here = {one.id: one.running for one in stations_told(reading.session)}
        already = sum(min(one.running, here.get(one.id, 0)) for one in stations)
        if all(one.running <= here.get(one.id, 0) for one in stations):
            for one in stations:
                refuse_forked(hash_at(reading.session, one.id, one.running), one)
            return TakenCourier(sender_of(arrived), 0, already, 0, 0, 0, 0, 0)
        was_wrong = what_is_wrong(reading.session)
    files = keep_files(desk, arrived)
    with desk.deed("take_courier") as deed:
        taken = _taken(deed, arrived, stations)
        refuse_what_cannot_stand(deed.session, was_wrong)
    return TakenCourier(sender_of(arrived), taken.acts, already, *taken.figures, files)


@dataclass(slots=True)
class _Taken:
    acts: int
    rows: int = 0
    clashes: int = 0
    same: int = 0
    numbers: int = 0

    @property
    def figures(self) -> tuple[int, int, int, int]:
        return self.rows, self.clashes, self.same, self.numbers


def _taken(deed: Deed, arrived: ArrivedCourier, stations: tuple[StationTold, ...]) -> _Taken:
    session = deed.session
    deed.desk.row_ids.forget()
    keep_others_waiting(session)
    before = {one.id: one.running for one in stations_told(session)}
    names = {one.id: one.name for one in stations}
    with InWords(names), looked_at_in_the_end(session):
        meet_stations(session, stations)
        done = append_acts(session, acts_of(arrived))
        move_heads(session, done, stations)
        deed.desk.shared.others_wrote = last_written_elsewhere(session)
        deed.written_at = deed.desk.after_others(deed.written_at)
        raise_numbers(session, arrived.said.get("series", {}), arrived.said.get("blocks", []))
        for one in stations:
            now = done.heads.get(one.id, (before.get(one.id, 0), ""))[0]
            if now < one.running:
                raise ChainWrong("gap", one.id, now + 1)
            refuse_forked(hash_at(session, one.id, one.running), one)
        after = {station_id: running for station_id, (running, _head) in done.heads.items()}
        there = {one.id: one.running for one in stations}
        touched = {(line.kind, line.row_id) for line in lines_between(session, before, after, taking=True)}
        ours = said_by(lines_between(session, there, before))
        theirs = said_by(lines_between(session, before, after))
        taken = _Taken(done.acts, rows=len(touched))
        meeting = _met(deed, touched)
        clashes = [*clashes_between(ours, theirs), *_of_rows_gone(deed, meeting, before, theirs)]
        _put_together(deed, meeting, clashes, taken)
        clashes = list(as_meant(clashes, meeting))
        _by_name(deed, ours, theirs)
        clashes += _kept_in_use(deed, ours, theirs, arrived.said["station"]["id"])
        clashes = _without_emptied(deed, clashes, meeting, ours, theirs)
        clashes += done_twice(session, ours, theirs, beyond_what_is_kept(session))
        known = {row_id for kind, row_id in touched if kind == Clash.__tablename__}
        taken.clashes = write_clashes(
            session, deed.changes, clashes, deed.happened_at, lambda one: one in known or _there(deed, one)
        )
        new = {one.id for one in clashes}
        put_twice_right(session, deed.changes, deed.happened_at, new=new, beyond=lambda: beyond_what_is_kept(session))
        _let_decisions_stand(deed, touched)
        _follow(deed)
        pass_on(deed, TAKEN, arrived.said["station"]["id"], digest=arrived.digest, acts=done.acts, heads=there)
    deed.said = f"{sender_of(arrived)}: {done.acts}"
    return taken


def _without_emptied(
    deed: Deed, clashes: list[ClashFound], meeting: Meeting, ours: dict[Row, Said], theirs: dict[Row, Said]
) -> list[ClashFound]:
    """Let what is sorted stand where one side counted none; list that in place of a clash about figures."""
    found_here: dict[int, ClashFound | None] = {}
    containers = containers_of(deed.session, meeting.rows)
    for one in list(empty_beside_sorted(deed.session, sorted_here(), containers)):
        found_here[one.container_id] = emptied_in_one(deed.session, one.container_id, ours, theirs)
        let_sorted_stand(deed.session, deed.changes, one.container_id)
    kept = [one for one in clashes if one.what != FIGURES or found_here.get(one.row[1]) is None]
    return [*kept, *(one for one in found_here.values() if one is not None)]


def _let_decisions_stand(deed: Deed, touched: set[Row]) -> None:
    """Let the figures be as their clashes were decided, wherever that was."""
    containers = figures_decided(deed.session, touched, containers_of(deed.session, touched))
    for container_id in sorted(containers):
        put_figures_right(deed.session, deed.changes, container_id)
    put_totals_right(deed.session, containers)


def _there(deed: Deed, clash_id: int) -> bool:
    return deed.session.get(Clash, clash_id) is not None


def _met(deed: Deed, touched: set[Row]) -> Meeting:
    meeting = Meeting(deed.session, deed.changes)
    meeting.look(touched)
    meeting.bring_back_what_is_used()
    meeting.find_twice()
    return meeting


def _of_rows_gone(
    deed: Deed, meeting: Meeting, before: dict[int, int], theirs: dict[Row, Said]
) -> Iterator[ClashFound]:
    """Yield what they changed of rows that were put together with others here before, and so are gone."""
    for row, said in theirs.items():
        told = meeting.rows.get(row)
        if told is not None and told.values is None and not said.gone and gone_before(deed.session, row, before):
            yield found(GONE, row, Said(deed.desk.station_id, "", gone=True), said)


def _by_name(deed: Deed, ours: dict[Row, Said], theirs: dict[Row, Said]) -> None:
    """Let settings and words that each side changed by name stand beside one another."""
    for row in sorted(ours.keys() & theirs.keys()):
        names = {name for kind, name in BY_NAME if kind == row[0]}
        now = plain_columns(deed.session, row[0], row[1], sorted(names)) if names else None
        if now is not None:
            together = by_name_together(row, ours[row], theirs[row], now)
            if together:
                tell_change(deed.session, deed.changes, *row, together)


def _kept_in_use(deed: Deed, ours: dict[Row, Said], theirs: dict[Row, Said], sender_id: int) -> Iterator[ClashFound]:
    """Keep boxes and places that one side gave up and the other laid something into; yield each for a person to see."""
    while used := [row for row in given_up_but_used(deed.session) if _gave_up(ours, theirs, row) is not None]:
        for row in used:
            who = _gave_up(ours, theirs, row)
            assert who is not None
            uses = Said(sender_id if who is ours.get(row) else deed.desk.station_id, "in use", {"gone_at": None})
            gave_up = Said(who.station_id, who.act_id, {"gone_at": who.values["gone_at"]})
            tell_change(deed.session, deed.changes, *row, {"gone_at": None})
            yield found(VALUES, row, gave_up, uses)


def _gave_up(ours: dict[Row, Said], theirs: dict[Row, Said], row: Row) -> Said | None:
    """Return the side that gave a box or a place up since the two parted."""
    return next((said[row] for said in (ours, theirs) if row in said and said[row].values.get("gone_at")), None)


def _put_together(deed: Deed, meeting: Meeting, clashes: list[ClashFound], taken: _Taken) -> None:
    containers = containers_of(deed.session, meeting.rows)
    deposits = deposits_of(deed.session, containers)
    meeting.write()
    deed.changes.brought += [
        Change(kind, row_id, told.version, None, told.values) for (kind, row_id), told in meeting.rows.items()
    ]
    for one in meeting.twice:
        if one.kind in SAME_BY_KEY:
            taken.same += 1
            _same(meeting, one, clashes)
        else:
            taken.numbers += 1
            _numbered_anew(deed, one, clashes)
    told = (*meeting.rows, *((change.kind, change.row_id) for change in deed.changes.rows))
    twice = list(
        put_pictures_together(deed.session, deed.changes, {row_id for kind, row_id in told if kind == "photo"})
    )
    taken.same += len(twice)
    clashes += [one for one in twice if one is not None]
    put_right(deed.session, deed.changes, list(meeting.rows))
    moved = [(change.kind, change.row_id) for change in deed.changes.rows]
    containers |= containers_of(deed.session, [*meeting.rows, *moved])
    put_totals_right(deed.session, containers, deposits)


def _same(meeting: Meeting, one: Twice, clashes: list[ClashFound]) -> None:
    """Put two rows together that are the same by their key; where they say different things, a person decides."""
    kept = meeting.whole(one.kind, one.keeps)
    other = meeting.put_together(one)
    names = [
        name for name, value in other.items() if name in kept and name not in ("id", "position") and kept[name] != value
    ]
    if names and one.kind not in ("part", "sherd_join"):
        first = Said(one.keeps >> STATION_SHIFT, f"row {one.keeps}", {name: kept[name] for name in names})
        second = Said(one.gives_way >> STATION_SHIFT, f"row {one.gives_way}", {name: other[name] for name in names})
        clashes.append(found(VALUES, (one.kind, one.keeps), first, second))


def _numbered_anew(deed: Deed, one: Twice, clashes: list[ClashFound]) -> None:
    """Give the second of two things another number; whose it stays, a person may decide otherwise."""
    column, was = given_twice(deed, one)
    now = give_another(deed, one)
    first = Said(one.keeps >> STATION_SHIFT, f"row {one.keeps}", {column: was})
    second = Said(one.gives_way >> STATION_SHIFT, f"row {one.gives_way}", {column: was})
    clashes.append(found(NUMBER, (one.kind, one.keeps), first, second, other_row_id=one.gives_way))
    if one.kind == "container":
        row_id = clashes[-1].id
        if deed.session.get(Redo, row_id) is None:
            tell_new(deed.session, deed.changes, "redo", row_id, 1, _tag_again(deed, one, row_id, str(was), str(now)))


def _tag_again(deed: Deed, one: Twice, row_id: int, was: str, now: str) -> dict[str, Any]:
    return {
        "id": row_id,
        "what": str(Written.TAG),
        "container_id": one.gives_way,
        "bag_id": None,
        "piece_id": None,
        "pieces": 1,
        "said": was,
        "says_now": now,
        "why": "two stations gave the same",
        "asked_at": plain(deed.happened_at),
        "done_at": None,
    }


def _follow(deed: Deed) -> None:
    """Keep what is searched: the words of the rows that were brought."""
    keep_index(deed.session, Changes(rows=list(deed.changes.brought)))
    deed.session.expire_all()
