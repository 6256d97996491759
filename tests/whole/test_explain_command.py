"""`hearthload explain`: words, equations where they are asked for, JSON, one sentence where it fails."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.figures import ends_as_printed
from hearthload.domain.meter import MeterDraft
from hearthload.domain.reading import ReadingDraft
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.measurements import plan_measurement, start_measurement
from hearthload.service.edits.meters import add_meter
from hearthload.service.edits.readings import add_reading
from hearthload.service.explain import explain
from hearthload.service.logbook import create_logbook, open_logbook

if TYPE_CHECKING:
    from tests.whole.conftest import Hearthload

STEPS = (1.0, 1.08, 0.94, 1.03, 0.97, 1.06)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give a logbook with a refrigerator (1) measured for six days, and two freezers that were not."""
    path = tmp_path / "home.hearthload"
    began = datetime.now().astimezone().replace(microsecond=0) - timedelta(days=7)
    with create_logbook(path) as logbook:
        add_appliance(logbook, ApplianceDraft("Larder refrigerator", Kind.REFRIGERATOR, running_w=90.0))
        for room in ("cellar", "shed"):
            add_appliance(logbook, ApplianceDraft(f"Freezer, {room}", Kind.FREEZER))
        add_meter(logbook, MeterDraft("Grey meter"))
        start_measurement(logbook, 1, 1, ReadingDraft(began, 0.0), exact_zero=True)
        for day in range(1, len(STEPS) + 1):
            draft = ReadingDraft(began + timedelta(days=day), round(sum(STEPS[:day]), 2))
            add_reading(logbook, 1, draft)
    return path


def known(path: Path) -> tuple[dict[str, Any], str]:
    """Give the explanation as values and the daily figure in print."""
    with open_logbook(path) as logbook:
        daily = logbook.estimates.estimate(1).daily_kwh
        assert daily is not None
        told = asdict(explain(logbook, 1, datetime.now().astimezone()))
        return told, f"about {ends_as_printed(daily)[0]} kWh."


def test_the_words_alone_unless_equations_are_asked_for(hearthload: Hearthload, path: Path) -> None:
    told, figure = known(path)
    answer = hearthload("explain", path, "larder")
    assert (answer.code, answer.err) == (0, "")
    words = " ".join(answer.out.split())
    assert figure in words
    assert all(step["text"] in words for step in told["steps"])
    assert "equations" not in words
    assert not any(step["equation"] in words for step in told["steps"] if step["equation"])


def test_words_first_and_equations_below(hearthload: Hearthload, path: Path) -> None:
    told, figure = known(path)
    answer = hearthload("explain", path, "larder", "--equations")
    assert (answer.code, answer.err) == (0, "")
    lines = answer.out.splitlines()
    assert lines[0] == "Larder refrigerator"
    assert max(len(line) for line in lines) <= 88
    at = lines.index("The equations")
    words, equations = (" ".join(" ".join(part).split()) for part in (lines[1:at], lines[at:]))
    assert figure in words
    for step in told["steps"]:
        heading = step["heading"] if step["heading"].endswith("?") else f"{step['heading']}."
        assert f"{heading} {step['text']}" in words
        if step["equation"]:
            label = heading if heading.endswith("?") else f"{step['heading']}:"
            assert f"{label} {step['equation']}" in equations
            assert step["equation"] not in words
    # A figure stays with its sign and its unit, whatever the width.
    assert not any(line.endswith("±") or line.startswith(("%", "W ", "kWh")) for line in lines)


def test_json_is_the_same_for_machines(hearthload: Hearthload, path: Path) -> None:
    answer = hearthload("explain", path, "LARDER REFRIGERATOR", "--json")
    assert (answer.code, answer.err) == (0, "")
    told, figure = known(path)
    told["steps"] = list(told["steps"])
    assert answer.json() == told
    assert any(figure in step["text"] for step in answer.json()["steps"])


def test_what_cannot_be_explained_is_refused_in_a_sentence(hearthload: Hearthload, path: Path) -> None:
    hearthload("explain", path, "toaster").refused("no appliance", "toaster", "Larder refrigerator")
    hearthload("explain", path, "Freezer, cellar").refused("Freezer, cellar", "not measured yet")
    hearthload("explain", path, "freezer", "--json").refused("any of", "cellar", "shed")


def test_a_file_that_is_not_there_is_refused(hearthload: Hearthload, path: Path) -> None:
    hearthload("explain", path.with_name("none.hearthload"), "larder").refused("none.hearthload")
    assert not path.with_name("none.hearthload").exists()
    hearthload("explain", path).refused("appliance")


def test_one_that_is_only_planned_was_never_measured(hearthload: Hearthload, path: Path) -> None:
    with open_logbook(path) as logbook:
        plan_measurement(logbook, 3, None)
    hearthload("explain", path, "Freezer, shed").refused("not measured yet")
