# SPDX-License-Identifier: BSD-3-Clause
"""The long lesson's output is what the program prints; apart from the other pages, so that they run beside it."""

from scripts.write_console import LESSON, rewritten


def test_the_lesson_from_brief_to_report_is_current():
    page = LESSON.read_text(encoding="utf-8")
    assert page.count("\n$ ringwright ") == 13
    assert page == rewritten(page), f"run: python -m scripts.write_console {LESSON}"
