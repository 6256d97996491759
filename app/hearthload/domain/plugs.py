"""Plug types with the most current they may carry; a plug-in meter carries no more than its plug."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Plug:
    """A plug or coupler: its key in files, its trade name, its current in A, its mains voltage in V.

    `source` names the row of the project's trade facts; rows marked "typical" are not checked.
    """

    key: str
    name: str
    current_a: float | None
    nominal_v: float | None
    source: str


# Current ratings: NEMA WD 6 (5-15, 5-20, 6-15, 6-20, L14-30), BS 1363, AS/NZS 3112, IEC 60309,
# IEC 60320; the rows marked typical are common practice and not yet checked against the standard.
_ROWS = (
    Plug("unknown", "not sure", None, None, ""),
    Plug("nema_5_15", "NEMA 5-15", 15.0, 120.0, "NEMA WD 6"),
    Plug("nema_5_20", "NEMA 5-20", 20.0, 120.0, "NEMA WD 6"),
    Plug("nema_6_15", "NEMA 6-15", 15.0, 240.0, "NEMA WD 6"),
    Plug("nema_6_20", "NEMA 6-20", 20.0, 240.0, "NEMA WD 6"),
    Plug("cee_7", "CEE 7/4 or 7/7", 16.0, 230.0, "CEE 7, typical"),
    Plug("cee_7_16", "CEE 7/16 (flat)", 2.5, 230.0, "CEE 7, typical"),
    Plug("bs_1363", "BS 1363", 13.0, 230.0, "BS 1363"),
    Plug("as_3112", "AS/NZS 3112", 10.0, 230.0, "AS/NZS 3112"),
    Plug("jis_8303", "JIS C 8303", 15.0, 100.0, "JIS C 8303, typical"),
    Plug("sev_t13", "SEV 1011 T13", 10.0, 230.0, "SEV 1011, typical"),
    Plug("sev_t23", "SEV 1011 T23", 16.0, 230.0, "SEV 1011, typical"),
    Plug("cei_23_50_10", "CEI 23-50, 10 A", 10.0, 230.0, "CEI 23-50, typical"),
    Plug("cei_23_50_16", "CEI 23-50, 16 A", 16.0, 230.0, "CEI 23-50, typical"),
    Plug("iec_60309_16", "IEC 60309, 16 A", 16.0, 230.0, "IEC 60309, typical"),
    Plug("iec_60309_32", "IEC 60309, 32 A", 32.0, 230.0, "IEC 60309, typical"),
    Plug("other", "other", None, None, ""),
)

PLUGS: dict[str, Plug] = {plug.key: plug for plug in _ROWS}

LONG_RUN_SHARE = 0.8
"""Share of a plug's rating that a load of three hours or more may take (NEC 210.20(A), 210.23(A)(1))."""


def plug_limit_w(key: str, voltage_v: float | None) -> float | None:
    """Give the most watts a plug carries: P = V·I [W], with the given or the nominal voltage [V].

    None where the plug's current is not known.
    """
    plug = PLUGS.get(key)
    if plug is None or plug.current_a is None:
        return None
    volts = voltage_v if voltage_v is not None else plug.nominal_v
    return None if volts is None else volts * plug.current_a
