// SPDX-License-Identifier: BSD-3-Clause
import { expect, test } from "vitest";
import { FIRST_RING, fromAddress, isOtherPlace, namesNoDesign, type Place, toAddress } from "../src/state/address";

const PAGES = ["ring", "site"];
const PLACE: Place = {
  page: "ring",
  band: "40m",
  calibration: "after cure (2)",
  design: "terrace octagon",
  edits: { "ring.perimeter": "4.40 m", "ring.joints": 8, bands: ["40m", "30m"], "ring.side": null, name: "3000" },
  pins: { A: { design: null, edits: { "ring.shape": "octagon", "capacitor.q": 3000 } }, B: { design: "a&b=c", edits: {} } },
};

const there = (place: Place) => {
  const url = new URL(toAddress(place), "http://localhost");
  return fromAddress(url.pathname, url.search, PAGES);
};

test("an address holds page, design, band, changes and pins, and gives them back", () => {
  expect(there(PLACE)).toEqual(PLACE);
});

test("an empty address is the first page with nothing changed", () => {
  expect(fromAddress("/", "", PAGES)).toEqual({ page: "ring", band: null, calibration: null, design: null, edits: {}, pins: {} });
  expect(fromAddress("/elsewhere", "?set=broken", PAGES).page).toBe("ring");
});

test("a slider does not make another place; a band, a pin, a design does", () => {
  expect(isOtherPlace(PLACE, { ...PLACE, edits: {} })).toBe(false);
  expect(isOtherPlace(PLACE, { ...PLACE, band: "30m" })).toBe(true);
  expect(isOtherPlace(PLACE, { ...PLACE, pins: {} })).toBe(true);
  expect(isOtherPlace(PLACE, { ...PLACE, calibration: null })).toBe(true);
  expect(isOtherPlace(PLACE, { ...PLACE, design: null })).toBe(true);
});

test("the first ring asked for by name is another address than none, and the same place", () => {
  const unnamed = fromAddress("/tune", "", ["tune"]);
  const first = fromAddress("/tune", "?design=", ["tune"]);
  expect([namesNoDesign(unnamed), namesNoDesign(first)]).toEqual([true, false]);
  expect(first.design).toBe(FIRST_RING);
  expect(toAddress(first)).toBe("/tune?design=");
  expect(isOtherPlace(unnamed, first)).toBe(false);
  expect(namesNoDesign({ ...unnamed, edits: { power: "5 W" } })).toBe(false);
});
