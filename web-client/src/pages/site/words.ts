// SPDX-License-Identifier: BSD-3-Clause
// How the site is spoken of: limits by name, distances on the safe side, angles as bearings.
import type { Limit, LimitName, Margin } from "../../api/messages";
import { minus, type System } from "../../quantities";

/** Names and marks of the limits. What they mean and where they come from the server says. */
const LIMITS: Record<string, { words: string; short: string; mark: string }> = {
  "fcc-1.1310": { words: "FCC 1.1310", short: "FCC", mark: "F" },
  "icnirp-2020-whole-body": { words: "ICNIRP 2020, whole body", short: "ICNIRP body", mark: "W" },
  "icnirp-2020-local": { words: "ICNIRP 2020, local", short: "ICNIRP local", mark: "L" },
  "icnirp-2010-instantaneous": { words: "ICNIRP 2010, instantaneous", short: "ICNIRP instant", mark: "I" },
  "eu-1999-519": { words: "EU 1999/519", short: "EU", mark: "E" },
};

export function limitWords(limit: string): { words: string; short: string; mark: string } {
  return LIMITS[limit] ?? { words: limit, short: limit, mark: limit.slice(0, 1).toUpperCase() };
}

/** The class that gives a limit its ink and hatch. */
export function limitClass(limit: string): string {
  return limit in LIMITS ? `limit-${limit.replace(".", "-")}` : "limit-other";
}

export function limitKey({ limit, tier }: LimitName): string {
  return `${limit} ${tier}`;
}

/** A mark of a limit and tier: a capital for the public, a small letter for those who are informed. */
export function markOf({ limit, tier }: LimitName): string {
  const { mark } = limitWords(limit);
  return tier === "public" ? mark : mark.toLowerCase();
}

/** A distance to keep, never shown shorter than it is. */
export function distanceText(metres: number, system: System, digits: number): { number: string; unit: string } {
  const [value, unit, places] = system === "metric" ? [metres, "m", digits] : [metres / 0.3048, "ft", 1];
  const grain = 10 ** -places;
  return { number: (Math.ceil(value / grain - 1e-6) * grain).toFixed(places), unit };
}

export function degrees(value: number): string {
  return `${minus(value.toFixed(0))}\u00b0`;
}

const POINTS = ["N", "NE", "E", "SE", "S", "SW", "W", "NW"];

/** A true bearing with the nearest of eight points of the compass. */
export function bearingText(bearing: number): string {
  const whole = Math.round(bearing) % 360;
  return `${String(whole).padStart(3, "0")}\u00b0 ${POINTS[Math.round(whole / 45) % 8]}`;
}

/** The limit that a spot comes nearest to, or exceeds the most. */
export function worst(margins: readonly Margin[]): Margin | null {
  const size = (margin: Margin) => margin.margin_unfavourable_db ?? Number.POSITIVE_INFINITY;
  return margins.reduce<Margin | null>((least, one) => (least === null || size(one) < size(least) ? one : least), null);
}

/** Names of the limits in their order, each once. */
export function namesOf(limits: readonly Limit[]): string[] {
  return [...new Set(limits.map((one) => one.limit))];
}
