"""What is needed to read a container's or a deposit's pottery: what was read of it, and the words there are for it."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.desk.desk import Desk
from findsdesk.desk.figure_scopes import Of, Scope
from findsdesk.desk.reading_rows import ReadingFacts, readings_on
from findsdesk.desk.readings import correct_reading, read_container, read_deposit
from findsdesk.desk.setting_up import PeriodFacts, periods
from findsdesk.desk.word_lists import words_of


@dataclass(frozen=True, slots=True)
class ReadingPage:
    """The readings of a thing, one's own among them (or None), the periods of the list, (key, word) of how sure."""

    scope: Scope
    readings: tuple[ReadingFacts, ...]
    own: ReadingFacts | None
    periods: tuple[PeriodFacts, ...]
    confidences: tuple[tuple[str, str], ...]


def reading_page(desk: Desk, scope: Scope) -> ReadingPage:
    """Return the readings of a container or a deposit with what a reading is said in."""
    with desk.reading() as reading:
        of = {"container_id": scope.id} if scope.of is Of.CONTAINER else {"deposit_id": scope.id}
        found = readings_on(reading.session, **of)
    own = next((one for one in found if one.who == desk.person.name), None)
    words = tuple((term.key, term.name) for term in words_of(desk)["confidences"].in_use)
    return ReadingPage(scope, found, own, periods(desk), words)


def write_reading(
    desk: Desk,
    page: ReadingPage,
    *,
    code: str,
    main: str,
    earlier: str,
    latest: str,
    confidence: str,
    line: str,
    look_again: str,
) -> ReadingFacts:
    """Write one's reading of the thing of a page, or correct the one that stands; ``code`` is its tag or number.

    Refusals: those of reading and of correcting.
    """
    said = {
        "main": main,
        "earlier": earlier,
        "latest": latest,
        "confidence": confidence,
        "line": line,
        "look_again": look_again,
    }
    if page.own is not None:
        return correct_reading(desk, page.own.id, seen=page.own.version, **said)
    if page.scope.of is Of.CONTAINER:
        return read_container(desk, code, **said)
    return read_deposit(desk, code, **said)
