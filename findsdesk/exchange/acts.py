"""Acts as text: a file that says, one act a line, who did what when. People write and read it; ``play`` plays it.

    # WHEN             PERSON@STATION   DEED       ARGUMENTS
    2026-07-14T14:40   tessa@awning     check-in   TQT000131X deposit=2017
    14:42              tessa@awning     check-in   tag=132 note="handle broken, in two bags"

A time without a date is on the date of the line before. Words with blanks stand in quotation marks, single or double;
a backslash is an ordinary sign. ``#`` at the beginning of a word begins a remark. An argument is ``key=value`` or a
bare value, which keeps its place; what the keys mean is a matter of the deed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, tzinfo
from pathlib import Path

from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.arriving_files import take_text
from findsdesk.words import N_

_WORD = re.compile(r"""(?:[^\s"']|"[^"]*"|'[^']*')+""")
_QUOTED = re.compile(r""""([^"]*)"|'([^']*)'""")
_KEY = re.compile(r"([a-z][a-z0-9_-]*)=(.*)", re.DOTALL)
_DEED = re.compile(r"[a-z][a-z0-9-]*")
_UNREADABLE = N_("{file}, line {line}: {what}. Write: WHEN PERSON@STATION DEED key=value …")


@dataclass(frozen=True, slots=True)
class ActLine:
    """One act to play: when it happened (with zone), who did it at which station (None if not said), deed, arguments.

    ``arguments`` are the ``key=value`` pairs, ``positional`` the bare values in their order; all are texts.
    """

    line_number: int
    at: datetime
    by: str
    station: str | None
    deed: str
    arguments: dict[str, str]
    positional: tuple[str, ...]


class _Unreadable(Exception):
    """What is wrong with a line, as a marked text."""


def _words(line: str) -> Iterator[tuple[str, bool]]:
    """Yield the words of a line, each without its quotation marks and with whether it began with one."""
    place = 0
    while place < len(line):
        if line[place].isspace():
            place += 1
            continue
        if line[place] == "#":
            return
        found = _WORD.match(line, place)
        if found is None or (found.end() < len(line) and not line[found.end()].isspace()):
            raise _Unreadable(N_("a quotation mark opens and never closes"))
        yield _QUOTED.sub(lambda quoted: quoted[1] or quoted[2] or "", found[0]), found[0][0] in "\"'"
        place = found.end()


def _moment(text: str, day: date | None, zone: tzinfo) -> datetime:
    """Return the moment a line names, in the excavation's zone unless it carries its own."""
    try:
        moment = datetime.fromisoformat(text) if "T" in text else None
    except ValueError:
        moment = None
    if moment is None:
        try:
            clock = time.fromisoformat(text)
        except ValueError:
            raise _Unreadable(N_("it does not begin with a date and time such as 2026-07-14T14:40")) from None
        if day is None:
            raise _Unreadable(N_("its time has no date, and no line before has one")) from None
        moment = datetime.combine(day, clock)
    return moment if moment.tzinfo else moment.replace(tzinfo=zone)


def _arguments(words: Iterable[tuple[str, bool]]) -> tuple[dict[str, str], tuple[str, ...]]:
    arguments: dict[str, str] = {}
    positional: list[str] = []
    for word, quoted in words:
        found = None if quoted else _KEY.fullmatch(word)
        if found is None:
            positional.append(word)
        elif found[1] in arguments:
            raise _Unreadable(N_("an argument stands twice"))
        else:
            arguments[found[1]] = found[2]
    return arguments, tuple(positional)


def _act_on(line: str, line_number: int, *, zone: tzinfo, day: date | None = None) -> ActLine | None:
    """Return the act on one line, or None for a blank line or a remark; ``day`` is the date of the act before."""
    words = list(_words(line))
    if not words:
        return None
    if len(words) < 3:
        raise _Unreadable(N_("it is too short"))
    (when, _), (who, _), (deed, _), *rest = words
    person, _at, station = who.partition("@")
    if not person:
        raise _Unreadable(N_("no person is named"))
    if not _DEED.fullmatch(deed):
        raise _Unreadable(N_("its third word is not a deed"))
    arguments, positional = _arguments(rest)
    return ActLine(line_number, _moment(when, day, zone), person, station or None, deed, arguments, positional)


def read_acts(path: Path, *, zone: tzinfo) -> tuple[ActLine, ...]:
    """Read a file of acts; the whole file is read and checked before anything is played.

    Raises the refusal ``act_line_unreadable`` with file, line and what is wrong, and those of a file that cannot be
    read. ``zone`` is the excavation's time zone.
    """
    acts: list[ActLine] = []
    for number, line in enumerate(take_text(path).splitlines(), 1):
        try:
            act = _act_on(line, number, zone=zone, day=acts[-1].at.date() if acts else None)
        except _Unreadable as fault:
            raise Refusal("act_line_unreadable", _UNREADABLE, file=path.name, line=number, what=str(fault)) from None
        if act is not None:
            acts.append(act)
    return tuple(acts)
