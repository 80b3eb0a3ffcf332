# SPDX-License-Identifier: BSD-3-Clause
"""docs/reference/proof.md names every key of the document, and no other."""

import re
from pathlib import Path

from ringwright.proof.suspects import Cause
from ringwright.web.messages.proof import (
    NextMeasurement,
    PredictedSweep,
    ProofDocument,
    ProvedSweep,
    Suspect,
    SuspectSize,
    WattsFoundPct,
)

PAGE = Path("docs/reference/proof.md").read_text(encoding="utf-8")
MODELS = (
    ProofDocument, ProvedSweep, PredictedSweep, WattsFoundPct, Suspect, SuspectSize, NextMeasurement,
)  # fmt: skip
KEYS = {field.alias or name for model in MODELS for name, field in model.model_fields.items()}


def test_every_key_and_every_cause_is_named():
    named = set(re.findall(r"`([a-z0-9_]+)`", PAGE))
    assert KEYS - named == set()
    assert {cause.value for cause in Cause} <= named


def test_no_key_is_named_that_is_not_there():
    rows = re.findall(r"^\| (`[^|]+`) \|", PAGE.split("## What was accepted")[0], re.MULTILINE)
    stated = {key for row in rows for key in re.findall(r"`([a-z0-9_]+)`", row)}
    assert stated - KEYS == {"calibration"}  # of the command line alone
