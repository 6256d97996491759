"""The Equipment page."""
