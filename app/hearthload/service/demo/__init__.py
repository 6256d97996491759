"""The demo: an invented hillside cottage whose appliances are simulated and then read like real ones."""

from __future__ import annotations

from hearthload.service.demo.build import build_demo

__all__ = ["build_demo"]
