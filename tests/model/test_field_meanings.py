"""What fields mean, read from the text below each."""

from __future__ import annotations

from generator.model.base import Frozen
from generator.model.field_meanings import WithMeanings, field_meanings


class Told(Frozen):
    """A part with one field that is told of and one that is not."""

    width: int
    """How wide it is,
    from side to side."""
    height: int

    def area(self) -> int:
        """Not a field."""
        return self.width * self.height


class ToldAnew(Told):
    """A part of which the one field is another one, and the other is told of."""

    width: int
    height: int
    """How high it is."""


class Holder(Frozen):
    """A part of a part."""

    plain: Told
    """What it holds."""
    same: Told
    """A part with one field that is told of and one that is not."""


def test_a_text_below_a_field_is_what_it_means() -> None:
    assert field_meanings(Told) == {"width": "How wide it is,\nfrom side to side."}


def test_a_field_written_anew_is_told_of_anew() -> None:
    assert field_meanings(ToldAnew) == {"height": "How high it is."}


def test_a_field_of_the_model_before_keeps_its_text() -> None:
    class Longer(Told):
        depth: int
        """How deep it is."""

    assert field_meanings(Longer) == {"width": "How wide it is,\nfrom side to side.", "depth": "How deep it is."}


def test_a_schema_says_what_fields_mean_but_for_what_their_own_model_says() -> None:
    schema = Holder.model_json_schema(schema_generator=WithMeanings)
    assert schema["properties"] == {
        "plain": {"$ref": "#/$defs/Told", "description": "What it holds."},
        "same": {"$ref": "#/$defs/Told"},
    }
    assert schema["$defs"]["Told"]["properties"] == {
        "width": {"title": "Width", "type": "integer", "description": "How wide it is,\nfrom side to side."},
        "height": {"title": "Height", "type": "integer"},
    }
