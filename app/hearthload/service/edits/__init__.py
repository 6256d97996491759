"""Named edits, each one transaction."""
