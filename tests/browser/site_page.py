# SPDX-License-Identifier: BSD-3-Clause
"""One window on the site, as a person uses it."""

from typing import ClassVar, Self

from playwright.sync_api import Locator

from ringwright.units import to_si
from tests.browser.bench_page import BenchPage

PEOPLE, METAL = "site.people", "site.metal"


class SitePage(BenchPage):
    """The bench on its site page."""

    PATH: ClassVar = "/site"

    def open(self, path: str) -> Self:
        self.page.goto(self.address + path)
        self.settle()
        return self

    def settle(self) -> None:
        """Wait until the picture is that of the draft as it stands."""
        self.page.wait_for_selector('.site-bench[data-settled="true"]')

    def wait_for_distances(self) -> None:
        """Until the distances on the page are those of the picture."""
        self.settle()
        self.page.wait_for_selector('.keep-away [data-current="true"]')

    def handle(self, name: str, cut: str = "plan") -> Locator:
        return self.page.locator(f'.cut.{cut} .handle[aria-label^="{name}"]')

    def drag(self, handle: Locator, right: float, down: float) -> None:
        """Take hold of a handle, lead it by so many pixels and let go."""
        box = handle.locator(".finger").bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2.0, box["y"] + box["height"] / 2.0
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        for share in (0.25, 0.5, 0.75, 1.0):
            self.page.mouse.move(x + right * share, y + down * share)
        self.page.mouse.up()
        self.settle()

    def keys(self, handle: Locator, *keys: str) -> None:
        """Press keys on a handle and wait until the picture answers."""
        handle.focus()
        for key in keys:
            self.page.keyboard.press(key)
        self.settle()

    def on_plan(self, right: float, down: float) -> tuple[float, float]:
        """A place of the plan on the screen, in parts of its size."""
        box = self.page.locator(".cut.plan").bounding_box()
        assert box is not None
        return box["x"] + right * box["width"], box["y"] + down * box["height"]

    def item(self, list_: str, number: int) -> Locator:
        return self.page.locator(f'.item[data-key="{list_}[{number}]"]')

    def coordinate(self, list_: str, number: int, label: str) -> Locator:
        return self.item(list_, number).get_by_label(label)

    def metres(self, list_: str, number: int, point: str) -> list[float]:
        """A point of an item as its fields say it; the item is open."""
        fields = self.item(list_, number).get_by_role("group", name=point).locator("input")
        return [to_si(field.input_value(), "m") for field in fields.all()]

    def standing(self, name: str) -> str:
        """Whether somebody's mark on the plan says passes, exceeds or unknown."""
        mark = self.page.locator(f'.cut.plan .handle[aria-label^="{name}"] .person-mark')
        return (mark.get_attribute("class") or "").removeprefix("person-mark ")

    @property
    def zones(self) -> set[str]:
        """Limits and tiers drawn on either cut."""
        return {str(zone.get_attribute("data-limit")) for zone in self.page.locator(".cut .zone").all()}
