"""The Outage page."""
