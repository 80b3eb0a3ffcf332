# SPDX-License-Identifier: BSD-3-Clause
"""Power into the earth and sky of point dipoles against Sommerfeld's integrals, whatever the earth and the height.

The second route is the change of input resistance, Z/R0 = 1 + F, by the integrals of Wait (1969) and of Vogler and
Noble (NBS Monograph 72, 1964), both from memory: another integrand, another variable, adaptive quadrature.
"""

from collections.abc import Callable

import numpy as np
import pytest
from scipy.integrate import quad_vec

from ringwright.physics.constants import ETA_0
from ringwright.physics.far_field import current_elements
from ringwright.physics.graph import WireGraph, chain, join
from ringwright.physics.half_space import PERFECT_EARTH, complex_permittivity, into_earth, wavenumber
from ringwright.physics.half_space.into_earth import earth_power
from ringwright.physics.half_space.sky import field_over_earth, sky_power

TINY = 2e-3
EARTHS = {
    "sea": (70.0, 5.0),
    "fresh water": (80.0, 3e-3),
    "average": (13.0, 5e-3),
    "very dry": (3.0, 1e-4),
    "no loss at all": (4.0, 0.0),
}
Source = tuple[WireGraph, np.ndarray, float]


def size(height: float, k: float) -> float:
    """Of a source small against its height and the wavelength: half a dipole's length, a loop's side. [m]"""
    return TINY * min(height, 1.0 / k)


def dipole(axis: int, height: float, k: float) -> Source:
    """Triangular current of 1 A in the middle; power in free space of the moment 1 A times half the length."""
    half = size(height, k)
    nodes = np.array([0.0, 0.0, height]) + np.outer([-half, 0.0, half], np.eye(3)[axis])
    free = ETA_0 * (k * half) ** 2 / (6.0 * np.pi)
    return chain(nodes, radius=1e-9, closed=False), np.array([[0.0, 1.0], [1.0, 0.0]], dtype=complex), free


def loop(axis: int, height: float, k: float) -> Source:
    """A square loop of 1 A about an axis."""
    side = size(height, k)
    u, v = np.roll(np.eye(3), -axis, axis=0)[1:] * side / 2.0
    nodes = np.array([0.0, 0.0, height]) + np.array([-u - v, u - v, u + v, v - u])
    free = ETA_0 * (k * side) ** 4 / (6.0 * np.pi)
    return chain(nodes, radius=1e-9, closed=True), np.ones((4, 2), dtype=complex), free


SOURCES = {"VED": (dipole, 2), "HED": (dipole, 0), "VMD": (loop, 2), "HMD": (loop, 1)}


def resistance_ratio(kind: str, *, height: float, k: float, eps_c: complex) -> float:
    """Re(1 + F). Half of it is over waves that travel, u0 = jkc, half over those that fade, u0 = g."""

    def spectrum(u0: complex) -> complex:
        square = u0 * u0 + k * k
        u1 = np.sqrt(square - eps_c * k * k + 0j)
        te, tm = (u0 - u1) / (u0 + u1), (eps_c * u0 - u1) / (eps_c * u0 + u1)
        factor = {
            "VED": 2.0 * tm * square,
            "VMD": 2.0 * te * square,
            "HED": k * k * te + u0 * u0 * tm,
            "HMD": k * k * tm + u0 * u0 * te,
        }[kind]
        return complex(factor * np.exp(-2.0 * u0 * height))

    grazing, branch = k / abs(np.sqrt(1.0 + eps_c)), k * abs(np.sqrt(eps_c - 1.0))
    travelling = integral(lambda c: spectrum(1j * k * c), 1.0, breaks={grazing / k, 5.0 * grazing / k})
    end = max(25.0 / height, 2.0 * branch)
    fading = integral(spectrum, end, breaks={grazing, 5.0 * grazing, branch, 1.0 / height})
    return float(1.0 + (0.75j / k**3 * (-1j * k * travelling + fading)).real)


def integral(f: Callable[[float], complex], end: float, *, breaks: set[float]) -> complex:
    inside = sorted(at for at in breaks if at < end)
    value, _ = quad_vec(f, 0.0, end, epsabs=1e-14, epsrel=1e-9, limit=2000, points=inside)
    return complex(value)


def sky_and_earth(source: Source, *, frequency: float, eps_c: complex) -> tuple[float, float]:
    """Over the power in free space."""
    graph, current, free = source
    points, moments = current_elements(graph, current)
    field_at = field_over_earth(points, moments, frequency=frequency, eps_c=eps_c)
    sky = sky_power(field_at, points=points, frequency=frequency)
    return sky / free, earth_power(graph, current, frequency=frequency, eps_c=eps_c) / free


