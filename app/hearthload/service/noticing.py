"""From the images of an edit to the news of what it changed."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from hearthload.service.caches import Caches, run_owners, standing
from hearthload.service.changes import Changes, Topic
from hearthload.store.images import RowImage

_TOPICS = {
    "household": Topic.HOUSEHOLD,
    "appliances": Topic.APPLIANCES,
    "meters": Topic.METERS,
    "measurements": Topic.MEASUREMENTS,
    "runs": Topic.MEASUREMENTS,
    "readings": Topic.READINGS,
    "answers": Topic.DOUBTS,
    "plans": Topic.PLANS,
    "plan_loads": Topic.PLANS,
    "plan_figures": Topic.PLANS,
    "supplies": Topic.SUPPLIES,
    "supply_members": Topic.SUPPLIES,
}


def changes_of(
    name: str, images: Sequence[RowImage], before: Caches, created_id: int | None = None
) -> Changes:
    """Tell what an edit touched; `before` is what the logbook held until then."""
    owners = run_owners(before.runs, images)
    measurement_ids: set[int] = set()
    meter_ids: set[int] = set()
    for image in images:
        row = standing(image)
        if image.table == "measurements":
            measurement_ids.add(image.key)
        elif image.table in {"runs", "answers"}:
            measurement_ids.add(row["measurement_id"])
        elif image.table == "readings":
            measurement_ids.add(owners[row["run_id"]])
        elif image.table == "meters":
            meter_ids.add(image.key)
        meter_ids.update(_meters_named(image))
    return Changes(
        name=name,
        topics=frozenset(_TOPICS[image.table] for image in images),
        appliance_ids=frozenset(_appliances(images, measurement_ids, before)),
        meter_ids=frozenset(meter_ids),
        measurement_ids=frozenset(measurement_ids),
        plan_ids=_named(images, "plans", "plan_id", ("plan_loads", "plan_figures")),
        supply_ids=_named(images, "supplies", "supply_id", ("supply_members",)),
        created_id=created_id,
    )


def _named(images: Sequence[RowImage], table: str, column: str, children: Collection[str]) -> frozenset[int]:
    """Give the numbers of a table's rows that changed, or rows of whose children did."""
    direct = {image.key for image in images if image.table == table}
    return frozenset(direct | {standing(image)[column] for image in images if image.table in children})


def _meters_named(image: RowImage) -> set[int]:
    """Give the meters that a row points to, now and before: a swap concerns both."""
    named = {row.get("meter_id") for row in (image.before, image.after) if row is not None}
    return {meter_id for meter_id in named if meter_id is not None}


def _appliances(images: Sequence[RowImage], measurement_ids: set[int], before: Caches) -> set[int]:
    owners = {key: found.appliance_id for key, found in before.measurements.items()}
    owners.update(
        (image.key, standing(image)["appliance_id"]) for image in images if image.table == "measurements"
    )
    direct = {image.key for image in images if image.table == "appliances"}
    return direct | {owners[measurement_id] for measurement_id in measurement_ids}
