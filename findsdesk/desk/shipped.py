"""What ships with the program as data: routes, cautions, word lists. Read once, put into words at the edge."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from findsdesk import places
from findsdesk.domain.balance import Decision
from findsdesk.domain.cautions import At, Caution
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.routes import Route, Treatment
from findsdesk.domain.vocabularies import Term
from findsdesk.words import N_

if TYPE_CHECKING:
    from findsdesk.domain.retention import RetentionRule
    from findsdesk.domain.season_end import DeadlineRule, Requirement


def _read(name: str) -> dict[str, Any]:
    with places.resource(name).open("rb") as file:
        return tomllib.load(file)


@cache
def routes() -> Mapping[str, Route]:
    """Return every route by the key of its material, in the order they are offered."""
    return MappingProxyType({key: _route(key, values) for key, values in _read("routes.toml").items()})


def _route(key: str, values: dict[str, Any]) -> Route:
    return Route(
        key=key,
        **values
        | {
            "treatment": Treatment(values["treatment"]),
            "cautions": tuple(values["cautions"]),
            "aliases": tuple(values["aliases"]),
        },
    )


def route_of(material: str) -> Route:
    """Return the route of a material by its key; refuses a key that no route has (``unknown_material``)."""
    route = routes().get(material)
    if route is None:
        raise Refusal(
            "unknown_material",
            N_("“{material}” is not a material of this yard. Choose one of: {known}."),
            material=material,
            known=", ".join(routes()),
        )
    return route


@cache
def _keys_by_word() -> Mapping[str, str]:
    words: dict[str, str] = {}
    for term in vocabulary("materials"):
        words[folded(term.name)] = term.group
    for key, route in routes().items():
        for word in (key, key.replace("_", " "), route.name, *route.aliases):
            words[folded(word)] = key
    return words


def material_named(text: str) -> str | None:
    """Return the key of the material that somebody wrote (key, name or another word for it), or None."""
    return _keys_by_word().get(folded(text))


@cache
def cautions() -> Mapping[str, Caution]:
    """Return every caution by its key."""
    return MappingProxyType(
        {
            key: Caution(
                key, tuple(At(place) for place in values["at"]), values["lead"], values["text"], values["source"]
            )
            for key, values in _read("cautions.toml").items()
        }
    )


def cautions_at(work: At, material: str | None = None) -> tuple[Caution, ...]:
    """Return the cautions shown at some work; for one material, those of its route and those that hold for all."""
    shown = (caution for caution in cautions().values() if work in caution.at)
    if material is None:
        return tuple(shown)
    of_the_route = route_of(material).cautions
    of_any_route = {key for route in routes().values() for key in route.cautions}
    return tuple(caution for caution in shown if caution.key in of_the_route or caution.key not in of_any_route)


@cache
def _vocabularies() -> Mapping[str, tuple[Term, ...]]:
    return MappingProxyType(
        {name: tuple(Term(**values) for values in terms) for name, terms in _read("vocabularies.toml").items()}
    )


def vocabulary_names() -> tuple[str, ...]:
    """Return the names of the word lists that ship."""
    return tuple(_vocabularies())


def vocabulary(name: str) -> tuple[Term, ...]:
    """Return a word list: parts, decisions, keep_reasons, discard_reasons, waiting_reasons, hold_reasons,
    void_reasons, reprint_reasons, step_back_reasons, deposit_kinds, securities, materials.

    Raises ``KeyError`` for a list that does not ship.
    """
    return _vocabularies()[name]


@cache
def starting_policy() -> tuple[RetentionRule, ...]:
    """Return the retention policy an excavation may start from."""
    return tuple(_rule(values) for values in _read("retention.toml")["rules"])


def _rule(values: dict[str, Any]) -> RetentionRule:
    from findsdesk.domain.retention import LISTS, Fits, RetentionRule

    fits = Fits.from_plain({name: values[name] for name in (*LISTS, "diagnostic") if name in values})
    return RetentionRule(
        values["name"],
        Decision(values["decision"]),
        values["reason"],
        fits,
        values.get("one_in"),
        values.get("at_least"),
    )


@cache
def requirements() -> tuple[Requirement, ...]:
    """Return what must be done at the end of a season, in the order of the work."""
    from findsdesk.domain.season_end import Requirement

    return tuple(Requirement(**values) for values in _read("hand_over.toml")["requirements"])


@cache
def shipped_deadlines() -> tuple[DeadlineRule, ...]:
    """Return the deadlines an excavation may start from; its permit's own text goes before each."""
    from findsdesk.domain.season_end import CountsFrom, DeadlineRule, Unit

    return tuple(
        DeadlineRule(
            **values | {"counts_from": CountsFrom(values["counts_from"]), "unit": Unit(values["unit"])},
        )
        for values in _read("hand_over.toml")["deadlines"]
    )
