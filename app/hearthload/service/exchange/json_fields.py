"""Entries of a JSON object read by name and type; what cannot be is refused with the place it stands at."""

from __future__ import annotations

import difflib
import math
import types
import typing
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from enum import Enum
from typing import Any, TypeVar

from hearthload.errors import KnownError, RefusedError
from hearthload.service.exchange.csv_cells import shown
from hearthload.service.exchange.json_text import JsonObject

Made = TypeVar("Made")

_LARGEST = 1e9
"""No figure of a household, in whatever unit, is farther from nought."""
_MOST_LISTED = 16
_LONGEST = 600
"""A sentence that quotes more than this has met text that is none."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where something stands: the file's name and the way to it, such as "loads[2].running_w"."""

    file: str
    way: str = ""

    def at(self, key: str | int) -> Place:
        """Give the place of an entry, by its key or its number in a list."""
        if isinstance(key, int):
            return Place(self.file, f"{self.way}[{key}]")
        return Place(self.file, f"{self.way}.{key}" if self.way else key)

    def refused(self, why: str) -> KnownError:
        """Make the one sentence that names file and place."""
        sentence = f"“{self.file}”, {self.way}: {why}" if self.way else f"“{self.file}”, {why}"
        kept = "".join(letter if letter.isprintable() else "�" for letter in sentence[:_LONGEST])
        return KnownError(f"{kept.rstrip('.')}." if len(sentence) <= _LONGEST else f"{kept}….")


class Fields:
    """The entries of one object; `known` are the keys that it may have."""

    def __init__(self, value: object, place: Place, known: Iterable[str]) -> None:
        if not isinstance(value, JsonObject):
            raise place.refused(f"{_said(value)} is not an object in braces")
        if value.twice is not None:
            raise place.refused(f"the entry {shown(value.twice)} is there twice")
        self.place = place
        self._values = value
        names = list(known)
        for key in value:
            if key not in names:
                raise place.refused(f"there is no entry {shown(key)} here; {_near(key, names)}")

    def __contains__(self, key: str) -> bool:
        return self._values.get(key) is not None

    def __getitem__(self, key: str) -> object:
        return self._values.get(key)

    def refused(self, key: str, why: str) -> KnownError:
        """Make the sentence that refuses an entry."""
        return self.place.at(key).refused(why)

    def need(self, *keys: str) -> None:
        """Refuse the object where one of these entries is missing."""
        for key in keys:
            if self._values.get(key) is None:
                raise self.refused(key, "this is missing, and it is needed")

    def items(self, key: str) -> list[tuple[object, Place]]:
        """Give the members of a list with their places; none where it is not there."""
        value, place = self._values.get(key), self.place.at(key)
        if value is None:
            return []
        if not isinstance(value, list):
            raise place.refused(f"{_said(value)} is not a list in square brackets")
        return [(item, place.at(number)) for number, item in enumerate(value)]

    def made(self, cls: Callable[..., Made], leaving: Iterable[str] = (), **values: object) -> Made:
        """Make a draft of a dataclass from the entries called like its fields, each of the field's type.

        `leaving` are not read; `values` stand in place of what is read, or of what may be missing.
        """
        hints = hints_of(cls, leaving)
        for key, hint in hints.items():
            if key in self._values and (self._values[key] is not None or not _may_be_none(hint)):
                values[key] = _typed(self._values[key], hint, self.place.at(key))
        with self.telling():
            return cls(**values)

    @contextmanager
    def telling(self) -> Iterator[None]:
        """Name the place in what a check of the edits refuses."""
        try:
            yield
        except RefusedError as error:
            place = self.place.at(error.field) if error.field else self.place
            raise place.refused(str(error)) from None


def hints_of(cls: Callable[..., Any], leaving: Iterable[str] = ()) -> dict[str, Any]:
    """Give the types of a dataclass's fields by name, without those in `leaving`."""
    left = set(leaving)
    return {key: hint for key, hint in typing.get_type_hints(cls).items() if key not in left}


def number(value: object, place: Place) -> float:
    """Read a finite number."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        hint = "; write a number without quotation marks" if isinstance(value, str) else ""
        raise place.refused(f"{_said(value)} is not a number{hint}")
    if abs(value) > _LARGEST or not math.isfinite(value):
        raise place.refused("that number is larger than anything a household counts")
    return float(value)


def _may_be_none(hint: object) -> bool:
    return isinstance(hint, types.UnionType) and type(None) in typing.get_args(hint)


def _typed(value: object, hint: Any, place: Place) -> object:  # noqa: ANN401 - any type that a field has
    if _may_be_none(hint):
        (hint,) = (each for each in typing.get_args(hint) if each is not type(None))
    if isinstance(hint, type) and issubclass(hint, Enum):
        return _choice(value, hint, place)
    if hint is str:
        if not isinstance(value, str):
            raise place.refused(f"{_said(value)} is not text in quotation marks")
        return value
    if hint is bool:
        if not isinstance(value, bool):
            raise place.refused(f"{_said(value)} is neither true nor false")
        return value
    found = number(value, place)
    if hint is int:
        if found != math.floor(found):
            raise place.refused(f"{_said(value)} is not a whole number")
        return int(found)
    return found


def _choice(value: object, choices: type[Enum], place: Place) -> Enum:
    for choice in choices:
        if choice.value == value:
            return choice
    listed = ", ".join(str(choice.value) for choice in choices)
    raise place.refused(f"{_said(value)} is none of {listed}")


def _near(key: str, names: list[str]) -> str:
    near = difflib.get_close_matches(key, names, n=3)
    if near:
        return f"near it: {', '.join(near)}"
    if len(names) > _MOST_LISTED:
        return "the help page “The size file” lists those that there are"
    return f"there may be {', '.join(names)}"


def _said(value: object) -> str:
    """Quote a value for a sentence, short and printable."""
    if isinstance(value, str):
        return shown(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        return "null"
    if isinstance(value, (dict, list)):
        return "an object in braces" if isinstance(value, dict) else "a list"
    if isinstance(value, (int, float)) and abs(value) < _LARGEST:
        return str(value)
    return "a very large number"
