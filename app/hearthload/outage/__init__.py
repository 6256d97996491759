"""From estimates and a plan to supply: pure functions."""
