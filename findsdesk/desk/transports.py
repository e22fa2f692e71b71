"""Boxes, loose bags, shelves and rooms that move: one act with a list, checked where they leave and arrive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask
from findsdesk.desk.finding_shelves import box_or_bag_of, is_a, name_of, parents_of, place_of
from findsdesk.desk.kept_places import home_kept
from findsdesk.desk.lying import all_away, lay_bag, lay_box
from findsdesk.desk.transport_rows import TransportList, loaded, transport_list_of
from findsdesk.domain.codes import Kind
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.domain.shelving import PlaceKind, all_within, check_no_circle, check_within
from findsdesk.store.models import Bag, Box, Place, Transport, TransportLine
from findsdesk.store.numbers import take_numbers
from findsdesk.words import N_, CountOf

SERIES = "transport"
SHOWN = 5


@dataclass(frozen=True, slots=True)
class _Moves:
    """What moves: things by themselves, and places with all that lies in them."""

    things: list[Box | Bag]
    places: list[Place]


def move_things(
    desk: Desk,
    what: Sequence[str],
    *,
    to: str,
    scanned: Sequence[str] | None = None,
    arrived: bool = False,
    note: str = "",
    sure: bool = False,
) -> TransportList:
    """Move boxes, loose bags, or a whole shelf or room to a place, in one act; opposite: the move back.

    The list holds every box and loose bag that moves. ``scanned`` are the codes met where they left; what was not
    met is asked about. With ``arrived``, and where an empty shelf moves, they stand there at once; else they are
    checked at the other end by ``check_arrival``. Refusals: ``nothing_scanned``, ``there_already``, ``is_away``,
    ``lies_in_a_box``, ``for_a_while_only``, ``place_circle``, ``place_within``, ``not_of_this_transport``, those of
    finding. Questions: ``not_all_scanned``, ``place_is_full``.
    """
    with desk.deed("move_things") as deed:
        target = home_kept(deed, to)
        moves = _what(deed, what)
        lines = _gathered(deed, moves)
        row = _transport(deed, target, moves, note)
        _move(deed, row, moves, target)
        met = _met(deed, scanned, lines)
        _moves_on(deed, [thing for thing, _from in lines])
        for line in lines:
            _line(deed, row, line, met, arrived)
        row.arrived_at = deed.happened_at if arrived or not lines else None
        deed.said = f"{row.number}: {target.name}, {len(lines)}"
        ask(deed, _not_all_scanned(lines, met) if scanned is not None else None, sure)
        deed.session.flush()
        ask(deed, _too_many(deed.session, target), sure)
        return transport_list_of(deed.session, row)


def _what(deed: Deed, what: Sequence[str]) -> _Moves:
    moves = _Moves([], [])
    for one in dict.fromkeys(what):
        if is_a(deed.desk, one, Kind.PLACE) or _names_a_place(deed, one):
            moves.places.append(place_of(deed.session, deed.desk, one))
        else:
            moves.things.append(box_or_bag_of(deed.session, deed.desk, one))
    if not moves.things and not moves.places:
        raise Refusal("nothing_scanned", N_("Nothing was scanned. Scan what moves."))
    return moves


def _names_a_place(deed: Deed, said: str) -> bool:
    """Tell whether something typed is a place; a bare number is a box."""
    if said.strip().isdecimal() or is_a(deed.desk, said, Kind.BOX) or is_a(deed.desk, said, Kind.BAG):
        return False
    place_of(deed.session, deed.desk, said)
    return True


def _gathered(deed: Deed, moves: _Moves) -> list[tuple[Box | Bag, int | None]]:
    """Return what moves with where it stood, by itself and within places; refuses what cannot move."""
    session = deed.session
    away = all_away(session)
    found: dict[tuple[str, int], tuple[Box | Bag, int | None]] = {}
    for thing in moves.things:
        if away.of(thing) is not None:
            raise Refusal("is_away", N_("{thing} is away. Bring it back before it moves."), thing=name_of(thing))
        if isinstance(thing, Bag) and thing.box_id is not None:
            raise Refusal(
                "lies_in_a_box",
                N_("Bag {code} lies in a box. Move the box, or take the bag out first."),
                code=thing.code,
            )
        found[thing.code[0:3], thing.id] = (thing, thing.place_id)
    for place in moves.places:
        for thing in things_within(session, place.id):
            if away.of(thing) is None:
                found[thing.code[0:3], thing.id] = (thing, thing.place_id)
    return list(found.values())


def things_within(session: Session, place_id: int) -> list[Box | Bag]:
    """Return the boxes and loose bags that belong to a place or to one within it."""
    inside = all_within(place_id, parents_of(session))
    boxes = select(Box).where(Box.place_id.in_(inside), Box.gone_at.is_(None)).order_by(Box.number)
    bags = select(Bag).where(Bag.place_id.in_(inside), Bag.pieces > 0).order_by(Bag.code)
    return [*session.execute(boxes).scalars(), *session.execute(bags).scalars()]


def _transport(deed: Deed, target: Place, moves: _Moves, note: str) -> Transport:
    number = take_numbers(deed.session, SERIES, 1, station_id=deed.desk.station_id)[0]
    return deed.add(
        Transport(
            number=number,
            to_place_id=target.id,
            moved_place_id=moves.places[0].id if len(moves.places) == 1 and not moves.things else None,
            note=note.strip(),
            left_at=deed.happened_at,
            person_id=deed.person_id,
        )
    )


def _move(deed: Deed, row: Transport, moves: _Moves, target: Place) -> None:
    parents = parents_of(deed.session)
    for place in moves.places:
        check_no_circle(place.id, target.id, parents)
        check_within(PlaceKind(place.kind), PlaceKind(target.kind))
        _refuse_there(place.parent_id, target, place.name)
        place.parent_id = target.id
    for thing in moves.things:
        _refuse_there(thing.place_id, target, name_of(thing))
        if isinstance(thing, Box):
            lay_box(deed, thing, target, transport_id=row.id)
        else:
            lay_bag(deed, thing, place=target)


def _refuse_there(place_id: int | None, target: Place, name: str) -> None:
    if place_id == target.id:
        raise Refusal(
            "there_already", N_("{thing} is in {place} already. Choose where it goes."), thing=name, place=target.name
        )


def _met(deed: Deed, scanned: Sequence[str] | None, lines: Sequence[tuple[Box | Bag, int | None]]) -> set[str]:
    """Return the codes of what was met where it left; refuses what does not move."""
    codes = {thing.code for thing, _from in lines}
    met = {box_or_bag_of(deed.session, deed.desk, one).code for one in scanned or ()}
    for code in sorted(met - codes):
        raise _not_of_this(code)
    return met


def _not_of_this(code: str) -> Refusal:
    return Refusal(
        "not_of_this_transport", N_("{code} is not on the transport list. Set it aside, or move it as well."), code=code
    )


def _moves_on(deed: Deed, things: Sequence[Box | Bag]) -> None:
    """Write that things were met that move on before they were checked where they had been sent to."""
    boxes = [thing.id for thing in things if isinstance(thing, Box)]
    bags = [thing.id for thing in things if isinstance(thing, Bag)]
    of_them = or_(TransportLine.box_id.in_(boxes), TransportLine.bag_id.in_(bags))
    before = deed.session.execute(select(TransportLine).where(TransportLine.arrived_at.is_(None), of_them)).scalars()
    for line in before.all():
        line.arrived_at, line.arrived_by_id = deed.happened_at, deed.person_id
        deed.session.flush()
        _close(deed, deed.session.get_one(Transport, line.transport_id))


def _close(deed: Deed, row: Transport) -> None:
    """Write that a transport has arrived where the last of its things was met."""
    lines = loaded(deed.session, row.id).values()
    if row.arrived_at is None and all(line.arrived_at is not None for line in lines):
        row.arrived_at = deed.happened_at


def _line(
    deed: Deed, row: Transport, line: tuple[Box | Bag, int | None], met: set[str], arrived: bool
) -> TransportLine:
    thing, stood = line
    return deed.add(
        TransportLine(
            transport_id=row.id,
            box_id=thing.id if isinstance(thing, Box) else None,
            bag_id=thing.id if isinstance(thing, Bag) else None,
            from_place_id=stood,
            checked_out=thing.code in met,
            arrived_at=deed.happened_at if arrived else None,
            arrived_by_id=deed.person_id if arrived else None,
        )
    )


def _not_all_scanned(lines: Sequence[tuple[Box | Bag, int | None]], met: set[str]) -> Question | None:
    unmet = [name_of(thing) for thing, _from in lines if thing.code not in met]
    if not unmet:
        return None
    return Question(
        "not_all_scanned",
        N_("{things}: {names}. Does that move all the same?"),
        things=CountOf("{n} was not scanned where it leaves", "{n} were not scanned where they leave", len(unmet)),
        names=", ".join(unmet[:SHOWN]),
    )


def _too_many(session: Session, target: Place) -> Question | None:
    if target.holds_boxes is None:
        return None
    wanted = select(func.count()).where(Box.place_id == target.id, Box.gone_at.is_(None))
    boxes = session.execute(wanted).scalar_one()
    if boxes <= target.holds_boxes:
        return None
    return Question(
        "place_is_full",
        N_("{place} has room for {room}, and {boxes} would stand there. Is there room?"),
        place=target.name,
        room=CountOf("{n} box", "{n} boxes", target.holds_boxes),
        boxes=boxes,
    )


def check_arrival(desk: Desk, transport: int, scanned: Sequence[str]) -> TransportList:
    """Write which things of a transport were met at the other end; opposite: none, what was seen was seen.

    Refusals: ``unknown_transport``, ``nothing_scanned``, ``not_of_this_transport``, those of finding.
    """
    with desk.deed("check_arrival") as deed:
        row = transport_numbered(deed.session, transport)
        lines = loaded(deed.session, row.id)
        if not scanned:
            raise Refusal("nothing_scanned", N_("Nothing was scanned. Scan what arrived."))
        for one in dict.fromkeys(scanned):
            thing = box_or_bag_of(deed.session, desk, one)
            line = lines.get(thing.code)
            if line is None:
                raise _not_of_this(thing.code)
            if line.arrived_at is None:
                line.arrived_at, line.arrived_by_id = deed.happened_at, deed.person_id
        _close(deed, row)
        deed.said = f"{row.number}: {len(scanned)}"
        deed.session.flush()
        return transport_list_of(deed.session, row)


def transport_numbered(session: Session, number: int) -> Transport:
    """Return a transport by its number. Refusal: ``unknown_transport``."""
    row = session.execute(select(Transport).where(Transport.number == number)).scalar_one_or_none()
    if row is None:
        raise Refusal("unknown_transport", N_("There is no transport {number}. Look at those under way."),
                      number=number)  # fmt: skip
    return row


def transport_list(desk: Desk, transport: int) -> TransportList:
    """Return a transport with its things, as it is printed. Refusal: ``unknown_transport``."""
    with desk.reading() as reading:
        return transport_list_of(reading.session, transport_numbered(reading.session, transport))


def under_way(desk: Desk) -> tuple[TransportList, ...]:
    """Return the transports of which something was not met at the other end yet, the oldest first."""
    with desk.reading() as reading:
        rows = reading.session.execute(
            select(Transport).where(Transport.arrived_at.is_(None)).order_by(Transport.left_at, Transport.id)
        ).scalars()
        return tuple(transport_list_of(reading.session, row) for row in rows.all())
