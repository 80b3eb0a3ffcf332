# SPDX-License-Identifier: BSD-3-Clause
"""Power that wires send into the earth, by their plane-wave spectrum at z = 0: no table, no difference."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np
from scipy.special import gammainccinv

from ringwright.physics.checks import ComplexArray, FloatArray
from ringwright.physics.constants import EPS_0, MU_0
from ringwright.physics.far_field import current_elements
from ringwright.physics.graph import WireGraph
from ringwright.physics.half_space.spectrum import wavenumber
from ringwright.physics.phasors import phasors
from ringwright.physics.static_kernel import gauss_unit

__all__ = ["earth_power"]

TOLERANCE = 1e-6
PANEL_ORDER = 12
SMOOTH = 1.5
"""A panel is no longer than this many times its middle's distance to the nearest singularity: 5e-6 with twelve points,
sea water at the worst."""
SHORTEST = 0.05
"""But not shorter than this share of a singularity: of the kink at g1 = 0, where panels end, 1e-6 is then left."""
SWING = 16.0
"""Nor does a source's wave turn or fall through more than this along it. [rad]"""
FADED = 14.0
"""exp(-g z) with g z beyond it adds nothing."""
MOST_AT_ONCE = 400_000  # waves times elements: bounds the memory of a wide site


def earth_power(graph: WireGraph, current: ComplexArray, *, frequency: float, eps_c: complex) -> float:
    r"""Flux of power through z = 0 into a lossy earth.

    .. math::
        P = \frac{1}{4\pi^2} \int \left[ \frac{\omega \mu_0 |J_t|^2 \, \mathrm{Im}\, g_1}{|g_0 + g_1|^2}
        + \frac{|\epsilon_c|^2 |j k_\rho J_z + g_0 J_k|^2}{|\epsilon_c g_0 + g_1|^2}
        \, \mathrm{Re}\, \frac{g_1}{j \omega \epsilon_0 \epsilon_c} \right] d^2 k_\rho

    with J the currents' spectrum, each weighted by exp(-g_0 z), J_k along and J_t across the wave.

    Parameters
    ----------
    graph : WireGraph
        The wires, z > 0. [m]
    current : ndarray of complex128, shape (n_segments, 2)
        Rms at start and end of each segment, along it; what arrives at a node leaves it. [A]
    frequency : float
        [Hz]
    eps_c : complex
        Complex relative permittivity of the earth; a perfect one takes nothing. [1]

    Returns
    -------
    float
        [W]

    Notes
    -----
    Own derivation, docs/explanation/half-space.md: tangential fields are continuous, and below the surface every wave
    has the impedance of its polarisation. 1e-5 of the power for wires from 0.1 m up.
    """
    if not np.isfinite(eps_c):
        return 0.0
    sources = _Sources.of(graph, current)
    k0 = wavenumber(frequency)
    total = 0.0
    for waves in _waves(sources, k0, eps_c):
        density = _density(sources.not_faded(waves.least), waves, k0=k0, eps_c=eps_c)
        total += float(waves.weight @ density)
    return total / (2.0 * np.pi)


@dataclass(frozen=True, slots=True, eq=False)
class _Sources:
    """Elements about the z axis: places [m]; moments [A m] and, in the fourth column, what current they let go [A]."""

    points: FloatArray
    moments: ComplexArray

    @classmethod
    def of(cls, graph: WireGraph, current: ComplexArray) -> "_Sources":
        points, moments = current_elements(graph, current)
        level = points[:, :2]
        middle = (level.max(axis=0) + level.min(axis=0)) / 2.0
        per_segment = len(points) // len(current)
        let_go = np.repeat((current[:, 0] - current[:, 1]) / per_segment, per_segment)
        return cls(points - np.array([*middle, 0.0]), np.column_stack([moments, let_go]))

    @property
    def radius(self) -> float:
        return float(np.linalg.norm(self.points[:, :2], axis=1).max())

    def not_faded(self, g: float) -> "_Sources":
        """Those low enough for exp(-g z)."""
        low = g * self.points[:, 2] < FADED
        return _Sources(self.points[low], self.moments[low])


@dataclass(frozen=True, slots=True, eq=False)
class _Waves:
    """Plane waves: attenuation with height [1/m], transverse wavenumber [1/m], k_rho dk_rho; least real g0 [1/m]."""

    g0: ComplexArray
    k_rho: FloatArray
    weight: FloatArray
    least: float


