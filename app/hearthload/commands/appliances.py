"""Finds the appliance that a person means by what they typed of its name."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from typing import TYPE_CHECKING

from hearthload.errors import RefusedError

if TYPE_CHECKING:
    from hearthload.domain.appliance import Appliance

MOST_LISTED = 8


def find_appliance(appliances: Sequence[Appliance], typed: str) -> Appliance:
    """Give the one appliance of that name or of which the name begins so, in capitals or small letters."""
    wanted = " ".join(typed.split()).casefold()
    if not wanted:
        raise _unknown("An appliance's name is needed.", appliances)
    same = [one for one in appliances if one.name.casefold() == wanted]
    if not same:
        same = [one for one in appliances if one.name.casefold().startswith(wanted)]
    if len(same) == 1:
        return same[0]
    if same:
        names = _listed([one.name for one in same])
        raise RefusedError(
            f"“{typed}” may be any of {names}: type more of the name.",
            field="appliance",
            code="ambiguous_appliance",
        )
    raise _unknown(f"There is no appliance “{typed}” in this logbook.", appliances, wanted)


def _unknown(sentence: str, appliances: Sequence[Appliance], wanted: str = "") -> RefusedError:
    by_name = {one.name.casefold(): one.name for one in appliances}
    near = [by_name[name] for name in difflib.get_close_matches(wanted, by_name, n=3, cutoff=0.7)]
    near += [name for folded, name in by_name.items() if wanted and wanted in folded and name not in near]
    if near:
        hint = f"Near it: {_listed(near)}."
    elif appliances:
        hint = f"There are {_listed([one.name for one in appliances])}."
    else:
        hint = "It has none yet: open it in the window and add one."
    return RefusedError(f"{sentence} {hint}", field="appliance", code="unknown_appliance")


def _listed(names: Sequence[str]) -> str:
    shown = list(names[:MOST_LISTED])
    if len(names) > MOST_LISTED:
        shown.append(f"{len(names) - MOST_LISTED} more")
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"
