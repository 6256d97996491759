"""Hearthload: from plug-in meter readings to a supply that carries the loads that matter."""

__version__ = "0.1.0"
