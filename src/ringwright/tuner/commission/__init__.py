# SPDX-License-Identifier: BSD-3-Clause
"""Bringing a new drive up, step by step: each says what to expect, and nothing goes on that was not seen."""

from ringwright.tuner.commission.assistant import Assistant
from ringwright.tuner.commission.findings import Findings, with_findings
from ringwright.tuner.commission.plan import TITLES, StepName

__all__ = ["TITLES", "Assistant", "Findings", "StepName", "with_findings"]
