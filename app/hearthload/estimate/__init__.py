"""From readings to estimates: pure functions over frozen values."""
