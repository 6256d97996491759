"""The chart panel with real measurements: what is drawn, read out by key and pointer, told in words."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from hearthload.domain.reading import ReadingDraft
from hearthload.service import queries
from hearthload.service.edits.measurements import finish_measurement, reset_meter, swap_meter
from hearthload.window.colours import DARK
from hearthload.window.readings.charts import HOW, ChartPanel
from hearthload.window.readings.charts_data import read_out, summary
from hearthload.window.session import Session
from hearthload.window.theme import apply_theme
from tests.window import hands
from tests.window.filling import House, Stay
from tests.window.hands import clear_away, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from hearthload.service.answers import ChartData
    from hearthload.window.readings.charts_plot import Plots

LEFT, RIGHT, HOME = Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Home


@pytest.fixture
def panel(session: Session, qtbot: QtBot) -> Iterator[ChartPanel]:
    page = QWidget()
    made = ChartPanel(session, page)
    QVBoxLayout(page).addWidget(made)
    show(qtbot, page, 800, 500)
    yield made
    clear_away()


@pytest.fixture
def stay(house: House, panel: ChartPanel, qtbot: QtBot) -> Stay:
    """Give a measurement of five mornings, drawn in the panel."""
    made = house.measured("Deep chest", days=5)
    panel.show_measurement(made.id)
    qtbot.waitUntil(lambda: panel.plots is not None and panel.plots.isVisible())
    panel.setFocus()
    return made


def plots_of(panel: ChartPanel) -> Plots:
    assert panel.plots is not None
    return panel.plots


def data_of(house: House, stay: Stay) -> ChartData:
    return queries.chart(house.session.logbook, stay.id)


def said(house: House, stay: Stay, place: int) -> str:
    return read_out(data_of(house, stay), place, house.clock())


# --- what is drawn ---


def test_the_plots_get_trend_bars_and_target(house: House, panel: ChartPanel, stay: Stay) -> None:
    data, plots = data_of(house, stay), plots_of(panel)
    times, medians = plots._median.getData()
    assert list(times) == [point.at_s for point in data.trend]
    assert list(medians) == [point.daily_kwh.value for point in data.trend]
    assert list(plots._low.getData()[1]) == [point.daily_kwh.low for point in data.trend]
    assert list(plots._high.getData()[1]) == [point.daily_kwh.high for point in data.trend]
    bars = plots._bars.opts
    assert list(bars["x0"]) == [span.from_s for span in data.spans]
    assert list(bars["y1"]) == [span.power_w for span in data.spans]
    assert len(plots._points.getData()[0]) == len(data.readings_s) == 6
    assert plots._target.getRegion() == (data.target_low_kwh, data.target_high_kwh)
    assert plots._target.isVisible()


def test_all_of_it_is_in_sight(house: House, panel: ChartPanel, stay: Stay) -> None:
    data, plots = data_of(house, stay), plots_of(panel)
    (left, right), (low, high) = plots.daily.viewRange()
    assert left < data.readings_s[0] < data.readings_s[-1] < right
    assert low < min(point.daily_kwh.value for point in data.trend)
    assert high > max(point.daily_kwh.value for point in data.trend)
    assert plots.watts.viewRange()[1][1] > max(span.power_w for span in data.spans)
    assert plots.watts.viewRange()[0] == plots.daily.viewRange()[0]


def test_a_new_reading_is_drawn_into_the_same_plots(house: House, panel: ChartPanel, stay: Stay) -> None:
    before = plots_of(panel)
    house.read(stay.id, 0.0, 6.2)
    assert panel.plots is before
    assert len(before._points.getData()[0]) == 7
    assert panel.words.text() == said(house, stay, 6)
    house.session.undo()
    assert len(before._points.getData()[0]) == 6


def test_a_reset_and_the_finish_are_marked(house: House, panel: ChartPanel, stay: Stay) -> None:
    plots = plots_of(panel)
    house.session.do(reset_meter, stay.id, ReadingDraft(house.ago(0.5), 0.0), exact_zero=True)
    assert [line.value() for line in plots._lines] == [house.ago(0.5).timestamp()] * 2
    house.session.do(finish_measurement, stay.id, house.clock())
    moments = {line.value() for line in plots._lines}
    assert moments == {house.ago(0.5).timestamp(), house.clock().timestamp()}
    house.session.undo()
    house.session.undo()
    assert plots._lines == []


# --- read-out ---


def test_keys_go_from_reading_to_reading(house: House, panel: ChartPanel, stay: Stay) -> None:
    assert panel.words.text() == said(house, stay, 5)
    hands.press(LEFT)
    assert panel.words.text() == said(house, stay, 4)
    hands.press(LEFT, times=9)
    assert panel.words.text() == said(house, stay, 0)
    assert "first reading" in panel.words.text().replace("\u00a0", " ")
    hands.press(RIGHT)
    assert panel.words.text() == said(house, stay, 1)
    cursor = plots_of(panel)._cursors[0]
    assert cursor.value() == data_of(house, stay).readings_s[1]
    hands.press(RIGHT, times=9)
    assert panel.words.text() == said(house, stay, 5)
    assert len({said(house, stay, place) for place in range(6)}) == 6


def test_home_shows_all_again(house: House, panel: ChartPanel, stay: Stay) -> None:
    plots = plots_of(panel)
    before = plots.daily.viewRange()
    plots.daily.setXRange(0.0, 10.0, padding=0)
    hands.press(HOME)
    assert plots.daily.viewRange() == before
    assert data_of(house, stay).trend


def test_the_pointer_reads_out_and_the_chosen_comes_back(
    house: House, panel: ChartPanel, stay: Stay, qtbot: QtBot
) -> None:
    plots, data = plots_of(panel), data_of(house, stay)
    hands.press(LEFT)
    moves = count()

    def is_read_out() -> bool:
        """Move to the third reading; again and again, as plots drop moves that come too fast."""
        reading = QPointF(data.readings_s[2], data.trend[1].daily_kwh.value)
        at = plots.mapFromScene(plots.daily.vb.mapViewToScene(reading))
        QTest.mouseMove(plots.viewport(), at + QPoint(next(moves) % 2, 0))
        return panel.words.text() == said(house, stay, 2)

    qtbot.waitUntil(is_read_out)
    plots.hovered.emit(None)
    assert panel.words.text() == said(house, stay, 4)


def test_the_wheel_zooms_only_with_ctrl(panel: ChartPanel, stay: Stay) -> None:
    plots = plots_of(panel)
    before = plots.daily.viewRange()[0]
    turn_wheel(plots, Qt.KeyboardModifier.NoModifier)
    assert plots.daily.viewRange()[0] == before
    turn_wheel(plots, Qt.KeyboardModifier.ControlModifier)
    left, right = plots.daily.viewRange()[0]
    assert right - left < before[1] - before[0]
    assert stay.id


def turn_wheel(plots: Plots, held: Qt.KeyboardModifier) -> None:
    at = plots.mapFromScene(plots.daily.sceneBoundingRect().center())
    point, there = QPointF(at), QPointF(plots.viewport().mapToGlobal(at))
    turned = QWheelEvent(
        point, there, QPoint(), QPoint(0, 120), Qt.MouseButton.NoButton, held,
        Qt.ScrollPhase.NoScrollPhase, False,  # noqa: FBT003 (Qt's own)
    )  # fmt: skip
    QApplication.sendEvent(plots.viewport(), turned)


# --- nothing to draw yet ---


def message(panel: ChartPanel) -> str:
    return panel.message.text() if panel.message.isVisible() else ""


def test_what_is_not_there_yet_is_said_in_words(house: House, panel: ChartPanel, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: message(panel).startswith("Nothing measured yet."))
    appliance_id = house.appliance()
    planned = house.planned(appliance_id)
    panel.show_measurement(planned)
    assert message(panel).startswith("Planned.")
    other = house.started(house.appliance("Lamp"), house.meter(), days_ago=2.0)
    panel.show_measurement(other)
    assert message(panel).startswith("One reading so far.")
    assert panel.plots is None
    house.read(other, 1.0, 1.0)
    qtbot.waitUntil(lambda: message(panel) == "")
    assert plots_of(panel).isVisible()
    panel.show_measurement(planned)
    assert message(panel).startswith("Planned.")
    assert not plots_of(panel).isVisible()
    assert not panel.words.isVisible()


def test_readings_of_different_runs_are_all_counted(house: House, panel: ChartPanel, qtbot: QtBot) -> None:
    stay = house.started(house.appliance("Lamp"), house.meter(), days_ago=2.0)
    zero = ReadingDraft(house.ago(1.0), 0.0, 0.0)
    house.session.do(swap_meter, stay, house.meter("Amber meter"), zero, exact_zero=True)
    panel.show_measurement(stay)
    qtbot.waitUntil(lambda: message(panel).startswith("2 readings so far, each the first since"))


def test_a_hidden_panel_draws_nothing_until_it_is_shown(house: House, panel: ChartPanel, stay: Stay) -> None:
    panel.hide()
    house.read(stay.id, 0.0, 6.2)
    assert len(plots_of(panel)._points.getData()[0]) == 6
    panel.show()
    assert len(plots_of(panel)._points.getData()[0]) == 7


# --- theme and words ---


def test_another_theme_keeps_data_and_place(
    dressed: QApplication, house: House, panel: ChartPanel, stay: Stay
) -> None:
    plots = plots_of(panel)
    hands.press(LEFT, times=2)
    before = [list(values) for values in plots._median.getData()]
    light = panel.grab().toImage()
    apply_theme(dressed, dark=True)
    assert [list(values) for values in plots._median.getData()] == before
    assert panel.words.text() == said(house, stay, 3)
    assert plots.backgroundBrush().color().name() == DARK.sheet.lower()
    assert plots._median.opts["pen"].color().name() == DARK.trend.lower()
    assert panel.grab().toImage() != light
    apply_theme(dressed, dark=False)


def test_the_charts_are_told_in_words(house: House, panel: ChartPanel, stay: Stay) -> None:
    data = data_of(house, stay)
    for widget in (panel, plots_of(panel)):
        assert widget.accessibleName() == "Charts of Deep chest"
        assert widget.accessibleDescription() == f"{summary(data)} {HOW}."
    assert "6 readings over 5 days" in panel.accessibleDescription()
    house.read(stay.id, 0.0, 6.2)
    assert "7 readings over 6 days" in panel.accessibleDescription()
