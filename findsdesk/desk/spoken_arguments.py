"""Arguments of a use case as text: read by the types that it declares, so that there is no second list of them.

A parameter that cannot be said in text (a list of rows, a sheet of labels) is not offered.
"""

from __future__ import annotations

import inspect
import re
import types
import typing
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import Enum
from pathlib import Path
from typing import Any

from findsdesk.domain.numbers import (
    read_grams,
    read_metres,
    read_millimetres,
    read_percent,
    read_pieces,
    read_tenths_of_millimetres,
)
from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

ELEVATIONS = frozenset({"opening_mm", "closing_mm", "benchmark_mm", "backsight_mm", "foresight_mm"})
"""Read in metres, as they stand in the levelling book; every other length in millimetres, as it is on a calliper."""

SECRET = frozenset({"pin", "own_pin", "second_pin"})
"""Arguments that are said by their names alone, so that nobody who reads on takes them for something to keep."""
_WHOLE = re.compile(r"-?[0-9]{1,18}")
_YES = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}


@dataclass(frozen=True, slots=True)
class Spoken:
    """One argument as it is said: its name in text, its parameter's name and type, whether it must be said."""

    name: str
    parameter: str
    hint: Any
    must: bool


def spoken_arguments(function: Callable[..., Any]) -> tuple[Spoken, ...]:
    """Return the arguments of a use case as they are said, in the order of its parameters, without the desk."""
    return tuple(
        Spoken(_said(name), name, hint, must) for name, hint, must in _parameters(function) if _can_be_said(hint)
    )


def _parameters(function: Callable[..., Any]) -> Iterator[tuple[str, Any, bool]]:
    """Yield name, type and whether it must be said; what is gathered under one name is taken apart."""
    hints = typing.get_type_hints(function)
    for one in list(inspect.signature(function).parameters.values())[1:]:
        hint = hints[one.name]
        if one.kind is one.VAR_KEYWORD:
            for name, inner in typing.get_type_hints(typing.get_args(hint)[0]).items():
                yield name, inner, False
        else:
            yield one.name, hint, one.default is one.empty


def _said(name: str) -> str:
    """Return how a parameter is called where it is said: without its unit, which is the one people measure in."""
    if name == "tenths":
        return "grams"
    return name.removesuffix("_mm").removesuffix("_tenths").removesuffix("_permille")


def _can_be_said(hint: Any) -> bool:
    inner = [kind for kind in _kinds(hint) if typing.get_origin(kind) is not None]
    return all(
        typing.get_origin(kind) is typing.Literal or all(one is str or one is Ellipsis for one in typing.get_args(kind))
        for kind in inner
    )


def _kinds(hint: Any) -> tuple[Any, ...]:
    origin = typing.get_origin(hint)
    return typing.get_args(hint) if origin in (typing.Union, types.UnionType) else (hint,)


def read_arguments(
    function: Callable[..., Any],
    arguments: Mapping[str, str],
    positional: Sequence[str] = (),
    *,
    folder: Path | None = None,
) -> dict[str, Any]:
    """Read the texts of arguments by the types that a use case declares; bare values fill them in their order.

    ``grams=12.5`` fills a parameter called ``tenths``, ``opening=4.188`` (metres) one called ``opening_mm``,
    ``rim_diameter=180`` (millimetres) one called ``rim_diameter_mm``, ``chord=62.5`` one called ``chord_tenths_mm``,
    ``rim=12.5`` (percent) one called ``rim_permille``; names of files are relative to ``folder``. Refusals:
    ``unknown_argument``, ``argument_missing``, ``argument_unreadable``, ``too_many_arguments``, and those of reading
    numbers.
    """
    spoken = {one.name: one for one in spoken_arguments(function)}
    if len(positional) > len(spoken):
        raise Refusal(
            "too_many_arguments",
            N_("“{extra}” is more than can be said here. What can be said: {known}."),
            extra=positional[len(spoken)],
            known=", ".join(spoken),
        )
    read = {
        spoken[name].parameter: value_of(spoken[name].parameter, spoken[name].hint, text, folder)
        for name, text in _by_name(spoken, arguments, positional)
    }
    missing = [one for one in spoken.values() if one.must and one.parameter not in read]
    if missing:
        raise Refusal(
            "argument_missing",
            N_("{arguments} must be given, like this: {example}"),
            arguments=", ".join(one.name for one in missing),
            example=" ".join(map(_example, missing)),
        )
    return read


