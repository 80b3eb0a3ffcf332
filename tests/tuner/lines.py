# SPDX-License-Identifier: BSD-3-Clause
"""Lines as hosts and boards write them, with check sums that fit, for tests that need odd ones."""

import json

from ringwright.tuner.line_check import sealed
from ringwright.tuner.messages import VERSION


def sealed_line(**fields):
    """A line of these fields, in this version unless they name another."""
    return sealed(json.dumps({"v": VERSION} | fields))
