"""One station at a time writes a container: what a deed proves of it still holds when the deed is written.

On a file one program alone writes, and there is nothing to do. On a server two deeds run at once; where the second one
does not change the row it proved something of, its version would tell nobody that the ledger moved.
"""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import select

from findsdesk.desk.desk import Deed
from findsdesk.store.models import Container, Editable


def only_here(deed: Deed, *rows: Editable) -> None:
    """Wait until no other station writes these rows, keep them to this deed, and read them as they are now.

    Called before anything of them is changed. Several of one kind are kept in the order of their ids, so that two
    stations never wait for each other in a circle.
    """
    if deed.desk.store.path is not None:
        return
    for row in sorted(rows, key=lambda one: one.id):
        deed.session.refresh(row, with_for_update=True)


def only_here_of(deed: Deed, container_ids: Collection[int]) -> None:
    """Keep many containers to this deed, in the order of their ids, as ``only_here`` keeps one."""
    if deed.desk.store.path is not None or not container_ids:
        return
    wanted = select(Container).where(Container.id.in_(container_ids)).order_by(Container.id).with_for_update()
    deed.session.execute(wanted.execution_options(populate_existing=True)).scalars().all()


def only_here_in_store(deed: Deed, *things: Editable) -> None:
    """Do as ``only_here`` does with boxes, bags and whatever is lent: what is asked of them holds until the end.

    A box over its limit, or a bag taken out twice, would not show in the versions of their rows.
    """
    if deed.desk.store.path is not None:
        return
    for thing in sorted(things, key=lambda one: (type(one).__name__, one.id)):
        deed.session.refresh(thing, with_for_update=True)
