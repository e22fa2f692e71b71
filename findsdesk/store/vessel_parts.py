"""Which parts of a vessel count as rims and as bases in statements, by the excavation's own words."""

from __future__ import annotations

from typing import Any

from sqlalchemy import BindParameter, bindparam, or_, select
from sqlalchemy.orm import Session

from findsdesk.domain.vessel_elements import Carriers, carriers
from findsdesk.store.models import Word

_PARTS = "parts"
_RIMS: BindParameter[list[str]] = bindparam("rim_parts", expanding=True)
_BASES: BindParameter[list[str]] = bindparam("base_parts", expanding=True)


def carriers_in(session: Session) -> Carriers:
    """Return which parts carry a rim or a base in this store."""
    said = select(Word.key, Word.counts_as).where(Word.list == _PARTS, Word.counts_as != "")
    return carriers({row.key: row.counts_as for row in session.execute(said)})


def part_values(session: Session) -> dict[str, list[str]]:
    """Return the values of the parameters in ``is_rim`` and ``is_base``."""
    carrying = carriers_in(session)
    return {"rim_parts": sorted(carrying.rims), "base_parts": sorted(carrying.bases)}


def is_rim(kind: Any) -> Any:
    """Return the condition that sherds of a row (group or piece) count as rims."""
    return or_(kind.part.in_(_RIMS), kind.rim_permille > 0)


def is_base(kind: Any) -> Any:
    """Return the condition that sherds of a row (group or piece) count as bases."""
    return or_(kind.part.in_(_BASES), kind.base_permille > 0)
