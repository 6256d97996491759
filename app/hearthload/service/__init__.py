"""What a person can do: edits, questions, history, exchange."""
