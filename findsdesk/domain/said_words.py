"""Words of a list said one after the other: the comma between them may be left out."""

from __future__ import annotations

from collections.abc import Callable, Sequence


def words_said(said: str, known: Callable[[str], bool]) -> list[str]:
    """Return the words of what is said between two commas: "poorly sorted" is one of a list, "grog 10 %" are two.

    The longest run that is ``known`` is taken each time; what is not known stands together, for the refusal.
    """
    parts, found, unknown = said.split(), [], []
    while parts:
        many = _longest_known(parts, known)
        if not many:
            unknown.append(parts.pop(0))
            continue
        found += [" ".join(unknown)] if unknown else []
        found.append(" ".join(parts[:many]))
        parts, unknown = parts[many:], []
    return [*found, " ".join(unknown)] if unknown else found


def _longest_known(parts: Sequence[str], known: Callable[[str], bool]) -> int:
    """Return how many of the first parts are known together, 0 where none are."""
    return next((many for many in range(len(parts), 0, -1) if known(" ".join(parts[:many]))), 0)
