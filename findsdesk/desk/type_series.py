"""The type series: forms beside the wares, codes taken away, two codes merged; nothing rewritten silently."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, aliased

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import ask, refuse_if_moved
from findsdesk.desk.group_checks import ware_named
from findsdesk.desk.group_rows import count_in
from findsdesk.desk.retention import carry_code, policy_in
from findsdesk.desk.setting_up import check_years, need_text
from findsdesk.desk.type_uses import TypeUses, uses_of
from findsdesk.domain.refusals import Question, Refusal
from findsdesk.store.models import Container, Form, Piece, SherdGroup, Ware
from findsdesk.store.totals import drop_empty_wares
from findsdesk.words import N_


@dataclass(frozen=True, slots=True)
class FormFacts:
    """A form of the type series: of one ware or of any (''); ``merged_into`` is the code that took its place, or ''."""

    id: int
    version: int
    code: str
    name: str
    ware: str
    earliest: int | None
    latest: int | None
    source: str
    note: str
    merged_into: str


@dataclass(frozen=True, slots=True)
class MergedCodes:
    """Two codes that became one, and what followed."""

    code: str
    into: str
    followed: TypeUses


def add_form(
    desk: Desk,
    *,
    code: str,
    name: str = "",
    ware: str = "",
    earliest: int | None = None,
    latest: int | None = None,
    source: str = "",
    note: str = "",
) -> FormFacts:
    """Add a form with its code, of one ware or of any, and years (astronomical). Opposite: ``remove_form``.

    Refusals: ``empty``, ``already_there``, ``unknown_ware``, ``years_reversed``.
    """
    wanted = (need_text(code, N_("code of the form")) or "").upper()
    check_years(earliest, latest)
    with desk.deed("add_form") as deed:
        _refuse_second(deed.session, wanted)
        of = ware_named(deed.session, ware)
        row = deed.add(
            Form(
                code=wanted,
                name=name.strip(),
                ware_id=of.id if of else None,
                earliest=earliest,
                latest=latest,
                source=source.strip(),
                note=note.strip(),
            )
        )
        deed.said = wanted
        deed.session.flush()
        return _facts(row, of.code if of else "", "")


def change_form(
    desk: Desk,
    code: str,
    *,
    seen: int | None = None,
    to: str | None = None,
    name: str | None = None,
    ware: str | None = None,
    earliest: int | None = None,
    latest: int | None = None,
    source: str | None = None,
    note: str | None = None,
) -> FormFacts:
    """Change a form's code (``to``), ware, name, years or source; what is not named stays. Opposite: the change back.

    Refusals: ``unknown_form``, ``empty``, ``already_there``, ``unknown_ware``, ``years_reversed``,
    ``changed_meanwhile``.
    """
    with desk.deed("change_form") as deed:
        row = _form(deed.session, code)
        wanted = need_text(to, N_("code of the form"))
        said: dict[str, Any] = {
            "code": wanted.upper() if wanted else None,
            "name": name,
            "earliest": earliest,
            "latest": latest,
            "source": source,
            "note": note,
        }
        plain = {key: value.strip() if isinstance(value, str) else value for key, value in said.items()}
        mine: dict[str, Any] = {key: value for key, value in plain.items() if value is not None}
        if ware is not None:
            of = ware_named(deed.session, ware)
            mine["ware_id"] = of.id if of else None
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, mine)
        if mine.get("code", row.code) != row.code:
            _refuse_second(deed.session, mine["code"])
            carry_code(deed, "forms", row.code, mine["code"])
        check_years(mine.get("earliest", row.earliest), mine.get("latest", row.latest))
        deed.said = f"{row.code}: {', '.join(mine)}"
        for key, value in mine.items():
            setattr(row, key, value)
        deed.session.flush()
        now = deed.session.get(Ware, row.ware_id) if row.ware_id is not None else None
        return _facts(row, now.code if now else "", "")


def forms(desk: Desk, *, merged: bool = False) -> tuple[FormFacts, ...]:
    """Return the forms by code; ``merged`` ones, whose place another took, only when asked for."""
    into = aliased(Form)
    wanted = (
        select(Form, Ware.code, into.code)
        .outerjoin(Ware, Form.ware_id == Ware.id)
        .outerjoin(into, Form.merged_into_id == into.id)
        .order_by(Form.code)
    )
    if not merged:
        wanted = wanted.where(Form.merged_into_id.is_(None))
    with desk.reading() as reading:
        return tuple(_facts(row, ware or "", other or "") for row, ware, other in reading.session.execute(wanted))


def remove_ware(desk: Desk, code: str) -> str:
    """Take a ware away that nothing uses; returns its code. Opposite: ``add_ware``.

    Refusals: ``unknown_ware``, ``code_in_use`` (with what uses it), ``code_in_policy``.
    """
    with desk.deed("remove_ware") as deed:
        row = _ware(deed.session, code)
        _refuse_in_policy(deed, "wares", row.code)
        _refuse_in_use(deed.session, row)
        drop_empty_wares(deed.session, row.id)
        deed.session.delete(row)
        deed.said = row.code
    return row.code


def remove_form(desk: Desk, code: str) -> str:
    """Take a form away that nothing uses; returns its code. Opposite: ``add_form``.

    Refusals: ``unknown_form``, ``code_in_use`` (with what uses it), ``code_in_policy``.
    """
    with desk.deed("remove_form") as deed:
        row = _form(deed.session, code)
        _refuse_in_policy(deed, "forms", row.code)
        _refuse_in_use(deed.session, row)
        deed.session.delete(row)
        deed.said = row.code
    return row.code


def merge_wares(desk: Desk, code: str, into: str, *, sure: bool = False) -> MergedCodes:
    """Let one ware take the place of another: groups, pieces and forms follow in one act; the old code stays findable.

    Opposite: none; the journal names every row that followed. Refusals: ``unknown_ware``, ``same_code``,
    ``code_in_policy``. Question: ``rows_follow``, with their numbers.
    """
    with desk.deed("merge_wares") as deed:
        old, new = _ware(deed.session, code), _ware(deed.session, into)
        _refuse_in_policy(deed, "wares", old.code)
        done = _merged(deed, old, new, "ware_id", sure=sure)
        for form in deed.session.execute(select(Form).where(Form.ware_id == old.id)).scalars():
            form.ware_id = new.id
    return done


def merge_forms(desk: Desk, code: str, into: str, *, sure: bool = False) -> MergedCodes:
    """Let one form take the place of another: groups and pieces follow in one act; the old code stays findable.

    Opposite: none. Refusals: ``unknown_form``, ``same_code``, ``code_in_policy``. Question: ``rows_follow``.
    """
    with desk.deed("merge_forms") as deed:
        old, new = _form(deed.session, code), _form(deed.session, into)
        _refuse_in_policy(deed, "forms", old.code)
        return _merged(deed, old, new, "form_id", sure=sure)


def _merged(deed: Deed, old: Ware | Form, new: Ware | Form, column: str, *, sure: bool) -> MergedCodes:
    if old.id == new.id:
        raise Refusal("same_code", N_("That is the same code twice. Name the one that takes its place."))
    groups = _rows_of(deed.session, SherdGroup, column, old.id)
    pieces = _rows_of(deed.session, Piece, column, old.id)
    deed.said = f"{old.code} → {new.code}"
    uses = uses_of(deed.session, old)
    ask(deed, _rows_follow(old.code, new.code, uses), sure)
    for row, container in (*groups, *pieces):
        count_in(deed, container, row, -1)
        setattr(row, column, new.id)
        count_in(deed, container, row, 1)
    old.merged_into_id = new.id
    return MergedCodes(old.code, new.code, uses)


def _rows_of(session: Session, kind: Any, column: str, old_id: int) -> list[tuple[Any, Container]]:
    rows = session.execute(
        select(kind, Container)
        .join(Container, kind.container_id == Container.id)
        .where(getattr(kind, column) == old_id)
        .order_by(kind.id)
    ).all()
    return [(row, container) for row, container in rows]


def _rows_follow(code: str, into: str, uses: TypeUses) -> Question:
    return Question(
        "rows_follow",
        N_("{code} becomes {into}: {uses}. Are the two one and the same?"),
        code=code,
        into=into,
        uses=uses.in_words(),
    )


def _refuse_in_use(session: Session, row: Ware | Form) -> None:
    uses = uses_of(session, row)
    if uses.any:
        raise Refusal(
            "code_in_use",
            N_("{code} stays, since it is in use: {uses}. Merge it into another code instead."),
            code=row.code,
            uses=uses.in_words(),
        )


def _refuse_in_policy(deed: Deed, list_name: str, code: str) -> None:
    for rule in policy_in(deed.session).rules:
        if code in getattr(rule.fits, list_name):
            raise Refusal(
                "code_in_policy",
                N_("The rule “{rule}” of the policy names {code}. Change that rule first."),
                rule=rule.name,
                code=code,
            )


def _refuse_second(session: Session, code: str) -> None:
    if session.execute(select(Form.id).where(Form.code == code)).first() is not None:
        raise Refusal("already_there", N_("{name} is already there."), name=code)


def _ware(session: Session, code: str) -> Ware:
    row = session.execute(select(Ware).where(Ware.code == code.strip().upper())).scalar_one_or_none()
    if row is None or row.merged_into_id is not None:
        raise Refusal("unknown_ware", N_("There is no ware {name}. Look at the list of wares."), name=code.strip())
    return row


def _form(session: Session, code: str) -> Form:
    row = session.execute(select(Form).where(Form.code == code.strip().upper())).scalar_one_or_none()
    if row is None or row.merged_into_id is not None:
        raise Refusal("unknown_form", N_("There is no form {name}. Look at the list of forms."), name=code.strip())
    return row


def _facts(row: Form, ware: str, merged_into: str) -> FormFacts:
    return FormFacts(
        row.id,
        row.version,
        row.code,
        row.name,
        ware,
        row.earliest,
        row.latest,
        row.source,
        row.note,
        merged_into,
    )
