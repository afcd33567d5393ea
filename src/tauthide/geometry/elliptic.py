"""Lengths along an ellipse and along the curves at a distance from it, and back from length to place.

An ellipse has half-axes `half_x_mm`, `half_y_mm`; the place on it is the parameter t (radians) of
(half_x sin t, -half_y cos t): 0 at the lowest point, anticlockwise, without wrapping. A curve at a
constant distance d outside has at t the length (ellipse's length) + d (angle turned by the normal).

Source: B. C. Carlson's symmetric integrals, NIST Digital Library of Mathematical Functions (DLMF)
19.25(i) and 19.36(i). Own short code, so that a start-up need not pay for a numerical library.
"""

from __future__ import annotations

import math
from functools import lru_cache

from tauthide.geometry.curves import solve_rising

DUPLICATION_SPREAD = 2.0**-7
"""Spread of the three arguments at which the series take over: its 8th power is below 1e-16."""

QUARTER_CACHE = 64
"""Ellipses whose quarter length is remembered: a frame's, over one drum."""

PLACE_CACHE = 512
"""Places remembered: 64 stations on the frame, carried to two curves, and the second holes there."""

SETTLED_SHARE = 1e-8
"""Newton's last step begins within this share of the quarter length and squares it away."""


def integrate_rf(x: float, y: float, z: float) -> float:
    """Carlson's R_F(x, y, z) for arguments of 0 or more, at most one of them 0.

    Source: DLMF 19.36.1, by duplication. To about 1e-15 of itself.
    """
    mean = mean_0 = (x + y + z) / 3
    x_0, y_0 = x, y
    spread = max(abs(mean - x), abs(mean - y), abs(mean - z))
    shrink = 1.0
    while spread * shrink >= DUPLICATION_SPREAD * mean:
        root_x, root_y, root_z = math.sqrt(x), math.sqrt(y), math.sqrt(z)
        lam = root_x * (root_y + root_z) + root_y * root_z
        x, y, z = (x + lam) / 4, (y + lam) / 4, (z + lam) / 4
        mean = (mean + lam) / 4
        shrink /= 4
    dx = (mean_0 - x_0) * shrink / mean
    dy = (mean_0 - y_0) * shrink / mean
    dz = -dx - dy
    e2 = dx * dy - dz * dz
    e3 = dx * dy * dz
    series = 1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44
    series += -5 * e2**3 / 208 + 3 * e3 * e3 / 104 + e2 * e2 * e3 / 16
    return series / math.sqrt(mean)


def integrate_rd(x: float, y: float, z: float) -> float:
    """Carlson's R_D(x, y, z) for x and y of 0 or more, at most one of them 0, and z above 0.

    Source: DLMF 19.36.2, by duplication. To about 1e-15 of itself.
    """
    mean = mean_0 = (x + y + 3 * z) / 5
    x_0, y_0 = x, y
    spread = max(abs(mean - x), abs(mean - y), abs(mean - z))
    shrink = 1.0
    tail = 0.0
    while spread * shrink >= DUPLICATION_SPREAD * mean:
        root_x, root_y, root_z = math.sqrt(x), math.sqrt(y), math.sqrt(z)
        lam = root_x * (root_y + root_z) + root_y * root_z
        tail += shrink / (root_z * (z + lam))
        x, y, z = (x + lam) / 4, (y + lam) / 4, (z + lam) / 4
        mean = (mean + lam) / 4
        shrink /= 4
    dx = (mean_0 - x_0) * shrink / mean
    dy = (mean_0 - y_0) * shrink / mean
    dz = -(dx + dy) / 3
    xy, zz = dx * dy, dz * dz
    e2 = xy - 6 * zz
    e3 = (3 * xy - 8 * zz) * dz
    e4 = 3 * (xy - zz) * zz
    e5 = xy * zz * dz
    series = 1 - 3 * e2 / 14 + e3 / 6 + 9 * e2 * e2 / 88 - 3 * e4 / 22 - 9 * e2 * e3 / 52 + 3 * e5 / 26
    series += -(e2**3) / 16 + 3 * e3 * e3 / 40 + 3 * e2 * e4 / 20 + 45 * e2 * e2 * e3 / 272
    series -= 9 * (e3 * e4 + e2 * e5) / 68
    return 3 * tail + shrink * series / (mean * math.sqrt(mean))


