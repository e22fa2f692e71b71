"""Discards: a list made, signed for by a second person, seen by the inspector, carried away; called back until then."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import and_, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.discard_deciders import deciders
from findsdesk.desk.discard_lists import WholeList, discard_list, list_numbered, stage_of_row
from findsdesk.desk.finding import container_of
from findsdesk.desk.group_rows import count_in
from findsdesk.desk.lendable import refuse_out
from findsdesk.desk.one_at_a_time import only_here, only_here_of
from findsdesk.desk.opening import find_person
from findsdesk.desk.pins import check_pin
from findsdesk.desk.retention import need_discards
from findsdesk.desk.setting_up import need_text
from findsdesk.desk.steps import parts_of, stand, take_step
from findsdesk.desk.unlisted_discards import to_list
from findsdesk.domain.balance import Decision
from findsdesk.domain.discards import COMES_BACK_AS, may_call_back, may_carry, may_inspect, may_sign, may_take_off
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing, StepKind
from findsdesk.domain.settings import Role
from findsdesk.store.models import Container, DiscardLine, DiscardList, DiscardNote, Piece, Season, SherdGroup
from findsdesk.store.numbers import take_numbers
from findsdesk.store.sorted_sherds import GROUP
from findsdesk.words import N_, CountOf


def make_list(desk: Desk, *, season: str | None = None) -> WholeList:
    """Put everything that is decided as discard in a season's settled containers, and on no list yet, on a new list.

    No season means the one this day falls in, or else the newest. Opposite: ``take_off``. Refusals:
    ``nothing_to_discard``, ``nothing_discarded``, ``unknown_season``, ``on_loan`` (a piece).
    """
    with desk.deed("make_list") as deed:
        need_discards(deed.desk)
        its_season = _season(deed, season)
        found = _to_list(deed, its_season)
        if not found:
            raise Refusal(
                "nothing_to_discard",
                N_("Nothing settled is decided as discard and on no list. Settle what lies on the table first."),
            )
        for kind, row_id, _container_id in found:
            if kind != GROUP:
                refuse_out(deed.session, deed.session.get_one(Piece, row_id))
        number = take_numbers(deed.session, f"discards:{its_season.id}", 1, station_id=desk.station_id)[0]
        row = deed.add(
            DiscardList(season_id=its_season.id, number=number, made_at=deed.happened_at, made_by_id=deed.person_id)
        )
        deed.session.flush()
        pieces = sum(_write_line(deed, row, kind, row_id) for kind, row_id, _container_id in found)
        deed.said = f"{number}: {len(found)}, {pieces}"
        name = its_season.name
    return discard_list(desk, number, season=name)


def _to_list(deed: Deed, season: Season) -> Sequence[Any]:
    """Return what goes on a new list, its containers kept to this deed so that none of them is opened meanwhile."""
    only_here(deed, season)
    ahead = to_list(deed.session, season.id)
    only_here_of(deed, {row.container_id for row in ahead})
    return to_list(deed.session, season.id) if deed.desk.store.path is None else ahead


def _season(deed: Deed, name: str | None) -> Season:
    seasons = deed.session.execute(select(Season).order_by(Season.starts.desc())).scalars().all()
    if name is None:
        of_today = (one for one in seasons if one.starts <= deed.today() <= one.ends)
        found = next(of_today, seasons[0] if seasons else None)
    else:
        found = next((one for one in seasons if one.name == name.strip()), None)
    if found is None:
        raise Refusal("unknown_season", N_("There is no season {name}. Look at the list of seasons."), name=name or "")
    return found


def _write_line(deed: Deed, row: DiscardList, kind: str, row_id: int) -> int:
    of: SherdGroup | Piece
    of = deed.session.get_one(SherdGroup, row_id) if kind == GROUP else deed.session.get_one(Piece, row_id)
    deed.add(
        DiscardLine(
            list_id=row.id,
            container_id=of.container_id,
            group_id=of.id if kind == GROUP else None,
            piece_id=None if kind == GROUP else of.id,
            ware_id=of.ware_id,
            part=of.part,
            pieces=of.pieces,
            tenths=of.tenths,
            reason=of.reason,
            rule=of.rule,
            proposed=of.proposed,
        )
    )
    return of.pieces


def take_off(
    desk: Desk,
    number: int,
    *,
    why: str,
    tags: Sequence[str] = (),
    lines: Sequence[int] = (),
    to: Decision = Decision.HOLD,
    season: str | None = None,
) -> WholeList:
    """Take lines off a list nobody signed yet; without ``tags`` (containers) and ``lines`` (ids) all of it.

    The sherds are kept or held from then on. Opposite: ``make_list``. Refusals: ``already_signed``, ``carried_off``,
    ``withdrawn``, ``reason_needed``, ``comes_back_as``, ``no_such_line``, ``unknown_list_number``.
    """
    with desk.deed("take_off") as deed:
        row = _kept_here(deed, number, season)
        may_take_off(stage_of_row(row), {"number": number})
        _take_lines(deed, row, _lines(deed, row, tags, lines), why, to)
    return discard_list(desk, number, season=season)


def call_back(
    desk: Desk,
    number: int,
    *,
    why: str,
    tags: Sequence[str] = (),
    lines: Sequence[int] = (),
    to: Decision = Decision.HOLD,
    season: str | None = None,
) -> WholeList:
    """Call sherds back from a signed list until it is carried away; without ``tags`` and ``lines`` all of it.

    They count as kept or on hold again, and a container in its bags waits to be packed again. Opposite: ``make_list``.
    Refusals: ``not_signed``, and those of ``take_off`` but ``already_signed``.
    """
    with desk.deed("call_back") as deed:
        row = _kept_here(deed, number, season)
        may_call_back(stage_of_row(row), {"number": number})
        _take_lines(deed, row, _lines(deed, row, tags, lines), why, to)
    return discard_list(desk, number, season=season)


def sign_list(
    desk: Desk,
    number: int,
    *,
    pin: str,
    signer: str | None = None,
    pieces: int | None = None,
    season: str | None = None,
) -> WholeList:
    """Sign for a whole list with one's own PIN: from now on its sherds count as discarded. Opposite: ``call_back``.

    ``signer`` is the second person, at a station where the first one sits; ``pieces`` are those that the signer saw on
    the list. Refusals: ``signs_own_list``, ``signs_own_decisions``, ``may_not_sign``, ``not_proposed``,
    ``list_changed``, and those of ``check_pin``.
    """
    with desk.reading() as reading:
        person = desk.person if signer is None else find_person(reading.session, signer)
        _may_sign(reading.session, list_numbered(reading.session, number, season), person.id, person.name, person.role)
    check_pin(desk, person, pin)
    with desk.by(person).deed("sign_list") as deed:
        row = _kept_here(deed, number, season)
        _may_sign(deed.session, row, person.id, person.name, person.role)
        lines = _standing(deed.session, row)
        signed = sum(line.pieces for line in lines)
        if pieces is not None and pieces != signed:
            raise Refusal(
                "list_changed",
                N_("Discard list {number} has {signed} now, not {pieces}. Look at it again, then sign."),
                number=number,
                signed=CountOf("{n} sherd", "{n} sherds", signed),
                pieces=pieces,
            )
        row.signed_at, row.signed_by_id = deed.happened_at, person.id
        for line in lines:
            _count_as_discarded(deed, line)
        deed.said = f"{number}: {signed}"
    return discard_list(desk, number, season=season)


def _may_sign(session: Session, row: DiscardList, person_id: int | None, name: str, role: Role | None) -> None:
    facts = {"number": row.number, "person": name}
    stands = and_(DiscardLine.list_id == row.id, DiscardLine.called_back_at.is_(None))
    may_sign(
        stage_of_row(row),
        facts,
        made_by=row.made_by_id,
        decided_by={one.id for one in deciders(session, stands).values()},
        by=person_id,
        role=role or Role.VOLUNTEER,
    )


def _count_as_discarded(deed: Deed, line: DiscardLine) -> None:
    of, container = _row_of(deed, line)
    count_in(deed, container, of, -1)
    of.discarded = True
    count_in(deed, container, of, 1)


def inspected(desk: Desk, number: int, *, inspector: str, season: str | None = None) -> WholeList:
    """Write that the inspector put a name to the printed list. No opposite: the sherds are called back.

    Refusals: ``not_signed``, ``inspected``, ``carried_off``, ``withdrawn``, ``empty``.
    """
    name = need_text(inspector, N_("name of the inspector")) or ""
    with desk.deed("inspected") as deed:
        row = _kept_here(deed, number, season)
        may_inspect(stage_of_row(row), {"number": number})
        row.inspector, row.inspected_at = name, deed.happened_at
        deed.said = f"{number}: {name}"
    return discard_list(desk, number, season=season)


def carried_away(desk: Desk, number: int, *, where: str, how: str, marker: str, season: str | None = None) -> WholeList:
    """Write that the sherds of a list were carried away: where to, how, and what was laid with them as a marker.

    No opposite: from then on the list only takes notes. Refusals: ``not_signed``, ``not_inspected``, ``carried_off``,
    ``withdrawn``, ``empty``.
    """
    place = need_text(where, N_("place the sherds were carried to")) or ""
    way = need_text(how, N_("way they were carried off")) or ""
    laid = need_text(marker, N_("marker laid with them")) or ""
    with desk.deed("carried_away") as deed:
        row = _kept_here(deed, number, season)
        may_carry(stage_of_row(row), {"number": number}, inspector_signs=deed.settings.inspector_signs)
        row.carried_at, row.carried_by_id = deed.happened_at, deed.person_id
        row.carried_to, row.carried_how, row.marker = place, way, laid
        deed.said = f"{number}: {place}"
    return discard_list(desk, number, season=season)


def annotate(desk: Desk, number: int, *, text: str, season: str | None = None) -> WholeList:
    """Add a note to a list; it changes nothing else. No opposite: a later note answers it. Refusal: ``empty``."""
    said = need_text(text, N_("note")) or ""
    with desk.deed("annotate") as deed:
        row = list_numbered(deed.session, number, season)
        deed.write(DiscardNote, list_id=row.id, text=said, happened_at=deed.happened_at, person_id=deed.person_id)
        deed.said = f"{number}: {said}"
    return discard_list(desk, number, season=season)


def _kept_here(deed: Deed, number: int, season: str | None) -> DiscardList:
    """Return the row of a list, kept to this deed: it is not signed, carried away and called back at once."""
    row = list_numbered(deed.session, number, season)
    only_here(deed, row)
    return row


def _standing(session: Session, row: DiscardList) -> list[DiscardLine]:
    wanted = select(DiscardLine).where(DiscardLine.list_id == row.id, DiscardLine.called_back_at.is_(None))
    return list(session.execute(wanted.order_by(DiscardLine.id)).scalars())


def _lines(deed: Deed, row: DiscardList, tags: Sequence[str], ids: Sequence[int]) -> list[DiscardLine]:
    """Return the lines meant: those of containers and those of ids, or all that stand where nothing is named."""
    standing = _standing(deed.session, row)
    if not tags and not ids:
        return standing
    containers = {container_of(deed.session, deed.desk, tag).id for tag in tags}
    meant = [line for line in standing if line.container_id in containers or line.id in ids]
    if not containers <= {line.container_id for line in meant} or not set(ids) <= {line.id for line in meant}:
        raise Refusal(
            "no_such_line",
            N_("That does not stand on discard list {number} any more. Look at its lines again."),
            number=row.number,
        )
    return meant


def _take_lines(deed: Deed, row: DiscardList, lines: list[DiscardLine], why: str, to: Decision) -> None:
    """Let lines stand no more, and what they are of be kept or held again."""
    if not why.strip():
        raise Refusal("reason_needed", N_("Write why the sherds stay. The reason stays with the list."))
    if to not in COMES_BACK_AS:
        raise Refusal("comes_back_as", N_("What comes off a discard list is kept, mended or held."))
    for line in lines:
        line.called_back_at, line.called_back_by_id = deed.happened_at, deed.person_id
        line.called_back_why = why.strip()
        of, container = _row_of(deed, line)
        count_in(deed, container, of, -1)
        against = of.proposed or (of.decision if of.rule else "")
        of.discarded, of.decision, of.reason, of.proposed = False, to, why.strip(), "" if against == to else against
        count_in(deed, container, of, 1)
    for container_id in dict.fromkeys(line.container_id for line in lines):
        _to_be_packed_again(deed, deed.session.get_one(Container, container_id), why)
    if not _standing(deed.session, row):
        row.withdrawn_at = deed.happened_at
    deed.said = f"{row.number}: {sum(line.pieces for line in lines)}, {why.strip()}"


def _to_be_packed_again(deed: Deed, container: Container, why: str) -> None:
    """Let a container in its bags wait for packing again, since more of it stays than lies in them."""
    if Standing(container.standing) is not Standing.BAGGED:
        return
    take_step(deed, container, StepKind.REOPENED, note=why.strip())
    take_step(deed, container, StepKind.SETTLED)
    for part in parts_of(deed, container):
        stand(deed, part, "table", "")


def _row_of(deed: Deed, line: DiscardLine) -> tuple[SherdGroup | Piece, Container]:
    of: SherdGroup | Piece
    if line.group_id is not None:
        of = deed.session.get_one(SherdGroup, line.group_id)
    else:
        of = deed.session.get_one(Piece, line.piece_id)
    return of, deed.session.get_one(Container, line.container_id)
