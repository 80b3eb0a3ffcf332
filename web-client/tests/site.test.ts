// SPDX-License-Identifier: BSD-3-Clause
import { describe, expect, test } from "vitest";
import type { Cut, SiteSpace } from "../src/api/messages";
import { LiveLine } from "../src/api/live_line";
import { facets, seen } from "../src/pages/site/facets";
import { inMetres, movedTo, onPaper, type Plane, polarPath, roomFor, rounded, scaleFor, turnOf, zonePath } from "../src/pages/site/plane";
import { bearingText, distanceText, limitWords, markOf, worst } from "../src/pages/site/words";

const SECTION: Plane = { width: 400, height: 300, scale: 50, zero: [200, 270], right: [0.6, 0.8, 0], up: [0, 0, 1] };

describe("a plane", () => {
  test("shows a place where its coordinates are", () => {
    expect(onPaper(SECTION, [0, 0, 0])).toEqual([200, 270]);
    expect(onPaper(SECTION, [0.6, 0.8, 2])).toEqual([250, 170]);
    expect(inMetres(SECTION, [250, 170])).toEqual([1, 2]);
  });

  test("moves a place within itself only, and never under the earth", () => {
    const moved = movedTo(SECTION, [0.8 * 3, -0.6 * 3, 1], [2, 1.5]); // 3 m across the plane
    expect(moved[0] * 0.6 + moved[1] * 0.8).toBeCloseTo(2, 12);
    expect(moved[0] * 0.8 - moved[1] * 0.6).toBeCloseTo(3, 12);
    expect(moved[2]).toBeCloseTo(1.5, 12);
    expect(movedTo(SECTION, [0, 0, 1], [0, -5])[2]).toBe(0);
  });

  test("draws a zone round its cut's origin", () => {
    const cut = { origin_m: [0, 0, 2], zones: [] } as unknown as Cut;
    expect(zonePath(SECTION, cut, [[0, 0, 1, 0, 1, 1]])).toBe("M200.0 170.0L250.0 170.0L250.0 120.0Z");
  });
});

test("a room holds every spot with air, in steps, at the scale that fits", () => {
  const room = roomFor([[-1.9, 0], [3.1, 2.2]], 0.3); // prettier-ignore
  expect(room).toEqual({ low: [-2.5, -0.5], high: [3.5, 2.5] });
  expect(scaleFor(room, 600, 600)).toBe(100);
  expect(scaleFor(room, 600, 150)).toBe(50);
});

test("the strongest gain lies on the rim and 30 dB less in the middle", () => {
  expect(polarPath([100, 100], 60, -3, [0, 90, 180], [-3, -18, -33])).toBe("M160.0 100.0L100.0 70.0L100.0 100.0");
});

test("angles and lengths are tidy", () => {
  expect([190, -190, 540, -180].map(turnOf)).toEqual([-170, 170, -180, -180]);
  expect(rounded(1.2345, 0.05)).toBe(1.25);
});

describe("a distance to keep is never shown shorter than it is", () => {
  test.each([1.5, 1.8, 2.9, 0.1, 12.34])("%d m", (metres) => {
    for (const [system, size] of [["metric", 1], ["imperial", 0.3048]] as const) {
      const { number } = distanceText(metres, system, 1);
      expect(Number(number) * size).toBeGreaterThanOrEqual(metres - 1e-6);
      expect(Number(number) * size).toBeLessThan(metres + 0.11);
    }
  });
  test("and tenths stay tenths", () => expect(distanceText(1.5, "metric", 1)).toEqual({ number: "1.5", unit: "m" }));
});

test("bearings are said with the compass", () => {
  expect(["0", "22", "23", "359.6", "270"].map((text) => bearingText(Number(text)))).toEqual(["000° N", "022° N", "023° NE", "000° N", "270° W"]);
});

test("the limit that counts for a spot is the one with the least margin", () => {
  const margin = (margin_unfavourable_db: number | null) => ({
    limit: "eu-1999-519",
    tier: "public" as const,
    margin_db: 4,
    margin_unfavourable_db,
    passes: true,
    power_allowed_w: 1,
    power_allowed_unfavourable_w: 1,
  });
  expect(worst([margin(3), margin(-2), margin(null)])?.margin_unfavourable_db).toBe(-2);
  expect(worst([])).toBeNull();
});

test("each limit has a mark of its own, small for those who are informed", () => {
  const limits = ["fcc-1.1310", "icnirp-2020-whole-body", "icnirp-2020-local", "icnirp-2010-instantaneous", "eu-1999-519"];
  const marks = limits.flatMap((limit) => [markOf({ limit, tier: "public" }), markOf({ limit, tier: "occupational" })]);
  expect(new Set(marks).size).toBe(10);
  expect(limitWords("one-of-tomorrow").words).toBe("one-of-tomorrow");
});

describe("the pattern in space", () => {
  test("is seen from where the eye stands", () => {
    const look = { azimuth: 0, elevation: 0 };
    expect(seen([1, 0, 0], look)).toEqual([0, 0, 1]); // towards the eye
    expect(seen([0, 1, 0], look)[0]).toBeCloseTo(1, 12);
    expect(seen([0, 0, 1], look)[1]).toBeCloseTo(1, 12);
    expect(seen([0, 0, 1], { azimuth: 77, elevation: 90 })[2]).toBeCloseTo(1, 12); // from above
  });

  test("is painted from back to front, weak directions small", () => {
    const grid = (gain: number) => [0, 30, 60, 90].map(() => [0, 90, 180, 270, 360].map(() => gain));
    const space = { elevation_deg: [0, 30, 60, 90], azimuth_deg: [0, 90, 180, 270, 360], gain_dbi: grid(-15) } as unknown as SiteSpace;
    const found = facets(space, 0, { azimuth: 20, elevation: 30 });
    expect(found).toHaveLength(12);
    expect(found.map((facet) => facet.depth)).toEqual(found.map((facet) => facet.depth).sort((a, b) => a - b));
    expect(found.every((facet) => facet.share === 0.5)).toBe(true);
  });
});

test("a look has its own place on the line, free again with its first part", () => {
  const sent: { type: string; seq: number; view?: object }[] = [];
  const heard: [string, unknown][] = [];
  const wire = {
    readyState: 1,
    send: (text: string) => sent.push(JSON.parse(text)),
    onopen: () => {},
    onclose: () => {},
    onmessage: (_: { data: string }) => {},
    close: () => {},
  };
  const line = new LiveLine(
    { message: (message, answered) => heard.push([message.type, answered]), connected: () => {} },
    () => wire as unknown as WebSocket,
    () => 0,
  );
  wire.onopen();
  line.ask({ edits: { power: "1 W" } });
  line.look({ view: { band: 1 } });
  line.look({ view: { band: 2 } });
  line.look({ view: { band: 3 } });
  expect(sent.map((one) => one.type)).toEqual(["predict", "site"]);
  wire.onmessage({ data: JSON.stringify({ type: "site_outlines", seq: 2 }) });
  expect(sent).toHaveLength(2);
  wire.onmessage({ data: JSON.stringify({ type: "site_scene", seq: 2 }) });
  expect(sent.at(-1)).toMatchObject({ type: "site", view: { band: 3 } });
  expect(heard).toEqual([["site_outlines", null], ["site_scene", { view: { band: 1 } }]]); // prettier-ignore
});
