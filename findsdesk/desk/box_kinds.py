"""The kinds of boxes that ship: which material lies in which, read once from resources/boxes.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Any

from findsdesk import places
from findsdesk.domain.box_rules import BoxRule
from findsdesk.domain.natural_order import folded
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_


@cache
def box_rules() -> Mapping[str, BoxRule]:
    """Return every kind of box by its key, in the order they are offered."""
    with places.resource("boxes.toml").open("rb") as file:
        return MappingProxyType({key: _rule(key, values) for key, values in tomllib.load(file).items()})


def _rule(key: str, values: dict[str, Any]) -> BoxRule:
    length, width, height = values["size_mm"]
    lists = {name: tuple(values[name]) for name in ("takes", "asks")}
    return BoxRule(key=key, **values | lists | {"size_mm": (length, width, height)})


def box_rule(key: str) -> BoxRule:
    """Return a kind of box by its key or its name; refuses one there is not (``unknown_box_kind``)."""
    wanted = folded(key)
    found = next((rule for rule in box_rules().values() if wanted in (folded(rule.key), folded(rule.name))), None)
    if found is None:
        raise Refusal(
            "unknown_box_kind",
            N_("“{kind}” is no kind of box. Choose one of: {known}."),
            kind=key.strip(),
            known=", ".join(box_rules()),
        )
    return found


@cache
def rule_for(material: str) -> BoxRule:
    """Return the kind of box in which a material lies; every material of the routes has one."""
    return next(rule for rule in box_rules().values() if material in rule.takes)
