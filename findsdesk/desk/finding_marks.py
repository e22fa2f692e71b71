"""Finding a container from the mark inked on a sherd or from an old label without a code, as somebody types it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from findsdesk.domain.marks import read_mark
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Container, Deposit, FormerNumber, MarkEntry, Season, Square
from findsdesk.words import N_


def container_marked(session: Session, site: str, text: str) -> Container | None:
    """Return the container that a typed mark means, or a number with its season before it: 2024/131.

    The mark may name the deposit as it was when the sherd was marked. None where no season's mark reads like that;
    refuses ``which_season`` where two seasons have such a container: the season's name and a stroke go before it.
    """
    seasons = session.execute(select(Season).order_by(Season.starts.desc())).scalars().all()
    before, stroke, rest = text.partition("/")
    named = [one for one in seasons if stroke and folded(one.name) == folded(before)]
    said = rest if named else text
    found = list(_found(session, site, named or seasons, said))
    if not found and named:
        found = list(_numbered(session, named[0], said))
    if not found:
        found = list(_inked(session, named or seasons, said))
    if len({season.id for season, _row in found}) > 1:
        raise Refusal(
            "which_season",
            N_("Which season? {mark} fits {seasons}. Type the season before it: {example}."),
            mark=said.strip(),
            seasons=", ".join(season.name for season, _row in found),
            example=f"{found[-1][0].name}/{said.strip()}",
        )
    return found[0][1] if len(found) == 1 else None


def _found(
    session: Session, site: str, seasons: Sequence[Season], said: str
) -> Iterator[tuple[Season, Container]]:  # fmt: skip
    for season in seasons:
        known = {"permit": season.permit, "site": site, "season": season.name}
        fields = read_mark(season.mark_pattern, said, known)
        # A bare number is no mark: it is looked for as a number, and the newest season counts.
        if fields is None or set(fields) == {"container"}:
            continue
        for _season, row in _numbered(session, season, fields["container"]):
            if _fits(session, row, fields) or _said_once(session, row, said):
                yield season, row


def _inked(session: Session, seasons: Sequence[Season], said: str) -> Iterator[tuple[Season, Container]]:
    """Yield the containers whose sherds bear just that text: marks of an old season follow no pattern of ours."""
    by_id = {season.id: season for season in seasons}
    bears = select(MarkEntry.container_id).where(func.lower(MarkEntry.said) == said.strip().lower())
    for row in session.execute(select(Container).where(Container.id.in_(bears)).order_by(Container.id)).scalars():
        if row.season_id in by_id:
            yield by_id[row.season_id], row


def _numbered(session: Session, season: Season, number: str) -> Iterator[tuple[Season, Container]]:
    wanted = select(Container).where(Container.season_id == season.id, Container.number_folded == folded(number))
    for row in session.execute(wanted.order_by(Container.id)).scalars():
        yield season, row


def _fits(session: Session, row: Container, fields: Mapping[str, str]) -> bool:
    if "square" in fields:
        square = session.get(Square, row.square_id) if row.square_id is not None else None
        if square is None or folded(square.name) != folded(fields["square"]):
            return False
    return "deposit" not in fields or folded(fields["deposit"]) in _numbers_of(session, row.deposit_id)


def _numbers_of(session: Session, deposit_id: int | None) -> set[str]:
    """Return the number of a deposit and all that it had."""
    if deposit_id is None:
        return set()
    now = select(Deposit.number_folded).where(Deposit.id == deposit_id)
    once = select(FormerNumber.number_folded).where(FormerNumber.deposit_id == deposit_id)
    return set(session.execute(now.union(once)).scalars())


def _said_once(session: Session, row: Container, said: str) -> bool:
    """Tell whether a sherd of a container was marked like that, before it was moved to another deposit."""
    wanted = folded(" ".join(said.replace("/", " ").split()))
    texts = session.execute(select(MarkEntry.said).where(MarkEntry.container_id == row.id).distinct()).scalars()
    return any(folded(text.replace(" / ", " ")).endswith(wanted) for text in texts)
