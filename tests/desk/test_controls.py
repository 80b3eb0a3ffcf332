# SPDX-License-Identifier: BSD-3-Clause
"""Whatever a page lets a person drag or choose, the reader of design files takes."""

from typing import get_args

import pytest
from pydantic import TypeAdapter

from ringwright.antenna.design_file.models import DesignTable, Table
from ringwright.desk.controls import CHOICES, SLIDERS


def adapter_of(key):
    """Reads one value as the field of that dotted key does."""
    model: type[Table] = DesignTable
    *tables, name = key.split(".")
    for table in tables:
        annotation = model.model_fields[table].annotation
        model = next(
            part
            for part in (annotation, *get_args(annotation))
            if isinstance(part, type) and issubclass(part, Table)
        )
    field = model.model_fields[name]
    return TypeAdapter(field.rebuild_annotation())


@pytest.mark.parametrize("slider", SLIDERS, ids=lambda slider: slider.key)
def test_both_ends_of_a_slider_are_values_of_its_key(slider):
    assert slider.low < slider.high
    if slider.is_logarithmic:
        assert slider.low > 0
    for end in (slider.low, slider.high):
        number = f"{end:.{slider.digits}f}"
        assert float(number) == end
        bare = int(number) if slider.digits == 0 else float(number)
        adapter_of(slider.key).validate_python(bare if slider.unit is None else f"{number} {slider.unit}")


@pytest.mark.parametrize("choice", CHOICES, ids=lambda choice: choice.key)
def test_every_option_of_a_choice_is_a_value_of_its_key(choice):
    for option in choice.options:
        adapter_of(choice.key).validate_python([option] if choice.is_multiple else option)


def test_no_key_has_two_controls():
    keys = [control.key for control in (*SLIDERS, *CHOICES)]
    assert len(keys) == len(set(keys))
