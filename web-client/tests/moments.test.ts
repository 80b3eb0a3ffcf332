// SPDX-License-Identifier: BSD-3-Clause
import { describe, expect, test } from "vitest";
import { momentOf, secondsOf, shownMoment, timeTicks, typedMoment } from "../src/moments";
import { stretches } from "../src/pages/record/layout";
import type { RecordEntry } from "../src/api/messages";

const HOUR = 3600;
const DAY = 24 * HOUR;
const begin = new Date(2026, 4, 12, 9, 30).getTime() / 1000; // local time, as the axis is

describe("moments", () => {
  test("survive the way to text and back", () => {
    expect(secondsOf(momentOf(begin))).toBe(begin);
    expect(shownMoment(begin)).toBe("2026-05-12 09:30");
    expect(typedMoment("2026-05-12T09:30")).toBe(momentOf(begin));
    expect(typedMoment("")).toBeNull();
  });

  test.each([6 * HOUR, 2 * DAY, 9 * DAY, 40 * DAY, 200 * DAY, 900 * DAY, 9000 * DAY])("have at most so many ticks over %d s, in order and inside", (width) => {
    const span = { low: begin, high: begin + width };
    const found = timeTicks(span, 8).map((tick) => tick.at);
    expect(found.length).toBeGreaterThan(0);
    expect(found.length).toBeLessThanOrEqual(9);
    expect(found).toEqual([...found].sort((one, other) => one - other));
    expect(found.every((at) => at >= span.low && at <= span.high)).toBe(true);
  });

  test("name a month, and the year where it begins", () => {
    expect(timeTicks({ low: begin, high: begin + 300 * DAY }, 8).map((tick) => tick.label)).toEqual(["Jul", "Sep", "Nov", "2027", "Mar"]);
  });
});

describe("a stretch of the ring", () => {
  const sweep = (day: number, build: string | null) => ({ at: momentOf(begin + day * DAY), build }) as RecordEntry;
  const lengths = (entries: RecordEntry[], changes: number[] = []) => stretches(entries, changes).map((some) => some.length);

  test("ends at a change and at another build's name, not at a sweep without one", () => {
    const entries = [sweep(0, "as built"), sweep(1, null), sweep(2, "as built"), sweep(3, "remade")];
    expect(lengths(entries)).toEqual([3, 1]);
    expect(lengths(entries, [begin + 1.5 * DAY])).toEqual([2, 1, 1]);
  });
});
