"""The head of the Readings page's right side: which appliance this is, with its buttons and cautions."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hearthload.domain.appliance import Appliance, Role
from hearthload.window.parts import TitleLabel, button, label, title_row
from hearthload.window.theme import GRID
from hearthload.window.words import KIND_WORDS, plug_words

_ROLES = {Role.ESSENTIAL: "essential", Role.WANTED: "wanted", Role.OFF: "off in an outage"}


class ApplianceHead(QWidget):
    """An appliance's name, what is known of it in one muted line, and the buttons to change or remove it."""

    change_wanted = Signal()
    remove_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.name = TitleLabel(self)
        self.about = label("", "muted", self, wrap=True)
        self.change_button = button("Change", "quiet", self)
        self.change_button.setToolTip("Change what is known of this appliance (F2)")
        self.remove_button = button("Remove", "quiet", self)
        self.remove_button.setToolTip("Remove it with its readings; Ctrl+Z brings it back")
        self.change_button.clicked.connect(self.change_wanted)
        self.remove_button.clicked.connect(self.remove_wanted)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(title_row(self.name, self.change_button, self.remove_button))
        column.addWidget(self.about)
        self.setContentsMargins(0, 0, 0, GRID // 2)

    def show_appliance(self, appliance: Appliance | None) -> None:
        """Show another appliance, or none."""
        self.setVisible(appliance is not None)
        if appliance is None:
            return
        self.name.setText(appliance.name)
        parts = [appliance.room, KIND_WORDS[appliance.kind], _ROLES[appliance.role]]
        if appliance.medical:
            parts.append("keeps someone alive or healthy")
        if appliance.hard_wired:
            parts.append("hard-wired")
        elif appliance.plug not in ("unknown", "other"):
            parts.append(plug_words(appliance.plug))
        if appliance.nameplate_w is not None:
            parts.append(f"nameplate {appliance.nameplate_w:g} W")
        self.about.setText("  ·  ".join(part for part in parts if part))
