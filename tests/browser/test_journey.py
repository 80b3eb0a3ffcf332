# SPDX-License-Identifier: BSD-3-Clause
"""The whole job in one sitting and one window: from a brief to a record that has all of it on one line.

The sweeps are of the ring that was picked, solved full-wave with one bad joint planted and then without it
(`tests.proof.planted`); the reports are drawn with a true difference of 4 dB (`tests.air.campaigns`).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Response, expect

from ringwright.antenna.design import Design
from ringwright.antenna.design_file import parse_design
from ringwright.antenna.geometry import build_wires
from ringwright.antenna.predict import operating_points
from ringwright.antenna.solution import SolutionMemory
from ringwright.desk.desk import Desk
from ringwright.records.records import Records
from tests.browser.bench_page import BenchPage
from tests.browser.serving import SOON
from tests.browser.test_access import AXE, violations
from tests.browser.test_tune_page import UnhurriedClock
from tests.cli.test_air import campaign
from tests.proof.planted import predicted_sweep
from tests.web.running import Running, running_server

pytestmark = pytest.mark.needs("chromium")

SCREENS = {"wide": (1280, 800), "phone": (390, 844)}
LONG = 240_000
"""Milliseconds: a bound against hanging for what takes long by itself, not a wait."""
BAD_JOINT = 0.12
"""Ohms: more than the whole ring loses."""

DESIGN = """\
format = 1
name = "Yard"
bands = ["40m", "30m"]
power = "10 W"
[ring]
perimeter = "3 m"
[coupling]
diameter = "0.15 m"
[capacitor]
minimum = "10 pF"
maximum = "300 pF"
[drive]
steps_per_turn = 200
microsteps = 8
reduction = 5
[site]
height = "2 m"
earth = "free space"
locator = "JJ00"
"""


@dataclass
class Walk(BenchPage):
    """One window through all pages; `refused` are answers that nobody asked for."""

    PATH = "/brief"

    refused: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__post_init__()
        self.page.on("response", self._answered)

    def _answered(self, response: Response) -> None:
        if response.status >= 400:
            self.refused.append(f"{response.status} {response.url}")

    def come_to_rest(self) -> None:
        self.page.wait_for_selector('main[data-settled="true"]')

    def go(self, label: str) -> None:
        """To another page by the navigation; design, band and pins go along."""
        before = self.page.url.partition("?")[2].split("&")
        self.page.get_by_role("navigation", name="Pages").get_by_role("link", name=label).click()
        for part in (f"/{label.lower()}?", *(each for each in before if not each.startswith("set="))):
            expect(self.page).to_have_url(re.compile(re.escape(part)))

    def look(self) -> None:
        """As a visitor who cannot see, or whose screen is narrow."""
        width = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
        assert self.page.evaluate(width) == 0, self.page.url
        if AXE.exists():
            assert violations(self) == [], self.page.url
        self._look_at_print()

    def _look_at_print(self) -> None:
        """Ink on white by day and by night, without what is only pressed."""
        self.page.emulate_media(media="print")
        expect(self.page.get_by_role("navigation", name="Pages")).to_be_hidden()
        expect(self.page.locator("html")).to_have_css("background-color", "rgb(255, 255, 255)")
        expect(self.page.locator("html")).to_have_css("color", "rgb(0, 0, 0)")
        self.page.emulate_media(media="screen")

    def assert_quiet(self) -> None:
        super().assert_quiet()
        assert self.refused == []

    def button(self, name: str | re.Pattern[str], *, within: Locator | None = None) -> Locator:
        return (within or self.page).get_by_role("button", name=name, exact=isinstance(name, str))

    def fill(self, label: str, text: str) -> None:
        typed = self.page.get_by_label(label, exact=True)
        typed.fill(text)
        typed.press("Tab")


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    folder = tmp_path / "yard"
    for name in ("designs", "sweeps", "sheets"):
        (folder / name).mkdir(parents=True)
    (folder / "designs" / "yard.toml").write_text(DESIGN, encoding="utf-8")
    desk = Desk(folder)
    desk.drive.make_clock = UnhurriedClock
    with running_server(desk) as running:
        yield running
        desk.drive.end()


@pytest.fixture(params=SCREENS)
def walk(request: pytest.FixtureRequest, browser: Browser, server: Running) -> Iterator[Walk]:
    width, height = SCREENS[request.param]
    context = browser.new_context(
        viewport={"width": width, "height": height},
        has_touch=request.param == "phone",
        color_scheme="dark" if request.param == "phone" else "light",
    )
    context.set_default_timeout(SOON * 1e3)
    window = Walk(context.new_page(), server.address)
    yield window
    context.close()
    window.assert_quiet()


def test_the_whole_job_in_one_sitting(walk: Walk, server: Running, tmp_path: Path):
    ask_for_rings(walk)
    design = compare_and_save(walk, server.desk.folder.workspace)
    place_a_person(walk)
    look_at_the_build(walk)
    prove(walk, design, tmp_path)
    tune(walk)
    on_the_air(walk, tmp_path)
    on_one_line(walk)
    with Records.open(server.desk.folder.workspace) as records:
        assert len(records.sweeps()) == 4


def ask_for_rings(walk: Walk) -> None:
    page = walk.open("/brief").page
    expect(page.get_by_label("design", exact=True)).to_have_value("yard")  # nobody named it
    chip = walk.button("20m")
    expect(chip).to_have_attribute("aria-pressed", "true")
    chip.click()
    walk.fill("Power", "10 W")
    walk.fill("Width", "1.2 m")
    walk.fill("Round, from", "2.4 m")
    walk.fill("to", "3 m")
    walk.fill("sizes", "2")
    page.get_by_text("Conductors: all").click()
    walk.button("None").first.click()
    page.get_by_label("EN 1057 22 x 1", exact=True).check()
    walk.button("Find the rings").click()
    expect(page.locator('.brief-bench[data-found="true"]')).to_be_visible(timeout=LONG)
    walk.look()
    page.locator(".front-ring").first.press("Enter")
    walk.button("Keep this ring and open it").click()
    expect(page).to_have_url(re.compile(r"/ring\?design=octagon"))


def compare_and_save(walk: Walk, folder: Path) -> Design:
    page = walk.page
    walk.settle()
    walk.band("30m").locator(".band-name").click()
    expect(page).to_have_url(re.compile("band=30m"))
    walk.settle()
    walk.button("Pin A").click()
    walk.set("ring.perimeter", "2.95 m")
    walk.button("undo the last change").click()
    expect(walk.button("undo the last change")).to_be_disabled()
    page.keyboard.press("Control+Shift+z")
    walk.settle()
    expect(page.locator(".pinned tbody tr").first).to_be_visible()
    walk.look()
    walk.button("Save").click()
    name = page.get_by_label("design", exact=True).input_value()
    walk.expect_note(f"Saved as {name}.toml")
    return parse_design((folder / "designs" / f"{name}.toml").read_text(encoding="utf-8"), source=name)


def place_a_person(walk: Walk) -> None:
    page = walk.page
    walk.go("Site")
    page.wait_for_selector('.site-bench[data-settled="true"]')
    walk.button("Place a person").press("Enter")
    walk.button("Put one in front of the ring").press("Enter")
    expect(page.locator(".item[open] input").first).to_be_focused()
    page.wait_for_selector('.site-bench[data-settled="true"] .keep-away [data-current="true"]')
    expect(page.locator(".advised strong").first).to_contain_text("m")
    walk.look()
    walk.button("Save").click()
    expect(walk.button("Save")).to_be_disabled()


def look_at_the_build(walk: Walk) -> None:
    walk.go("Build")
    walk.page.wait_for_selector('.build-bench[data-settled="true"]')
    walk.look()
    with walk.page.expect_download() as sheet:
        walk.button("Sheet for the bench").click()
    assert Path(sheet.value.path()).read_bytes().startswith(b"%PDF-")


def swept(design: Design, folder: Path, name: str) -> list[Path]:
    """A sweep of each band, as an analyser would have written it."""
    files = []
    for point in operating_points(design, build_wires(design), SolutionMemory()):
        sweep = predicted_sweep(point)
        rows = [
            f"{f:.3f} {s.real:.9f} {s.imag:.9f}" for f, s in zip(sweep.frequency, sweep.response, strict=True)
        ]
        files.append(folder / f"{name}-{point.target.frequency / 1e6:.0f}.s1p")
        files[-1].write_text("\n".join(["# Hz S RI R 50", *rows, ""]), encoding="ascii")
    return files


def prove(walk: Walk, design: Design, folder: Path) -> None:
    page = walk.page
    walk.go("Prove")
    expect(page.locator(".nothing-yet")).to_be_visible()
    more = design.ring.joint_resistance + BAD_JOINT / design.ring.joints
    faulty = replace(design, ring=replace(design.ring, joint_resistance=more))
    built = swept(faulty, folder, "built")
    page.get_by_label("sweep files").set_input_files(built)
    expect(page.locator(".sweep-card")).to_have_count(2)
    expect(page.get_by_text("Measure this next")).to_be_visible(timeout=LONG)
    expect(page.locator(".suspects li").first).to_contain_text("joints")
    walk.look()
    keep(walk, "as built", 2)
    for file in built:
        walk.button(f"Take off {file.name}").click()
    expect(page.locator(".on-the-page")).to_have_count(0)
    page.get_by_label("sweep files").set_input_files(swept(design, folder, "cured"))
    expect(page.locator(".verdicts li")).to_have_count(2)
    keep(walk, "joint remade", 2)


def keep(walk: Walk, build: str, count: int) -> None:
    form = walk.page.get_by_role("form", name="Keep in the record")
    form.get_by_label("Build").fill(build)
    form.get_by_role("button", name=f"Keep these {count} sweeps").click()
    expect(walk.page.get_by_role("list", name="Kept in the record").get_by_role("listitem")).to_have_count(
        count
    )


def tune(walk: Walk) -> None:
    page = walk.page
    walk.go("Tune")
    # The drive of the design on the bench went along with the ring that was picked.
    walk.button(re.compile("Connect the simulated drive of octagon")).click()
    words = page.locator(".tune-words")
    expect(words).to_have_attribute("data-phase", "resting")
    walk.look()
    walk.button("30m").click()
    expect(words).to_have_attribute("data-phase", "tuned", timeout=LONG)
    expect(words).to_contain_text("ready")


def on_the_air(walk: Walk, folder: Path) -> None:
    page = walk.page
    walk.go("Air")
    page.get_by_label("report files").set_input_files(campaign(folder / "reports.csv", reports=600))
    expect(page.locator(".verdict-words")).to_contain_text(
        re.compile("ring is worse than dipole|dipole is better")
    )
    walk.look()
    keep_all = page.locator(".in-the-record button")
    keep_all.click()
    expect(keep_all).to_have_text("All kept in the record")


def on_one_line(walk: Walk) -> None:
    page = walk.page
    walk.go("Record")
    line = page.get_by_role("listbox", name=re.compile("^Time line"))
    for what in ("design", "sweep 40m", "sweep 30m", "tuning", "report"):
        expect(line.get_by_role("option", name=re.compile(what)).first).to_be_attached()
    walk.look()
