"""The skin's path round the frame against the bend allowance of sheet-metal work.

Source: standard sheet-metal handbooks: bend allowance = angle x (inside radius + K x thickness), the
angle in radians, with K = 0.5 where the neutral line lies at half the thickness. The path is also laid
out point by point, at half the skin's thickness outside the frame, and measured by summing it up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import pytest
from hypothesis import given
from scipy.integrate import quad

from drums import Fields, Point, drums, few, plan_of
from tauthide.plan.plan import Plan

ARC_PIECES = 2000
"""Chords in a quarter bend: they fall short of it by 3e-8 of it."""

NEAR_MM = 1e-5


def bend_allowance(angle_deg: float, inside_radius: float, thickness: float, k: float) -> float:
    """The handbooks' formula."""
    return math.radians(angle_deg) * (inside_radius + k * thickness)


@dataclass(frozen=True)
class Profile:
    """A frame's wall in section, from the middle of the head at the left: r outward, z up from the back."""

    radius: float
    depth: float
    rounding: float
    skin: float
    turnover: float

    @classmethod
    def of(cls, plan: Plan) -> Profile:
        """That of a round drum."""
        given_mm = plan.spec.number
        return cls(
            given_mm("frame.diameter") / 2,
            given_mm("frame.depth"),
            given_mm("frame.edge_radius"),
            given_mm("head.thickness"),
            given_mm("head.turnover"),
        )

    def walk(self) -> list[Point]:
        """Points along the middle of the skin, from the middle of the head to the skin's edge inside."""
        bend = self.rounding + self.skin / 2
        centre, top, bottom = self.radius - self.rounding, self.depth - self.rounding, self.rounding
        quarter = [math.pi / 2 * number / ARC_PIECES for number in range(ARC_PIECES + 1)]
        front = [(centre + bend * math.sin(angle), top + bend * math.cos(angle)) for angle in quarter]
        back = [(centre + bend * math.cos(angle), bottom - bend * math.sin(angle)) for angle in quarter]
        start, end = (0.0, self.depth + self.skin / 2), (self.radius - self.turnover, -self.skin / 2)
        return [start, *front, *back, end]

    def find(self, along: float) -> Point:
        """The point at a length along the path."""
        for p, q in pairwise(self.walk()):
            piece = math.dist(p, q)
            if along <= piece:
                share = along / piece if piece else 0.0
                return p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])
            along -= piece
        raise ValueError("beyond the skin's edge")


@pytest.mark.parametrize(
    ("rounding", "thickness"), [(2.0, 1.0), (0.0, 1.0), (3.0, 3.2), (5.0, 0.5), (1.6, 2.3), (0.5, 0.9)]
)
def test_corner_is_a_bend_allowance(rounding: float, thickness: float) -> None:
    """A corner adds a right angle's bend allowance, with K = 0.5, less the two legs of the sharp corner."""
    plan = plan_of(
        frame_edge_radius=f"{rounding} mm",
        head_thickness=f"{thickness} mm",
        head_dry_thickness=f"{thickness / 2} mm",
    )
    allowance = bend_allowance(90, rounding, thickness, k=0.5)
    assert plan["skin.corner"] == pytest.approx(allowance - 2 * rounding)
    wall = plan.spec.number("frame.depth") - 2 * rounding
    flat = plan.spec.number("frame.diameter") / 2 - rounding
    assert plan["skin.path_to_back"] == pytest.approx(flat + allowance + wall + allowance)


@pytest.mark.parametrize(("rounding", "thickness"), [(2.0, 1.0), (3.0, 3.2), (5.0, 0.5)])
def test_bend_allowance_by_integration(rounding: float, thickness: float) -> None:
    """Integrated along the bend, the layer at half thickness is as long as the allowance, and no other."""
    plan = plan_of(
        frame_edge_radius=f"{rounding} mm",
        head_thickness=f"{thickness} mm",
        head_dry_thickness=f"{thickness / 2} mm",
    )

    def measure(height: float) -> float:
        # An arc y(x) = sqrt(r^2 - x^2) from level to 45 degrees, twice: the slope stays finite.
        r = rounding + height
        length, _ = quad(lambda x: math.sqrt(1 + x**2 / (r**2 - x**2)), 0, r * math.sqrt(0.5))
        return 2 * float(length)

    middle = plan["skin.corner"] + 2 * rounding
    assert measure(thickness / 2) == pytest.approx(middle)
    assert measure(0) < middle < measure(thickness)


@few
@given(drums(("round",)))
def test_blank_reaches_to_the_turnover(fields: Fields) -> None:
    """Laid over the frame, the blank's edge comes to lie a turnover inside the wall's outer face."""
    plan = plan_of(fields)
    walked = sum(math.dist(p, q) for p, q in pairwise(Profile.of(plan).walk()))
    assert walked == pytest.approx(plan["head.blank_radius"], abs=NEAR_MM)


@few
@given(drums(("round",)))
def test_end_of_the_back_curve(fields: Fields) -> None:
    """Where the path to the back ends the skin lies flat: as far in as the edge is rounded."""
    plan = plan_of(fields)
    profile = Profile.of(plan)
    r, z = profile.find(plan["skin.path_to_back"] - NEAR_MM)
    assert r == pytest.approx(profile.radius - profile.rounding, abs=3 * NEAR_MM)
    assert z == pytest.approx(-profile.skin / 2, abs=3 * NEAR_MM)


@few
@given(drums(("round",)))
def test_where_the_holes_come_to_lie(fields: Fields) -> None:
    """Followed along the path, holes on the back lie on the mounted radius, others outside it."""
    plan = plan_of(fields)
    profile = Profile.of(plan)
    r, z = profile.find(plan["holes.circle_radius"])
    if plan["holes.inset"] > NEAR_MM:
        assert r == pytest.approx(plan["holes.mounted_radius"], abs=NEAR_MM)
        assert z == pytest.approx(-profile.skin / 2, abs=NEAR_MM)
        assert plan["holes.end_run"] == 0
    else:
        assert r >= plan["holes.mounted_radius"] - NEAR_MM
        left = plan["skin.path_to_back"] - plan["holes.circle_radius"]
        assert plan["holes.end_run"] == pytest.approx(left, abs=NEAR_MM)
