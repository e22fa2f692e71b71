"""What can be printed again at the labels bench: labels with a reason, and the papers of what is in hand."""

from __future__ import annotations

from dataclasses import dataclass

from findsdesk.desk.printing import PrintKind


@dataclass(frozen=True, slots=True)
class Reprint:
    """Labels printed again: which, and why (the key of one of the three reasons)."""

    kind: PrintKind
    codes: tuple[str, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class Paper:
    """A tag or label of what is in hand that can be printed again."""

    kind: PrintKind
    code: str
    what: str = ""
    """What the bag holds, as a key."""
    all_codes: tuple[str, ...] = ()
    """Where it stands for many of a kind: their codes."""

    @property
    def codes(self) -> tuple[str, ...]:
        """Return the codes that are printed again."""
        return self.all_codes or (self.code,)
