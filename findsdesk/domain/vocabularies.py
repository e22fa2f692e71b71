"""Word lists an excavation starts from."""

from __future__ import annotations

import re
from dataclasses import dataclass

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

LONGEST_ADDRESS = 500
_ADDRESS = re.compile(
    r"""https?://(?P<host>[^\s/?#@:\[\]<>"]+|\[[0-9A-Fa-f:.]+\])(?::(?P<port>[0-9]{1,5}))?(?:[/?#][^\s\x00-\x1f\x7f<>"]*)?""",
    re.IGNORECASE,
)
_PORTS = range(1, 65_536)


@dataclass(frozen=True, slots=True)
class Term:
    """One word of a list: its key in the store, its English name, what kind of word it is.

    ``diagnostic`` marks a word that tells the vessel; ``group`` names the route of a material; ``own`` says that the
    name is the excavation's and is shown as it was written; ``address`` is that of the same concept in an open
    thesaurus; ``counts_as`` is what an excavation says that a part of the vessel is in the figures.
    """

    key: str
    name: str
    diagnostic: bool = False
    group: str = ""
    own: bool = False
    address: str = ""
    counts_as: str = ""


def checked_address(text: str) -> str:
    """Return a web address without blanks around it, nothing for none; it is written down and never opened.

    Only http and https, with a host and nothing of a name or password before it (RFC 3986). Refusal:
    ``no_web_address``.
    """
    address = text.strip()
    found = _ADDRESS.fullmatch(address)
    if not address or (found and len(address) <= LONGEST_ADDRESS and int(found["port"] or 1) in _PORTS):
        return address
    raise Refusal(
        "no_web_address",
        N_("“{text}” is no web address. Write it whole, from http:// or https:// on, as the thesaurus gives it."),
        text=address[:60],
    )
