"""A vessel that holds nothing more goes, and comes again under its number when its sherds are put back into it."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed
from findsdesk.store.models import Act, Line, Photo, Piece, SherdGroup, Vessel


def goes_when_empty(deed: Deed, vessel_id: int | None) -> None:
    """Delete a vessel without pieces, groups and photographs; its number stays used."""
    deed.session.flush()
    vessel = deed.session.get(Vessel, vessel_id) if vessel_id is not None else None
    if vessel is not None and not _holds_anything(deed.session, vessel):
        deed.session.delete(vessel)


def _holds_anything(session: Session, vessel: Vessel) -> bool:
    return any(
        session.execute(select(kind.id).where(kind.vessel_id == vessel.id).limit(1)).first() is not None
        for kind in (Piece, SherdGroup, Photo)
    )


def comes_again(deed: Deed, vessel_id: int | None) -> int | None:
    """Return the id of the vessel that had this id; one that is gone is there again, with its number and its note."""
    if vessel_id is None or deed.session.get(Vessel, vessel_id) is not None:
        return vessel_id
    said = _as_it_went(deed.session, vessel_id)
    vessel = deed.session.execute(select(Vessel).where(Vessel.number == said["number"])).scalar_one_or_none()
    if vessel is None:
        vessel = deed.add(Vessel(**{name: said[name] for name in ("number", "note", "for_mending")}))
        deed.session.flush()
    return vessel.id


def _as_it_went(session: Session, vessel_id: int) -> dict[str, object]:
    """Return what was said of a vessel when it went."""
    return (
        session.execute(
            select(Line)
            .join(Act, Line.act_id == Act.id)
            .where(Line.kind == Vessel.__tablename__, Line.row_id == vessel_id)
            .order_by(Act.written_at.desc(), Act.running.desc(), Line.ordinal.desc())
            .limit(1)
        )
        .scalar_one()
        .before
        or {}
    )
