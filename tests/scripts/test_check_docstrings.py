# SPDX-License-Identifier: BSD-3-Clause
"""Good and bad docstrings; the form is numpydoc's (numpydoc docstring guide, sections Parameters, Returns, Notes)."""

import pytest

from scripts.check_docstrings import complaints

GOOD = '''
def skin_depth(frequency: ArrayLike, conductivity: ArrayLike, *, mu_r: ArrayLike = 1.0, order: int = 2) -> FloatArray:
    """Depth.

    Parameters
    ----------
    frequency, conductivity : array_like of float, shape (...)
        Frequency, > 0. [Hz]  Conductivity, > 0. [S/m]

        Broadcast together.
    mu_r : array_like of float
        Relative permeability [1]_. [1]
    order : int
        Of the series.

    Returns
    -------
    ndarray of float64, shape (...)
        Skin depth. [m]

    References
    ----------
    .. [1] A book.
    """
'''


def found(source: str) -> list[str]:
    return [line.split(": ", 1)[1] for line in complaints(source, "module.py")]


def test_a_complete_docstring_passes():
    assert found(GOOD) == []


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        ("[Hz]", "", None),  # the group's other unit may serve both
        (
            " [1]\n    order",
            "\n    order",
            "skin_depth: parameter mu_r has no [unit]",
        ),  # a citation is no unit
        ("    order : int\n        Of the series.\n", "", "skin_depth: parameter order is not described"),
        ("    order : int", "    grade : int", "skin_depth: describes grade, which is no parameter"),
        (" [m]", "", "skin_depth: result has no [unit]"),
        ("Returns\n    -------", "Result\n", "skin_depth: has no Returns section"),
        ("References\n    ----------", "", "skin_depth: has neither Notes nor References"),
        ("def skin_depth", "def _skin_depth", None),
        ("def skin_depth", "__all__ = ['other']\ndef skin_depth", None),
        ("def skin_depth", "__all__: list[str] = ['skin_depth']\ndef skin_depth", None),
    ],
)
def test_each_missing_part_is_named(old, new, complaint):
    assert old in GOOD
    assert ([complaint] if complaint else []) == [c for c in found(GOOD.replace(old, new)) if c == complaint]
    assert bool(found(GOOD.replace(old, new))) == bool(complaint)


def test_no_docstring_is_named_with_its_line():
    assert list(complaints("x = 1\ndef q(w: float) -> float: ...", "m.py")) == ["m.py:2: q: has no docstring"]
