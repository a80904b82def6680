"""Lessons: each a study of its own, one knob to turn, numbers to look at, and why. All studies are invented."""

from profiler.lessons import (
    coarser_feed,
    how_far,
    how_sure,
    reach_floor,
    thicker_feed,
    turning_shrinks,
    what_speed,
    what_to_beat,
    where_water,
    who_holds,
)
from profiler.lessons.lesson import Lesson, Look, Why

LESSONS: tuple[Lesson, ...] = (
    what_to_beat.LESSON,
    who_holds.LESSON,
    thicker_feed.LESSON,
    how_far.LESSON,
    what_speed.LESSON,
    where_water.LESSON,
    coarser_feed.LESSON,
    how_sure.LESSON,
    reach_floor.LESSON,
    turning_shrinks.LESSON,
)

__all__ = ["LESSONS", "Lesson", "Look", "Why"]
