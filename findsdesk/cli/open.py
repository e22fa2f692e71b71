"""``findsdesk open``: open the window on a store."""

from __future__ import annotations

import argparse
import os
import platform

from findsdesk.cli.calls import add_store
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, _

EXAMPLE = ("findsdesk open quay --by tessa --station awning", "findsdesk open                (the ways to begin)")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the call takes."""
    add_store(parser)
    store = next(one for one in parser._actions if one.dest == "store")
    store.nargs = "?"
    parser.set_defaults(station="first")
    parser.add_argument("--read-only", action="store_true", help=_("look only; the store may be open elsewhere"))
    parser.add_argument("--theme", choices=("shade", "sun"), default="", help=_("shade indoors, sun outside"))


def run(call: argparse.Namespace) -> int:
    """Open the window and stay until it is closed."""
    if not there_is_a_screen():
        raise Refusal(
            "no_screen", N_("There is no screen here. findsdesk screens writes pictures of the window instead.")
        )
    return open_window(call.store, by=call.by, station=call.station, read_only=call.read_only, theme=call.theme)


def there_is_a_screen() -> bool:
    """Tell whether a window can be shown here."""
    if os.environ.get("QT_QPA_PLATFORM", "") in ("offscreen", "minimal"):
        return False
    asks_for_a_display = platform.system() not in ("Windows", "Darwin")
    return not asks_for_a_display or bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def open_window(
    store: str | None, *, by: str | None = None, station: str = "first", read_only: bool = False, theme: str = ""
) -> int:
    """Open the window; whatever is wrong with the store is said in it."""
    from findsdesk.ui.program import open_window as show

    return show(store, by=by, station=station, read_only=read_only, theme=theme)
