// SPDX-License-Identifier: BSD-3-Clause
// The world round one's own place: distance and bearing are true, the area of a dot is how many reports came from there,
// the dashed line is how the ring on the bench is predicted to fire.
import { useState } from "preact/hooks";
import type { AirPattern, AirSeen, AirWorld } from "../../api/messages";
import * as air from "../../state/air";
import { distance, thousands } from "./words";

const RADIUS = 300;
const MARGIN = 26;
const LARGEST_DOT = 15;
/** Decibels below its best at which the pattern's rings reach the middle, and where its best lies. */
const SHOWN_DB = 20;
const PATTERN_SHARE = 0.9;
const RINGS_M = [2e6, 5e6, 10e6, 15e6];
const BELOW_DB = [0, -5, -10, -15];

export function WorldMap({ seen, world }: { seen: AirSeen; world: AirWorld }) {
  const [chosen, choose] = useState<number | null>(null);
  const at = chosen !== null && chosen < world.x.length ? chosen : null;
  const size = 2 * (RADIUS + MARGIN);
  return (
    <figure class="world">
      <svg class="world-map" viewBox={`${-size / 2} ${-size / 2} ${size} ${size}`} role="img" aria-label={spoken(seen, world)} onPointerMove={(event) => choose(nearest(event, world))} onPointerLeave={() => choose(null)}>
        <circle class="sea" r={RADIUS} />
        <path class="coast" d={coastPath(world)} />
        <Rings world={world} />
        {seen.pattern && <Pattern pattern={seen.pattern} />}
        <Dots world={world} chosen={at} />
        <circle class="home" r={3} />
        <Letters />
      </svg>
      <figcaption class="small">
        <span class="quiet">
          {thousands(seen.shown)} reports from {thousands(world.x.length)} places round {seen.locator}; the area of a dot is their number.
          {world.placeless > 0 && ` ${thousands(world.placeless)} tell no place.`}
          {seen.pattern && ` Dashed: predicted pattern${seen.pattern.band ? ` on ${seen.pattern.band}` : ""} at ${seen.pattern.elevation_deg}° take-off, decibels below its best.`}
        </span>
        <span class="pointed" aria-live="off">
          {at === null ? "" : told(world, at)}
        </span>
        <span class="save-map">
          <button type="button" aria-label="Save the map as SVG" onClick={() => void air.savePicture("svg")}>
            SVG
          </button>
          <button type="button" aria-label="Save the map as PNG" onClick={() => void air.savePicture("png")}>
            PNG
          </button>
        </span>
      </figcaption>
    </figure>
  );
}

function Rings({ world }: { world: AirWorld }) {
  return (
    <g class="distance-rings">
      {RINGS_M.map((metres) => {
        const radius = (metres / world.half_round_m) * RADIUS;
        return (
          <g key={metres}>
            <circle r={radius} />
            <text x={3} y={radius - 4}>
              {distance(metres)}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function Dots({ world, chosen }: { world: AirWorld; chosen: number | null }) {
  const most = Math.max(1, ...world.count);
  return (
    <g class="dots">
      {world.x.map((x, index) => (
        <circle
          key={`${x} ${world.y[index]}`}
          class={index === chosen ? "dot chosen" : "dot"}
          cx={(x * RADIUS).toFixed(1)}
          cy={(-(world.y[index] ?? 0) * RADIUS).toFixed(1)}
          r={Math.max(1.4, LARGEST_DOT * Math.sqrt((world.count[index] ?? 0) / most)).toFixed(1)}
        />
      ))}
    </g>
  );
}

function Pattern({ pattern }: { pattern: AirPattern }) {
  const best = Math.max(...pattern.gain_dbi);
  const points = pattern.bearing_deg.map((bearing, index) => {
    const radius = patternRadius((pattern.gain_dbi[index] ?? best) - best);
    const angle = (bearing * Math.PI) / 180;
    return `${(radius * Math.sin(angle)).toFixed(1)} ${(-radius * Math.cos(angle)).toFixed(1)}`;
  });
  return (
    <g class="predicted">
      {BELOW_DB.map((below) => (
        <g key={below}>
          <circle class="decibel-ring" r={patternRadius(below)} />
          <text x={-4} y={-patternRadius(below) - 2}>
            {below === 0 ? "0 dB" : `−${-below}`}
          </text>
        </g>
      ))}
      <path class="lobe" d={`M${points.join("L")}Z`} />
    </g>
  );
}

function Letters() {
  const off = RADIUS + 14;
  return (
    <g class="compass" aria-hidden="true">
      <text y={-RADIUS - 8}>N</text>
      <text y={RADIUS + 18}>S</text>
      <text x={off} y={5}>
        E
      </text>
      <text x={-off} y={5}>
        W
      </text>
    </g>
  );
}

function patternRadius(below: number): number {
  return PATTERN_SHARE * RADIUS * (1 + Math.max(below, -SHOWN_DB) / SHOWN_DB);
}

function coastPath(world: AirWorld): string {
  return world.coast
    .map((line) => {
      let path = "";
      for (let index = 0; index + 1 < line.length; index += 2) path += `${index ? "L" : "M"}${((line[index] ?? 0) * RADIUS).toFixed(1)} ${(-(line[index + 1] ?? 0) * RADIUS).toFixed(1)}`;
      return path;
    })
    .join("");
}

/** The dot under the pointer, within a finger's width. */
function nearest(event: PointerEvent & { currentTarget: SVGSVGElement }, world: AirWorld): number | null {
  const box = event.currentTarget.getBoundingClientRect();
  const scale = (2 * (RADIUS + MARGIN)) / box.width;
  const x = ((event.clientX - box.left) * scale - RADIUS - MARGIN) / RADIUS;
  const y = -((event.clientY - box.top) * scale - RADIUS - MARGIN) / RADIUS;
  let [best, least] = [null as number | null, 20 / RADIUS];
  world.x.forEach((east, index) => {
    const apart = Math.hypot(east - x, (world.y[index] ?? 0) - y);
    if (apart < least) [best, least] = [index, apart];
  });
  return best;
}

function told(world: AirWorld, at: number): string {
  const [count, snr] = [world.count[at] ?? 0, world.snr_db[at]];
  const loud = snr === null || snr === undefined ? "" : `, median ${snr.toFixed(0).replace("-", "−")} dB`;
  return `${distance(world.distance_m[at] ?? 0)} at ${Math.round(world.bearing_deg[at] ?? 0)}°: ${thousands(count)} ${count === 1 ? "report" : "reports"}${loud}`;
}

function spoken(seen: AirSeen, world: AirWorld): string {
  const far = Math.max(0, ...world.distance_m);
  return `Map of the world round ${seen.locator}: ${seen.shown} reports from ${world.x.length} places, the farthest ${distance(far)} away.`;
}
