"""What a person does with keyboard and mouse, on real widgets: keys go where the cursor is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

NOTHING_HELD = Qt.KeyboardModifier.NoModifier


def press(key: Qt.Key, held: Qt.KeyboardModifier = NOTHING_HELD, *, times: int = 1) -> None:
    """Press a key where the cursor is."""
    for _ in range(times):
        QTest.keyClick(focused(), key, held)


def write(text: str) -> None:
    """Type letter by letter: a key may take the cursor elsewhere, as into a cell's editor."""
    for letter in text:
        QTest.keyClicks(focused(), letter)


def click(widget: QWidget) -> None:
    """Click what can be seen and is not greyed out."""
    assert widget.isVisible(), f"{widget} cannot be seen"
    assert widget.isEnabled(), f"{widget} is greyed out"
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)


def fill(line: QWidget, text: str) -> None:
    """Go into a line, replace what stands there and stay in it."""
    assert line.isVisible(), f"{line} cannot be seen"
    line.setFocus(Qt.FocusReason.TabFocusReason)
    press(Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    press(Qt.Key.Key_Delete)
    write(text)


def focused() -> QWidget:
    """Give the widget that has the cursor."""
    widget = QApplication.focusWidget()
    assert widget is not None, "nothing has the cursor"
    return widget


def show(qtbot: QtBot, window: QWidget, width: int = 900, height: int = 700) -> None:
    """Show a window, or a part of one by itself, at a size; wait until keys go to it."""
    qtbot.addWidget(window)
    # Without a least size of its own a window takes its layout's, and Qt's display in memory complains.
    window.setMinimumSize(1, 1)
    window.resize(width, height)
    with qtbot.waitExposed(window):
        window.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)


def clear_away() -> None:
    """Let go for good what a test closed: else the next one dresses its widgets too, one by one."""
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
