"""Faults of the surroundings, told in plain words; anything else that is raised is a bug."""

from __future__ import annotations


class KnownError(Exception):
    """Something outside the program stands in the way: a full disk, a locked file, a file that is not ours.

    `str(error)` is one clear sentence for the person, without a traceback.
    """


class RefusedError(KnownError):
    """What was asked for is not possible as it stands: the sentence says why and what would be.

    `field` names the input concerned ("energy_kwh", "taken_at", "meter_id", ...), or is empty.
    `code` is a short stable word for tests and machines ("energy_fell", "meter_in_use", ...).
    """

    def __init__(self, sentence: str, *, field: str = "", code: str = "") -> None:
        super().__init__(sentence)
        self.field = field
        self.code = code
