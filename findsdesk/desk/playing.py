"""Playing a file of acts through the use cases: as written, once each, however often the file is played.

Any use case can be named; its arguments are read by the types it declares, so that there is no second list of them.
"""

from __future__ import annotations

import inspect
import types
import typing
import uuid
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import Enum
from typing import Any

from findsdesk.desk.deeds_by_name import DEEDS
from findsdesk.desk.desk import Desk
from findsdesk.desk.opening import at_station, find_person
from findsdesk.domain.numbers import read_grams, read_metres, read_pieces
from findsdesk.domain.refusals import Refusal
from findsdesk.exchange.acts import ActLine
from findsdesk.words import N_

_ACTS = uuid.UUID("7f0c2a52-6a0e-5b0f-9c55-0b6f3d1c9a11")
_YES = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}


@dataclass(frozen=True, slots=True)
class Played:
    """What playing a file did: acts done, acts that were here already, and what was refused where."""

    done: int
    already: int
    refused: tuple[tuple[int, str, Refusal], ...]
    """Line number, deed and refusal of each act that was refused; the acts after it went on."""


def play(desk: Desk, lines: Iterable[ActLine], *, stop_at_refusal: bool = False) -> Played:
    """Play acts in order through the use cases, each at its own time, by its own person, at its own station."""
    seen: Counter[str] = Counter()
    done = already = 0
    refused: list[tuple[int, str, Refusal]] = []
    stations: dict[str, Desk] = {}
    for line in lines:
        act_id = act_id_of(line, seen)
        if desk.has_act(act_id):
            already += 1
            continue
        try:
            do(_seat(desk, line, stations).as_act(act_id), line.deed, line.arguments, line.positional)
            done += 1
        except Refusal as refusal:
            refused.append((line.line_number, line.deed, refusal))
            if stop_at_refusal:
                break
    return Played(done, already, tuple(refused))


def act_id_of(line: ActLine, seen: Counter[str]) -> str:
    """Return the id of a written act: the same words at the same time are the same act, in whatever file they stand."""
    words = repr(
        (line.at.isoformat(), line.by, line.station, line.deed, line.positional, sorted(line.arguments.items()))
    )
    seen[words] += 1
    return str(uuid.uuid5(_ACTS, f"{words}#{seen[words]}"))


def _seat(desk: Desk, line: ActLine, stations: dict[str, Desk]) -> Desk:
    name = line.station or desk.station_name
    if name not in stations:
        stations[name] = at_station(desk, name)
    with desk.reading() as reading:
        person = find_person(reading.session, line.by)
    return stations[name].by(person).at(_aware(line.at, desk))


def _aware(moment: datetime, desk: Desk) -> datetime:
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=desk.facts.zone)


def do(desk: Desk, deed: str, arguments: Mapping[str, str], positional: Sequence[str] = ()) -> Any:
    """Do one deed by its name with its arguments as text; returns what the use case returns.

    Refusals: ``unknown_deed``, ``unknown_argument``, ``argument_missing``, ``argument_unreadable``, and the deed's.
    """
    function = DEEDS.get(deed)
    if function is None:
        raise Refusal(
            "unknown_deed",
            N_("There is no deed called {deed}. The deeds: {deeds}."),
            deed=deed,
            deeds=", ".join(sorted(DEEDS)),
        )
    return function(desk, **read_arguments(function, arguments, positional))


def read_arguments(
    function: Callable[..., Any], arguments: Mapping[str, str], positional: Sequence[str] = ()
) -> dict[str, Any]:
    """Read the texts of arguments by the types that a use case declares.

    ``grams=12.5`` fills a parameter called ``tenths``, ``opening=101.24`` (metres) one called ``opening_mm``.
    """
    parameters = list(inspect.signature(function).parameters.values())[1:]
    hints = typing.get_type_hints(function)
    by_name = {_spoken(parameter.name): parameter for parameter in parameters}
    texts = dict(zip((name for name in by_name), positional, strict=False)) | dict(arguments)
    read: dict[str, Any] = {}
    for name, text in texts.items():
        parameter = by_name.get(name.replace("-", "_"))
        if parameter is None:
            raise Refusal(
                "unknown_argument",
                N_("{argument} is no argument here. Those there are: {known}."),
                argument=name,
                known=", ".join(by_name),
            )
        read[parameter.name] = _value(parameter.name, hints[parameter.name], text)
    missing = [name for name, one in by_name.items() if one.default is one.empty and one.name not in read]
    if missing:
        raise Refusal("argument_missing", N_("{arguments} must be given."), arguments=", ".join(missing))
    return read


def _spoken(name: str) -> str:
    return "grams" if name == "tenths" else name.removesuffix("_mm")


def _value(name: str, hint: Any, text: str) -> Any:
    kinds = _kinds(hint)
    if type(None) in kinds and text in ("", "-"):
        return None
    if name == "tenths":
        return read_grams(text)
    if name.endswith("_mm"):
        return read_metres(text)
    for kind in kinds:
        if kind in (type(None), str):
            continue
        return _of_kind(name, kind, text)
    return text


def _kinds(hint: Any) -> tuple[Any, ...]:
    origin = typing.get_origin(hint)
    return typing.get_args(hint) if origin in (typing.Union, types.UnionType) else (hint,)


def _of_kind(name: str, kind: Any, text: str) -> Any:
    if typing.get_origin(kind) is not None:
        return tuple(part.strip() for part in text.split(",") if part.strip())
    if kind is bool and text.lower() in _YES:
        return _YES[text.lower()]
    try:
        if kind is int:
            return int(text) if text.lstrip("-").isdigit() else read_pieces(text)
        if kind is date:
            return date.fromisoformat(text)
        if isinstance(kind, type) and issubclass(kind, Enum):
            return kind(text.replace("_", " "))
    except ValueError as error:
        choices = (
            ", ".join(str(one.value) for one in kind)
            if isinstance(kind, type) and issubclass(kind, Enum)
            else kind.__name__
        )
        raise Refusal(
            "argument_unreadable",
            N_("{text} cannot be read as {argument} ({choices})."),
            text=text,
            argument=name,
            choices=choices,
        ) from error
    raise Refusal(
        "argument_unreadable",
        N_("{text} cannot be read as {argument} ({choices})."),
        text=text,
        argument=name,
        choices="yes, no",
    )
