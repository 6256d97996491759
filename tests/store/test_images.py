"""Images of changed rows: joined row by row, and turned round."""

from __future__ import annotations

from hearthload.store.images import RowImage, merged

ONE, TWO, THREE = {"id": 1, "n": 1}, {"id": 1, "n": 2}, {"id": 1, "n": 3}


def image(before: dict[str, int] | None, after: dict[str, int] | None, key: int = 1) -> RowImage:
    return RowImage("meters", key, before=before, after=after)


def test_a_row_changed_twice_has_one_image_from_first_to_last() -> None:
    assert merged([image(ONE, TWO), image(TWO, THREE)]) == (image(ONE, THREE),)


def test_a_row_added_and_changed_counts_as_added() -> None:
    assert merged([image(None, ONE), image(ONE, TWO)]) == (image(None, TWO),)


def test_a_row_changed_and_removed_counts_as_removed() -> None:
    assert merged([image(ONE, TWO), image(TWO, None)]) == (image(ONE, None),)


def test_a_row_that_ended_as_it_began_did_not_change() -> None:
    assert merged([image(ONE, TWO), image(TWO, ONE)]) == ()
    assert merged([image(None, ONE), image(ONE, None)]) == ()


def test_rows_of_other_keys_and_tables_stay_apart_in_the_order_of_their_first_change() -> None:
    other_table = RowImage("runs", 1, before=None, after=ONE)
    images = [image(ONE, TWO), other_table, image(None, TWO, key=2), image(TWO, THREE)]
    assert merged(images) == (image(ONE, THREE), other_table, image(None, TWO, key=2))


def test_turned_round_twice_is_as_it_was() -> None:
    changed = image(ONE, TWO)
    assert changed.reversed() == image(TWO, ONE)
    assert changed.reversed().reversed() == changed
