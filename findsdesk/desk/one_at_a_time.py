"""One station at a time writes a container: what a deed proves of it still holds when the deed is written.

On a file one program alone writes, and there is nothing to do. On a server two deeds run at once; where the second one
does not change the container's own row, its version would tell nobody that the ledger moved.
"""

from __future__ import annotations

from findsdesk.desk.desk import Deed
from findsdesk.store.models import Container


def only_here(deed: Deed, *containers: Container) -> None:
    """Wait until no other station writes these containers, keep them to this deed, and read them as they are now.

    Called before anything of them is changed. Several are kept in the order of their ids, so that two stations never
    wait for each other in a circle.
    """
    if deed.desk.store.path is not None:
        return
    for container in sorted(containers, key=lambda one: one.id):
        deed.session.refresh(container, with_for_update=True)
