"""Asking for a PIN: not shown where somebody types it, else the next line of what is piped in; never an argument."""

from __future__ import annotations

import getpass
import sys

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_, put


def ask_pin(question: str) -> str:
    """Ask a marked question and return the PIN; refuses where nothing comes (``no_pin``)."""
    if sys.stdin.isatty():
        return getpass.getpass(f"{put(question)} ")
    try:
        line = sys.stdin.readline()
    except OSError:
        line = ""
    if not line:
        raise Refusal("no_pin", N_("A PIN is asked for. Type it here, or send it as a line of the input."))
    return line.rstrip("\n")
