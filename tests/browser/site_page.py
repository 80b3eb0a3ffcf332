# SPDX-License-Identifier: BSD-3-Clause
"""One window on the site, as a person uses it."""

from typing import ClassVar

from playwright.sync_api import Locator, expect

from ringwright.units import to_si
from tests.browser.bench_page import BenchPage

PEOPLE, METAL = "site.people", "site.metal"


class SitePage(BenchPage):
    """The bench on its site page."""

    PATH: ClassVar = "/site"

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
        left, top, width, height = self.still(handle.locator(".finger"))
        x, y = left + width / 2.0, top + height / 2.0
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        for share in (0.25, 0.5, 0.75, 1.0):
            self.page.mouse.move(x + right * share, y + down * share)
        self.page.mouse.up()
        self.settle()

    def keys(self, handle: Locator, *keys: str) -> None:
        """Press keys on a handle and wait until the picture answers."""
        for key in keys:
            handle.press(key)
        self.settle()

    def on_plan(self, right: float, down: float) -> tuple[float, float]:
        """A place of the plan on the screen, in parts of its size."""
        left, top, width, height = self.still(self.page.locator(".cut.plan"))
        return left + right * width, top + down * height

    def put_in_front(self, tool: str) -> None:
        """One more of what a tool places, at once; the page then opens its fields and leads there."""
        self.page.get_by_role("button", name=tool).press("Enter")
        self.page.get_by_role("button", name="Put one in front of the ring").press("Enter")
        self.wait_for_fields()
        self.settle()

    def wait_for_fields(self) -> None:
        """Until the first field of what was placed has the focus, which the page puts there after drawing it."""
        self.page.wait_for_function(
            "() => document.activeElement === document.querySelector('.item[open] input')"
        )

    def item(self, list_: str, number: int) -> Locator:
        return self.page.locator(f'.item[data-key="{list_}[{number}]"]')

    def coordinate(self, list_: str, number: int, label: str) -> Locator:
        return self.item(list_, number).get_by_label(label)

    def metres(self, list_: str, number: int, point: str) -> list[float]:
        """A point of an item as its fields say it; the item is open."""
        fields = self.item(list_, number).get_by_role("group", name=point).locator("input")
        expect(fields).to_have_count(3)
        return [to_si(text, "m") for text in fields.evaluate_all("nodes => nodes.map(node => node.value)")]

    def expect_standing(self, name: str, standing: str) -> None:
        """Somebody's mark on the plan says passes, exceeds or unknown."""
        mark = self.page.locator(f'.cut.plan .handle[aria-label^="{name}"] .person-mark')
        expect(mark).to_have_class(f"person-mark {standing}")

    @property
    def zones(self) -> set[str]:
        """Limits and tiers drawn on either cut."""
        return set(
            self.page.locator(".cut .zone").evaluate_all("nodes => nodes.map(node => node.dataset.limit)")
        )
