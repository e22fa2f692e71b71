"""The deadlines of a season: the excavation's own rules, those that ship to start from, and the permit's own word."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.setting_up import need_text, season_of
from findsdesk.desk.shipped import shipped_deadlines
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.season_end import CountsFrom, Unit, check_offset, counted_from, due_on
from findsdesk.store.models import Deadline, Season
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class DeadlineFacts:
    """A deadline of a season: what is due, by which rule, on which day; None where nobody can say the day yet.

    ``days_left`` is below 0 once it is past, and None where there is no day or it was done.
    """

    id: int
    version: int
    season: str
    deliverable: str
    counts_from: CountsFrom
    offset: int
    unit: Unit
    counted_from: date | None
    source: str
    permit_says: str
    permit_on: date | None
    due_on: date | None
    days_left: int | None
    done_on: date | None
    in_force: bool


def deadlines(desk: Desk, season: str | None = None) -> tuple[DeadlineFacts, ...]:
    """Return the deadlines in force for a season, the next first. Refusals: ``unknown_season``, ``no_season``."""
    with desk.reading() as reading:
        today = reading.now.astimezone(desk.facts.zone).date()
        return deadlines_in(reading.session, season_of(reading.session, today, season or None), today)


def deadlines_in(session: Session, season: Season, today: date) -> tuple[DeadlineFacts, ...]:
    """Return the deadlines in force for a season, the next first, then those without a day, then those done."""
    wanted = select(Deadline).where(Deadline.season_id == season.id, Deadline.in_force.is_(True)).order_by(Deadline.id)
    found = [_facts(row, season, today) for row in session.execute(wanted).scalars()]
    return tuple(sorted(found, key=lambda one: (one.done_on is not None, one.due_on or date.max)))


def _facts(row: Deadline, season: Season, today: date) -> DeadlineFacts:
    kind, unit = CountsFrom(row.counts_from), Unit(row.unit)
    begins = counted_from(kind, season.ends, row.counted_from)
    due = row.permit_on or (due_on(begins, row.offset, unit) if begins else None)
    return DeadlineFacts(
        id=row.id,
        version=row.version,
        season=season.name,
        deliverable=row.deliverable,
        counts_from=kind,
        offset=row.offset,
        unit=unit,
        counted_from=begins,
        source=row.source,
        permit_says=row.permit_says,
        permit_on=row.permit_on,
        due_on=due,
        days_left=None if due is None or row.done_on else (due - today).days,
        done_on=row.done_on,
        in_force=row.in_force,
    )


def add_deadline(
    desk: Desk,
    deliverable: str,
    *,
    counts_from: CountsFrom,
    offset: int = 0,
    unit: Unit = Unit.DAYS,
    source: str = "",
    counted_from: date | None = None,
    permit_says: str = "",
    permit_on: date | None = None,
    season: str | None = None,
) -> DeadlineFacts:
    """Write a deadline of a season. Opposite: ``change_deadline``, which lets it be in force no more.

    ``permit_on`` is the day by the permit's own text (``permit_says``) and goes before the rule. Refusals: ``empty``,
    ``offset_too_long``, ``already_there``, ``permit_words_needed``, ``unknown_season``, ``no_season``.
    """
    name = need_text(deliverable, N_("what is due")) or ""
    check_offset(offset)
    with desk.deed("add_deadline") as deed:
        its_season = season_of(deed.session, deed.today(), season or None)
        if _named(deed.session, its_season, name) is not None:
            raise Refusal("already_there", N_("{name} is already there."), name=name)
        row = Deadline(
            season_id=its_season.id,
            deliverable=name,
            counts_from=counts_from,
            offset=offset,
            unit=unit,
            source=source.strip(),
            counted_from=counted_from,
            permit_says=permit_says.strip(),
            permit_on=permit_on,
            in_force=True,
        )
        _check_permit(row)
        deed.add(row)
        deed.session.flush()
        deed.said = f"{its_season.name}: {name}"
        return _facts(row, its_season, deed.today())


def take_starting_deadlines(desk: Desk, *, season: str | None = None) -> tuple[DeadlineFacts, ...]:
    """Take in the deadlines that ship and that the season has not. Opposite: ``change_deadline``.

    Refusals: ``nothing_to_take_in``, ``unknown_season``, ``no_season``.
    """
    with desk.deed("take_starting_deadlines") as deed:
        its_season = season_of(deed.session, deed.today(), season or None)
        taken = [
            deed.add(
                Deadline(
                    season_id=its_season.id,
                    deliverable=rule.deliverable,
                    counts_from=rule.counts_from,
                    offset=rule.offset,
                    unit=rule.unit,
                    source=rule.source,
                    permit_says="",
                    in_force=True,
                )
            )
            for rule in shipped_deadlines()
            if _named(deed.session, its_season, rule.deliverable) is None
        ]
        if not taken:
            text = N_(
                "Season {season} has each of the deadlines that ship. Change them where the permit says otherwise."
            )
            raise Refusal("nothing_to_take_in", text, season=its_season.name)
        deed.session.flush()
        deed.said = f"{its_season.name}: {len(taken)}"
        return deadlines_in(deed.session, its_season, deed.today())


def change_deadline(
    desk: Desk,
    deliverable: str,
    *,
    season: str | None = None,
    seen: int | None = None,
    named: str | None = None,
    counts_from: CountsFrom | None = None,
    offset: int | None = None,
    unit: Unit | None = None,
    source: str | None = None,
    counted_from: date | None = None,
    permit_says: str | None = None,
    permit_on: date | None = None,
    done_on: date | None = None,
    in_force: bool | None = None,
    without: tuple[str, ...] = (),
) -> DeadlineFacts:
    """Change a deadline; what is not named stays. Opposite: the change back.

    ``without`` takes days away again: counted_from, permit_on, done_on. Refusals: ``unknown_deadline``,
    ``nothing_said``, ``changed_meanwhile``, and those of ``add_deadline``.
    """
    said = {
        "deliverable": None if named is None else need_text(named, N_("what is due")),
        "counts_from": counts_from,
        "offset": offset,
        "unit": unit,
        "source": source,
        "counted_from": counted_from,
        "permit_says": permit_says,
        "permit_on": permit_on,
        "done_on": done_on,
        "in_force": in_force,
    }
    mine: dict[str, Any] = {name: value for name, value in said.items() if value is not None}
    mine |= dict.fromkeys(_days_without(without))
    if not mine:
        raise Refusal("nothing_said", N_("Say what changes, for example {example}."), example="permit_on=2026-09-30")
    check_offset(offset or 0)
    with desk.deed("change_deadline") as deed:
        its_season = season_of(deed.session, deed.today(), season or None)
        row = _there(deed.session, its_season, deliverable)
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, mine)
        other = _named(deed.session, its_season, str(mine.get("deliverable", row.deliverable)))
        if other is not None and other.id != row.id:
            raise Refusal("already_there", N_("{name} is already there."), name=other.deliverable)
        for column, value in mine.items():
            setattr(row, column, value)
        _check_permit(row)
        deed.said = f"{its_season.name}: {row.deliverable}, {', '.join(mine)}"
        deed.session.flush()
        return _facts(row, its_season, deed.today())


_DAYS = ("counted_from", "permit_on", "done_on")


def _days_without(without: tuple[str, ...]) -> tuple[str, ...]:
    for one in without:
        if one not in _DAYS:
            text = N_("{name} is no day of a deadline. There is: {known}.")
            raise Refusal("no_such_day", text, name=one, known=", ".join(_DAYS))
    return without


def _check_permit(row: Deadline) -> None:
    if row.permit_on is not None and not row.permit_says:
        raise Refusal(
            "permit_words_needed",
            N_("A day of the permit goes before the rule. Write what the permit says, in its own words."),
        )


def _named(session: Session, season: Season, name: str) -> Deadline | None:
    rows = session.execute(select(Deadline).where(Deadline.season_id == season.id)).scalars()
    return next((row for row in rows if folded(row.deliverable) == folded(name)), None)


def _there(session: Session, season: Season, name: str) -> Deadline:
    found = _named(session, season, name)
    if found is None:
        raise Refusal(
            "unknown_deadline",
            N_("Season {season} has no deadline called {name}. Look at the list of its deadlines."),
            season=season.name,
            name=name,
        )
    return found
