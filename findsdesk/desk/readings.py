"""Reading pottery: what is said of a container or a whole deposit, and a second reader beside the first."""

from __future__ import annotations

from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.finding import container_of, deposit_of
from findsdesk.desk.group_checks import words_named
from findsdesk.desk.reading_rows import ReadingFacts, facts_of_row, period_said, reading_query
from findsdesk.desk.word_lists import words_of
from findsdesk.domain.natural_order import folded
from findsdesk.domain.near_codes import near
from findsdesk.domain.readings import Periods
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.standings import Standing
from findsdesk.store.models import Container, Deposit, Period, PotteryReading
from findsdesk.words import N_

READ_MATERIALS = frozenset({"pottery"})
"""What a ceramicist reads; painted sherds take another route and are pottery all the same by their groups."""
NOT_HERE = (Standing.ISSUED, Standing.LISTED, Standing.MISSING, Standing.VOID, Standing.UNUSED, Standing.JOINED)
DEFAULT_CONFIDENCE = "likely"


def read_container(
    desk: Desk,
    tag: str,
    *,
    main: str = "",
    earlier: str = "",
    latest: str = "",
    confidence: str = DEFAULT_CONFIDENCE,
    line: str = "",
    look_again: str = "",
) -> ReadingFacts:
    """Write what the person at the desk reads a container's pottery as; ``look_again`` says why somebody else should.

    Periods are codes or names of the excavation's list. Refusals: those of finding it, ``not_here``, ``not_pottery``,
    ``who_reads``, ``read_already`` (correct your own), ``nothing_read``, ``unknown_period``, ``unknown_word``,
    ``earlier_not_earlier``, ``latest_not_latest``.
    """
    with desk.deed("read_container") as deed:
        container = container_of(deed.session, desk, tag)
        _need_readable(container)
        said = _said(deed, main, earlier, latest, confidence, line, look_again)
        deed.said = _line(deed, container.number, said)
        return _write(deed, {"container_id": container.id}, said, container.number)


def read_deposit(
    desk: Desk,
    deposit: str,
    *,
    main: str = "",
    earlier: str = "",
    latest: str = "",
    confidence: str = DEFAULT_CONFIDENCE,
    line: str = "",
    look_again: str = "",
) -> ReadingFacts:
    """Write what the person at the desk reads a deposit's pottery as a whole as, over its containers.

    Refusals: those of ``read_container`` but for the container's own, and of finding the deposit.
    """
    with desk.deed("read_deposit") as deed:
        row = deposit_of(deed.session, deposit)
        said = _said(deed, main, earlier, latest, confidence, line, look_again)
        deed.said = _line(deed, row.number, said)
        return _write(deed, {"deposit_id": row.id}, said, row.number)


def correct_reading(
    desk: Desk,
    reading_id: int,
    *,
    seen: int,
    main: str | None = None,
    earlier: str | None = None,
    latest: str | None = None,
    confidence: str | None = None,
    line: str | None = None,
    look_again: str | None = None,
) -> ReadingFacts:
    """Correct one's own reading; what is not named stays, an empty text empties it.

    Opposite: the correction back. Refusals: ``no_such_reading``, ``not_your_reading``, ``changed_meanwhile``, and those
    of what a reading says.
    """
    with desk.deed("correct_reading") as deed:
        row = _reading(deed.session, reading_id)
        if row.person_id != deed.person_id:
            raise Refusal(
                "not_your_reading", N_("This reading is somebody else's. Write your own: it stands beside the first.")
            )
        mine = _changed(deed, row, main, earlier, latest, confidence, line, look_again)
        refuse_if_moved(deed.session, row, seen, mine)
        for column, value in mine.items():
            setattr(row, column, value)
        deed.session.flush()
        deed.said = _line(deed, _of_what(deed.session, row), mine)
        return _facts(deed.session, row.id)


def answer_look_again(desk: Desk, reading_id: int, *, says: str) -> ReadingFacts:
    """Write what came of looking again; the reading stays as it is.

    Refusals: ``no_such_reading``, ``nothing_to_look_at``, ``answer_needed``.
    """
    with desk.deed("answer_look_again") as deed:
        row = _reading(deed.session, reading_id)
        of_what = _of_what(deed.session, row)
        if not row.look_again or row.looked_again_at is not None:
            raise Refusal(
                "nothing_to_look_at", N_("Nobody waits for another look at {number}. Look at its readings."),
                number=of_what,
            )  # fmt: skip
        if not says.strip():
            raise Refusal("answer_needed", N_("Say what you saw, in a few words."))
        row.looked_again_at, row.looked_again_by_id = deed.happened_at, deed.person_id
        row.looked_again_says = says.strip()
        deed.session.flush()
        deed.said = f"{of_what}: {says.strip()}"
        return _facts(deed.session, row.id)


