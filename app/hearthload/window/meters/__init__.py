"""The Meters page."""
