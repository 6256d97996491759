"""The sheet on which a thing is added or changed, in place: a title, labelled rows, Save and Cancel."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from hearthload.errors import RefusedError
from hearthload.service.answers import Complaint, Weight
from hearthload.window.form import Form, FormRow
from hearthload.window.parts import TitleLabel, button, title_row
from hearthload.window.session import Session
from hearthload.window.theme import GRID

WIDEST_PX = 90 * GRID
"""A form wider than this is harder to read, not easier."""
LEAST_ROWS_PX = 20 * GRID


class _Rows(QScrollArea):
    """Takes no more height than its rows need, and scrolls where there is less."""

    def __init__(self, inside: QWidget, parent: QWidget) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self._inside = inside
        self.setWidget(inside)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def sizeHint(self) -> QSize:
        """Want the rows' height at the present width."""
        rows = self._inside
        width = min(self.viewport().width(), rows.maximumWidth())
        height = rows.heightForWidth(width) if rows.hasHeightForWidth() else rows.sizeHint().height()
        return QSize(super().sizeHint().width(), height)

    def minimumSizeHint(self) -> QSize:
        """Be content with few rows."""
        return QSize(super().minimumSizeHint().width(), LEAST_ROWS_PX)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for another height at another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Ask for another height when the rows do."""
        if watched is self._inside and event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(watched, event)


class EditSheet(QWidget):
    """A form in the page, never a box in front of it; Enter saves, Esc leaves.

    `closed` carries the number of the thing that was saved, None when nothing was.
    """

    closed = Signal(object)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.form = Form(self, field_width=46 * GRID, shares=(12, 1), units_only=True)
        self.form.accepted.connect(self.save)
        self.form.left.connect(self.cancel)
        self.title = TitleLabel(self)
        self.save_button = button("Save", "primary", self)
        self.cancel_button = button("Cancel", "", self)
        self.save_button.clicked.connect(self.save)
        self.cancel_button.clicked.connect(self.cancel)
        self.save_button.setToolTip("Enter")
        self.cancel_button.setToolTip("Esc")
        self._watched: set[str] = set()
        self._lay_out()

    def save(self) -> None:
        """Save what was typed; what cannot be taken is said under its field."""
        with self.session.refusals_to(self._say_refusal):
            saved = self.save_typed()
        if saved is None:
            self.form.focus_first_complaint()
        else:
            self.closed.emit(saved)

    def cancel(self) -> None:
        """Leave without saving."""
        self.closed.emit(None)

    def save_typed(self) -> int | None:
        """Save and give the number of what was saved, None when something is in the way."""
        raise NotImplementedError

    def begin(self, title: str, save_text: str = "Save") -> None:
        """Show the sheet afresh with the cursor in its first field."""
        self.title.setText(title)
        self.save_button.setText(save_text)
        self.form.clear_complaints()
        self._watch_lines()
        first = next(iter(self.form.rows.values())).editor
        first.setFocus(Qt.FocusReason.OtherFocusReason)
        self._scroll.verticalScrollBar().setValue(0)

    def _watch_lines(self) -> None:
        """Show each line from its beginning, and take its complaint away once it is being put right."""
        for name, row in self.form.rows.items():
            if isinstance(row.editor, QLineEdit):
                row.editor.setCursorPosition(0)
                if name not in self._watched:
                    self._watched.add(name)
                    row.editor.textEdited.connect(partial(self._typed, row))

    def _typed(self, row: FormRow, _text: str) -> None:
        row.clear()

    def _say_refusal(self, error: RefusedError) -> None:
        self.form.show_complaints([Complaint(error.field, error.code, Weight.STOPS, str(error))])

    def _lay_out(self) -> None:
        inside = QWidget()
        inside.setMaximumWidth(WIDEST_PX)
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID, GRID, GRID * 2, GRID)
        column.setSpacing(GRID)
        column.addWidget(self.form)
        self._scroll = _Rows(inside, self)
        self.title.setContentsMargins(GRID, 0, GRID, 0)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, GRID, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(title_row(self.title))
        outer.addWidget(self._scroll)
        outer.addLayout(self._button_row())
        outer.addStretch(1)

    def _button_row(self) -> QHBoxLayout:
        """Set the buttons under the rows, where they stay in sight however far the rows are scrolled."""
        row = QHBoxLayout()
        row.setContentsMargins(GRID, GRID, GRID * 2, GRID)
        row.setSpacing(GRID)
        row.addWidget(self.save_button)
        row.addWidget(self.cancel_button)
        row.addStretch(1)
        return row