def integrate_second_kind(phi: float, m: float) -> float:
    """Incomplete elliptic integral of the second kind E(phi | m), |phi| <= pi/2, m <= 1, m = k^2.

    Source: DLMF 19.25.9, which holds for m below 0 too.
    """
    sine, cosine = math.sin(phi), math.cos(phi)
    square = sine * sine
    x, y = cosine * cosine, 1 - m * square
    return sine * (integrate_rf(x, y, 1.0) - m / 3 * square * integrate_rd(x, y, 1.0))


@lru_cache(maxsize=QUARTER_CACHE)
def measure_quarter(half_x_mm: float, half_y_mm: float) -> float:
    """Length in mm of a quarter of an ellipse, between the ends of its axes."""
    return half_x_mm * integrate_second_kind(math.pi / 2, 1 - (half_y_mm / half_x_mm) ** 2)


def turn_normal(half_x_mm: float, half_y_mm: float, t: float) -> float:
    """Angle in radians by which the outward normal has turned from the lowest point to t."""
    half_turns = round(t / math.pi)
    rest = t - half_turns * math.pi
    return math.atan2(half_y_mm * math.sin(rest), half_x_mm * math.cos(rest)) + half_turns * math.pi


def measure_arc(half_x_mm: float, half_y_mm: float, offset_mm: float, t: float) -> float:
    """Length in mm from the lowest point to t along the curve `offset_mm` outside an ellipse."""
    half_turns = round(t / math.pi)
    rest = t - half_turns * math.pi
    ellipse_mm = half_x_mm * integrate_second_kind(rest, 1 - (half_y_mm / half_x_mm) ** 2)
    ellipse_mm += 2 * half_turns * measure_quarter(half_x_mm, half_y_mm)
    return ellipse_mm + offset_mm * turn_normal(half_x_mm, half_y_mm, t)


def find_parameter(half_x_mm: float, half_y_mm: float, offset_mm: float, arc_mm: float) -> float:
    """The parameter t at a length along the curve `offset_mm` outside an ellipse: `measure_arc` undone.

    The offset must leave the curve smooth: above minus the ellipse's least radius of curvature.
    """
    half_mm = 2 * measure_quarter(half_x_mm, half_y_mm) + math.pi * offset_mm
    half_turns = round(arc_mm / half_mm)
    rest_mm = arc_mm - half_turns * half_mm
    return _find_in_half(half_x_mm, half_y_mm, offset_mm, rest_mm) + half_turns * math.pi


@lru_cache(maxsize=PLACE_CACHE)
def _find_in_half(half_x_mm: float, half_y_mm: float, offset_mm: float, arc_mm: float) -> float:
    """`find_parameter` within a quarter either side of the lowest point."""
    quarter_mm = measure_quarter(half_x_mm, half_y_mm) + math.pi / 2 * offset_mm

    def excess(t: float) -> tuple[float, float]:
        speed = math.hypot(half_x_mm * math.cos(t), half_y_mm * math.sin(t))
        slope = speed + offset_mm * half_x_mm * half_y_mm / (speed * speed)
        return measure_arc(half_x_mm, half_y_mm, offset_mm, t) - arc_mm, slope

    guess = _guess_parameter(half_x_mm, half_y_mm, offset_mm, arc_mm / quarter_mm * math.pi / 2)
    settled_mm = SETTLED_SHARE * quarter_mm
    return solve_rising(excess, -math.pi / 2, math.pi / 2, guess, settled_mm)


def _guess_parameter(half_x_mm: float, half_y_mm: float, offset_mm: float, share: float) -> float:
    """First guess at t, from the share of the turn in radians: the length's first harmonics undone."""
    # On the ellipse, length ~ t + e/4 sin 2t with e from the squares of the half-axes; the normal's
    # angle is t + q sin 2t + q^2/2 sin 4t + ... with q from the half-axes; weighted by their lengths.
    sum_mm = half_x_mm + half_y_mm
    q = (half_y_mm - half_x_mm) / sum_mm
    e = (half_x_mm**2 - half_y_mm**2) / (half_x_mm**2 + half_y_mm**2)
    harmonic = (e / 4 * sum_mm / 2 + q * offset_mm) / (sum_mm / 2 + offset_mm)
    return share - harmonic * math.sin(2 * (share - harmonic * math.sin(2 * share)))
