"""Made-up shops whose truth is known: what is learned holds it at the stated rate, and beats the default on average."""

from __future__ import annotations

import random
from collections.abc import Sequence
from datetime import date
from statistics import NormalDist, fmean

import pytest

from tauthide.learning.estimates import LEVEL
from tauthide.learning.lessons import Lesson, Verdict, learn
from tauthide.learning.subjects import SUBJECTS, Observation, Subject

SHOPS = 1500
DAY = date(2026, 3, 2)
USUAL = {"allowance": 0.08, "stretch": 0.03, "thickness": 1.0, "dry_thickness": 0.6, "dry": 2880.0,
         "stitch_tear": 110.0, "times": 1.5}  # fmt: skip
"""What holds by default, in base units."""
SPREAD = {"allowance": 0.015, "stretch": 0.006, "thickness": 0.1, "dry_thickness": 0.04, "dry": 400.0,
          "stitch_tear": 15.0, "times": 0.3}  # fmt: skip
"""How the drums of one shop differ: a standard deviation."""
COUNTS = (5, 6, 8, 10, 15, 25, 40)


def lesson_of(subject: Subject, values: Sequence[float], in_force: float) -> Lesson:
    path = ("hides", "goat", subject.name)
    (lesson,) = learn(
        Observation(subject, "goat", path, value, in_force, f"A-{number:02}", DAY)
        for number, value in enumerate(values)
    )
    return lesson


def prior_of(subject: Subject) -> float:
    """Return how far shops differ, in base units."""
    return subject.prior * (USUAL[subject.name] if subject.relative else 1.0)


class Shop:
    """A made-up shop: its own truth, and records of it, some of them slips."""

    def __init__(self, subject: Subject, rng: random.Random, differ: float, slips: float = 0.0) -> None:
        usual, sigma = USUAL[subject.name], SPREAD[subject.name]
        middle = usual + differ * prior_of(subject) * rng.gauss(0, 1)
        if subject.share is not None:
            middle -= sigma * NormalDist().inv_cdf(subject.share)
        self.truth = middle + (0 if subject.share is None else sigma * NormalDist().inv_cdf(subject.share))
        count = rng.choice(COUNTS)
        values = [
            middle + sigma * rng.gauss(0, 1) if rng.random() >= slips else middle * rng.choice((0.1, 10))
            for _ in range(count)
        ]
        self.lesson = lesson_of(subject, values, usual)

    @property
    def holds(self) -> bool:
        assert self.lesson.interval is not None
        return self.truth in self.lesson.interval


@pytest.mark.parametrize("name", SUBJECTS)
@pytest.mark.parametrize("differ", [0.0, 0.5, 1.0, 3.0])
def test_intervals_hold_the_truth_at_the_stated_rate(name: str, differ: float) -> None:
    """Four standard errors of the rate are 0.031; the allowance's interval takes its values for normal."""
    rng = random.Random(f"coverage {name} {differ}")
    rate = fmean(Shop(SUBJECTS[name], rng, differ).holds for _ in range(SHOPS))
    assert rate == pytest.approx(LEVEL, abs=0.031)


@pytest.mark.parametrize("name", SUBJECTS)
def test_slips_in_one_record_of_twenty_do_not_spoil_the_rate(name: str) -> None:
    rng = random.Random(f"slips {name}")
    rate = fmean(Shop(SUBJECTS[name], rng, 1.0, slips=0.05).holds for _ in range(SHOPS))
    assert rate >= LEVEL - 0.031


@pytest.mark.parametrize("name", SUBJECTS)
@pytest.mark.parametrize("differ", [0.25, 0.5, 1.0, 2.0])
def test_what_is_learned_is_nearer_than_the_default_on_average(name: str, differ: float) -> None:
    subject = SUBJECTS[name]
    rng = random.Random(f"better {name} {differ}")
    shops = [Shop(subject, rng, differ, slips=0.03) for _ in range(SHOPS)]
    learned = fmean((shop.lesson.value - shop.truth) ** 2 for shop in shops)
    default = fmean((USUAL[name] - shop.truth) ** 2 for shop in shops)
    assert learned < default


@pytest.mark.parametrize("name", SUBJECTS)
def test_a_right_default_is_left_alone_nine_times_in_ten(name: str) -> None:
    rng = random.Random(f"right {name}")
    shops = [Shop(SUBJECTS[name], rng, 0.0) for _ in range(SHOPS)]
    assert fmean(shop.lesson.verdict is Verdict.AGREES for shop in shops) == pytest.approx(LEVEL, abs=0.031)
    assert all(shop.lesson.value == USUAL[name] for shop in shops if shop.lesson.verdict is Verdict.AGREES)


@pytest.mark.parametrize("name", SUBJECTS)
@pytest.mark.parametrize("absurd", [1e-3, 50.0, 1e5])
def test_one_absurd_record_moves_nothing_by_more_than_one_sound_record_may(name: str, absurd: float) -> None:
    subject, usual, sigma = SUBJECTS[name], USUAL[name], SPREAD[name]
    rng = random.Random(f"absurd {name}")
    values = [1.5 * usual + sigma * rng.gauss(0, 1) for _ in range(20)]
    before = lesson_of(subject, values, usual)
    after = lesson_of(subject, [*values, absurd * usual], usual)
    assert before.estimate is not None
    assert after.estimate is not None
    assert abs(after.estimate - before.estimate) < 0.5 * sigma
    assert [each.value for each in after.far if each not in before.far] == [absurd * usual]


@pytest.mark.parametrize("name", SUBJECTS)
def test_few_records_change_nothing_and_say_how_many_more(name: str) -> None:
    for count in (1, 2, 3, 4):
        lesson = lesson_of(SUBJECTS[name], [5 * USUAL[name]] * count, USUAL[name])
        assert (lesson.verdict, lesson.value, lesson.more) == (Verdict.FEW, USUAL[name], 5 - count)


def test_dry_thickness_follows_the_wet_one_that_is_to_hold() -> None:
    wet, dry = SUBJECTS["thickness"], SUBJECTS["dry_thickness"]
    seen = [Observation(wet, "goat", ("hides", "goat", "thickness"), 1.5, 1.0, "A-01", DAY)] * 9
    seen += [Observation(dry, "goat", ("hides", "goat", "dry_thickness"), 0.5, 0.6, "A-01", DAY)] * 9
    assert [lesson.value for lesson in learn(seen)] == [1.5, 0.75]
