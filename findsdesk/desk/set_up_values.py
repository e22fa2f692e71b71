"""Values of a set-up file, each looked up by its key; what is wrong is refused with file, key and value."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import Any, TypeVar
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from findsdesk.domain.refusals import Refusal
from findsdesk.words import N_

Choice = TypeVar("Choice", bound=StrEnum)


@dataclass(frozen=True, slots=True)
class SetUpTable:
    """One table of a set-up file; ``place`` says where it stands, e.g. ``[[people]] 3``."""

    file: str
    place: str
    values: Mapping[str, Any]

    def refuse_unknown(self, *known: str) -> None:
        """Refuse a key that means nothing there: ``set_up_unknown_key``."""
        for key in self.values:
            if key not in known:
                raise Refusal(
                    "set_up_unknown_key",
                    N_("{file}: nothing is known of {key} in {place}. What may stand there: {known}."),
                    file=self.file,
                    key=key,
                    place=self.place,
                    known=", ".join(known),
                )

    def text(self, key: str, default: str | None = None) -> str:
        """Return a text; without a default it must be there and not be empty."""
        value = self._value(key, default)
        if not isinstance(value, str):
            raise self._wrong(key, N_("{file}: {key} in {place} is {value}. Write a text in quotation marks."))
        if default is None and not value.strip():
            raise self._missing(key)
        return value

    def day(self, key: str) -> date:
        """Return a date that must be there."""
        found = self.day_or_none(key)
        if found is None:
            raise self._missing(key)
        return found

    def day_or_none(self, key: str) -> date | None:
        """Return a date, or None where there is none."""
        value = self.values.get(key)
        if value is None or (isinstance(value, date) and not isinstance(value, datetime)):
            return value
        text = N_("{file}: {key} in {place} is {value}. Write a date such as 2026-07-06, without quotation marks.")
        raise self._wrong(key, text)

    def moment_or_none(self, key: str) -> datetime | None:
        """Return a date with a time, or None where there is none."""
        value = self.values.get(key)
        if value is None or isinstance(value, datetime):
            return value
        text = N_("{file}: {key} in {place} is {value}. Write date and time such as 2026-07-05T17:00:00.")
        raise self._wrong(key, text)

    def whole(self, key: str) -> int:
        """Return a whole number that must be there."""
        found = self.whole_or_none(key)
        if found is None:
            raise self._missing(key)
        return found

    def whole_or_none(self, key: str) -> int | None:
        """Return a whole number, or None where there is none."""
        value = self.values.get(key)
        if value is None or (isinstance(value, int) and not isinstance(value, bool)):
            return value
        raise self._wrong(key, N_("{file}: {key} in {place} is {value}. Write a whole number."))

    def number(self, key: str, default: float) -> float:
        """Return a number, whole or not."""
        value = self.values.get(key, default)
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return float(value)
        raise self._wrong(key, N_("{file}: {key} in {place} is {value}. Write a number such as 12.5."))

    def flag(self, key: str, default: bool) -> bool:
        """Return a yes or a no."""
        value = self.values.get(key, default)
        if isinstance(value, bool):
            return value
        raise self._wrong(key, N_("{file}: {key} in {place} is {value}. Write true or false."))

    def one_of(self, key: str, choices: type[Choice], default: Choice | None = None) -> Choice:
        """Return one of a few choices."""
        value = self._value(key, default)
        try:
            return choices(value)
        except ValueError as fault:
            text = N_("{file}: {key} in {place} is {value}. Choose one of: {choices}.")
            raise self._wrong(key, text, choices=", ".join(choices)) from fault

    def zone(self, key: str) -> str:
        """Return the name of a time zone that this computer knows."""
        name = self.text(key)
        try:
            return ZoneInfo(name).key
        except (ZoneInfoNotFoundError, ValueError) as fault:
            text = N_("{file}: {key} in {place} is {value}. Write a time zone like Etc/GMT-2 or a region and city.")
            raise self._wrong(key, text) from fault

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts, empty where there is none."""
        value = self.values.get(key, [])
        if isinstance(value, list) and all(isinstance(one, str) for one in value):
            return tuple(value)
        raise self._wrong(key, N_('{file}: {key} in {place} is {value}. Write a list such as ["A1", "A2"].'))

    def table(self, key: str) -> SetUpTable:
        """Return a table within, empty where there is none."""
        value = self.values.get(key, {})
        if isinstance(value, dict):
            return SetUpTable(self.file, f"[{key}]", value)
        raise self._wrong(
            key, N_("{file}: {key} is {value}. Write it as a table: its name in brackets, then its keys.")
        )

    def tables(self, key: str) -> Iterator[SetUpTable]:
        """Yield the tables of a list of tables."""
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            raise self._wrong(key, N_("{file}: {key} is {value}. Begin each of them with its name in double brackets."))
        for number, one in enumerate(value, 1):
            yield SetUpTable(self.file, f"[[{key}]] {number}", one)

    def _value(self, key: str, default: object) -> Any:
        value = self.values.get(key, default)
        if value is None:
            raise self._missing(key)
        return value

    def _missing(self, key: str) -> Refusal:
        text = N_("{file}: {place} lacks {key}. Write it in and try again.")
        return Refusal("set_up_missing", text, file=self.file, place=self.place, key=key)

    def _wrong(self, key: str, text: str, **more: object) -> Refusal:
        facts = {"file": self.file, "place": self.place, "key": key, "value": _shown(self.values[key])} | more
        return Refusal("set_up_value", text, **facts)


def _shown(value: object) -> str:
    return f"“{value}”" if isinstance(value, str) else str(value)
