"""What is true: frozen values and their words; standard library only."""