@pytest.mark.parametrize("height", [0.1, 1.0, 12.0])
@pytest.mark.parametrize("frequency", [1.8e6, 14.2e6, 54e6])
@pytest.mark.parametrize("earth", EARTHS)
@pytest.mark.parametrize("kind", SOURCES)
def test_sky_and_earth_are_the_input(kind, earth, frequency, height):
    make, axis = SOURCES[kind]
    eps_c, k = complex_permittivity(frequency, *EARTHS[earth]), wavenumber(frequency)
    sky, into = sky_and_earth(make(axis, height, k), frequency=frequency, eps_c=eps_c)
    expected = resistance_ratio(kind, height=height, k=k, eps_c=eps_c)
    assert sky >= 0.0
    assert into >= 0.0
    # A source of 1/500 of its height is (1/500)^2 from a point; the flux is made for 1e-5.
    assert sky + into == pytest.approx(expected, rel=2e-5, abs=0)


@pytest.mark.parametrize("height_waves", [0.05, 0.1, 0.25, 0.5])
def test_share_into_average_earth_at_7_1_mhz(height_waves):
    # Wait's integrals and the Fresnel far field by another program: 1 - eta_up of a vertical and of a horizontal loop.
    up = {0.05: (0.2546, 0.0150), 0.10: (0.4088, 0.1366), 0.25: (0.3234, 0.7302), 0.50: (0.5736, 0.8564)}
    eps_c, k = complex_permittivity(7.1e6, 13.0, 5e-3), wavenumber(7.1e6)
    height = height_waves * 2.0 * np.pi / k
    for axis, expected in zip((1, 2), up[height_waves], strict=True):
        sky, into = sky_and_earth(loop(axis, height, k), frequency=7.1e6, eps_c=eps_c)
        # Four decimals are printed.
        assert into / (sky + into) == pytest.approx(1.0 - expected, rel=0.6e-4 / (1.0 - expected), abs=0)


@pytest.mark.parametrize(("axis", "expected"), [(2, 0.098004), (1, 0.049120)])
def test_a_loop_close_to_earth_at_1_8_mhz(axis, expected):
    # The same integrals by another program; the limit (w mu0)^2 sigma A^2/(32 pi h), half of it for a loop that stands,
    # is 0.100460 ohm. Per square of an area of 1 m^2; what goes into the sky, R0 A^2 = 4e-5 ohm, is within the sum.
    frequency, k = 1.8e6, wavenumber(1.8e6)
    eps_c = complex_permittivity(frequency, 13.0, 5e-3)
    source = loop(axis, 0.1, k)
    sky, into = sky_and_earth(source, frequency=frequency, eps_c=eps_c)
    per_area = source[2] / size(0.1, k) ** 4
    assert (sky + into - 1.0) * per_area == pytest.approx(expected, rel=2e-5, abs=0)


def test_a_perfect_earth_takes_nothing():
    graph, current, _ = loop(1, 1.0, 0.3)
    assert earth_power(graph, current, frequency=14.2e6, eps_c=PERFECT_EARTH) == 0.0


def test_a_good_conductor_takes_what_its_skin_resistance_does():
    # Perturbation: the magnetic field at the surface is that over a mirror, twice the free one along the plane, and
    # heats Rs = 1/(sigma delta). Under a VED, H_phi = 2 I dl/(4 pi) (jk + 1/r) exp(-jkr) sin(theta)/r (Balanis, sec.
    # 4.2); its |H|^2 falls as 1/r^2 and its integral over the plane with the logarithm, cut off at the skin's own
    # numerical distance, so a horizontal loop is taken instead: H_rho ~ 1/r^2 far out.
    frequency, height = 14.2e6, 1.0
    k = wavenumber(frequency)
    sigma = 5.8e7
    graph, current, free = loop(2, height, k)

    def heat(rho: float) -> float:
        r = np.hypot(rho, height)
        sine, cosine = rho / r, height / r
        m = size(height, k) ** 2
        radial = m * cosine / (2.0 * np.pi * r**3) * (1.0 + 1j * k * r)
        across = m * sine / (4.0 * np.pi * r**3) * (1.0 + 1j * k * r - (k * r) ** 2)
        # Upward axis, point below: the parts along the plane add.
        return float(abs(2.0 * (radial * sine + across * cosine)) ** 2 * 2.0 * np.pi * rho)

    total, _ = quad_vec(heat, 0.0, 2000.0, epsrel=1e-9, limit=5000)
    surface_resistance = np.sqrt(np.pi * frequency * 4e-7 * np.pi / sigma)
    into = earth_power(graph, current, frequency=frequency, eps_c=complex_permittivity(frequency, 1.0, sigma))
    # The skin is 17 um deep, 1e-5 of the height.
    assert into == pytest.approx(surface_resistance * total, rel=1e-4, abs=0)
    assert free > into


