"""What the explanations of an estimate are made of: steps, and how moments are said in them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

_MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the explanation: a heading, what it says in plain words, and its equation if it has one."""

    heading: str
    text: str
    equation: str = ""

    @property
    def lead(self) -> str:
        """Give the heading as a sentence of its own."""
        return self.heading if self.heading.endswith("?") else f"{self.heading}."

    @property
    def label(self) -> str:
        """Give the heading as it stands before the equation."""
        return self.heading if self.heading.endswith("?") else f"{self.heading}:"


def said_when(moment: datetime, now: datetime | None) -> str:
    """Say a moment as "17 Nov 07:47", with its year unless that is the present one."""
    year = "" if now is not None and moment.year == now.year else f" {moment.year}"
    return f"{moment.day} {_MONTHS[moment.month - 1]}{year} {moment:%H:%M}"
