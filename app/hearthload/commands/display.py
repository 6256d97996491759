"""Whether there is a display to open a window on, asked before Qt is, which would abort without one."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Mapping

from hearthload.commands.parser import program_name
from hearthload.errors import KnownError


def require_display(environ: Mapping[str, str] = os.environ) -> None:
    """Refuse in a sentence when there is no display for a window."""
    if (
        not sys.platform.startswith("linux")
        or environ.get("QT_QPA_PLATFORM")
        or environ.get("WAYLAND_DISPLAY")
    ):
        return
    display = environ.get("DISPLAY")
    if not display:
        raise KnownError(f"There is no display here to open a window on; {_how()}")
    if not _answers(display):
        raise KnownError(f"The display {display} does not answer, so there is no window; {_how()}")


def _how() -> str:
    return (
        "start Hearthload from a desktop session, or over ssh -X; to see the window without a display, "
        f"{program_name()} pictures DIR --demo draws it into picture files."
    )


def _answers(display: str) -> bool:
    """Tell whether an X server answers; yes where that cannot be asked, then Qt will say."""
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return True
    xcb.xcb_connect.restype = ctypes.c_void_p
    connection = ctypes.c_void_p(xcb.xcb_connect(display.encode(), None))
    failed = bool(xcb.xcb_connection_has_error(connection))
    xcb.xcb_disconnect(connection)
    return not failed


def told_if_qt(error: ImportError) -> KnownError | ImportError:
    """Give a sentence when it is Qt that cannot be loaded, for want of a system library; else the error."""
    if not (error.name or "").startswith(("PySide6", "shiboken6")):
        return error
    return KnownError(
        f"Qt, which draws the window, cannot be loaded here ({error}); on Debian and its kin the libraries "
        "come with: sudo apt-get install libegl1 libgl1 libglib2.0-0 libdbus-1-3 libfontconfig1 "
        "libxkbcommon0 libxcb-cursor0."
    )
