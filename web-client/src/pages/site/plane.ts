// SPDX-License-Identifier: BSD-3-Clause
// From metres on the site to pixels on paper and back. Pure, so that it can be tested by itself.
import type { Cut } from "../../api/messages";
import type { Spot } from "../../widgets/ring_geometry";

export type Place = readonly [x: number, y: number, z: number];

/** A drawing of one cut: how many pixels a metre is, and where the cut's zero lies. */
export interface Plane {
  width: number;
  height: number;
  scale: number;
  zero: Spot;
  /** Unit vectors to the right and upwards on paper. */
  right: Place;
  up: Place;
}

export function dot(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, axis) => sum + value * (other[axis] ?? 0), 0);
}

/** Where a place is seen, straight on. */
export function onPaper(plane: Plane, place: readonly number[]): Spot {
  const { zero, scale } = plane;
  return [zero[0] + dot(place, plane.right) * scale, zero[1] - dot(place, plane.up) * scale];
}

/** Metres to the right and upwards of a spot on paper. */
export function inMetres(plane: Plane, [x, y]: Spot): Spot {
  return [(x - plane.zero[0]) / plane.scale, (plane.zero[1] - y) / plane.scale];
}

/** A place moved within the plane so that it is seen at these metres; what lies across the plane stays. */
export function movedTo(plane: Plane, place: Place, [right, up]: Spot): Place {
  const [alongRight, alongUp] = [right - dot(place, plane.right), up - dot(place, plane.up)];
  const moved = place.map((value, axis) => value + alongRight * (plane.right[axis] ?? 0) + alongUp * (plane.up[axis] ?? 0));
  return [moved[0] ?? 0, moved[1] ?? 0, Math.max(moved[2] ?? 0, 0)];
}

/** A length to the nearest step, without the crumbs of binary fractions. */
export function rounded(value: number, step: number): number {
  return Number((Math.round(value / step) * step).toFixed(4));
}

/** Closed lines of a cut's zone as one path. */
export function zonePath(plane: Plane, cut: Cut, rings: readonly (readonly number[])[]): string {
  const { scale } = plane;
  const [x, y] = onPaper(plane, cut.origin_m);
  return rings
    .map((ring) => {
      const spots: string[] = [];
      for (let at = 0; at + 1 < ring.length; at += 2) {
        spots.push(`${(x + (ring[at] ?? 0) * scale).toFixed(1)} ${(y - (ring[at + 1] ?? 0) * scale).toFixed(1)}`);
      }
      return `M${spots.join("L")}Z`;
    })
    .join("");
}

/** From the rim of a polar drawing to its middle. */
export const LOBE_DECIBELS = 30;

/** A line of gains round a middle: the strongest of all on a circle of `radius`, 30 dB less in the middle. */
export function polarPath(middle: Spot, radius: number, strongest: number, angles: readonly number[], gains: readonly number[]): string {
  const spots = gains.map((gain, index) => {
    const share = Math.max(0, 1 + (gain - strongest) / LOBE_DECIBELS);
    const angle = ((angles[index] ?? 0) * Math.PI) / 180;
    return `${(middle[0] + radius * share * Math.cos(angle)).toFixed(1)} ${(middle[1] - radius * share * Math.sin(angle)).toFixed(1)}`;
  });
  return `M${spots.join("L")}`;
}

/** Metres that a drawing shows: from `low` to `high` to the right and upwards. */
export interface Room {
  low: Spot;
  high: Spot;
}

const GRAIN = 0.5; // m

/** The room that holds all these spots with some air, in steps, so that it changes seldom. */
export function roomFor(spots: readonly Spot[], air: number): Room {
  const end = (axis: 0 | 1, side: 1 | -1) => {
    const farthest = side * Math.max(...spots.map((spot) => side * spot[axis])) + side * air;
    return (side * Math.ceil((side * farthest) / GRAIN)) * GRAIN;
  };
  return { low: [end(0, -1), end(1, -1)], high: [end(0, 1), end(1, 1)] };
}

/** Pixels a metre at which a room fits into so many pixels. */
export function scaleFor({ low, high }: Room, width: number, height: number): number {
  return Math.min(width / (high[0] - low[0]), height / (high[1] - low[1]));
}

/** An angle in degrees between -180 and 180. */
export function turnOf(degrees: number): number {
  return ((((degrees + 180) % 360) + 360) % 360) - 180;
}
