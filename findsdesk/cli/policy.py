"""``findsdesk policy``: the rules of what is kept and what is discarded, shares drawn by them, what they would do."""

from __future__ import annotations

import argparse
import secrets
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from findsdesk.cli.calls import DONE, add_json, add_moment, add_store
from findsdesk.cli.saying import say, say_json, say_table
from findsdesk.cli.seat import reading_seat, writing_seat
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _, grouped, put

if TYPE_CHECKING:
    from findsdesk.desk.desk import Desk
    from findsdesk.desk.retention import RuleFacts
    from findsdesk.desk.shares import DrawnShare
    from findsdesk.domain.mean_dates import MeanDate
    from findsdesk.domain.policy_simulation import Held, Simulated
    from findsdesk.domain.retention import RetentionRule
    from findsdesk.domain.terminus import TerminusPostQuem
    from findsdesk.words import Terms

EXAMPLE = (
    "findsdesk policy quay                                              (the rules, in their order)",
    "findsdesk policy quay start --by oren                              (take in the policy that ships)",
    'findsdesk policy quay add "Body of Marl Buff" decision=discard reason=no_diagnostic_value parts=body wares=MBU '
    "one_in=10",
    'findsdesk policy quay change "Body of Marl Buff" in_force=no --by oren',
    'findsdesk policy quay move "Body of Marl Buff" 1 --by oren',
    "findsdesk policy quay draw 131 --by oren                           (draw the shares of a container, by lot)",
    "findsdesk policy quay simulate --season 2026                       (what it would have kept)",
)
_DEEDS = {"add": "add-rule", "change": "change-rule", "move": "move-rule"}
_WORD_LISTS = frozenset({"parts", "decorations", "conditions"})
"""Of what a rule may name, that which stands in it by the keys of a word list."""
_WHAT = ("list", "start", *_DEEDS, "draw", "simulate")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    parser.add_argument("what", nargs="?", default="list", choices=_WHAT, metavar="WHAT", help=", ".join(_WHAT))
    parser.add_argument("name", nargs="?", metavar="NAME", help=_("the rule (for draw: the tag)"))
    parser.add_argument("words", nargs="*", metavar="KEY=VALUE", help=_("what is to be said of it"))
    parser.add_argument("--season", metavar="NAME", help=_("the season to ask about (else the present one)"))
    add_moment(parser)
    add_json(parser)


def run(call: argparse.Namespace) -> int:
    """List, change, draw or ask."""
    doing = {"list": _list, "start": _start, "draw": _draw, "simulate": _simulate}
    return doing.get(call.what, _change)(call)


def _list(call: argparse.Namespace) -> int:
    from findsdesk.desk.retention import rules_of

    with reading_seat(call) as desk:
        _say_rules(call, desk, rules_of(desk))
    return DONE


def _start(call: argparse.Namespace) -> int:
    from findsdesk.desk.retention import take_starting_policy

    with writing_seat(call) as desk:
        _say_rules(call, desk, take_starting_policy(desk))
    return DONE


def _change(call: argparse.Namespace) -> int:
    from findsdesk.desk.playing import do
    from findsdesk.desk.retention import rules_of

    if call.name is None:
        raise Refusal("no_rule", N_("Name the rule. findsdesk policy STORE lists them."))
    bare = [word for word in call.words if "=" not in word]
    named = dict(word.split("=", 1) for word in call.words if "=" in word)
    with writing_seat(call) as desk:
        do(desk, _DEEDS[call.what], named, (call.name, *bare))
        _say_rules(call, desk, rules_of(desk))
    return DONE


def _say_rules(call: argparse.Namespace, desk: Desk, rules: tuple[RuleFacts, ...]) -> None:
    if call.json:
        say_json([_plain(one) for one in rules])
    elif not rules:
        say(N_("There are no rules: everything is kept. findsdesk policy STORE start takes in those that ship."))
    else:
        heads = (N_("Rule"), N_("Decision"), N_("Why"), N_("Fits"), N_("Keeps one in"), N_("At least"), N_("In force"))
        say_table([put(head) for head in heads], [_row(desk, one) for one in rules])


def _plain(one: RuleFacts) -> dict[str, Any]:
    rule = one.rule
    return {
        "name": rule.name,
        "decision": rule.decision,
        "reason": rule.reason,
        "fits": rule.fits.as_plain(),
        "one_in": rule.one_in,
        "at_least": rule.at_least,
        "in_force": one.in_force,
        "behind": one.behind,
    }


def _row(desk: Desk, one: RuleFacts) -> tuple[object, ...]:
    from findsdesk.desk.register_columns import wording
    from findsdesk.desk.register_fields import reason_in_words

    rule, say_it = one.rule, wording(desk)
    return (
        rule.name,
        say_it.listed("decisions", rule.decision),
        reason_in_words(rule.decision, rule.reason, say_it),
        "; ".join(_fits(desk, rule)) or _("everything"),
        rule.one_in,
        rule.at_least,
        _in_force(one),
    )