def _need_readable(container: Container) -> None:
    if container.standing in NOT_HERE:
        raise Refusal(
            "not_here",
            N_("{Container} {number} is not here, so nobody can read it. Check it in first."),
            number=container.number,
        )
    if container.material not in READ_MATERIALS:
        raise Refusal(
            "not_pottery",
            N_("{Container} {number} holds no pottery. Readings are of pottery: scan another."),
            number=container.number,
        )


def _said(
    deed: Deed, main: str, earlier: str, latest: str, confidence: str, line: str, look_again: str
) -> dict[str, Any]:
    """Return the columns of a reading as it is said, checked."""
    rows = {"main": _period(deed.session, main), "earlier": _period(deed.session, earlier)}
    rows["latest"] = _period(deed.session, latest)
    Periods(**{name: period_said(row) for name, row in rows.items()}).check()
    if not any(rows.values()) and not line.strip():
        raise Refusal("nothing_read", N_("Nothing is said of this pottery. Name a period, or write a line."))
    return {
        **{f"{name}_id": row.id if row else None for name, row in rows.items()},
        "confidence": words_named("confidences", confidence or DEFAULT_CONFIDENCE, words_of(deed.desk)),
        "line": line.strip(),
        "look_again": bool(look_again.strip()),
        "look_again_why": look_again.strip(),
    }


def _changed(deed: Deed, row: PotteryReading, *said: str | None) -> dict[str, Any]:
    """Return the columns of a reading after a correction; a new reason to look again asks anew."""
    codes = {period.id: period.code for period in deed.session.execute(select(Period)).scalars()}
    periods = (row.main_id, row.earlier_id, row.latest_id)
    stands = (
        *("" if one is None else codes[one] for one in periods), row.confidence, row.line, row.look_again_why,
    )  # fmt: skip
    now = [before if new is None else new for before, new in zip(stands, said, strict=True)]
    mine = _said(deed, *now)
    if mine["look_again_why"] != row.look_again_why:
        mine |= {"looked_again_at": None, "looked_again_by_id": None, "looked_again_says": ""}
    return mine


def _write(deed: Deed, of: dict[str, int], said: dict[str, Any], number: str) -> ReadingFacts:
    if deed.person_id is None:
        raise Refusal("who_reads", N_("A reading needs its reader. Say who you are first."))
    theirs = select(PotteryReading.id).filter_by(**of, person_id=deed.person_id)
    if deed.session.execute(theirs).first() is not None:
        raise Refusal(
            "read_already",
            N_("You have read {number} already. Correct your reading; a second one is somebody else's."),
            number=number,
        )
    row = deed.add(PotteryReading(**of, **said, read_at=deed.happened_at, person_id=deed.person_id))
    deed.session.flush()
    return _facts(deed.session, row.id)


def _period(session: Session, said: str) -> Period | None:
    """Return the period of a code or a name, or None where nothing is said; refuses ``unknown_period``."""
    wanted = folded(said)
    if not wanted:
        return None
    rows = session.execute(select(Period).order_by(Period.position)).scalars().all()
    for row in rows:
        if wanted in (folded(row.code), folded(row.name)):
            return row
    raise Refusal(
        "unknown_period",
        N_("There is no period {said}. Near it: {near}. Choose one, or add it in Set-up."),
        said=said.strip(),
        near=", ".join(near(said, [row.code for row in rows])) or "–",
    )


def _reading(session: Session, reading_id: int) -> PotteryReading:
    row = session.get(PotteryReading, reading_id)
    if row is None:
        raise Refusal("no_such_reading", N_("There is no such reading. Look at the list again."))
    return row


def _of_what(session: Session, row: PotteryReading) -> str:
    if row.container_id is not None:
        return session.get_one(Container, row.container_id).number
    return session.get_one(Deposit, row.deposit_id).number


def _line(deed: Deed, number: str, said: dict[str, Any]) -> str:
    main = said["main_id"] or said["latest_id"] or said["earlier_id"]
    name = deed.session.get_one(Period, main).name if main else ""
    return f"{number}: {', '.join(part for part in (name, said['line'], said['look_again_why']) if part)}"


def _facts(session: Session, reading_id: int) -> ReadingFacts:
    return facts_of_row(session.execute(reading_query().where(PotteryReading.id == reading_id)).one())
