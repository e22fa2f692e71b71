"""The retention policy of the excavation: its rules, in their order; added, changed, moved, put out of force."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from sqlalchemy import select
from sqlalchemy.orm import Session

from findsdesk.desk.desk import Deed, Desk
from findsdesk.desk.editing import refuse_if_moved
from findsdesk.desk.group_checks import reason_named
from findsdesk.desk.rule_words import rule_list
from findsdesk.desk.shipped import starting_policy
from findsdesk.desk.word_lists import WordLists, words_of
from findsdesk.domain.balance import Decision
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.retention import Fits, Policy, RetentionRule
from findsdesk.domain.rule_order import Telling, behind
from findsdesk.domain.word_lists import TELLING
from findsdesk.store import models
from findsdesk.words import N_, CountOf

AnyYesNo = Literal["any", "yes", "no"]
_DIAGNOSTIC: dict[str, bool | None] = {"any": None, "yes": True, "no": False}


@dataclass(frozen=True, slots=True)
class RuleFacts:
    """A rule as it stands in the policy; ``version`` is what a change must have seen."""

    id: int
    version: int
    position: int
    rule: RetentionRule
    in_force: bool
    behind: str = ""
    """The rule before it that takes all it would fit, so that it never proposes; '' where it may."""


def policy_of(desk: Desk) -> Policy:
    """Return the rules in force in their order; an excavation that discards nothing has none that discard."""
    with desk.reading() as reading:
        return policy_in(reading.session, discards=desk.facts.settings.discards)


def policy_in(session: Session, *, discards: bool = True) -> Policy:
    """Return the policy as it stands in a session; without ``discards`` no rule that discards is in it."""
    rules = (one.rule for one in _rules(session) if one.in_force)
    return Policy(tuple(rule for rule in rules if discards or rule.decision is not Decision.DISCARD))


def rules_of(desk: Desk) -> tuple[RuleFacts, ...]:
    """Return every rule in its order, those out of force too."""
    with desk.reading() as reading:
        return _in_their_order(reading.session, words_of(desk))


def _in_their_order(session: Session, lists: WordLists) -> tuple[RuleFacts, ...]:
    """Return every rule in its order, each with the rule before it that takes all it would."""
    rules = _rules(session)
    in_force, marked = [one.rule for one in rules if one.in_force], telling(lists)
    return tuple(replace(one, behind=behind(in_force, one.rule, marked)) if one.in_force else one for one in rules)


def telling(lists: WordLists) -> Telling:
    """Return, by list, the words that make a sherd diagnostic."""
    return {name: lists[name].telling() for name in TELLING}


def _rules(session: Session) -> tuple[RuleFacts, ...]:
    rows = session.execute(
        select(models.RetentionRule).order_by(models.RetentionRule.position, models.RetentionRule.id)
    ).scalars()
    return tuple(_facts(row) for row in rows)


def _facts(row: models.RetentionRule) -> RuleFacts:
    rule = RetentionRule(
        row.name, Decision(row.decision), row.reason, Fits.from_plain(row.fits), row.one_in, row.at_least
    )
    return RuleFacts(row.id, row.version, row.position, rule, row.in_force)


def add_rule(
    desk: Desk,
    name: str,
    *,
    decision: Decision,
    reason: str = "",
    parts: Sequence[str] = (),
    wares: Sequence[str] = (),
    forms: Sequence[str] = (),
    decorations: Sequence[str] = (),
    conditions: Sequence[str] = (),
    securities: Sequence[str] = (),
    diagnostic: AnyYesNo = "any",
    one_in: int | None = None,
    at_least: int | None = None,
    place: int | None = None,
) -> RuleFacts:
    """Add a rule to the end of the policy, or at a ``place`` of it counted from 1; an empty list fits everything.

    Opposite: out of force by ``change_rule``. Refusals: those of ``RetentionRule.check``, of the words of the lists,
    ``already_there``, ``nothing_discarded``, ``no_such_place``.
    """
    said = {
        "parts": parts,
        "wares": wares,
        "forms": forms,
        "decorations": decorations,
        "conditions": conditions,
        "securities": securities,
    }
    with desk.deed("add_rule") as deed:
        lists = {one: rule_list(deed, one, words) for one, words in said.items()}
        fits = Fits(**lists, diagnostic=_DIAGNOSTIC[diagnostic])
        rule = _checked(deed, RetentionRule(name.strip(), decision, reason.strip(), fits, one_in, at_least))
        deed.said = rule.name
        row = _put(deed, rule)
        return _at_place(deed, row, place)


def change_rule(
    desk: Desk,
    name: str,
    *,
    seen: int | None = None,
    to: str | None = None,
    decision: Decision | None = None,
    reason: str | None = None,
    parts: Sequence[str] | None = None,
    wares: Sequence[str] | None = None,
    forms: Sequence[str] | None = None,
    decorations: Sequence[str] | None = None,
    conditions: Sequence[str] | None = None,
    securities: Sequence[str] | None = None,
    diagnostic: AnyYesNo | None = None,
    one_in: int | None = None,
    at_least: int | None = None,
    in_force: bool | None = None,
    place: int | None = None,
) -> RuleFacts:
    """Change a rule, put it out of force or to another ``place``; ``any`` empties a list, 0 a share or minimum.

    What is not named stays, and so does what was decided by it. Opposite: the change back. Refusals: ``unknown_rule``,
    ``rule_in_use``, those of ``add_rule`` and ``move_rule``, ``changed_meanwhile``.
    """
    said = {
        "parts": parts,
        "wares": wares,
        "forms": forms,
        "decorations": decorations,
        "conditions": conditions,
        "securities": securities,
    }
    with desk.deed("change_rule") as deed:
        row = _named(deed.session, name)
        before = _facts(row).rule
        lists: dict[str, Any] = {one: rule_list(deed, one, words) for one, words in said.items() if words is not None}
        if diagnostic is not None:
            lists["diagnostic"] = _DIAGNOSTIC[diagnostic]
        decided = before.decision if decision is None else decision
        rule = RetentionRule(
            before.name if to is None else to.strip(),
            decided,
            (before.reason if decided is before.decision else "") if reason is None else reason.strip(),
            replace(before.fits, **lists),
            _number(before.one_in if decided is Decision.DISCARD else None, one_in),
            _number(before.at_least if decided is Decision.DISCARD else None, at_least),
        )
        mine = _columns(_checked(deed, rule, row.id))
        mine["in_force"] = row.in_force if in_force is None else in_force
        if seen is not None:
            refuse_if_moved(deed.session, row, seen, mine)
        _rewrite(deed, row, mine)
        return _at_place(deed, row, place)


def _at_place(deed: Deed, row: models.RetentionRule, place: int | None) -> RuleFacts:
    if place is not None:
        _to_place(deed, row, place)
        deed.session.flush()
    return next(one for one in _in_their_order(deed.session, words_of(deed.desk)) if one.id == row.id)


def _rewrite(deed: Deed, row: models.RetentionRule, mine: dict[str, Any]) -> None:
    was = row.name
    if mine["name"] != was:
        _refuse_in_use(deed.session, was)
    for column, value in mine.items():
        setattr(row, column, value)
    deed.said = was if row.name == was else f"{was} → {row.name}"
    deed.session.flush()


def move_rule(desk: Desk, name: str, *, place: int) -> tuple[RuleFacts, ...]:
    """Put a rule at a place of the policy, counted from 1: the first that fits proposes. Opposite: the move back.

    Refusals: ``unknown_rule``, ``no_such_place``.
    """
    with desk.deed("move_rule") as deed:
        moved = _named(deed.session, name)
        _to_place(deed, moved, place)
        deed.said = f"{moved.name}: {place}"
        deed.session.flush()
        return _in_their_order(deed.session, words_of(deed.desk))


def _to_place(deed: Deed, moved: models.RetentionRule, place: int) -> None:
    rows = [deed.session.get_one(models.RetentionRule, one.id) for one in _rules(deed.session)]
    if not 1 <= place <= len(rows):
        raise Refusal(
            "no_such_place",
            N_("The policy has {rules}; there is no place {place}."),
            rules=CountOf("{n} rule", "{n} rules", len(rows)),
            place=place,
        )
    rows.remove(moved)
    rows.insert(place - 1, moved)
    for position, row in enumerate(rows, start=1):
        row.position = position


def carry_code(deed: Deed, list_name: str, old: str, new: str) -> None:
    """Let the rules name a ware or form (``wares`` or ``forms``) by its new code, so that they go on to fit it."""
    for row in deed.session.execute(select(models.RetentionRule)).scalars():
        codes = row.fits.get(list_name, [])
        if old in codes:
            row.fits = {**row.fits, list_name: sorted(new if code == old else code for code in codes)}


def take_starting_policy(desk: Desk) -> tuple[RuleFacts, ...]:
    """Take in the policy that ships with the program, where there is no rule yet. Refusal: ``policy_there``."""
    with desk.deed("take_starting_policy") as deed:
        if _rules(deed.session):
            raise Refusal("policy_there", N_("There are rules already. Add the missing ones, or change those."))
        rules = starting_policy()
        for rule in rules:
            if deed.settings.discards or rule.decision is not Decision.DISCARD:
                _put(deed, rule)
        deed.said = ", ".join(rule.name for rule in rules)
        deed.session.flush()
        return _rules(deed.session)


def _put(deed: Deed, rule: RetentionRule) -> models.RetentionRule:
    last = deed.session.execute(
        select(models.RetentionRule.position).order_by(models.RetentionRule.position.desc()).limit(1)
    ).scalar()
    row = deed.add(models.RetentionRule(position=(last or 0) + 1, in_force=True, **_columns(rule)))
    deed.session.flush()
    return row


def _columns(rule: RetentionRule) -> dict[str, Any]:
    return {
        "name": rule.name,
        "fits": rule.fits.as_plain(),
        "decision": rule.decision,
        "reason": rule.reason,
        "one_in": rule.one_in,
        "at_least": rule.at_least,
    }


def _checked(deed: Deed, rule: RetentionRule, own_id: int | None = None) -> RetentionRule:
    rule.check()
    if rule.decision is Decision.DISCARD:
        need_discards(deed.desk)
    for other in _rules(deed.session):
        if folded(other.rule.name) == folded(rule.name) and other.id != own_id:
            raise Refusal("already_there", N_("{name} is already there."), name=other.rule.name)
    return replace(rule, reason=reason_named(rule.decision, rule.reason, words_of(deed.desk)))


def need_discards(desk: Desk) -> None:
    """Refuse to discard where the excavation does not: ``nothing_discarded``."""
    if not desk.facts.settings.discards:
        raise Refusal("nothing_discarded", N_("This excavation discards nothing. Keep it, or put it on hold."))


def _refuse_in_use(session: Session, name: str) -> None:
    """Refuse another name for a rule that rows bear: what they say of it would point at nothing."""
    for kind in (models.SherdGroup, models.Piece):
        if session.execute(select(kind.id).where(kind.rule == name).limit(1)).first() is not None:
            raise Refusal(
                "rule_in_use",
                N_("Rows were decided by or against “{rule}”: its name stays. Put it out of force and add another."),
                rule=name,
            )


def _number(before: int | None, said: int | None) -> int | None:
    return before if said is None else said or None


def _named(session: Session, name: str) -> models.RetentionRule:
    for row in session.execute(select(models.RetentionRule)).scalars():
        if folded(row.name) == folded(name):
            return row
    raise Refusal("unknown_rule", N_("The policy has no rule “{name}”. Look at the list of rules."), name=name.strip())
