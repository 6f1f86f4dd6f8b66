"""Models of which there are very many: what they share changes nothing of what they are."""

from __future__ import annotations

import pickle

from generator.model.result import Input


def an_input(value: float, *, symbol: str = "n") -> Input:
    return Input(symbol=symbol, meaning="particles counted", value=value, unit="count", where="fit[a].in_mask_count")


def test_objects_that_were_given_the_same_fields_share_their_names() -> None:
    first, second = an_input(1), an_input(2)
    assert first.model_fields_set is second.model_fields_set
    assert first.model_fields_set == {"symbol", "meaning", "value", "unit", "where"}


def test_an_object_that_was_given_other_fields_has_its_own() -> None:
    plain = an_input(1)
    with_working = Input(**dict(an_input(2)) | {"working": None})
    assert with_working.model_fields_set == plain.model_fields_set | {"working"}
    assert "working" not in plain.model_dump(exclude_unset=True)
    assert "working" in with_working.model_dump(exclude_unset=True)


def test_as_many_but_other_fields_are_not_taken_for_the_same() -> None:
    assert an_input(1).model_fields_set == {"symbol", "meaning", "value", "unit", "where"}
    names = {"symbol", "meaning", "value", "unit", "working"}
    built = Input.model_construct(names, symbol="n", meaning="m", value=1.0, unit="count", where="", working=None)
    assert built.model_fields_set == names
    assert an_input(1).model_fields_set == {"symbol", "meaning", "value", "unit", "where"}


def test_a_changed_copy_leaves_the_others_as_they_were() -> None:
    plain = an_input(1)
    changed = plain.model_copy(update={"working": None})
    assert changed.model_fields_set == plain.model_fields_set | {"working"}
    assert an_input(3).model_fields_set == {"symbol", "meaning", "value", "unit", "where"}


def test_they_come_back_from_a_pickle_as_they_were() -> None:
    plain = an_input(1)
    again = pickle.loads(pickle.dumps(plain))
    assert again == plain
    assert again.model_fields_set == plain.model_fields_set
