"""The boxes to tick that make a combination out of what is entered already."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from hearthload.domain.supply import Supply
from hearthload.window.equipment.kind_words import SUPPLY_WORDS

NOTHING_TO_CHOOSE = (
    "A combination is made of equipment that is entered already. Enter the battery, the generator or the "
    "panels first, then come back."
)


class MemberBoxes(QWidget):
    """One box for each supply that may be part of a combination."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.boxes: dict[int, QCheckBox] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)

    def offer(self, supplies: Sequence[Supply], ticked: Collection[int]) -> None:
        """Offer these supplies, those of these numbers ticked."""
        for box in self.boxes.values():
            self._column.removeWidget(box)
            box.hide()
            box.deleteLater()
        self.boxes = {}
        for supply in supplies:
            words = SUPPLY_WORDS[supply.kind]
            box = QCheckBox(f"{supply.name}: {words}".replace("&", "&&"), self)
            box.setAccessibleName(f"Part of it: {supply.name}, {words}")
            box.setChecked(supply.id in ticked)
            self._column.addWidget(box)
            self.boxes[supply.id] = box

    def setFocus(self, reason: Qt.FocusReason = Qt.FocusReason.OtherFocusReason, /) -> None:
        """Put the cursor into the first box; a focus proxy in its stead would hold Tab in a circle."""
        first = next(iter(self.boxes.values()), None)
        if first is not None:
            first.setFocus(reason)

    @property
    def ticked(self) -> tuple[int, ...]:
        """Give the numbers of the supplies whose boxes are ticked."""
        return tuple(number for number, box in self.boxes.items() if box.isChecked())