def rail_and_ring(low: float) -> tuple[WireGraph, np.ndarray]:
    """A ring of 24 sides, half a metre in radius, and 8 m of railing, with currents that vary along them."""
    angle = np.arange(24) * 2.0 * np.pi / 24
    around = 0.5 * np.stack([np.cos(angle), 0.0 * angle, np.sin(angle)], axis=1)
    ring = chain(around + np.array([0.0, 0.0, low + 0.5]), radius=1e-2, closed=True)
    x = np.linspace(-4.0, 4.0, 33)
    rail = chain(np.stack([x, 0.0 * x + 1.2, 0.0 * x + low], axis=1), radius=1e-2, closed=False)
    there = 1.0 + (0.2 - 0.1j) * np.sin(angle)
    beside = (0.2 + 0.1j) * np.cos(np.pi * x / 8.0)
    return join([ring, rail]), np.concatenate(
        [np.stack([there, np.roll(there, -1)], axis=1), np.stack([beside[:-1], beside[1:]], axis=1)]
    )


@pytest.mark.parametrize("earth", EARTHS)
@pytest.mark.parametrize("low", [0.1, 1.0, 8.0])
def test_finer_panels_change_nothing(low, earth, monkeypatch):
    graph, current = rail_and_ring(low)
    frequencies = (1.8e6, 14.2e6, 54e6)
    eps_c = [complex_permittivity(f, *EARTHS[earth]) for f in frequencies]
    coarse = [
        earth_power(graph, current, frequency=f, eps_c=e) for f, e in zip(frequencies, eps_c, strict=True)
    ]
    monkeypatch.setattr(into_earth, "PANEL_ORDER", 14)
    monkeypatch.setattr(into_earth, "SMOOTH", 1.2)
    monkeypatch.setattr(into_earth, "SHORTEST", 0.01)
    monkeypatch.setattr(into_earth, "TOLERANCE", 1e-8)
    monkeypatch.setattr(into_earth, "SWING", 10.0)
    fine = [
        earth_power(graph, current, frequency=f, eps_c=e) for f, e in zip(frequencies, eps_c, strict=True)
    ]
    # Made for 1e-5.
    assert coarse == pytest.approx(fine, rel=1e-5, abs=0)


def test_turning_and_shifting_over_the_earth_change_nothing():
    graph, current = rail_and_ring(0.4)
    eps_c = complex_permittivity(14.2e6, 13.0, 5e-3)
    c, s = np.cos(0.7), np.sin(0.7)
    turned = graph.nodes @ np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]]) + [30.0, -7.0, 0.0]
    moved = WireGraph(
        nodes=turned,
        segments=graph.segments,
        radius=graph.radius,
        wire=graph.wire,
        turn=graph.turn,
        address=graph.address,
        length_factor=graph.length_factor,
    )
    here, there = (earth_power(g, current, frequency=14.2e6, eps_c=eps_c) for g in (graph, moved))
    # Azimuths are sampled from x on: what is left of that is the quadrature's own error.
    assert there == pytest.approx(here, rel=1e-6, abs=0)


def test_a_cut_segment_takes_the_same():
    """Charges are spread along segments: where a wire is cut must not show, however short the waves below it are."""
    eps_c = complex_permittivity(1.8e6, 13.0, 5e-3)
    corners = np.array([[-0.5, 0.0, 0.1], [0.5, 0.0, 0.1], [0.5, 0.0, 1.1], [-0.5, 0.0, 1.1]])

    def power(parts: int) -> float:
        steps = np.arange(parts) / parts
        nodes = np.concatenate(
            [a + (b - a) * steps[:, None] for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True)]
        )
        graph = chain(nodes, radius=1e-3, closed=True)
        return earth_power(graph, np.ones((4 * parts, 2), dtype=complex), frequency=1.8e6, eps_c=eps_c)

    # A side in 20 and in 40 parts, 1/2 and 1/4 of its height.
    assert power(20) == pytest.approx(power(40), rel=1e-5, abs=0)
