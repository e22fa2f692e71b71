"""Boxes: what may lie together, how heavy a box may be, how much room a bag takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from findsdesk.domain.refusals import Question, Refusal
from findsdesk.words import N_

LIMIT_TENTHS = 100_000
"""The usual limit of a box, 10 kg: what repositories ask for lies at about 8 to 10 kg (FROM MEMORY), an archive keeps
its boxes below 15 kg (PUBLISHED, an archivist's account)."""

ASKED_ABOVE_TENTHS = 160_000
"""16 kg, the lower published guideline figure for one person lifting close to the body between knuckle and elbow height
(PUBLISHED, training copies of the British guidance; not a legal limit). Above it a limit is asked about."""

MOST_TENTHS = 230_000
"""23 kg, the load constant of the United States lifting equation (PUBLISHED): what no limit of a box may pass."""

NEAR_PERMILLE = 900
"""From this share of its limit on a box counts as nearly full."""

FILLED_PERMILLE = 850
"""How much of a box's inside bags can fill: they leave gaps (OWN)."""

MOST_MM = 2_000
"""The longest side of a box."""


@dataclass(frozen=True, slots=True)
class BoxRule:
    """What a kind of box takes, and how; ``size_mm`` is length, width, height inside."""

    key: str
    name: str
    takes: tuple[str, ...]
    asks: tuple[str, ...]
    desiccant: bool
    care: str
    on_label: str
    """The same for the box's label, short enough to stand on it whole."""
    size_mm: tuple[int, int, int]
    litres_per_kg: float


@dataclass(frozen=True, slots=True)
class Load:
    """What lies in a box: tenths of a gram, millilitres, pieces, bags, and how many bags nobody weighed."""

    tenths: int = 0
    volume_ml: int = 0
    pieces: int = 0
    bags: int = 0
    unweighed: int = 0

    def __add__(self, other: Load) -> Load:
        """Return both together."""
        return Load(
            self.tenths + other.tenths,
            self.volume_ml + other.volume_ml,
            self.pieces + other.pieces,
            self.bags + other.bags,
            self.unweighed + other.unweighed,
        )


def room_of(tenths: int | None, litres_per_kg: float) -> int:
    """Return the room in millilitres that a bag of so many tenths of a gram takes by its material."""
    return round((tenths or 0) * litres_per_kg / 10)


def usable_ml(size_mm: Sequence[int]) -> int:
    """Return how many millilitres of bags a box of an inside size in millimetres holds."""
    length, width, height = size_mm
    return length * width * height * FILLED_PERMILLE // 1_000_000


def check_material(rule: BoxRule, material: str, *, bag: str, material_name: str) -> Question | None:
    """Refuse a material that never lies in a kind of box (``never_together``); ask about one that seldom does.

    Returns the question ``seldom_together``, or None where the material belongs there.
    """
    if material in rule.takes:
        return None
    facts = {"bag": bag, "material": material_name, "box": rule.name}
    if material in rule.asks:
        return Question(
            "seldom_together",
            N_("{bag} holds {material}, which seldom lies in a box for {box}. Does it belong there?"),
            **facts,
        )
    raise Refusal(
        "never_together",
        N_("{bag} holds {material}, which never lies in a box for {box}. Take a box of its own kind."),
        **facts,
    )


def check_limit(tenths: int) -> Question | None:
    """Refuse a weight limit beyond any published figure (``limit_too_high``); ask about a heavy one (``heavy_limit``).

    Local codes on lifting come first: what is asked here is no permission.
    """
    if not 1 <= tenths <= MOST_TENTHS:
        raise Refusal(
            "limit_too_high",
            N_("A box of {kilograms} kg is no load for one person. Set a limit of {most} kg or less."),
            kilograms=kilograms(tenths),
            most=kilograms(MOST_TENTHS),
        )
    if tenths <= ASKED_ABOVE_TENTHS:
        return None
    return Question(
        "heavy_limit",
        N_("{kilograms} kg is above {figure} kg, a published guideline for one lifter. Do your local codes allow it?"),
        kilograms=kilograms(tenths),
        figure=kilograms(ASKED_ABOVE_TENTHS),
    )


def check_size(size_mm: Sequence[int]) -> None:
    """Refuse an inside size that no box has (``box_size``)."""
    if len(size_mm) != 3 or not all(1 <= side <= MOST_MM for side in size_mm):
        raise Refusal(
            "box_size",
            N_("A box measures 1 to {most} mm inside, in length, width and height. Measure it again."),
            most=MOST_MM,
        )


def over_limit(number: int, tenths: int, limit_tenths: int) -> Question | None:
    """Return the question ``box_over_limit`` where a box, all in, weighs more than it may."""
    if tenths <= limit_tenths:
        return None
    return Question(
        "box_over_limit",
        N_("Box {number} would weigh {weight} of {limit} kg. Take another box, or is it carried by two?"),
        number=number,
        weight=kilograms(tenths),
        limit=kilograms(limit_tenths),
    )


def over_full(number: int, volume_ml: int, room_ml: int) -> Question | None:
    """Return the question ``box_over_full`` where more bags are put into a box than there is room for."""
    if volume_ml <= room_ml:
        return None
    return Question(
        "box_over_full",
        N_("Box {number} holds {room} litres, and its bags take about {volume}. Does the lid close?"),
        number=number,
        room=f"{room_ml / 1000:.1f}",
        volume=f"{volume_ml / 1000:.1f}",
    )


def full_permille(tenths: int, limit_tenths: int, volume_ml: int, room_ml: int) -> int:
    """Return how full a box is, by its weight or its room, whichever is more; 1000 is full."""
    by_weight = tenths * 1000 // limit_tenths if limit_tenths else 0
    by_room = volume_ml * 1000 // room_ml if room_ml else 0
    return max(by_weight, by_room)


def kilograms(tenths: int) -> str:
    """Return tenths of a gram as kilograms with one decimal, as they are said at the scales."""
    return f"{tenths / 10_000:.1f}"
