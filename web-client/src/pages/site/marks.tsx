// SPDX-License-Identifier: BSD-3-Clause
// What is drawn on both cuts: squared paper, zones of the limits, lobes, people's marks.
import type { Cut } from "../../api/messages";
import type { System } from "../../quantities";
import type { Spot } from "../../widgets/ring_geometry";
import { onPaper, type Plane, zonePath } from "./plane";
import * as site from "../../state/site";
import { limitClass, limitKey, markOf } from "./words";

const SQUARES: Record<System, readonly number[]> = {
  metric: [0.1, 0.2, 0.5, 1, 2, 5, 10, 20],
  imperial: [1, 2, 5, 10, 20, 50].map((feet) => feet * 0.3048),
};
const LEAST = 15; // px

/** The side of one square of the paper, in metres. */
export function squareOf(scale: number, system: System): number {
  return SQUARES[system].find((size) => size * scale >= LEAST) ?? 50;
}

export function squareText(scale: number, system: System): string {
  const size = squareOf(scale, system);
  return system === "metric" ? `1 square = ${size} m` : `1 square = ${Math.round(size / 0.3048)} ft`;
}

export function Paper({ plane, id, system }: { plane: Plane; id: string; system: System }) {
  const pixels = squareOf(plane.scale, system) * plane.scale;
  const [x, y] = plane.zero;
  return (
    <>
      <defs>
        <pattern id={`paper-${id}`} width={pixels} height={pixels} x={x} y={y} patternUnits="userSpaceOnUse">
          <path class="square" d={`M0 0H${pixels}M0 0V${pixels}`} />
        </pattern>
      </defs>
      <rect width={plane.width} height={plane.height} fill={`url(#paper-${id})`} />
    </>
  );
}

/** The hatches of the limits, one direction each, so that nothing hangs on colour alone. */
export function Hatches() {
  return (
    <defs>
      {[0, 45, 90, 135, 20].map((angle, index) => (
        <pattern key={angle} id={`hatch-${index}`} width="8" height="8" patternUnits="userSpaceOnUse" patternTransform={`rotate(${angle})`}>
          <path class={`hatch hatch-${index}`} d="M0 4H8" />
        </pattern>
      ))}
    </defs>
  );
}

/** Filled outlines, the widest first, each with its mark where it reaches farthest up. */
export function Zones({ plane, cut }: { plane: Plane; cut: Cut }) {
  const sized = cut.zones.filter((zone) => zone.rings_m.length > 0);
  const reach = (rings: readonly (readonly number[])[]) => Math.max(...rings.flat().map(Math.abs));
  const ordered = [...sized].sort((one, other) => reach(other.rings_m) - reach(one.rings_m));
  return (
    <g class={`zones ${site.isOfTheDraft.value ? "" : "outdated"}`}>
      {ordered.map((zone) => {
        const path = zonePath(plane, cut, zone.rings_m);
        return (
          <g key={limitKey(zone)} class={`zone ${limitClass(zone.limit)} ${zone.tier}`} data-limit={limitKey(zone)}>
            <path class="zone-fill" fill-rule="evenodd" d={path} />
            <path class="zone-hatch" fill-rule="evenodd" d={path} />
            <path class="zone-edge" d={path} />
          </g>
        );
      })}
      {ordered.map((zone, index) => (
        <ZoneMark key={limitKey(zone)} spot={markSpot(plane, cut, zone.rings_m, index)} mark={markOf(zone)} limit={zone.limit} />
      ))}
    </g>
  );
}

/** A spot on the outline for its mark; the marks of several outlines stand side by side, not on each other. */
function markSpot(plane: Plane, cut: Cut, rings: readonly (readonly number[])[], index: number): Spot {
  const angle = Math.PI * (0.5 - 0.11 * (index + 1));
  const [ax, ay] = [Math.cos(angle), Math.sin(angle)];
  let best: Spot = [0, 0];
  let farthest = Number.NEGATIVE_INFINITY;
  for (const ring of rings) {
    for (let at = 0; at + 1 < ring.length; at += 2) {
      const [x, y] = [ring[at] ?? 0, ring[at + 1] ?? 0];
      const along = x * ax + y * ay - 1.5 * Math.abs(x * ay - y * ax);
      if (along > farthest) [farthest, best] = [along, [x, y]];
    }
  }
  const origin = onPaper(plane, cut.origin_m);
  const spot: Spot = [origin[0] + best[0] * plane.scale, origin[1] - best[1] * plane.scale];
  const inside = (value: number, size: number) => Math.min(Math.max(value, 12), size - 12);
  return [inside(spot[0], plane.width), inside(spot[1], plane.height)];
}

function ZoneMark({ spot: [x, y], mark, limit }: { spot: Spot; mark: string; limit: string }) {
  return (
    <g class={`zone-mark ${limitClass(limit)}`} aria-hidden="true">
      <circle cx={x} cy={y} r={8.5} />
      <text x={x} y={y + 4} text-anchor="middle">
        {mark}
      </text>
    </g>
  );
}

export type Standing = "passes" | "exceeds" | "unknown";

/** Somebody's spot: round and ticked where every limit is kept, square and crossed where one is exceeded. */
export function PersonMark({ at: [x, y], standing }: { at: Spot; standing: Standing }) {
  return (
    <g class={`person-mark ${standing}`} transform={`translate(${x} ${y})`}>
      {standing === "exceeds" ? <path class="body" d="M0-10.5L10.5 0L0 10.5L-10.5 0Z" /> : <circle class="body" r={9} />}
      {standing === "passes" && <path class="sign" d="M-4 .5L-1 3.6L4.2-3.2" />}
      {standing === "exceeds" && <path class="sign" d="M-3.4-3.4L3.4 3.4M-3.4 3.4L3.4-3.4" />}
      {standing === "unknown" && <path class="sign" d="M-3.5 0H3.5" />}
    </g>
  );
}

/** A short text with a halo, kept inside the drawing. */
export function Label({ at: [x, y], text, width, class: name = "note" }: { at: Spot; text: string; width: number; class?: string }) {
  const half = 3.6 * text.length;
  return (
    <text class={name} x={Math.min(Math.max(x, half + 4), Math.max(width - half - 4, half + 4))} y={y} text-anchor="middle">
      {text}
    </text>
  );
}
