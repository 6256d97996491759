"""Numbered steps that bring a logbook of any released version up to this one."""
