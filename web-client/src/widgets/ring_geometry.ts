// SPDX-License-Identifier: BSD-3-Clause
// The ring as it is drawn: from metres in space to pixels on paper. Pure, so that it can be tested by itself.
import type { Drawing } from "../api/messages";

export type Spot = readonly [x: number, y: number];
type Vector = readonly number[];

/** An oblique look along the ring's axis, so that a second turn is seen behind the first. */
const OBLIQUE: Spot = [0.3, 0.15];

export interface Flat {
  ring: Spot[];
  coupling: Spot[];
  feed: Spot;
  gap: Spot;
}

/** Ring and coupling loop in metres in the ring's plane, seen along its axis: x across, y up, the ring's centre at 0, 0. */
export function flatten(drawing: Drawing): Flat {
  const look = (point: Vector): Spot => {
    const from = point.map((value, axis) => value - (drawing.centre_m[axis] ?? 0));
    const depth = dot(from, drawing.axis);
    return [dot(from, drawing.across) + OBLIQUE[0] * depth, dot(from, drawing.up) + OBLIQUE[1] * depth];
  };
  return {
    ring: drawing.ring.points_m.map(look),
    coupling: drawing.coupling.points_m.map(look),
    feed: look(drawing.feed_m),
    gap: look(drawing.gap_m),
  };
}

function dot(one: Vector, other: Vector): number {
  return one.reduce((sum, value, axis) => sum + value * (other[axis] ?? 0), 0);
}

export interface Box {
  left: number;
  right: number;
  low: number;
  high: number;
}

export function boxOf(spots: readonly Spot[]): Box {
  const [x, y] = [spots.map((spot) => spot[0]), spots.map((spot) => spot[1])];
  return { left: Math.min(...x), right: Math.max(...x), low: Math.min(...y), high: Math.max(...y) };
}

/** The smallest of the numbers 1, 1.25, 1.6, 2 ... 8, 10 times a power of ten that is not below the value (R10, ISO 3). */
export function preferred(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  const series = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10];
  return decade * (series.find((step) => step * decade >= value * (1 - 1e-9)) ?? 10);
}

/** The smallest of 1, 2, 5, 10 times a power of ten that is not below the value. */
export function round125(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  return decade * ([1, 2, 5, 10].find((step) => step * decade >= value * (1 - 1e-9)) ?? 10);
}

/** Outward unit normals at the nodes of a closed outline, whichever way it runs. */
export function normals(spots: readonly Spot[]): Spot[] {
  const turn = Math.sign(area(spots));
  return spots.map((_, index) => {
    const [before, after] = [at(spots, index - 1), at(spots, index + 1)];
    const [dx, dy] = [after[0] - before[0], after[1] - before[1]];
    const length = Math.hypot(dx, dy) || 1;
    return [(turn * dy) / length, (-turn * dx) / length];
  });
}

function area(spots: readonly Spot[]): number {
  return spots.reduce((sum, [x, y], index) => {
    const next = at(spots, index + 1);
    return sum + (x * next[1] - next[0] * y) / 2;
  }, 0);
}

function at(spots: readonly Spot[], index: number): Spot {
  return spots[(index + spots.length) % spots.length] ?? [0, 0];
}

/** A closed outline, opened by so much to either side of its first node. */
export function openedAtStart(spots: readonly Spot[], half: number): Spot[] {
  const start = at(spots, 0);
  const toward = (spot: Spot): Spot => {
    const share = half / (Math.hypot(spot[0] - start[0], spot[1] - start[1]) || 1);
    return [start[0] + (spot[0] - start[0]) * share, start[1] + (spot[1] - start[1]) * share];
  };
  const isFar = (spot: Spot) => Math.hypot(spot[0] - start[0], spot[1] - start[1]) > half;
  const rest = spots.slice(1).filter(isFar);
  const [first, last] = [rest[0], rest.at(-1)];
  return first && last ? [toward(first), ...rest, toward(last)] : [];
}

/** Two edges of a ribbon that lies outside an outline, as wide at each node as stated. */
export function ribbon(spots: readonly Spot[], inner: number, widths: readonly number[]): { inner: Spot[]; outer: Spot[] } {
  const out = normals(spots);
  const shifted = (by: (index: number) => number): Spot[] =>
    spots.map(([x, y], index) => {
      const [nx, ny] = out[index] ?? [0, 0];
      return [x + nx * by(index), y + ny * by(index)];
    });
  return { inner: shifted(() => inner), outer: shifted((index) => inner + (widths[index] ?? 0)) };
}

/** A closed outline of few nodes as the smooth curve through the middles of its sides. */
export function smoothPathOf(spots: readonly Spot[]): string {
  const middles = spots.map((spot, index): Spot => {
    const next = at(spots, index + 1);
    return [(spot[0] + next[0]) / 2, (spot[1] + next[1]) / 2];
  });
  const text = ([x, y]: Spot) => `${x.toFixed(1)} ${y.toFixed(1)}`;
  const curves = middles.map((middle, index) => `Q${text(at(spots, index))} ${text(middle)}`);
  return `M${text(at(middles, -1))}${curves.join("")}Z`;
}

export function pathOf(spots: readonly Spot[], isClosed = true): string {
  const points = spots.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L");
  return points && `M${points}${isClosed ? "Z" : ""}`;
}
