// SPDX-License-Identifier: BSD-3-Clause
// The reflection chart: reflection coefficient in the plane, circles of constant resistance and reactance, and the
// resonance as the circle it is. Chart after P. H. Smith, Electronics 12(1), 29-31, 1939.
import type { Band, BandCurves } from "../api/messages";
import { interpolate } from "./plot_scale";
import type { GhostCurves } from "./swr_curve";

const RESISTANCES = [0.2, 0.5, 1, 2, 5];
const REACTANCES = [0.2, 0.5, 1, 2, 5];

interface Props {
  band: Band;
  curves: BandCurves;
  ghosts: readonly GhostCurves[];
  cursor: number | null;
  label: string;
}

/** Circle of constant normalised resistance: centre on the axis at r/(1 + r), radius 1/(1 + r). */
export function resistanceCircle(r: number): { x: number; radius: number } {
  return { x: r / (1 + r), radius: 1 / (1 + r) };
}

/** Circle of constant normalised reactance: centre at 1, 1/x, radius 1/|x|; where it meets the rim. */
export function reactanceArc(reactance: number): { radius: number; rim: readonly [number, number] } {
  const square = reactance * reactance;
  return { radius: 1 / Math.abs(reactance), rim: [(square - 1) / (square + 1), (2 * reactance) / (square + 1)] };
}

export const R = 100;

export function ReflectionChart({ band, curves, ghosts, cursor, label }: Props) {
  const at = (f: number) => [
    interpolate(curves.frequency_hz, curves.reflection_re, f) * R,
    -interpolate(curves.frequency_hz, curves.reflection_im, f) * R,
  ];
  const [mx, my] = at(band.match.frequency_hz);
  const [cx, cy] = cursor === null ? [] : at(cursor);
  return (
    <svg class="plot reflection" viewBox="-104 -104 208 208" role="img" aria-label={label}>
      <Chart />
      {ghosts.map((ghost) => (
        <path key={ghost.letter} class={`curve ghost-curve pin-${ghost.letter}`} d={trace(ghost.curves)} />
      ))}
      <path class="curve" d={trace(curves)} />
      <circle class="least" cx={mx} cy={my} r={3.2} />
      {cx !== undefined && <circle class="cursor-dot" cx={cx} cy={cy} r={4} />}
    </svg>
  );
}

export function Chart() {
  return (
    <>
      <circle class="rim" r={R} />
      <path class="grid" d={`M${-R} 0H${R}`} />
      {RESISTANCES.map((r) => {
        const { x, radius } = resistanceCircle(r);
        return <circle key={r} class="grid" cx={x * R} r={radius * R} />;
      })}
      {REACTANCES.flatMap((x) => [x, -x]).map((x) => {
        const { radius, rim } = reactanceArc(x);
        const sweep = x > 0 ? 1 : 0;
        return <path key={x} class="grid" d={`M${R} 0A${radius * R} ${radius * R} 0 0 ${sweep} ${rim[0] * R} ${-rim[1] * R}`} />;
      })}
      <circle class="swr2" r={R / 3} />
      {RESISTANCES.map((r) => (
        <text key={r} class="tick" x={(2 * resistanceCircle(r).x - 1) * R + 2} y={-2.5}>
          {r}
        </text>
      ))}
      <text class="tick" x={-R / 3 + 1} y={R / 3 + 1}>
        SWR 2
      </text>
    </>
  );
}

function trace(curves: BandCurves): string {
  const points = curves.reflection_re.map(
    (re, index) => `${(re * R).toFixed(2)} ${(-(curves.reflection_im[index] ?? 0) * R).toFixed(2)}`,
  );
  return `M${points.join("L")}`;
}
