// SPDX-License-Identifier: BSD-3-Clause
import { describe, expect, test } from "vitest";
import type { RecordEntry, RecordLine } from "../src/api/messages";
import { decimalsFor } from "../src/figures";
import { lanesOf, tabOf } from "../src/pages/record/layout";
import { firstMoments } from "../src/state/record";

describe("the tabs of two moments never lie on each other", () => {
  test.each([
    [100, 100],
    [100, 110],
    [110, 100],
    [300, 300],
  ])("before at %d, after at %d", (before, after) => {
    const [a, b] = [tabOf("before", before, after, 300), tabOf("after", after, before, 300)];
    expect(Math.abs(b.x - a.x)).toBe(24); // a tab's width
    expect(Math.max(a.x, b.x)).toBeLessThanOrEqual(300);
    expect(b.x > a.x).toBe(after >= before);
    expect(new Set([a.leans, b.leans])).toEqual(new Set([" leans-left", " leans-right"]));
  });
  test("far from each other they stand where they belong", () => {
    expect(tabOf("before", 100, 200, 300)).toEqual({ x: 100, leans: "" });
  });
});

test("the two numbers of a lane's Q are written apart, and are those of the places they stand at", () => {
  const sweep = { q_unloaded: 740, q_unloaded_low: 738, q_unloaded_high: 741 };
  const entry = { key: "sweep 1", kind: "sweep", band: "40m", sweep } as RecordEntry;
  const line = { lanes: [{ kind: "sweep", heading: "sweeps" }], bands: ["40m"] } as unknown as RecordLine;
  const [lane] = lanesOf(line, [entry]);
  const [low = 0, high = 0] = lane?.ends ?? [];
  const [bottom = 0, top = 0] = [lane?.ofQ?.(low), lane?.ofQ?.(high)];
  expect(bottom - top).toBeGreaterThan(40);
  expect(high / low).toBeCloseTo(1.15, 6);
  expect(lane?.y(entry)).toBeGreaterThan(top);
  expect(lane?.y(entry)).toBeLessThan(bottom);
});

describe("an interval has the decimals that tell its ends from the value", () => {
  const factor = { factor: 1, digits: 3, shown_unit: "" };
  test.each([
    ["1.00, 0.997 to 1.00", 1.0001, 0.997, 1.0034, 3],
    ["741 (738 to 741)", 740.6, 738.1, 741.4, 1],
    ["0.812 (0.79 to 0.83) is told as it is", 0.812, 0.79, 0.83, null],
    ["a value without an interval", 0.812, null, null, null],
    ["an interval that is none", 1, 1, 1, null],
  ])("%s", (_, value, low, high, decimals) => {
    expect(decimalsFor(factor, value, low, high)).toBe(decimals);
  });
});

describe("the comparison that is offered first can be answered", () => {
  const sweep = (band: string, second: number) => ({ kind: "sweep", band, at: `2026-05-01T12:00:${String(second).padStart(2, "0")}Z` }) as RecordEntry;
  test("of a band that was swept twice, and of the one with the longest time", () => {
    const entries = [sweep("30m", 0), sweep("40m", 1), sweep("40m", 5), sweep("60m", 6), sweep("30m", 7), sweep("20m", 9)];
    const found = firstMoments({ entries });
    expect(found && found.after - found.before).toBe(7);
  });
  test("none, where no band was swept twice", () => {
    expect(firstMoments({ entries: [sweep("40m", 1), sweep("20m", 3)] })).toBe(null);
  });
});

describe("designs on the line", () => {
  test("each name has a row of its own", () => {
    const design = (title: string, key: string) => ({ kind: "design", title, key, at: "2026-05-01T12:00:00Z", band: null }) as RecordEntry;
    const entries = [design("First ring", "a"), design("Octagon", "b"), design("First ring", "c")];
    const [lane] = lanesOf({ lanes: [{ kind: "design", heading: "Designs" }], bands: [] } as unknown as RecordLine, entries);
    const heights = entries.map((entry) => lane?.y(entry) ?? 0);
    expect(heights[0]).toBe(heights[2]);
    expect((heights[1] ?? 0) - (heights[0] ?? 0)).toBeGreaterThanOrEqual(20); // no finger on one lies on the other's mark
    expect(lane?.height).toBeGreaterThan(heights[1] ?? 0);
  });
});
