"""Lessons: each a study of its own, one change to make, numbers to look at, and why. All studies are invented."""

from profiler.lessons import how_far, thicker_feed, what_speed, what_to_beat, where_water, who_holds
from profiler.lessons.lesson import Lesson, Look, Why

LESSONS: tuple[Lesson, ...] = (
    what_to_beat.LESSON,
    who_holds.LESSON,
    thicker_feed.LESSON,
    how_far.LESSON,
    what_speed.LESSON,
    where_water.LESSON,
)

__all__ = ["LESSONS", "Lesson", "Look", "Why"]
