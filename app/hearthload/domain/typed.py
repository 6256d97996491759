"""What people type, read with care: numbers, durations and moments, each refused in one clear sentence."""

from __future__ import annotations

from hearthload.domain.typed_durations import parse_duration_h
from hearthload.domain.typed_moments import parse_moment
from hearthload.domain.typed_numbers import TypedError, parse_count, parse_number

__all__ = ["TypedError", "parse_count", "parse_duration_h", "parse_moment", "parse_number"]
