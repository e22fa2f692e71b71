"""Shares that stand as they were drawn: one that was taken back is answered by its opposite and carries nothing on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.domain.refusals import Refusal
from findsdesk.store.models import Line, ShareDrawn, SherdGroup
from findsdesk.words import N_, CountOf

SHARE = "share"
"""The reason of the sherds a share keeps, a key of the list of reasons to keep."""


def standing_draws(session: Session, *those: ColumnElement[bool]) -> list[ShareDrawn]:
    """Return the draws that stand, as they happened; one whose sherds count below 0 answers the one it repeats."""
    rows = session.execute(select(ShareDrawn).where(*those).order_by(ShareDrawn.happened_at, ShareDrawn.id)).scalars()
    stands: Counter[tuple[Any, ...]] = Counter()
    drawn: dict[tuple[Any, ...], ShareDrawn] = {}
    for row in rows:
        draw = (row.group_id, row.rule_id, row.happened_at, row.step, row.first, row.carried, abs(row.laid_out))
        stands[draw] += -1 if row.laid_out < 0 else 1
        if row.laid_out >= 0:
            drawn[draw] = row
    standing = (row for draw, row in drawn.items() if stands[draw] > 0)
    return sorted(standing, key=lambda row: (row.happened_at, row.id))


def share_is_drawn(session: Session, row: SherdGroup) -> bool:
    """Tell whether the share of a group was drawn; one that kept sherds and has them all again was put together."""
    stands = standing_draws(session, ShareDrawn.group_id == row.id)
    return bool(stands) and not (stands[-1].kept and row.pieces == stands[-1].laid_out)


def refuse_other_count(session: Session, row: SherdGroup, pieces: int) -> None:
    """Refuse another count of a group whose share was drawn (``share_counted``): the lot fell over those laid out.

    What a share left may have all its sherds again: so it is put together.
    """
    if pieces == row.pieces or not share_is_drawn(session, row):
        return
    laid_out = standing_draws(session, ShareDrawn.group_id == row.id)[-1].laid_out
    if pieces != laid_out:
        raise Refusal(
            "share_counted",
            N_("A share was drawn over {laid_out} of these. Write more as a row of their own, or take the share back."),
            laid_out=CountOf("{n} sherd", "{n} sherds", laid_out),
        )


def put_together(deed: Deed, row: SherdGroup, pieces: int) -> None:
    """Answer the draw of a group that has all its sherds again: it is drawn anew, and carries nothing on until then."""
    if pieces == row.pieces or not share_is_drawn(deed.session, row):
        return
    last = standing_draws(deed.session, ShareDrawn.group_id == row.id)[-1]
    if last.kept and last.laid_out == pieces:
        _write(deed, _said(last), group_id=row.id, turned=True)


def turn_draws(deed: Deed, act_id: str, now_called: Mapping[int, int]) -> None:
    """Answer the draws of an act that is taken back, and draw again what it had answered.

    ``now_called`` gives the ids of the rows that stand for those of the act now.
    """
    lines = deed.session.execute(
        select(Line.after)
        .where(Line.act_id == act_id, Line.kind == ShareDrawn.__tablename__)
        .order_by(Line.ordinal.desc())
    ).scalars()
    for said in lines.all():
        if said is not None:
            _write(deed, said, group_id=now_called.get(said["group_id"], said["group_id"]), turned=True)


def carry_draws(deed: Deed, from_ids: Iterable[int], group_id: int) -> None:
    """Let the draws of a row that was removed be those of the one that came back in its place."""
    for row in standing_draws(deed.session, ShareDrawn.group_id.in_(list(from_ids))):
        said = _said(row)
        _write(deed, said, group_id=row.group_id, turned=True)
        _write(deed, said, group_id=group_id, turned=False)


def _said(row: ShareDrawn) -> dict[str, Any]:
    return {column.key: getattr(row, column.key) for column in ShareDrawn.__table__.columns}


def _write(deed: Deed, said: Mapping[str, Any], *, group_id: int, turned: bool) -> None:
    """Write a draw as it was said, or its opposite; its place in the deposit's row of draws is that of the first."""
    sign = -1 if turned else 1
    happened_at = said["happened_at"]
    values = {
        **said,
        "group_id": group_id,
        "laid_out": sign * said["laid_out"],
        "kept": sign * said["kept"],
        "happened_at": datetime.fromisoformat(happened_at) if isinstance(happened_at, str) else happened_at,
        "person_id": deed.person_id,
    }
    deed.write(ShareDrawn, **{name: value for name, value in values.items() if name != "id"})
