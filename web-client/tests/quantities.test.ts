// SPDX-License-Identifier: BSD-3-Clause
import { describe, expect, test } from "vitest";
import { countIn, inDecibels, onARule, shownLength, shownOnTheBench, significant } from "../src/quantities";

describe("countIn", () => {
  // The inch and the foot are exact by the international agreement of 1959; AWG 12 is 2.053 mm in ASTM B258.
  test.each([
    ["3.2 m", "m", 3.2],
    ["22 mm", "m", 0.022],
    ["10 ft", "m", 3.048],
    ["7/8 in", "mm", 22.225],
    ["1 1/2 in", "mm", 38.1],
    ["0.3 mohm", "mohm", 0.3],
    ["1e3 pF", "pF", 1000],
    ["25W", "W", 25],
  ])("%s counted in %s", (text, unit, expected) => {
    expect(countIn(text, unit)).toBeCloseTo(expected, 12);
  });

  test("a gauge is the diameter its standard states", () => {
    expect(countIn("AWG 12", "mm")).toBeCloseTo(2.053, 3);
    expect(countIn("AWG 0000", "mm")).toBeCloseTo(11.684, 3);
  });

  test.each([
    ["3,2 m", "m"],
    ["22", "mm"],
    ["22 mm", "pF"],
    ["", null],
    ["many", null],
    [["a"], "m"],
    [22, "mm"],
  ])("%j is nothing in %s", (value, unit) => {
    expect(countIn(value, unit)).toBeNull();
  });
});

test("significant digits, without an exponent where people read", () => {
  expect(significant(1378.2, 3)).toBe("1380");
  expect(significant(0.00042, 3)).toBe("0.000420");
  expect(significant(0, 3)).toBe("0");
  expect(significant(-12.34, 3)).toBe("\u221212.3");
  expect(significant(9.999, 3)).toBe("10.0");
  expect(significant(1.23e-7, 2)).toBe("1.2e\u22127");
});

test("half the power is 3 dB down, and 6 dB are an S-point (IARU Region 1, R.1)", () => {
  expect(inDecibels(50)).toBe("\u22123.0 dB, \u22120.5 S-points");
  expect(inDecibels(100)).toBe("0.0 dB, 0.0 S-points");
  expect(inDecibels(0)).toBe("no power");
});

test("lengths as a builder measures them", () => {
  expect(shownLength(1.0186, "metric")).toBe("1.02 m");
  expect(shownLength(0.022, "metric")).toBe("22.0 mm");
  expect(shownLength(1.0186, "imperial")).toBe("3.34 ft");
  expect(shownLength(0.0254, "imperial")).toBe("1.00 in");
});

test("inches stand on a rule, to a thirty-second", () => {
  // By hand: 1 in = 25.4 mm exactly, so 1/32 in = 0.79375 mm.
  expect(onARule(0.0254)).toBe("1 in");
  expect(onARule(0.00079375)).toBe("1/32 in");
  expect(onARule(0.149)).toBe("5 7/8 in"); // 5.866 in
  expect(onARule(0.00785)).toBe("5/16 in"); // 0.309 in
  expect(onARule(0.0079376, Math.ceil)).toBe("11/32 in"); // a hair over 5/16 in
  expect(onARule(0.0079375, Math.ceil)).toBe("5/16 in");
});

test("a size of the design file follows the preference on the bench", () => {
  expect(shownOnTheBench("149 mm", "metric")).toBe("149 mm");
  expect(shownOnTheBench("149 mm", "imperial")).toBe("5 7/8 in");
  expect(shownOnTheBench("5 7/8 in", "metric")).toBe("149 mm");
  expect(shownOnTheBench("a lot", "imperial")).toBe("a lot");
});
