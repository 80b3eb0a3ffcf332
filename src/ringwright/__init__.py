# SPDX-License-Identifier: BSD-3-Clause
"""Small transmitting loops, from first thought to proof.

>>> from ringwright import Design, predict
>>> prediction = predict(Design.load("designs/first-ring.toml"))  # doctest: +SKIP
"""

import os
from importlib import import_module
from typing import TYPE_CHECKING, Any

# Small matrices lose, sometimes by a factor of a hundred, when BLAS splits them over threads.
for _variable in ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(_variable, "1")

if TYPE_CHECKING:
    from ringwright.antenna.design import Design
    from ringwright.antenna.predict import predict

__all__ = ["Design", "predict"]

_HOMES = {"Design": "ringwright.antenna.design", "predict": "ringwright.antenna.predict"}


def __getattr__(name: str) -> Any:
    """Load what is asked for only then: the command line's help must not wait for numpy."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    return [*globals(), *__all__]
