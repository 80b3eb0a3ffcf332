// SPDX-License-Identifier: BSD-3-Clause
import { describe, expect, test } from "vitest";
import type { Slider } from "../src/api/messages";
import {
  anotherCoupling,
  controlFor,
  couplingHas,
  numberAt,
  numberOf,
  positionOf,
  POSITIONS,
  setting,
  textOfValue,
  valueOfNumber,
  valueOfText,
} from "../src/controls";

const PERIMETER: Slider = { key: "ring.perimeter", label: "perimeter", unit: "m", low: 0.8, high: 12, digits: 2, is_logarithmic: true };
const JOINTS: Slider = { key: "ring.joints", label: "joints", unit: null, low: 0, high: 32, digits: 0, is_logarithmic: false };
const POWER: Slider = { key: "power", label: "power", unit: "W", low: 1, high: 1500, digits: 0, is_logarithmic: true };
const nothing = () => false;

describe("a handle", () => {
  test.each([PERIMETER, JOINTS, POWER])("of $key stands where its number is, and comes back to it", (slider) => {
    const control = controlFor(slider, nothing, "metric");
    for (const position of [0, 250, 500, 750, POSITIONS]) {
      const number = numberAt(control, position, null);
      expect(Math.abs(numberAt(control, positionOf(control, number), null) - number)).toBeLessThanOrEqual(
        Math.max(10 ** -control.digits, 0.01 * number),
      );
    }
  });

  test("moves its number by one last digit where a step of the handle is less", () => {
    const control = controlFor(POWER, nothing, "metric");
    expect(numberAt(control, 1, 1)).toBe(2);
    expect(numberAt(control, positionOf(control, 5) - 1, 5)).toBe(4);
    expect(numberAt(control, 0, 1)).toBe(1);
  });

  test("stays at its end for a number beyond it", () => {
    const control = controlFor(PERIMETER, nothing, "metric");
    expect(positionOf(control, 40)).toBe(POSITIONS);
    expect(positionOf(control, 0)).toBe(0);
  });
});

describe("the key that is set", () => {
  test("is the one the design states, and then the others stay out of the file", () => {
    const control = controlFor(PERIMETER, (key) => key === "ring.diameter", "metric");
    expect(control.key).toBe("ring.diameter");
    expect(setting("ring.diameter", "1 m")).toEqual({ "ring.diameter": "1 m", "ring.perimeter": null, "ring.side": null });
    expect(setting("power", "5 W")).toEqual({ power: "5 W" });
  });
});

describe("a coupling", () => {
  const DIAMETER: Slider = { key: "coupling.diameter", label: "coupling", unit: "m", low: 0.05, high: 1, digits: 3, is_logarithmic: true };

  test("is in inches, which the ring's feet are too coarse for", () => {
    const control = controlFor(DIAMETER, nothing, "imperial");
    expect([control.unit, control.digits]).toEqual(["in", 2]);
    expect(textOfValue(control, "149 mm")).toBe("5.87 in"); // 149/25.4 = 5.866
    expect(valueOfNumber(control, 5.875)).toBe("5.88 in");
    expect(controlFor(DIAMETER, nothing, "metric").unit).toBe("m");
  });
});

describe("a value", () => {
  const metric = controlFor(PERIMETER, nothing, "metric");
  const imperial = controlFor(PERIMETER, nothing, "imperial");

  test("is written in the unit the person reads", () => {
    expect(valueOfNumber(metric, 3.2)).toBe("3.20 m");
    expect(valueOfNumber(imperial, 10.5)).toBe("10.50 ft");
    expect(valueOfNumber(controlFor(JOINTS, nothing, "metric"), 8)).toBe(8);
  });

  test("is what was typed, with the control's unit if there was none", () => {
    expect(valueOfText(metric, " 4.4 ")).toBe("4.4 m");
    expect(valueOfText(metric, "14 ft")).toBe("14 ft");
    expect(valueOfText(metric, "a lot")).toBe("a lot");
    expect(valueOfText(controlFor(JOINTS, nothing, "metric"), "8")).toBe(8);
  });

  test("is shown as it was written, or turned into the unit the person reads", () => {
    expect(textOfValue(metric, "3.2 m")).toBe("3.2 m");
    expect(textOfValue(metric, "10 ft")).toBe("3.05 m");
    expect(textOfValue(imperial, "3.048 m")).toBe("10 ft");
    expect(textOfValue(metric, "a lot")).toBe("a lot");
    expect(textOfValue(metric, null)).toBe("");
    expect(numberOf(imperial, "3.048 m")).toBeCloseTo(10, 12);
  });
});

describe("another kind of coupling", () => {
  const stated = ["coupling.diameter", "coupling.squash", "coupling.clearance", "coupling.conductor.diameter", "ring.perimeter"];

  test("leaves out what it does not have and starts with what it needs", () => {
    expect(anotherCoupling("tapped", stated)).toEqual({
      "coupling.kind": "tapped",
      "coupling.diameter": null,
      "coupling.squash": null,
      "coupling.tap_at": "0.3 m",
    });
    expect(anotherCoupling("transformer", stated)).toMatchObject({
      "coupling.diameter": null,
      "coupling.clearance": null,
      "coupling.conductor.diameter": null,
      "coupling.turns": 10,
    });
  });

  test("keeps a size that is stated already", () => {
    expect(anotherCoupling("loop", ["coupling.diameter"])).toEqual({ "coupling.kind": "loop" });
  });

  test("asks only for its own keys", () => {
    expect(couplingHas("transformer", "coupling.clearance")).toBe(false);
    expect(couplingHas("tapped", "coupling.clearance")).toBe(true);
    expect(couplingHas("tapped", "ring.perimeter")).toBe(true);
  });
});
