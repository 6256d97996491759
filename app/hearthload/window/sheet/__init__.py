"""The Sheet page."""
