# SPDX-License-Identifier: BSD-3-Clause
"""One window on the bench, as a person uses it, and what it must never do: ask another machine, or complain."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import ClassVar, Self
from urllib.parse import urlsplit

from playwright.sync_api import ConsoleMessage, Locator, Page, Request, expect

from ringwright.units import to_si


@dataclass
class BenchPage:
    """`complaints` are what the console said in error, `elsewhere` requests to another machine."""

    PATH: ClassVar = "/ring"

    page: Page
    address: str
    complaints: list[str] = field(default_factory=list)
    elsewhere: list[str] = field(default_factory=list)
    expected_complaint: str = r"(?!)"

    def __post_init__(self) -> None:
        self.page.on("console", self._hear)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("request", self._see)

    def _hear(self, message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"}:
            self.complaints.append(message.text)

    def _see(self, request: Request) -> None:
        url = urlsplit(request.url)
        if url.scheme not in {"data", "blob"} and url.netloc != urlsplit(self.address).netloc:
            self.elsewhere.append(request.url)

    def open(self, path: str) -> Self:
        self.page.goto(self.address + path)
        self.come_to_rest()
        return self

    def reload(self) -> None:
        self.page.reload()
        self.come_to_rest()

    def come_to_rest(self) -> None:
        """After a page was loaded: its picture is there, in its own type."""
        self.settle()
        self.page.evaluate("() => document.fonts.ready.then(() => null)")

    def settle(self) -> None:
        """Wait until the picture is that of the draft as it stands."""
        self.page.wait_for_selector('main[data-settled="true"] .ring-drawing')

    def still(self, part: Locator) -> tuple[float, float, float, float]:
        """Left, top, width and height of a part, once they are the same from one frame to the next."""
        left, top, width, height = part.evaluate(
            """node => new Promise(done => { let last = "";
            const look = () => { const {x, y, width, height} = node.getBoundingClientRect();
                const box = [x, y, width, height], now = String(box);
                if (now === last) done(box); else { last = now; requestAnimationFrame(look); } };
            look(); })"""
        )
        return left, top, width, height

    def assert_quiet(self) -> None:
        assert self.elsewhere == []
        assert [text for text in self.complaints if not re.search(self.expected_complaint, text)] == []

    @property
    def seq(self) -> int:
        """Number of the request that the picture on the page answers."""
        return int(self.page.locator(".bench").get_attribute("data-seq") or 0)

    def slider(self, key: str) -> Locator:
        return self.page.locator(f'[data-key="{key}"] input[type=range]')

    def typed(self, key: str) -> Locator:
        return self.page.locator(f'[data-key="{key}"] input.typed')

    def type(self, key: str, text: str) -> None:
        """Type a value and finish it, whether it makes a ring or not."""
        self.typed(key).fill(text)
        self.typed(key).press("Enter")

    def set(self, key: str, text: str) -> None:
        """Type a value that makes a ring, and wait for its picture."""
        self.type(key, text)
        self.settle()

    def save_as(self, name: str) -> None:
        """Save what was in no file yet."""
        self.page.get_by_role("button", name="Save").click()
        self.page.get_by_role("textbox", name="Name of the file").fill(name)
        self.page.get_by_role("dialog").get_by_role("button", name="Save").click()
        self.expect_note(f"Saved as {name}.toml")

    def wait_for_seq_above(self, seq: int) -> None:
        """Until a later request is answered; `settle` afterwards, where it must be the last one."""
        self.page.wait_for_function(
            "seq => Number(document.querySelector('.bench')?.dataset.seq) > seq", arg=seq
        )

    def drawn(self, selector: str) -> str:
        """A text of the drawing."""
        return self.page.locator(selector).text_content() or ""

    @property
    def volts(self) -> float:
        return to_si(self.drawn(".volts").removesuffix(" peak"), "V")

    @property
    def width(self) -> float:
        """The ring's width as the dimension line has it [m]."""
        return to_si(self.drawn(".dimension text"), "m")

    def band(self, name: str) -> Locator:
        return self.page.locator(f'[data-band="{name}"]')

    def expect_all(self, parts: Locator, words: Iterable[str]) -> None:
        """Each of these words is said somewhere in it."""
        for one in words:
            expect(parts).to_contain_text(one, use_inner_text=True)

    def note(self, words: str) -> Locator:
        return self.page.locator(".note-strip", has_text=words)

    def expect_note(self, words: str) -> None:
        expect(self.note(words)).to_be_visible()
