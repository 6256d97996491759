"""What is typed about a cord: its length in metres or feet, its wire size in either family."""

from __future__ import annotations

import re
from collections.abc import Mapping

from hearthload.domain.typed import TypedError, parse_number
from hearthload.errors import RefusedError

METRES_PER_FOOT = 0.3048  # exact, international foot of 1959

_LENGTH = re.compile(r"(?P<number>.*?)\s*(?P<unit>m|metres?|meters?|ft|feet|foot|['′])?", re.IGNORECASE)
_AWG = (
    re.compile(r"(?:awg|no\.?|#)[\s_#-]*(?P<size>[0-9]+(?:[/_]0)?)"),
    re.compile(r"#?(?P<size>[0-9]+(?:/0)?)[\s-]*(?:awg|ga|gauge)"),
)
_METRIC = (
    re.compile(r"(?:mm2|mm²|mm\^2)[\s_-]*(?P<size>[0-9]+(?:[.,][0-9]+)?)"),
    re.compile(r"(?P<size>[0-9]+(?:[.,][0-9]+)?)\s*(?:mm2|mm²|mm\^2|qmm|sq\.?\s?mm)"),
)
_NOUGHTS = {"0": "1_0", "00": "2_0", "000": "3_0", "0000": "4_0"}


def typed_length_m(text: str) -> float:
    """Read a length in metres; "33 ft" is taken as feet."""
    found = _LENGTH.fullmatch(text.strip())
    unit = "" if found is None else (found["unit"] or "").lower()
    value = parse_number(text if found is None else found["number"])
    return value * METRES_PER_FOOT if unit in {"ft", "feet", "foot", "'", "′"} else value


def typed_number(option: str, text: str, unit: str = "") -> float:
    """Read the number of an option, refused with the option's name."""
    try:
        return typed_length_m(text) if option == "--length" else parse_number(text, unit=unit)
    except TypedError as error:
        raise RefusedError(f"{option}: {error}", field=option, code=error.code) from None


def typed_gauge(text: str, gauges: Mapping[str, str]) -> str:
    """Give the key of a wire size typed as "14 AWG", "awg14", "1.5 mm2", "1,5 mm²"; `gauges` names by key."""
    plain = " ".join(text.split()).casefold()
    key = plain if plain in gauges else _key(plain)
    if key in gauges:
        return key
    raise RefusedError(
        f"There is no wire size “{' '.join(text.split())}”: there are {', '.join(gauges.values())}.",
        field="--gauge",
        code="unknown_gauge",
    )


def _key(plain: str) -> str:
    for pattern in _AWG:
        if found := pattern.fullmatch(plain):
            size = found["size"].replace("/", "_")
            return f"awg_{_NOUGHTS.get(size, size)}"
    for pattern in _METRIC:
        if found := pattern.fullmatch(plain):
            return f"mm2_{float(found['size'].replace(',', '.')):g}"
    return ""
