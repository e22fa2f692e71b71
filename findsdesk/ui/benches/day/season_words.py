"""What the day page says of the season's ledger: where pieces ended, and what the whole is made of."""

from __future__ import annotations

from findsdesk.domain.balance import Ledger
from findsdesk.ui.words_around import WordsAround
from findsdesk.words import N_, grouped


def gone_in_words(ledger: Ledger, around: WordsAround) -> str:
    """Return the ends that pieces have come to, only those that there are: "moved, not a sherd"."""
    ends = (
        (ledger.used_up, N_("used")),
        (ledger.moved_out, N_("moved")),
        (ledger.not_a_sherd, N_("not a sherd")),
        (ledger.not_found, N_("not found")),
    )
    return ", ".join(around.say(text) for n, text in ends if n)


def together(ledger: Ledger, whole: str, around: WordsAround) -> str:
    """Return the whole, with what came beside the counts where something did."""
    beside = (
        (ledger.found_more, N_("{n} found more")),
        (ledger.arrived, N_("{n} from other {containers}")),
    )
    parts = [around.say(text, n=grouped(n)) for n, text in beside if n]
    if not parts:
        return around.say(N_("Together {whole}, as counted."), whole=whole)
    parts = [around.say(N_("{n} counted"), n=grouped(ledger.counted)), *parts]
    return around.say(N_("{whole}: {parts}."), whole=whole, parts=", ".join(parts))
