// SPDX-License-Identifier: BSD-3-Clause
// A pattern as facets in space, seen from somewhere: pure, so that it can be tested by itself.
import type { SiteSpace } from "../../api/messages";
import type { Spot } from "../../widgets/ring_geometry";
import { LOBE_DECIBELS } from "./plane";

/** Where the eye stands, in degrees: azimuth from x towards y, elevation above the horizon. */
export interface Look {
  azimuth: number;
  elevation: number;
}

export interface Facet {
  corners: Spot[];
  /** 1 at the strongest direction, 0 where it is 30 dB weaker or less. */
  share: number;
  /** 1 where the light falls on it straight, 0 where it faces away. */
  light: number;
  depth: number;
}

/** Where the light comes from, as seen: from the left, from above, from the eye. */
const LAMP = [-0.45, 0.6, 0.66] as const;

type Seen = readonly [right: number, up: number, near: number];

/** A place in space as it is seen: to the right, upwards, and how near. */
export function seen(place: readonly number[], { azimuth, elevation }: Look): Seen {
  const [a, e] = [(azimuth * Math.PI) / 180, (elevation * Math.PI) / 180];
  const [x, y, z] = [place[0] ?? 0, place[1] ?? 0, place[2] ?? 0];
  const level = x * Math.cos(a) + y * Math.sin(a);
  return [y * Math.cos(a) - x * Math.sin(a), z * Math.cos(e) - level * Math.sin(e), level * Math.cos(e) + z * Math.sin(e)];
}

/** How straight the light falls on a facet, by its diagonals' cross product; either side counts as outside. */
function lit(corners: readonly Seen[]): number {
  const between = (from: number, to: number) => [0, 1, 2].map((axis) => (corners[to]?.[axis] ?? 0) - (corners[from]?.[axis] ?? 0));
  const [a, b] = [between(0, 2), between(1, 3)];
  const across = (i: number, j: number) => (a[i] ?? 0) * (b[j] ?? 0) - (a[j] ?? 0) * (b[i] ?? 0);
  const normal = [across(1, 2), across(2, 0), across(0, 1)];
  const length = Math.hypot(...normal) || 1;
  const towardsEye = (normal[2] ?? 0) < 0 ? -1 : 1;
  return Math.max(0, (towardsEye * normal.reduce((sum, value, axis) => sum + value * (LAMP[axis] ?? 0), 0)) / length);
}

/** All facets from the farthest to the nearest. */
export function facets(space: SiteSpace, strongest: number, from: Look): Facet[] {
  const shares = space.gain_dbi.map((row) => row.map((gain) => Math.max(0, 1 + (gain - strongest) / LOBE_DECIBELS)));
  const corner = (row: number, column: number) => {
    const share = shares[row]?.[column] ?? 0;
    const [e, a] = [((space.elevation_deg[row] ?? 0) * Math.PI) / 180, ((space.azimuth_deg[column] ?? 0) * Math.PI) / 180];
    return seen([share * Math.cos(e) * Math.cos(a), share * Math.cos(e) * Math.sin(a), share * Math.sin(e)], from);
  };
  const found: Facet[] = [];
  for (let row = 0; row + 1 < space.elevation_deg.length; row++) {
    for (let column = 0; column + 1 < space.azimuth_deg.length; column++) {
      const corners = [corner(row, column), corner(row, column + 1), corner(row + 1, column + 1), corner(row + 1, column)];
      const share = ((shares[row]?.[column] ?? 0) + (shares[row + 1]?.[column + 1] ?? 0)) / 2;
      const depth = corners.reduce((sum, one) => sum + one[2], 0);
      found.push({ corners: corners.map(([x, y]): Spot => [x, y]), share, light: lit(corners), depth });
    }
  }
  return found.sort((one, other) => one.depth - other.depth);
}
