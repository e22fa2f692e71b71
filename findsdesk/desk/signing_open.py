"""What stays open at the end of a season: signed as a list by two people, and carried over."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Acting, Deed, Desk
from findsdesk.desk.one_at_a_time import only_here
from findsdesk.desk.opening import find_person
from findsdesk.desk.pins import check_pin
from findsdesk.desk.season_end import OpenRow, rows_in
from findsdesk.desk.setting_up import season_of
from findsdesk.desk.shipped import requirements
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Standing
from findsdesk.domain.season_end import Requirement, may_sign_open
from findsdesk.store.models import Container, HandOver, HandOverLine, Season
from findsdesk.store.numbers import take_numbers
from findsdesk.store.pins import pin_of
from findsdesk.words import N_, CountOf


@dataclass(frozen=True, slots=True)
class SignedOpen:
    """A list of what stays open, just signed."""

    number: int
    season: str
    signed_at: datetime
    first: str
    second: str
    lines: int


def sign_open(
    desk: Desk,
    *,
    second: str,
    pin: str = "",
    second_pin: str = "",
    seen: int | None = None,
    season: str | None = None,
    note: str = "",
) -> SignedOpen:
    """Sign for all that is open in a season, with a second person at the same station, and carry it over.

    Whoever of the two has a PIN says it; ``seen`` is how many lines they saw. Later seasons show each line as their own
    work until it is done. No opposite: what is done drops out by itself, and the rest is signed for again. Refusals:
    ``two_sign``, ``may_not_sign_open``, ``nobody_answers``, ``still_in_water``, ``open_changed``, ``nothing_new``,
    those of ``check_pin``, ``unknown_person``, ``unknown_season``, ``no_season``.
    """
    with desk.reading() as reading:
        other = find_person(reading.session, second) if second.strip() else Acting(None, "", None)
        with_pin = [one for one in (desk.person, other) if _has_pin(reading.session, one)]
    may_sign_open({one.id: (one.name, one.role) for one in (desk.person, other)})
    for person in with_pin:
        check_pin(desk, person, pin if person.id == desk.person.id else second_pin)
    with desk.deed("sign_open") as deed:
        row = season_of(deed.session, deed.today(), season or None)
        only_here(deed, row)
        _check_dry(deed.session, row)
        found = [(one, thing) for one in requirements() for thing in rows_in(deed.session, desk, row, one)]
        _check_seen(seen, len(found))
        _check_new(deed.session, row, found)
        return _write(deed, row, other, found, note)


def _has_pin(session: Session, person: Acting) -> bool:
    return person.id is not None and pin_of(session, person.id) is not None


def _check_dry(session: Session, season: Season) -> None:
    """Refuse while something lies in water: whatever is boxed wet grows mould until the next season."""
    wanted = (
        select(Container.number)
        .where(Container.season_id == season.id, Container.standing == Standing.SOAKING)
        .order_by(Container.number_key)
    )
    numbers = session.execute(wanted).scalars().all()
    if numbers:
        raise Refusal(
            "still_in_water",
            N_("Still in water: {numbers}. Take them out and let them dry before the season is signed for."),
            numbers=", ".join(numbers),
        )


def _check_seen(seen: int | None, lines: int) -> None:
    if seen is not None and seen != lines:
        raise Refusal(
            "open_changed",
            N_("{lines} open now, not {seen}. Look at the list again, then sign."),
            lines=CountOf("{n} thing", "{n} things", lines),
            seen=seen,
        )


def _check_new(session: Session, season: Season, found: list[tuple[Requirement, OpenRow]]) -> None:
    newest = select(func.max(HandOver.number)).where(HandOver.season_id == season.id)
    number = session.execute(newest).scalar_one_or_none()
    if number is None:
        return
    line = HandOverLine
    signed = session.execute(
        select(line.requirement, line.subject, line.subject_id)
        .join(HandOver, line.hand_over_id == HandOver.id)
        .where(HandOver.season_id == season.id, HandOver.number == number)
    ).all()
    if {tuple(one) for one in signed} == {(one.key, thing.subject, thing.id) for one, thing in found}:
        raise Refusal(
            "nothing_new",
            N_("List {number} says the same and is signed. There is nothing new to sign for."),
            number=number,
        )


def _write(
    deed: Deed, season: Season, second: Acting, found: list[tuple[Requirement, OpenRow]], note: str
) -> SignedOpen:
    number = take_numbers(deed.session, f"hand-over:{season.id}", 1, station_id=deed.desk.station_id)[0]
    list_id = deed.write(
        HandOver,
        season_id=season.id,
        number=number,
        signed_at=deed.happened_at,
        first_id=deed.person_id,
        second_id=second.id,
        lines=len(found),
        note=note.strip(),
    )
    for one, thing in found:
        deed.write(
            HandOverLine,
            hand_over_id=list_id,
            requirement=one.key,
            subject=thing.subject,
            subject_id=thing.id,
            container_id=thing.container_id,
            number=thing.number,
            part=thing.part,
            pieces=thing.pieces,
            stays_as=one.stays_as,
        )
    first = deed.desk.person.name
    deed.said = f"{season.name} {number}: {len(found)}, {first}, {second.name}"
    return SignedOpen(number, season.name, deed.happened_at, first, second.name, len(found))
