// SPDX-License-Identifier: BSD-3-Clause
// The trade: least SWR of every band and of the worst over the coupling's size, with the one found and the one now.
import { useRef } from "preact/hooks";
import type { MatchDocument, MatchPoint, MatchTrial } from "../../../api/messages";
import { onARule } from "../../../quantities";
import { system } from "../../../state/preferences";
import { type Size, useSize } from "../../../widgets/size";

const HIGHEST = 5;
const LINES = [1, 1.5, 2, 3, 5];
const MARGIN = { left: 30, right: 8, top: 20, bottom: 24 };

/** Millimetres, which is how finely a loop is bent, or inches on a rule. */
export function lengthWords(metres: number): string {
  return system.value === "metric" ? `${(1e3 * metres).toFixed(0)}\u202fmm` : onARule(metres);
}

export function MatchCurve({ found }: { found: MatchDocument }) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  return (
    <figure class="match-figure">
      <div class="plot-frame" ref={frame}>
        {size && size.width > 0 && <Plot found={found} size={size} />}
      </div>
      <figcaption class="quiet small">
        Least SWR over {what(found.best)}: the worst band bold, each band thin.
        {found.one_fifth && ` \u2155: the rule of a fifth of the ring's diameter, SWR ${found.one_fifth.swr_worst.toFixed(2)}.`}
      </figcaption>
    </figure>
  );
}

function Plot({ found, size }: { found: MatchDocument; size: Size }) {
  const points = inSight(found);
  const [first, last] = [points[0], points.at(-1)];
  if (!first || !last) return null;
  const [low, high] = [sizeOf(first), sizeOf(last)];
  const [right, bottom] = [size.width - MARGIN.right, size.height - MARGIN.bottom];
  const x = (one: number) => MARGIN.left + (Math.log(one / low) / Math.log(high / low || Math.E)) * (right - MARGIN.left);
  const y = (swr: number) => bottom - (Math.log(Math.min(swr, 2 * HIGHEST)) / Math.log(HIGHEST)) * (bottom - MARGIN.top);
  const path = (value: (point: MatchPoint) => number) => `M${points.map((point) => `${x(sizeOf(point)).toFixed(1)} ${y(value(point)).toFixed(1)}`).join("L")}`;
  const marks = [
    { words: "found", at: sizeOf(found.best), class: "found" },
    { words: "now", at: sizeOf(found.now), class: "now" },
    ...(found.one_fifth ? [{ words: "\u2155", at: sizeOf(found.one_fifth), class: "rule" }] : []),
  ].filter(({ at }) => at >= low && at <= high);
  return (
    <svg
      class="plot"
      width={size.width}
      height={size.height}
      role="img"
      aria-label={`Worst SWR ${found.best.swr_worst.toFixed(2)} at ${lengthOrTurns(found.best)}; now ${found.now.swr_worst.toFixed(2)} at ${lengthOrTurns(found.now)}`}
    >
      <clipPath id="match-clip">
        <rect x={MARGIN.left} y={MARGIN.top} width={right - MARGIN.left} height={bottom - MARGIN.top} />
      </clipPath>
      {LINES.map((swr) => (
        <g key={swr}>
          <path class={swr === 2 ? "grid strong" : "grid"} d={`M${MARGIN.left} ${y(swr)}H${right}`} />
          <text class="tick" x={MARGIN.left - 6} y={y(swr) + 4} text-anchor="end">
            {swr}
          </text>
        </g>
      ))}
      <g clip-path="url(#match-clip)">
        {first.swr_min.map((_, band) => (
          <path key={found.best.bands[band]?.frequency_hz} class="curve thin" d={path((point) => point.swr_min[band] ?? HIGHEST)} />
        ))}
        <path class="curve" d={path((point) => point.swr_worst)} />
      </g>
      {marks.map((mark) => (
        <g key={mark.words} class={`match-mark ${mark.class}`}>
          <path d={`M${x(mark.at)} ${MARGIN.top}V${bottom}`} />
          <text class="tick" x={x(mark.at)} y={mark.class === "now" ? MARGIN.top + 12 : MARGIN.top - 6} text-anchor="middle">
            {mark.words}
          </text>
        </g>
      ))}
      <text class="tick" x={MARGIN.left} y={bottom + 17}>
        {lengthOrTurns(first)}
      </text>
      <text class="tick" x={right} y={bottom + 17} text-anchor="end">
        {lengthOrTurns(last)}
      </text>
    </svg>
  );
}

/** The curve from where the worst SWR leaves the paper on one side to where it does on the other, in order. */
function inSight(found: MatchDocument): MatchPoint[] {
  const points = [...found.curve].sort((a, b) => sizeOf(a) - sizeOf(b));
  const best = sizeOf(found.best);
  const first = points.findLastIndex((point) => sizeOf(point) < best && point.swr_worst > HIGHEST);
  const last = points.findIndex((point) => sizeOf(point) > best && point.swr_worst > HIGHEST);
  return points.slice(Math.max(first, 0), last < 0 ? undefined : last + 1);
}

type Sizes = Pick<MatchTrial, "diameter_m" | "tap_at_m" | "turns">;

/** The size that is always varied. */
function sizeOf({ diameter_m, tap_at_m, turns }: Sizes): number {
  return tap_at_m ?? turns ?? diameter_m ?? 1;
}

function what({ tap_at_m, turns }: Sizes): string {
  return tap_at_m !== null ? "the tap's place" : turns !== null ? "turns on the core" : "the loop's diameter";
}

function lengthOrTurns(sizes: Sizes): string {
  return sizes.turns !== null ? `${sizes.turns} turns` : lengthWords(sizeOf(sizes));
}
