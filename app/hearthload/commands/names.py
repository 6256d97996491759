"""Finds the one thing that a person means by what they typed of its name."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol, TypeVar

from hearthload.errors import RefusedError
from hearthload.service.tidy import name_key

MOST_LISTED = 8


class Named(Protocol):
    """Anything that goes by a name."""

    @property
    def name(self) -> str: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Sort:
    """What is looked for: "plan", with its article; what to do where there is none yet."""

    word: str
    article: str
    if_none: str


Thing = TypeVar("Thing", bound=Named)


def find_named(things: Sequence[Thing], typed: str, sort: Sort) -> Thing:
    """Give the one thing of that name or of which the name begins so, in capitals or small letters."""
    wanted = name_key(" ".join(typed.split()))
    if not wanted:
        raise _unknown(f"{sort.article} {sort.word}'s name is needed.", things, sort)
    same = [one for one in things if name_key(one.name) == wanted]
    if not same:
        same = [one for one in things if name_key(one.name).startswith(wanted)]
    if len(same) == 1:
        return same[0]
    if same:
        names = listed([one.name for one in same])
        raise RefusedError(
            f"“{typed}” may be any of {names}: type more of the name.",
            field=sort.word,
            code=f"ambiguous_{sort.word}",
        )
    raise _unknown(f"There is no {sort.word} “{typed}” in this logbook.", things, sort, wanted)


def _unknown(sentence: str, things: Sequence[Named], sort: Sort, wanted: str = "") -> RefusedError:
    by_name = {name_key(one.name): one.name for one in things}
    near = [by_name[name] for name in difflib.get_close_matches(wanted, by_name, n=3, cutoff=0.7)]
    near += [name for folded, name in by_name.items() if wanted and wanted in folded and name not in near]
    if near:
        hint = f"Near it: {listed(near)}."
    elif things:
        hint = f"There {'are' if len(things) > 1 else 'is'} {listed([one.name for one in things])}."
    else:
        hint = sort.if_none
    return RefusedError(f"{sentence} {hint}", field=sort.word, code=f"unknown_{sort.word}")


def listed(names: Sequence[str]) -> str:
    """Name up to eight things, and say how many more there are."""
    shown = list(names[:MOST_LISTED])
    if len(names) > MOST_LISTED:
        shown.append(f"{len(names) - MOST_LISTED} more")
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"
