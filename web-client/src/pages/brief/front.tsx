// SPDX-License-Identifier: BSD-3-Clause
// The front: how large each ring is against the decibels that matter, each drawn as the little ring it is.
import { useRef } from "preact/hooks";
import type { SearchRing } from "../../api/messages";
import { minus, shownLength } from "../../quantities";
import * as brief from "../../state/brief";
import { system } from "../../state/preferences";
import { stacked, ticks } from "../../widgets/plot_scale";
import { useSize } from "../../widgets/size";
import { figureText } from "./figure";

const SIDES: Record<string, number> = { square: 4, hexagon: 6, octagon: 8 };
const EDGE = { left: 56, right: 26, top: 26, bottom: 44 };
const HEIGHT = 340;
const TOUCH = 22; // pixels, radius of what a thumb meets
const BADGE = 11;
const [LEAST, MOST] = [9, 22]; // radii of the drawn rings, pixels

export function Front({ rings }: { rings: readonly SearchRing[] }) {
  const box = useRef<HTMLDivElement>(null);
  const width = useSize(box)?.width ?? 600;
  const across = rings.map((ring) => ring.diameter_m);
  const scores = rings.map((ring) => ring.score);
  const [x, y] = [spread(across, 0.15), spread(scores, 1)];
  const left = (metres: number) => EDGE.left + ((metres - x.low) / (x.high - x.low)) * (width - EDGE.left - EDGE.right);
  const top = (score: number) => HEIGHT - EDGE.bottom - ((score - y.low) / (y.high - y.low)) * (HEIGHT - EDGE.top - EDGE.bottom);
  const largest = Math.max(...across);
  const labels = stacked(rings.map((ring) => ({ x: left(ring.diameter_m), y: top(ring.score) })), { top: EDGE.top, bottom: HEIGHT - EDGE.bottom });
  return (
    <div class="front" ref={box}>
      <svg width={width} height={HEIGHT} viewBox={`0 0 ${width} ${HEIGHT}`} role="group" aria-label="The front: size against score">
        <g class="front-scale" aria-hidden="true">
          {ticks(x, 5).map((metres) => (
            <g key={metres}>
              <path d={`M${left(metres)} ${EDGE.top}V${HEIGHT - EDGE.bottom}`} />
              <text x={left(metres)} y={HEIGHT - EDGE.bottom + 18} text-anchor="middle">
                {shownLength(metres, system.value)}
              </text>
            </g>
          ))}
          {ticks(y, 5).map((score) => (
            <g key={score}>
              <path d={`M${EDGE.left} ${top(score)}H${width - EDGE.right}`} />
              <text x={EDGE.left - 8} y={top(score) + 4} text-anchor="end">
                {minus(String(Number(score.toFixed(3))))}
              </text>
            </g>
          ))}
          <text x={width - EDGE.right} y={HEIGHT - 6} text-anchor="end">
            across
          </text>
          <text x={4} y={14}>
            score, dB: higher is better
          </text>
        </g>
        {rings.map((ring, number) => (
          <g
            key={ring.design}
            class={`front-ring${number === brief.chosen.value ? " chosen" : ""}`}
            role="button"
            tabindex={0}
            aria-pressed={number === brief.chosen.value}
            aria-label={`${number + 1}: ${ring.design}, score ${figureText("score", ring.score)}`}
            transform={`translate(${left(ring.diameter_m)} ${top(ring.score)})`}
            onClick={() => (brief.chosen.value = number)}
            onKeyDown={(event) => {
              if (event.key !== "Enter" && event.key !== " ") return;
              event.preventDefault();
              brief.chosen.value = number;
            }}
          >
            <path d={outline(ring.shape, LEAST + (MOST - LEAST) * (ring.diameter_m / largest) ** 2)} />
            <Label number={number} away={labels[number] ?? 0} />
          </g>
        ))}
      </svg>
    </div>
  );
}

/** The number, in the ring or led out of it by a line: the ring stays where its size and score are. */
function Label({ number, away }: { number: number; away: number }) {
  return (
    <g class="front-label">
      {away !== 0 && <path class="front-lead" d={`M0 0V${away}`} />}
      {away !== 0 && <circle class="front-spot" r={3} />}
      <circle cy={away} r={TOUCH} class="front-touch" />
      {away !== 0 && <circle cy={away} r={BADGE} class="front-badge" />}
      <text y={away + 4} text-anchor="middle">
        {number + 1}
      </text>
    </g>
  );
}

/** A span around values, with some room, never empty. */
function spread(values: readonly number[], least: number): { low: number; high: number } {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = Math.max((high - low) * 0.12, least / 2);
  return { low: low - room, high: high + room };
}

/** A ring with its gap at the top. */
function outline(shape: string, radius: number): string {
  const sides = SIDES[shape] ?? 40;
  const reach = sides < 40 ? radius / Math.cos(Math.PI / sides) : radius;
  const corners = Array.from({ length: sides }, (_, index) => {
    const angle = ((index + 0.5) / sides) * 2 * Math.PI;
    return `${(reach * Math.sin(angle)).toFixed(1)} ${(-reach * Math.cos(angle)).toFixed(1)}`;
  });
  return `M3 ${-radius}L${corners.join("L")}L-3 ${-radius}`;
}
