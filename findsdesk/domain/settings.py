"""What one excavation may set: times of the yard, doubts asked or not, how much may be written off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from enum import StrEnum
from typing import Any

from findsdesk.domain.box_rules import LIMIT_TENTHS, check_limit
from findsdesk.domain.refusals import Refusal
from findsdesk.domain.sorting_columns import COLUMN_IN_WORDS, USUAL, checked_columns
from findsdesk.domain.square_grid import GridPlace
from findsdesk.words import N_


class SecondOpenDeposit(StrEnum):
    """What happens when a second deposit is opened in a square where one is open."""

    REFUSE = "refuse"
    ASK = "ask"
    ALLOW = "allow"


class NumberScope(StrEnum):
    """Within what a container number is used once."""

    EXCAVATION = "excavation"
    SEASON = "season"
    SQUARE = "square"


class Role(StrEnum):
    """What a person does in the yard."""

    WASH_LEAD = "wash lead"
    CERAMICIST = "ceramicist"
    REGISTRAR = "registrar"
    DIRECTOR = "director"
    SUPERVISOR = "supervisor"
    VOLUNTEER = "volunteer"


LEADS = frozenset({Role.WASH_LEAD, Role.CERAMICIST, Role.REGISTRAR, Role.DIRECTOR})
"""Roles whose word closes a doubt that needs the lead."""


_MOST = {
    "tubs": 99,
    "trays": 400,
    "dry_h": 1000,
    "lettering_tenths_mm": 100,
    "plain_marked_one_in": 100,
    "marks_checked_one_in": 100,
}
"""The largest value of each number that is no share."""


@dataclass(frozen=True, slots=True)
class Settings:
    """The settings of an excavation; hours, shares in per mille, numbers of tubs and trays."""

    soak_shortest_h: int = 12
    soak_longest_h: int = 36
    dry_h: int = 8
    count_at_wash: bool = True
    second_open_deposit: SecondOpenDeposit = SecondOpenDeposit.ASK
    not_found_share_permille: int = 20
    grams_tolerance_permille: int = 20
    tubs: int = 5
    trays: int = 24
    lettering_tenths_mm: int = 20
    box_limit_tenths: int = LIMIT_TENTHS
    """The most a box may weigh, unless its own limit is said."""
    plain_marked_one_in: int = 1
    """Of the kept sherds that are not diagnostic one in so many is marked; 1 marks all of them, 0 none."""
    marks_checked_one_in: int = 10
    """Of the written marks a second person checks one in so many; 0 checks none."""
    paper_language: str = "en"
    discards: bool = True
    """Without discards nobody is offered one, and no list of them is made."""
    inspector_signs: bool = False
    """Whether the permit asks for the inspector's word on each list before it is carried away."""
    grid: GridPlace = GridPlace()
    """Where the squares lie on the map: in metres of the earth where its system is said, else of a grid of its own."""
    sorting_columns: tuple[str, ...] = USUAL
    """The columns that are typed at the sorting table, in their order."""

    @classmethod
    def from_plain(cls, values: Mapping[str, Any]) -> Settings:
        """Read settings as they are stored; a setting this version does not know is left out."""
        known = {field.name for field in fields(cls)}
        taken = {name: value for name, value in values.items() if name in known}
        if "second_open_deposit" in taken:
            taken["second_open_deposit"] = SecondOpenDeposit(taken["second_open_deposit"])
        if "sorting_columns" in taken:
            taken["sorting_columns"] = tuple(one for one in taken["sorting_columns"] if one in COLUMN_IN_WORDS)
        if "grid" in taken:
            taken["grid"] = GridPlace(**taken["grid"])
        settings = cls(**taken)
        settings.check()
        return settings

    def as_plain(self) -> dict[str, Any]:
        """Return the settings as plain JSON values."""
        return asdict(self) | {"sorting_columns": list(self.sorting_columns)}

    def check(self) -> None:
        """Refuse settings that contradict each other or make no sense."""
        checked_columns(self.sorting_columns)
        self.grid.check()
        if not 0 <= self.soak_shortest_h <= self.soak_longest_h:
            raise Refusal(
                "soak_times",
                N_("The shortest soak ({shortest} h) must not be longer than the longest ({longest} h). Change one."),
                shortest=self.soak_shortest_h,
                longest=self.soak_longest_h,
            )
        for name, most in _MOST.items():
            if not 0 <= getattr(self, name) <= most:
                raise Refusal(
                    "setting_out_of_range",
                    N_("The setting {setting} must lie between 0 and {most}."),
                    setting=name,
                    most=most,
                )
        check_limit(self.box_limit_tenths)
        for name in ("not_found_share_permille", "grams_tolerance_permille"):
            if not 0 <= getattr(self, name) <= 1000:
                raise Refusal(
                    "setting_out_of_range",
                    N_("The setting {setting} must lie between 0 and {most}."),
                    setting=name,
                    most=1000,
                )
