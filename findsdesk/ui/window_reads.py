"""What the window asks of the store, as calls: it knows no store itself."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from findsdesk.ui.answers import Found

if TYPE_CHECKING:
    from findsdesk.ui.widgets.foot_facts import FootFacts


class WindowReads(NamedTuple):
    """What the window asks for: all run away from the window's thread and touch no widget."""

    find: Callable[[str], Found]
    """What a scanned or typed text is; on the deed lane; refuses what it does not know."""
    thing: Callable[[str, object], Found]
    """The thing of that kind and id; on the deed lane."""
    foot: Callable[[], FootFacts]
    """The texts of the foot; on the reading lane."""
    foot_kinds: frozenset[str] = frozenset()
    """Kinds of news that change the foot; empty for all."""