def _waves(sources: _Sources, k0: float, eps_c: complex) -> Iterator[_Waves]:
    """Waves that travel, g0 = j k0 c with c the sine of their elevation, then those that fade, g0 = g.

    Both c and g keep the sources' spectrum entire. What the earth adds is singular beyond grazing, where
    eps_c g0 + g1 = 0, and where g1 = 0.
    """
    heights, radius = sources.points[:, 2], sources.radius
    grazing = np.array([1.0, -1.0], dtype=complex) / complex(np.sqrt(1.0 + eps_c))
    branch = complex(np.sqrt(eps_c - 1.0))
    widest = max(2.0 * radius, float(np.ptp(heights)), 1e-9)
    c, dc = _nodes(_panels(0.0, 1.0, grazing, longest=SWING / k0 / widest))
    yield _Waves(np.asarray(1j * k0 * c), k0 * np.sqrt(1.0 - c * c), k0 * k0 * c * dc, 0.0)
    lowest = float(heights.min())
    end = float(gammainccinv(3.0, TOLERANCE)) / (2.0 * lowest)  # flux of a charge: g^2 exp(-2 g z) dg
    singular = np.array([*(1j * k0 * grazing), k0 * branch], dtype=complex)
    kink = min(k0 * branch.real, end)
    longest = SWING / 2.0 / max(radius, lowest)
    panels = _panels(0.0, kink, singular, longest=longest) + _panels(kink, end, singular, longest=longest)
    # Waves that need about as many azimuths go together.
    for _, some in groupby(panels, lambda panel: np.ceil(np.log2(max(1.0, panel[1] * radius)))):
        together = list(some)
        g, dg = _nodes(together)
        yield _Waves(g.astype(complex), np.sqrt(k0 * k0 + g * g), g * dg, together[0][0])


_Panel = tuple[float, float]


def _panels(start: float, end: float, singular: ComplexArray, *, longest: float) -> list[_Panel]:
    """From `start` to `end` in pieces short against their distance from every singularity."""
    edges = [start]
    while edges[-1] < end:
        length = min(end - edges[-1], longest)
        while length > _allowed(edges[-1] + length / 2.0, singular):
            length *= 0.8
        edges.append(edges[-1] + length if length < 0.99 * (end - edges[-1]) else end)
    return list(pairwise(edges))


def _allowed(middle: float, singular: ComplexArray) -> float:
    return float(np.maximum(SMOOTH * abs(singular - middle), SHORTEST * abs(singular) + 1e-6).min())


def _nodes(panels: list[_Panel]) -> tuple[FloatArray, FloatArray]:
    """Gauss nodes and weights of all panels."""
    x, w = gauss_unit(PANEL_ORDER)
    nodes = [(a + (b - a) * x, (b - a) * w) for a, b in panels]
    return np.concatenate([node for node, _ in nodes]), np.concatenate([weight for _, weight in nodes])


def _density(sources: _Sources, waves: _Waves, *, k0: float, eps_c: complex) -> FloatArray:
    """Mean over azimuth of the spectral flux at each k_rho."""
    omega = k0 / np.sqrt(MU_0 * EPS_0)
    g0, k_rho = waves.g0, waves.k_rho
    g1 = np.sqrt(k_rho**2 - k0**2 * eps_c)
    along, across, up = _spectrum(sources, waves)
    te = omega * MU_0 * g1.imag / abs(g0 + g1) ** 2
    tm = abs(eps_c / (eps_c * g0 + g1)) ** 2 * (g1 / (1j * omega * EPS_0 * eps_c)).real
    magnetic = abs(1j * k_rho[:, None] * up + g0[:, None] * along) ** 2
    return np.asarray((te[:, None] * abs(across) ** 2 + tm[:, None] * magnetic).mean(axis=1))


def _spectrum(sources: _Sources, waves: _Waves) -> tuple[ComplexArray, ComplexArray, ComplexArray]:
    """Spectrum of the current along and across the wave and upwards, each (n_waves, azimuths).

    Short waves see the charges: there the current along the wave follows from continuity, j k_rho J_k - g_0 J_z =
    spectrum of the current let go, so that elements in a row leave no charge between them.
    """
    x, y, z, let_go, cosine, sine = _sums(sources, waves)
    g0, k_rho = waves.g0[:, None], waves.k_rho[:, None]
    along = np.where(g0.real > 0.0, (let_go + g0 * z) / (1j * k_rho), x * cosine + y * sine)
    return along, y * cosine - x * sine, z


def _sums(sources: _Sources, waves: _Waves) -> tuple[ComplexArray, ...]:
    """Sums over the elements of moments times waves, (n_waves, azimuths) each, and cosine and sine of the azimuths.

    Opposite azimuths have conjugate phases: half of them are computed.
    """
    half = _azimuths(2.0 * float(waves.k_rho.max()) * sources.radius) // 2
    angle = np.arange(half) * np.pi / half
    direction = np.stack([np.cos(angle), np.sin(angle)])
    place = (sources.points[:, :2] @ direction).T
    faded = np.exp(-waves.g0[:, None] * sources.points[:, 2])[:, :, None] * sources.moments
    both = np.concatenate([faded, faded.conj()], axis=2)
    out = np.empty((len(waves.k_rho), half, 8), dtype=np.complex128)
    step = max(1, MOST_AT_ONCE // place.size)
    for first in range(0, len(out), step):
        chosen = slice(first, first + step)
        out[chosen] = phasors(waves.k_rho[chosen, None, None] * place) @ both[chosen]
    there, back = out[..., :4], out[..., 4:].conj()
    cosine, sine = np.concatenate([direction, -direction], axis=1)
    return (*np.moveaxis(np.concatenate([there, back], axis=1), 2, 0), cosine, sine)


def _azimuths(swing: float) -> int:
    """An even number of steps that integrates a power pattern whose harmonics run to about `swing`."""
    return 2 * int(np.ceil(swing / 2.0 + 2.5 * np.cbrt(swing) + 3.0))
