"""The kinds of appliances in words, the same ones wherever a person meets them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from hearthload.domain.appliance import Kind

KIND_WORDS: Final[Mapping[Kind, str]] = {
    Kind.REFRIGERATOR: "refrigerator",
    Kind.FREEZER: "freezer",
    Kind.CLIMATE: "heating, cooling, drying air",
    Kind.ALWAYS_ON: "always on",
    Kind.BY_THE_LOAD: "by the load",
    Kind.LAMP_TIMER: "lamp or timer",
    Kind.EVENING_ELECTRONICS: "evening electronics",
    Kind.WORK_ELECTRONICS: "work-hours electronics",
    Kind.KITCHEN: "kitchen, several times a day",
    Kind.PUMP: "pump",
    Kind.NOT_SURE: "not sure",
}
