"""The logbook file: the only package that imports SQLAlchemy."""
