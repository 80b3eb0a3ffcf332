# SPDX-License-Identifier: BSD-3-Clause
"""What every closed form asks of its arguments before it computes: finite numbers on the right side of zero."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ringwright.errors import OutOfRangeError

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]


def _refuse(name: str, value: FloatArray, limit: str) -> OutOfRangeError:
    shown = np.array2string(value, threshold=6, precision=6)
    return OutOfRangeError(f"{name} must be finite and {limit}, got {shown}")


def positive(name: str, value: ArrayLike) -> FloatArray:
    """`value` as an array of float64, refused unless all of it is finite and above zero.

    Parameters
    ----------
    name : str
        What the caller's argument is called; the message starts with it.
    value : array_like of float, shape (...)
        In the caller's unit. [any]

    Returns
    -------
    ndarray of float64, shape (...)
        In the caller's unit. [any]

    Raises
    ------
    OutOfRangeError
        If any of it is not.

    Notes
    -----
    Nothing is clipped or replaced.
    """
    x = np.asarray(value, dtype=float)
    if not np.all(np.isfinite(x) & (x > 0.0)):
        raise _refuse(name, x, "> 0")
    return x


def not_negative(name: str, value: ArrayLike) -> FloatArray:
    """`value` as an array of float64, refused unless all of it is finite and zero or more.

    Parameters
    ----------
    name : str
        What the caller's argument is called; the message starts with it.
    value : array_like of float, shape (...)
        In the caller's unit. [any]

    Returns
    -------
    ndarray of float64, shape (...)
        In the caller's unit. [any]

    Raises
    ------
    OutOfRangeError
        If any of it is not.

    Notes
    -----
    Nothing is clipped or replaced.
    """
    x = np.asarray(value, dtype=float)
    if not np.all(np.isfinite(x) & (x >= 0.0)):
        raise _refuse(name, x, ">= 0")
    return x


def finite(name: str, value: ArrayLike) -> FloatArray:
    """`value` as an array of float64, refused unless all of it is finite.

    Parameters
    ----------
    name : str
        What the caller's argument is called; the message starts with it.
    value : array_like of float, shape (...)
        In the caller's unit. [any]

    Returns
    -------
    ndarray of float64, shape (...)
        In the caller's unit. [any]

    Raises
    ------
    OutOfRangeError
        If any of it is not.

    Notes
    -----
    Nothing is clipped or replaced.
    """
    x = np.asarray(value, dtype=float)
    if not np.all(np.isfinite(x)):
        raise _refuse(name, x, "a number")
    return x
