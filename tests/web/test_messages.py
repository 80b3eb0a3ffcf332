# SPDX-License-Identifier: BSD-3-Clause
"""The messages are stated once: prediction document, table of figures and the client's types agree with them."""

from typing import get_args

from pydantic import BaseModel

from ringwright.antenna.figures import FIGURES, SCHEMA, to_json
from ringwright.antenna.predict import predict
from ringwright.antenna.scenario import TERRACE_OCTAGON, shipped_text
from ringwright.desk.drafts import drafted_design
from ringwright.web.messages import base, designs, live, prediction, proof, tune
from ringwright.web.messages.prediction import Band, PredictionDocument
from scripts.make_client_types import client_schema


def leaves(model: type[BaseModel], prefix=""):
    for name, field in model.model_fields.items():
        # A group that a design need not have is a model or none.
        kinds = [kind for kind in (field.annotation, *get_args(field.annotation)) if isinstance(kind, type)]
        models = [kind for kind in kinds if issubclass(kind, BaseModel)]
        if models:
            yield from leaves(models[0], f"{prefix}{name}.")
        else:
            yield f"{prefix}{name}"


def test_the_document_of_a_prediction_is_the_one_that_is_stated():
    edits = {"site.earth": "free space", "site.metal": None, "bands": ["30m"]}
    document = to_json(predict(drafted_design(shipped_text(TERRACE_OCTAGON), edits)))
    read = PredictionDocument.model_validate(document, strict=False)
    assert read.model_dump(by_alias=True)["schema"] == SCHEMA
    assert read.bands[0].frequency_hz == 10.125e6  # the middle of 10.100 to 10.150 MHz, ITU Radio Regulations


def test_every_number_of_a_band_is_in_the_table_of_figures_and_the_other_way_round():
    stated = {key for key in leaves(Band) if key not in {"range", "range_led_by", "cross_check"}}
    assert stated == {key for key in FIGURES if not key.startswith("cross_check.")}


def test_no_message_lets_an_unknown_key_pass():
    models = [
        value
        for module in (base, designs, live, prediction, proof, tune)
        for value in vars(module).values()
        if isinstance(value, type) and issubclass(value, base.Message)
    ]
    assert len(models) > 25
    assert all(model.model_config["extra"] == "forbid" for model in models)
    assert all(model.__doc__ or model.model_fields for model in models)


def test_the_clients_schema_is_closed_and_every_reference_resolves():
    schema = client_schema()
    names = set(schema["$defs"])
    seen = set()

    def walk(part):
        if isinstance(part, dict):
            if "$ref" in part:
                seen.add(part["$ref"].removeprefix("#/$defs/"))
            if part.get("type") == "object" and "properties" in part:
                assert part["additionalProperties"] is False
            for inner in part.values():
                walk(inner)
        elif isinstance(part, list):
            for inner in part:
                walk(inner)

    walk(schema)
    assert seen == names
    kinds = schema["$defs"]["ServerMessage"]["discriminator"]["mapping"]
    parts = {"scene", "outlines", "distances", "comparison", "space", "problem"}
    site = {f"site_{part}" for part in parts}
    match = {f"match_{part}" for part in ("progress", "found", "stopped", "problem")}
    proof = {f"proof_{part}" for part in ("sweeps", "progress", "found", "stopped", "problem")}
    search = {f"search_{part}" for part in ("progress", "found", "stopped", "problem")}
    plain = {"hello", "prediction", "problem", "file_changed", "sweep_changed", "record_changed"}
    assert set(kinds) == plain | site | match | proof | search
