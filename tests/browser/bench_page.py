# SPDX-License-Identifier: BSD-3-Clause
"""One window on the bench, as a person uses it, and what it must never do: ask another machine, or complain."""

import re
from dataclasses import dataclass, field
from typing import ClassVar, Self
from urllib.parse import urlsplit

from playwright.sync_api import ConsoleMessage, Locator, Page, Request

from ringwright.units import to_si


@dataclass
class BenchPage:
    """`complaints` are what the console said in error, `elsewhere` requests to another machine."""

    PATH: ClassVar = "/"

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
        self.page.wait_for_selector(".ring-drawing")
        return self

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
        before = self.seq
        self.type(key, text)
        self.wait_for_seq_above(before)

    def wait_for_seq_above(self, seq: int) -> None:
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

    def note(self, words: str) -> Locator:
        return self.page.locator(".note-strip", has_text=words)
