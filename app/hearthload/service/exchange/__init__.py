"""Other files in and out."""