def _in_force(one: RuleFacts) -> str:
    if one.behind:
        return _("proposes nothing: “{rule}” before it takes all of it").format(rule=one.behind)
    return _("yes") if one.in_force else _("no")


def _fits(desk: Desk, rule: RetentionRule) -> Iterator[str]:
    """Yield what a rule fits, list by list, in the excavation's words."""
    from findsdesk.desk.register_columns import wording

    say_it = wording(desk)
    for name, keys in rule.fits.as_plain().items():
        if name == "diagnostic":
            yield _("diagnostic ones") if keys else _("the others")
        else:
            yield say_it.listed(name, " ".join(keys)) if name in _WORD_LISTS else ", ".join(keys)


def _draw(call: argparse.Namespace) -> int:
    if call.name is None:
        raise Refusal("no_tag", N_("Name the {container} by its tag or number."))
    with writing_seat(call) as desk:
        drawn = _draw_all(desk, call.name)
    if call.json:
        say_json(drawn)
    elif not drawn:
        say(N_("No share is to be drawn here."))
    for one in drawn if not call.json else ():
        share = one.share
        text = N_("{n} laid out: start at place {first}, then every {step}th; {kept} kept.")
        say(text, None, n=share.laid_out, first=share.first, step=share.step, kept=share.kept)
    return DONE


def _draw_all(desk: Desk, tag: str) -> list[DrawnShare]:
    """Draw the shares of a container one after the other: one carries on to the next of its ware."""
    from findsdesk.desk.shares import draw_share, shares_ahead

    drawn = []
    while waiting := shares_ahead(desk, tag):
        one = waiting[0]
        start = secrets.randbelow(one.one_in) + 1 if one.needs_lot and one.one_in else None
        drawn.append(draw_share(desk, one.group_id, seen=one.version, start=start))
    return drawn


def _simulate(call: argparse.Namespace) -> int:
    from findsdesk.desk.simulating import simulate

    with reading_seat(call) as desk:
        told = simulate(desk, season=call.season)
        if call.json:
            say_json(_simulated(told))
        else:
            _say_simulated(told, desk.terms)
    return DONE


def _year(dated: MeanDate | TerminusPostQuem | None) -> str:
    from findsdesk.desk.figure_words import value_of

    return value_of(None if dated is None else dated.year)


def _plain_year(dated: MeanDate | TerminusPostQuem | None) -> float | None:
    return None if dated is None else float(dated.year.value)


def _simulated(told: Simulated) -> dict[str, Any]:
    parts = {"sorted": told.sorted, "as_decided": told.as_decided, "by_policy": told.by_policy}
    return {
        **{name: {"pieces": one.pieces, "grams": one.grams, "boxes": one.boxes} for name, one in parts.items()},
        "unweighed": told.unweighed,
        "rules": [{"rule": one.rule, "pieces": one.pieces, "kept": one.kept} for one in told.rules],
        "wares": [
            {"ware": ware} | {f"{name}_permille": one.permille(ware) for name, one in parts.items()}
            for ware in told.wares
        ],
        "mean_year": {name: _plain_year(one.mean_date) for name, one in parts.items()},
        "terminus": {name: _plain_year(one.terminus) for name, one in parts.items()},
        "late": told.sorted.late,
        "undated": told.sorted.undated,
        "against": told.against,
        "unexplained": told.unexplained,
    }


def _say_simulated(told: Simulated, terms: Terms) -> None:
    from findsdesk.desk.simulating import notes_of

    parts = (told.sorted, told.as_decided, told.by_policy)
    heads = ["", put(N_("sorted")), put(N_("kept as decided")), put(N_("kept by the rules"))]
    rows: list[tuple[object, ...]] = [
        (put(N_("count")), *(grouped(one.pieces) for one in parts)),
        (put(N_("kilos")), *(f"{one.grams / 1000:,.1f}" for one in parts)),
        (put(N_("boxes of 10 kg, by weight alone")), *(grouped(one.boxes) for one in parts)),
        (put(N_("mean date of the sherds")), *(_year(one.mean_date) for one in parts)),
        (put(N_("terminus post quem by the sherds")), *(_year(one.terminus) for one in parts)),
        *((f"{ware or '–'} %", *(_percent(one, ware) for one in parts)) for ware in told.wares),
    ]
    say_table(heads, rows)
    for text, facts in notes_of(told):
        say(text, terms, **facts)
    print()
    rule_heads = [put(N_("Rule")), put(N_("Count")), put(N_("Kept"))]
    effects = [(one.rule or _("no rule: kept"), grouped(one.pieces), grouped(one.kept)) for one in told.rules]
    say_table(rule_heads, effects)


def _percent(held: Held, ware: str) -> str:
    return f"{held.permille(ware) / 10:.1f}"
