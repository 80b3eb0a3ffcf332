# SPDX-License-Identifier: BSD-3-Clause
"""Write the JSON Schema of all messages, for the client's types: `python -m scripts.make_client_types [--out FILE]`.

One object schema, `Api`, has one property for each message, so that a generator of types reaches all of them.
What the server reads is described as it may be written, what it sends as it is sent.
"""

import argparse
import json
from pathlib import Path
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import JsonSchemaMode, models_json_schema

from ringwright.web.messages import air, build, calibration, designs, live, proof, record, search, site, tune
from ringwright.web.messages.base import Problem

RECEIVED: tuple[type[BaseModel], ...] = (
    live.ClientMessage,
    designs.SaveRequest,
    record.NoteSent,
    record.SweepsSent,
    record.MomentsSent,
    calibration.CalibrationSent,
    tune.TuneAsked,
    air.AirAsked,
    air.AirNullAsked,
    air.AirPromiseAsked,
    air.AirPictureAsked,
    air.AirSlotsAsked,
    build.SheetAsked,
)
SENT: tuple[type[BaseModel], ...] = (
    live.ServerMessage,
    designs.Health,
    designs.DesignList,
    designs.DesignText,
    designs.StartDraft,
    designs.Saved,
    designs.Conflict,
    designs.FigureTable,
    site.SiteTable,
    search.StockList,
    search.BriefStart,
    proof.ProofTable,
    proof.SweepList,
    record.RecordLine,
    record.RecordTable,
    record.DesignOnLine,
    record.NoteKept,
    record.SweepsKept,
    record.MomentsCompared,
    record.TrendDrawn,
    record.TakenIn,
    calibration.CalibrationList,
    calibration.CalibrationKept,
    tune.TuneSaid,
    air.AirSeen,
    air.AirNull,
    air.AirPromised,
    air.AirHeadings,
    air.AirKept,
    build.BuildFound,
    Problem,
)


def client_schema() -> dict[str, Any]:
    """The schema; titles of fields are left out, since generators would make a type of each."""
    modes: list[tuple[type[BaseModel], JsonSchemaMode]] = [
        *((model, "validation") for model in RECEIVED),
        *((model, "serialization") for model in SENT),
    ]
    references, definitions = models_json_schema(modes, ref_template="#/$defs/{model}")
    for definition in definitions["$defs"].values():
        for part in definition.get("properties", {}).values():
            part.pop("title", None)
    top_level = {model.__name__: reference for (model, _), reference in references.items()}
    return {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": "Api",
        "type": "object",
        "additionalProperties": False,
        "required": list(top_level),
        "properties": top_level,
        "$defs": _plain(definitions["$defs"]),
    }


def _plain(schema: Any) -> Any:
    """`prefixItems` under its older name, no limits on the length of lists: what generators of types know."""
    if isinstance(schema, list):
        return [_plain(part) for part in schema]
    if isinstance(schema, dict):
        renamed = {"items" if key == "prefixItems" else key: part for key, part in schema.items()}
        is_tuple = isinstance(renamed.get("items"), list)
        return {key: _plain(part) for key, part in renamed.items() if is_tuple or key != "maxItems"}
    return schema


def main() -> None:
    parser = argparse.ArgumentParser(description="JSON Schema of the messages between server and client.")
    parser.add_argument("--out", type=Path, metavar="FILE", help="write there; standard output without it")
    options = parser.parse_args()
    text = json.dumps(client_schema(), indent=2, ensure_ascii=False) + "\n"
    if options.out:
        options.out.write_text(text, encoding="utf-8")
    else:
        print(text, end="")


if __name__ == "__main__":
    main()
