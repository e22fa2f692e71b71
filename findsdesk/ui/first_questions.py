"""The first questions of a new excavation, in four short steps; what is not known yet is set up later."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from findsdesk.domain.refusals import Refusal
from findsdesk.ui.widgets.field_form import Field, FieldKind
from findsdesk.words import N_, Terms, put


@dataclass(frozen=True, slots=True)
class Step:
    """One step, in words: its title, a sentence, its fields."""

    title: str
    text: str
    fields: tuple[Field, ...]


def first_steps(zones: tuple[str, ...]) -> tuple[Step, ...]:
    """Return the steps in their order."""
    return (_site(zones), _words(), _season(), _store())


def first_values() -> dict[str, str]:
    """Return what stands in the fields at first."""
    words = Terms()
    return {name: getattr(words, name) for name in Terms._fields}


def check_step(step: int, values: Mapping[str, Any]) -> None:
    """Refuse a step that was not answered well enough to go on: ``empty``, ``season_half``, ``season_dates``."""
    if step == 0:
        for key, what in (("name", N_("name of the site")), ("code", N_("short code"))):
            if not values[key]:
                raise Refusal("empty", N_("Write the {what} first."), what=put(what))
    if step == _SEASON:
        _check_season(values)


_SEASON = 2


def _check_season(values: Mapping[str, Any]) -> None:
    name, starts, ends = values["season"], values["starts"], values["ends"]
    if not name and not starts and not ends and not values["permit"]:
        return
    if not name or starts is None or ends is None:
        raise Refusal("season_half", N_("A season needs its name and both days. Write them, or leave all empty."))
    if ends < starts:
        raise Refusal(
            "season_dates", N_("A season cannot end ({ends}) before it starts ({starts})."), starts=starts, ends=ends
        )


def _site(zones: tuple[str, ...]) -> Step:
    return Step(
        put(N_("The site")),
        put(N_("The short code stands in every tag and never changes.")),
        (
            Field("name", put(N_("Name of the site"))),
            Field("code", put(N_("Short code")), width=90, help=put(N_("2 or 3 letters"))),
            Field("director", put(N_("Director"))),
            Field(
                "time_zone", put(N_("Time zone")), FieldKind.CHOICE_OR_NEW, 250, choices=tuple((z, z) for z in zones)
            ),
        ),
    )


def _words() -> Step:
    several = put(N_("several"))
    pairs = (
        ("deposit", "deposits", N_("A layer or fill is a")),
        ("container", "containers", N_("What one tag stands for is a")),
        ("square", "squares", N_("A unit of the grid is a")),
    )
    fields: list[Field] = []
    for one, many, label in pairs:
        fields += [Field(one, put(label), width=130), Field(many, several, width=130, beside=True)]
    return Step(
        put(N_("Your own words")),
        put(N_("What you call things here stands on every screen and sheet.")),
        tuple(fields),
    )


def _season() -> Step:
    day = FieldKind.DAY
    return Step(
        put(N_("The season")),
        put(N_("All of this may stay empty and be set up later.")),
        (
            Field("season", put(N_("Season")), width=130),
            Field("permit", put(N_("Permit")), width=150, beside=True),
            Field("starts", put(N_("From")), day, 150),
            Field("ends", put(N_("to")), day, 150, beside=True),
            Field("grid", put(N_("Squares")), help=put(N_("Several at once, with blanks or commas between them."))),
        ),
    )


def _store() -> Step:
    return Step(
        put(N_("The file")),
        put(N_("Everything is kept in one file, with a folder of copies beside it. No network folder, please.")),
        (Field("where", put(N_("File of the store"))),),
    )
