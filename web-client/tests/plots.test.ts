// SPDX-License-Identifier: BSD-3-Clause
import { describe, expect, test } from "vitest";
import { stacked, decimals, dipSpan, interpolate, ticks } from "../src/widgets/plot_scale";
import { reactanceArc, resistanceCircle } from "../src/widgets/reflection_chart";
import { normals, openedAtStart, preferred, ribbon, type Spot } from "../src/widgets/ring_geometry";

describe("the reflection chart's circles hold what the bilinear map says", () => {
  const reflection = (r: number, x: number): Spot => {
    const below = (r + 1) ** 2 + x * x; // (z - 1)/(z + 1) with z = r + jx
    return [(r * r - 1 + x * x) / below, (2 * x) / below];
  };
  test.each([0.2, 0.5, 1, 2, 5])("resistance %d", (r) => {
    const circle = resistanceCircle(r);
    for (const x of [-3, -0.4, 0, 1.7]) {
      const [u, v] = reflection(r, x);
      expect(Math.hypot(u - circle.x, v)).toBeCloseTo(circle.radius, 12);
    }
  });
  test.each([0.2, -0.5, 1, -2, 5])("reactance %d", (x) => {
    const arc = reactanceArc(x);
    for (const r of [0, 0.3, 4]) {
      const [u, v] = reflection(r, x);
      expect(Math.hypot(u - 1, v - 1 / x)).toBeCloseTo(arc.radius, 12);
    }
    const [u, v] = reflection(0, x);
    expect(arc.rim[0]).toBeCloseTo(u, 12);
    expect(arc.rim[1]).toBeCloseTo(v, 12);
  });
});

describe("scales", () => {
  test("ticks are round, inside, and few", () => {
    const inside = ticks({ low: 7.03e6, high: 7.17e6 }, 4);
    expect(inside).toEqual([7.05e6, 7.1e6, 7.15e6]);
    expect(decimals(50e3)).toBe(2);
    expect(decimals(2e3)).toBe(3);
  });
  test("the dip is shown with room beside it, within what was computed", () => {
    expect(dipSpan([7.0e6, 7.2e6], 7.1e6, 10e3)).toEqual({ low: 7.06e6, high: 7.14e6 });
    expect(dipSpan([7.09e6, 7.2e6], 7.1e6, 10e3).low).toBe(7.09e6);
  });
  test("between samples the value lies on a straight line", () => {
    expect(interpolate([1, 2, 4], [10, 20, 60], 3)).toBe(40);
    expect(interpolate([1, 2, 4], [10, 20, 60], 0)).toBe(10);
    expect(interpolate([1, 2, 4], [10, 20, 60], 9)).toBe(60);
  });
  test("preferred numbers are those of ISO 3, R10", () => {
    expect([0.9, 1, 1.3, 3, 7, 9].map(preferred).map((one) => Number(one.toPrecision(3)))).toEqual([1, 1, 1.6, 3.15, 8, 10]);
  });
});

describe("the ring on paper", () => {
  const square: Spot[] = [[0, 1], [1, 1], [1, 0], [1, -1], [0, -1], [-1, -1], [-1, 0], [-1, 1]];
  test.each([square, [...square].reverse()])("normals point outwards whichever way it runs", (...spots) => {
    normals(spots).forEach(([nx, ny], index) => {
      const [x, y] = spots[index] as Spot;
      expect(nx * x + ny * y).toBeGreaterThan(0);
      expect(Math.hypot(nx, ny)).toBeCloseTo(1, 12);
    });
  });
  test("the gap opens the outline by half to either side", () => {
    const open = openedAtStart(square, 0.25);
    expect(open[0]).toEqual([0.25, 1]);
    expect(open.at(-1)).toEqual([-0.25, 1]);
    expect(open).toHaveLength(square.length + 1);
  });
  test("the ribbon is as wide as stated", () => {
    const { inner, outer } = ribbon(square, 0.1, Array.from({ length: 8 }, () => 0.5));
    inner.forEach((spot, index) => {
      const other = outer[index] as Spot;
      expect(Math.hypot(spot[0] - other[0], spot[1] - other[1])).toBeCloseTo(0.5, 12);
    });
  });
});

test("labels of spots that lie together stand apart above each other, and stay where there is room", () => {
  const spots = [{ x: 100, y: 100 }, { x: 104, y: 101 }, { x: 110, y: 99 }, { x: 300, y: 100 }];
  const away = stacked(spots, { top: 26, bottom: 296 });
  expect(away[0]).toBe(0);
  expect(away[3]).toBe(0);
  const stands = spots.slice(0, 3).map((spot, index) => spot.y + (away[index] ?? NaN)).sort((one, other) => one - other);
  expect(Math.min((stands[1] ?? 0) - (stands[0] ?? 0), (stands[2] ?? 0) - (stands[1] ?? 0))).toBeGreaterThanOrEqual(45);
  expect(Math.min(...stands)).toBeGreaterThanOrEqual(26);
});
