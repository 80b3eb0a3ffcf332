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
  depth: number;
}

/** A place in space as it is seen: to the right, upwards, and how near. */
export function seen(place: readonly number[], { azimuth, elevation }: Look): readonly [right: number, up: number, near: number] {
  const [a, e] = [(azimuth * Math.PI) / 180, (elevation * Math.PI) / 180];
  const [x, y, z] = [place[0] ?? 0, place[1] ?? 0, place[2] ?? 0];
  const level = x * Math.cos(a) + y * Math.sin(a);
  return [y * Math.cos(a) - x * Math.sin(a), z * Math.cos(e) - level * Math.sin(e), level * Math.cos(e) + z * Math.sin(e)];
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
      found.push({ corners: corners.map(([x, y]): Spot => [x, y]), share, depth });
    }
  }
  return found.sort((one, other) => one.depth - other.depth);
}
