"""Clashes looked at again once same rows were put together: two ids of one thing are no two words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from findsdesk.store.courier_clashes import VALUES, ClashFound
from findsdesk.store.courier_rows import Meeting


def as_meant(clashes: Iterable[ClashFound], meeting: Meeting) -> Iterator[ClashFound]:
    """Yield clashes with the rows that stay in place of those put together with them; none where both say the same."""
    for clash in clashes:
        if clash.what != VALUES:
            yield clash
            continue
        one, other = (meeting.as_meant(clash.row[0], side.values) for side in (clash.one, clash.other))
        differ = [name for name in one if name not in other or one[name] != other[name]]
        if differ:
            mine = replace(clash.one, values={name: one[name] for name in differ})
            yours = replace(clash.other, values={name: other[name] for name in differ if name in other})
            yield replace(clash, one=mine, other=yours)
