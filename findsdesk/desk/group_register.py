"""The register of sherd groups: every line of the sorting table, over all containers and seasons."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import and_, or_, select

from findsdesk.desk.container_register import of_container
from findsdesk.desk.desk import Reading
from findsdesk.desk.filters_of_finds import by_container, by_origin, by_type, of_type_called, out_of
from findsdesk.desk.register_fields import RegisterField, SayListed, why_in_words
from findsdesk.desk.register_windows import Condition, Key, Source
from findsdesk.store.models import Container, Deposit, Form, Season, SherdGroup, Square, Vessel, Ware
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class GroupInRegister:
    """A group of sherds with where it comes from; keys of the excavation's lists, tenths of a gram, rims per mille."""

    id: int
    version: int
    container_id: int
    container: str
    deposit: str
    square: str
    season: str
    ordinal: int
    ware: str
    form: str
    part: str
    surface: str
    decoration: str
    condition: str
    pieces: int
    tenths: int | None
    rim_permille: int | None
    base_permille: int | None
    decision: str
    reason: str
    rule: str
    proposed: str
    diagnostic: bool
    discarded: bool
    vessel: int | None
    note: str


def _holds_word(word: str) -> Condition:
    return or_(
        SherdGroup.note.ilike(word, escape="/"),
        of_type_called(SherdGroup.ware_id, Ware, word),
        of_type_called(SherdGroup.form_id, Form, word),
        out_of(SherdGroup.container_id, of_container(word)),
    )


def _decided(_reading: Reading, values: Sequence[str]) -> Condition:
    return SherdGroup.decision.in_(values)


def _against(_reading: Reading, values: Sequence[str]) -> Condition:
    """Return the condition of rows decided against a rule: those that say why, those that do not, or both."""
    said = {"said": SherdGroup.reason != "", "open": SherdGroup.reason == ""}
    return and_(SherdGroup.proposed != "", or_(*(said[value] for value in values if value in said)))


def _telling(_reading: Reading, values: Sequence[str]) -> Condition:
    return SherdGroup.diagnostic.is_("yes" in values)


_SHOWN = (Container.number, Deposit.number, Square.name, Season.name, Ware.code, Form.code, Vessel.number)
_OWN = (
    *("id", "version", "container_id", "ordinal", "part", "surface", "decoration", "condition", "pieces", "tenths"),
    *("rim_permille", "base_permille", "decision", "reason", "rule", "proposed", "diagnostic", "discarded", "note"),
)


def _rows(reading: Reading, keys: Sequence[Key]) -> Mapping[Key, GroupInRegister]:
    found = reading.session.execute(
        select(SherdGroup, *_SHOWN)
        .join(Container, SherdGroup.container_id == Container.id)
        .join(Season, Container.season_id == Season.id)
        .outerjoin(Deposit, Container.deposit_id == Deposit.id)
        .outerjoin(Square, Container.square_id == Square.id)
        .outerjoin(Ware, SherdGroup.ware_id == Ware.id)
        .outerjoin(Form, SherdGroup.form_id == Form.id)
        .outerjoin(Vessel, SherdGroup.vessel_id == Vessel.id)
        .where(SherdGroup.id.in_(keys))
    )
    return {row[0].id: _row(tuple(row)) for row in found}


def _row(found: tuple[Any, ...]) -> GroupInRegister:
    group, container, deposit, square, season, ware, form, vessel = found
    return GroupInRegister(
        **{name: getattr(group, name) for name in _OWN},
        container=container,
        deposit=deposit or "",
        square=square or "",
        season=season,
        ware=ware or "",
        form=form or "",
        vessel=vessel,
    )


GROUPS = Source(
    key=SherdGroup.id,
    sorts={"container": (SherdGroup.container_id, SherdGroup.ordinal)},
    filters={
        **by_container(SherdGroup.container_id),
        **by_origin(SherdGroup.container_id),
        **by_type(SherdGroup.ware_id, SherdGroup.form_id, SherdGroup.part),
        "decision": _decided,
        "against": _against,
        "diagnostic": _telling,
    },
    holds_word=_holds_word,
    rows=_rows,
)


def _tenth(value: int | None) -> float | None:
    return None if value is None else value / 10


def _yes(value: bool, say: SayListed) -> str:
    return say(N_("yes")) if value else ""


FIELDS = (
    RegisterField("container", N_("{Container}"), lambda row, say: row.container, "container"),
    RegisterField("line", N_("Line"), lambda row, say: row.ordinal, figures=True),
    RegisterField("deposit", N_("{Deposit}"), lambda row, say: row.deposit),
    RegisterField("square", N_("{Square}"), lambda row, say: row.square),
    RegisterField("ware", N_("Ware"), lambda row, say: row.ware),
    RegisterField("part", N_("Part"), lambda row, say: say.listed("parts", row.part)),
    RegisterField("form", N_("Form"), lambda row, say: row.form),
    RegisterField("pieces", N_("Count"), lambda row, say: row.pieces, figures=True),
    RegisterField("grams", N_("Grams"), lambda row, say: _tenth(row.tenths), figures=True),
    RegisterField("rim", N_("Rim, %"), lambda row, say: _tenth(row.rim_permille), figures=True),
    RegisterField("decision", N_("Decision"), lambda row, say: say.listed("decisions", row.decision)),
    RegisterField("reason", N_("Why"), lambda row, say: why_in_words(row, say), grows=True),
    RegisterField("diagnostic", N_("Tells the vessel"), lambda row, say: _yes(row.diagnostic, say)),
    RegisterField("vessel", N_("Vessel"), lambda row, say: row.vessel, figures=True),
    RegisterField("note", N_("Note"), lambda row, say: row.note, grows=True),
    RegisterField("surface", N_("Surface"), lambda row, say: say.listed("surfaces", row.surface), in_file=True),
    RegisterField(
        "decoration", N_("Decoration"), lambda row, say: say.listed("decorations", row.decoration), in_file=True
    ),
    RegisterField("condition", N_("Condition"), lambda row, say: say.listed("conditions", row.condition), in_file=True),
    RegisterField("base", N_("Base, %"), lambda row, say: _tenth(row.base_permille), in_file=True),
    RegisterField("rule", N_("Rule"), lambda row, say: row.rule, in_file=True),
    RegisterField("proposed", N_("Rule said"), lambda row, say: say.listed("decisions", row.proposed), in_file=True),
    RegisterField("discarded", N_("Discarded"), lambda row, say: _yes(row.discarded, say), in_file=True),
    RegisterField("season", N_("Season"), lambda row, say: row.season, in_file=True),
)
