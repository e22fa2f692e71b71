"""What can be done with a deposit: each act with its words, its fields, when it is allowed and what it does."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from findsdesk.desk.deposit_facts import DepositFacts, deposit_facts
from findsdesk.desk.deposits import change_deposit, close_deposit, open_deposit
from findsdesk.desk.desk import Desk
from findsdesk.desk.left_in_trench import left_in_trench
from findsdesk.desk.renumbering import Renumbered, declare_mixed, merge_deposits, renumber_deposit, split_deposit
from findsdesk.desk.shipped import routes
from findsdesk.domain.deposits import KINDS, SECURITY_IN_WORDS, Security
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_

Values = Mapping[str, Any]
Done = DepositFacts | Renumbered


@dataclass(frozen=True, slots=True)
class Offered:
    """What the fields offer to choose from."""

    squares: tuple[str, ...] = ()
    people: tuple[str, ...] = ()


Fields = Callable[[WordsAround, Offered, DepositFacts | None], tuple[Field, ...]]


@dataclass(frozen=True, slots=True)
class DepositAct:
    """One act; texts are marked. ``button`` stands among the acts, ``write`` on the button that does it."""

    key: str
    button: str
    title: str
    write: str
    fields: Fields
    do: Callable[[Desk, DepositFacts | None, Values, bool], Done]
    allowed: Callable[[DepositFacts], bool]
    shown: Callable[[DepositFacts], Values] = lambda _facts: {}
    wants_containers: bool = False


def _named(names: Sequence[str]) -> tuple[tuple[str, str], ...]:
    return tuple((name, name) for name in names)


def _kind(around: WordsAround) -> Field:
    kinds = tuple((kind, around.say(kind)) for kind in KINDS)
    return Field("kind", around.say(N_("Kind")), FieldKind.CHOICE_OR_NEW, 190, choices=kinds, beside=True)


def _square(around: WordsAround, offered: Offered) -> Field:
    return Field("square", around.say(N_("{Square}")), FieldKind.CHOICE, 120, choices=_named(offered.squares))


def _supervisor(around: WordsAround, offered: Offered) -> Field:
    label = around.say(N_("Supervisor"))
    return Field("supervisor", label, FieldKind.CHOICE_OR_NEW, 230, choices=_named(offered.people))


def _security(around: WordsAround) -> Field:
    choices = tuple((one, around.say(words)) for one, words in SECURITY_IN_WORDS.items())
    return Field("security", around.say(N_("Security")), FieldKind.CHOICE, 140, choices=choices, beside=True)


def _description(around: WordsAround) -> Field:
    return Field("description", around.say(N_("Description")), FieldKind.LINES)


def _reason(around: WordsAround) -> Field:
    return Field("reason", around.say(N_("Why")), help=around.say(N_("Stands in the journal and the concordance.")))


def levelling_fields(around: WordsAround, value: str, label: str) -> tuple[Field, ...]:
    """Return the fields of an elevation: the three readings in the order of the field book, or the value itself."""
    metres = FieldKind.METRES
    return (
        Field("benchmark_mm", around.say(N_("Benchmark")), metres, 110),
        Field("backsight_mm", around.say(N_("Backsight")), metres, 110, beside=True),
        Field("foresight_mm", around.say(N_("Foresight")), metres, 110, beside=True),
        Field(value, label, metres, 110, around.say(N_("Worked out from the three readings, or typed alone."))),
    )


def _soil(around: WordsAround) -> Field:
    help_ = around.say(N_("Litres (480), buckets and their litres (40 x 12), or a layer in metres (2 x 1 x 0.3)."))
    return Field("soil", around.say(N_("Soil dug")), width=230, help=help_)


def _open_fields(around: WordsAround, offered: Offered, _facts: DepositFacts | None) -> tuple[Field, ...]:
    return (
        Field("number", around.say(N_("Number")), width=120),
        _square(around, offered),
        _kind(around),
        Field("opened", around.say(N_("Opened")), FieldKind.DAY, 150),
        _supervisor(around, offered),
        _security(around),
        *levelling_fields(around, "opening_mm", around.say(N_("Opening elevation"))),
        _description(around),
    )


def _close_fields(around: WordsAround, _offered: Offered, _facts: DepositFacts | None) -> tuple[Field, ...]:
    return (
        Field("closed", around.say(N_("Closed")), FieldKind.DAY, 150),
        *levelling_fields(around, "closing_mm", around.say(N_("Closing elevation"))),
        _soil(around),
    )


def _change_fields(around: WordsAround, offered: Offered, facts: DepositFacts | None) -> tuple[Field, ...]:
    metres = FieldKind.METRES
    closing = (
        Field("closed", around.say(N_("Closed")), FieldKind.DAY, 150),
        Field("closing_mm", around.say(N_("Closing elevation")), metres, 110, beside=True),
    )
    return (
        _square(around, offered),
        _kind(around),
        Field("opened", around.say(N_("Opened")), FieldKind.DAY, 150),
        Field("opening_mm", around.say(N_("Opening elevation")), metres, 110, beside=True),
        *(closing if facts is not None and facts.closed is not None else ()),
        _supervisor(around, offered),
        _security(around),
        _soil(around),
        _description(around),
    )


def _renumber_fields(around: WordsAround, _offered: Offered, _facts: DepositFacts | None) -> tuple[Field, ...]:
    help_ = around.say(N_("The old number stays searchable, and what bears it comes out as a list."))
    return (Field("to", around.say(N_("New number")), width=120, help=help_), _reason(around))


def _merge_fields(around: WordsAround, _offered: Offered, _facts: DepositFacts | None) -> tuple[Field, ...]:
    help_ = around.say(N_("Its {containers}, its numbers and its open days go over to that one."))
    return (Field("into", around.say(N_("Into {deposit}")), width=120, help=help_), _reason(around))


def _split_fields(around: WordsAround, _offered: Offered, _facts: DepositFacts | None) -> tuple[Field, ...]:
    return (Field("to", around.say(N_("Number of the new {deposit}")), width=120), _reason(around))


def _mixed_fields(around: WordsAround, _offered: Offered, _facts: DepositFacts | None) -> tuple[Field, ...]:
    help_ = around.say(N_("No date and no join rests on the finds of a mixed {deposit}."))
    return (replace(_reason(around), help=help_),)


def _open(desk: Desk, _facts: DepositFacts | None, values: Values, sure: bool) -> Done:
    said = {name: value for name, value in values.items() if name != "number"}
    return open_deposit(desk, values["number"], sure=sure, **said)


def _close(desk: Desk, facts: DepositFacts | None, values: Values, sure: bool) -> Done:
    assert facts is not None
    return close_deposit(desk, facts.named, sure=sure, **values)


def changed_values(facts: DepositFacts, values: Values) -> dict[str, Any]:
    """Return what was truly changed in the form: what stands as before is not said again."""
    before = change_shows(facts)
    return {name: value for name, value in values.items() if value is not None and value != before.get(name)}


def change_shows(facts: DepositFacts) -> Values:
    """Return what the form for changing shows of a deposit."""
    names = ("square", "kind", "opened", "opening_mm", "closed", "closing_mm", "supervisor", "security", "description")
    return {name: getattr(facts, name) for name in (*names, "soil")}


def _change(desk: Desk, facts: DepositFacts | None, values: Values, sure: bool) -> Done:
    assert facts is not None
    return change_deposit(desk, facts.named, seen=facts.version, sure=sure, **changed_values(facts, values))


def _reopen(desk: Desk, facts: DepositFacts | None, _values: Values, sure: bool) -> Done:
    assert facts is not None
    return change_deposit(desk, facts.named, seen=facts.version, reopened=True, sure=sure)


def _renumber(desk: Desk, facts: DepositFacts | None, values: Values, sure: bool) -> Done:
    assert facts is not None
    return renumber_deposit(desk, facts.named, sure=sure, **values)


def _merge(desk: Desk, facts: DepositFacts | None, values: Values, sure: bool) -> Done:
    assert facts is not None
    return merge_deposits(desk, facts.named, sure=sure, **values)


def _split(desk: Desk, facts: DepositFacts | None, values: Values, sure: bool) -> Done:
    assert facts is not None
    return split_deposit(desk, facts.named, sure=sure, **values)


def _mixed(desk: Desk, facts: DepositFacts | None, values: Values, _sure: bool) -> Done:
    assert facts is not None
    return declare_mixed(desk, facts.named, **values)


def _left_fields(around: WordsAround, _offered: Offered, _facts: DepositFacts | None) -> tuple[Field, ...]:
    materials = tuple((key, around.say(route.name)) for key, route in routes().items())
    help_ = around.say(N_("Seen there and never collected. It stands apart from discards, and in no balance."))
    return (
        Field("what", around.say(N_("What was left")), help=help_),
        Field("material", around.say(N_("Material")), FieldKind.CHOICE, 190, choices=materials),
        Field("pieces", around.say(N_("Count")), FieldKind.WHOLE, 90, around.say(N_("Empty where nobody counted."))),
        Field("why", around.say(N_("Why"))),
    )


def _left(desk: Desk, facts: DepositFacts | None, values: Values, _sure: bool) -> Done:
    assert facts is not None
    left_in_trench(desk, facts.named, **values)
    return deposit_facts(desk, facts.named)


def _stands(facts: DepositFacts) -> bool:
    return facts.merged_into is None


OPEN = DepositAct(
    "open",
    N_("Open a {deposit}"),
    N_("A new {deposit}"),
    N_("Open this {deposit}"),
    _open_fields,
    _open,
    lambda _facts: False,
)
ACTS: tuple[DepositAct, ...] = (
    DepositAct(
        "close",
        N_("Close"),
        N_("Close {deposit} {number}"),
        N_("Write it closed"),
        _close_fields,
        _close,
        lambda facts: _stands(facts) and facts.closed is None,
    ),
    DepositAct(
        "reopen",
        N_("Open again"),
        N_("Open {deposit} {number} again"),
        N_("Write it open again"),
        lambda _around, _offered, _facts: (),
        _reopen,
        lambda facts: _stands(facts) and facts.closed is not None,
    ),
    DepositAct(
        "change",
        N_("Change"),
        N_("Change {deposit} {number}"),
        N_("Write the changes"),
        _change_fields,
        _change,
        _stands,
        change_shows,
    ),
    DepositAct(
        "renumber",
        N_("Renumber"),
        N_("Give {deposit} {number} another number"),
        N_("Renumber it"),
        _renumber_fields,
        _renumber,
        _stands,
    ),
    DepositAct(
        "merge",
        N_("Merge"),
        N_("Merge {deposit} {number} into another"),
        N_("Merge it"),
        _merge_fields,
        _merge,
        _stands,
    ),
    DepositAct(
        "split",
        N_("Split"),
        N_("Split {containers} off {deposit} {number}"),
        N_("Split them off"),
        _split_fields,
        _split,
        lambda facts: _stands(facts) and facts.containers > 1,
        wants_containers=True,
    ),
    DepositAct(
        "mixed",
        N_("Declare mixed"),
        N_("Declare {deposit} {number} mixed"),
        N_("Declare it mixed"),
        _mixed_fields,
        _mixed,
        lambda facts: _stands(facts) and facts.security is not Security.MIXED,
    ),
    DepositAct(
        "left",
        N_("Left in the trench"),
        N_("Seen in {deposit} {number} and left in the trench"),
        N_("Write it"),
        _left_fields,
        _left,
        _stands,
    ),
)
