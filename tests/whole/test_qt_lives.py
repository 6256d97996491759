"""Qt for Python on this Python survives a day's work: some versions lose references and abort."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.whole.conftest import Child

PROGRAM = """
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication, QLabel


class Speaker(QObject):
    said = Signal(object)


class Listener(QObject):
    heard = 0

    def hear(self, value):
        self.heard += 1


app = QApplication([])
label = QLabel("a label")
speaker, listener = Speaker(), Listener()
speaker.said.connect(listener.hear)
for number in range(20_000):
    speaker.said.emit(number)
    label.update()
    label.setText(str(number))
print(listener.heard)
"""


def test_twenty_thousand_signals_and_updates(child: Child) -> None:
    answer = child(PROGRAM)
    assert (answer.code, answer.out.strip()) == (0, "20000"), answer.err