def _example(one: Spoken) -> str:
    """Return how an argument is said, with a value of its type, or with all that can be chosen."""
    kind = next((kind for kind in _kinds(one.hint) if kind is not type(None)), str)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return f"{one.name}={'|'.join(str(value.value) for value in kind)}"
    if typing.get_origin(kind) is typing.Literal:
        return f"{one.name}={'|'.join(map(str, typing.get_args(kind)))}"
    values = {bool: "yes", int: "3", date: "2026-07-14"}
    return f"{one.name}={values.get(kind, '…') if isinstance(kind, type) else '…'}"


def _by_name(
    spoken: Mapping[str, Spoken], arguments: Mapping[str, str], positional: Sequence[str]
) -> Iterator[tuple[str, str]]:
    yield from zip((name for name in spoken if name not in SECRET), positional, strict=False)
    for said, text in arguments.items():
        name = said.replace("-", "_")
        if name not in spoken:
            raise Refusal(
                "unknown_argument",
                N_("{argument} is no argument here. Those there are: {known}."),
                argument=said,
                known=", ".join(spoken),
            )
        yield name, text


def value_of(name: str, hint: Any, text: str, folder: Path | None = None) -> Any:
    """Read one text as a value of the type that a parameter called ``name`` declares."""
    kinds = _kinds(hint)
    if type(None) in kinds and text in ("", "-"):
        return None
    if name == "tenths" or name.endswith("_tenths"):
        return read_grams(text)
    if name in ELEVATIONS:
        return read_metres(text)
    if name.endswith("_tenths_mm"):
        return read_tenths_of_millimetres(text)
    if name.endswith("_mm"):
        return read_millimetres(text)
    if name.endswith("_permille"):
        return read_percent(text)
    for kind in kinds:
        if kind not in (type(None), str):
            return _of_kind(name, kind, text, folder)
    return text


def _of_kind(name: str, kind: Any, text: str, folder: Path | None) -> Any:
    origin = typing.get_origin(kind)
    if origin is typing.Literal:
        choices = tuple(str(one) for one in typing.get_args(kind))
        if text not in choices:
            raise _unreadable(name, text, choices)
        return text
    if origin is not None:
        parts = [part.strip() for part in text.split(",") if part.strip()]
        return _pairs(name, parts) if issubclass(origin, Mapping) else tuple(parts)
    if kind is bool and text.lower() in _YES:
        return _YES[text.lower()]
    if kind is bool:
        raise _unreadable(name, text, ("yes", "no"))
    if kind is int:
        return int(text) if _WHOLE.fullmatch(text) else read_pieces(text)
    if kind is Path:
        return (folder or Path()) / text
    return _dated_or_chosen(name, kind, text)


def _dated_or_chosen(name: str, kind: Any, text: str) -> Any:
    try:
        return date.fromisoformat(text) if kind is date else kind(_plain_choice(kind, text))
    except ValueError as error:
        known = [str(one.value) for one in kind] if issubclass(kind, Enum) else ["2026-07-14"]
        raise _unreadable(name, text, known) from error


def _plain_choice(kind: type[Enum], text: str) -> str:
    """Return a choice as it is meant where its blanks were written as underscores or hyphens."""
    spaced = text.replace("_", " ").replace("-", " ")
    return next((str(one.value) for one in kind if str(one.value) in (text, spaced)), text)


def _pairs(name: str, parts: Sequence[str]) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for part in parts:
        key, sign, value = part.rpartition("=")
        if not sign:
            raise _unreadable(name, part, ("NAME=VALUE",))
        pairs[key.strip()] = value.strip()
    return pairs


def _unreadable(name: str, text: str, choices: Sequence[str]) -> Refusal:
    return Refusal(
        "argument_unreadable",
        N_("“{text}” does not fit “{argument}”. Write it like this: {choices}."),
        text=text,
        argument=_said(name),
        choices=", ".join(choices),
    )
