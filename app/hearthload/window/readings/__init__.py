"""The Readings page."""
