"""A set-up file of an excavation (TOML) as plain values; what they mean is a matter of the desk."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.arriving_files import take_text
from findsdesk.words import N_


def read_set_up(path: Path) -> dict[str, Any]:
    """Read a set-up file whole.

    Raises the refusal ``set_up_unreadable`` with the place in the file, and those of a file that cannot be read.
    """
    try:
        return tomllib.loads(take_text(path))
    except tomllib.TOMLDecodeError as fault:
        text = N_("{file} cannot be read: {why}. Mend that line and try again.")
        raise Refusal("set_up_unreadable", text, file=path.name, why=str(fault).removesuffix(".")) from fault
