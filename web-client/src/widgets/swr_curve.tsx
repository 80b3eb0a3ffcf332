// SPDX-License-Identifier: BSD-3-Clause
// SWR at the feed over frequency, around the dip. The band's edges are drawn where they lie inside it.
import { useRef } from "preact/hooks";
import type { Band, BandCurves } from "../api/messages";
import type { PinLetter } from "../state/address";
import { decimals, dipSpan, type Span, ticks } from "./plot_scale";
import { type Size, useSize } from "./size";

export interface GhostCurves {
  letter: PinLetter;
  curves: BandCurves;
}
interface Props {
  band: Band;
  curves: BandCurves;
  ghosts: readonly GhostCurves[];
  cursor: number | null;
  label: string;
}

export const HIGHEST = 10;
export const LINES = [1, 1.5, 2, 3, 5, 10];
export const MARGIN = { left: 30, right: 8, top: 8, bottom: 24 };

export function SwrCurve(props: Props) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  return (
    <div class="plot-frame" ref={frame}>
      {size && size.width > 0 && <Plot {...props} size={size} />}
    </div>
  );
}

/** The frequencies on the paper. */
export function swrSpan(band: Band, curves: BandCurves): Span {
  return dipSpan(curves.frequency_hz, band.match.frequency_hz, band.bandwidth_half_power_hz);
}

function Plot({ band, curves, ghosts, cursor, label, size }: Props & { size: Size }) {
  const span = swrSpan(band, curves);
  const [right, bottom] = [size.width - MARGIN.right, size.height - MARGIN.bottom];
  const x = (f: number) => MARGIN.left + ((f - span.low) / (span.high - span.low)) * (right - MARGIN.left);
  const y = (swr: number) => bottom - (Math.log(swr) / Math.log(HIGHEST)) * (bottom - MARGIN.top);
  const { swr2_low_hz: low, swr2_high_hz: high } = band.match;
  return (
    <svg class="plot" width={size.width} height={size.height} role="img" aria-label={label}>
      <clipPath id="swr-clip">
        <rect x={MARGIN.left} y={MARGIN.top} width={right - MARGIN.left} height={bottom - MARGIN.top} />
      </clipPath>
      {low !== null && high !== null && (
        <rect class="good" x={x(low)} y={MARGIN.top} width={x(high) - x(low)} height={bottom - MARGIN.top} clip-path="url(#swr-clip)" />
      )}
      {LINES.map((swr) => (
        <g key={swr}>
          <path class={swr === 2 ? "grid strong" : "grid"} d={`M${MARGIN.left} ${y(swr)}H${right}`} />
          <text class="tick" x={MARGIN.left - 6} y={y(swr) + 4} text-anchor="end">
            {swr}
          </text>
        </g>
      ))}
      <FrequencyAxis span={span} x={x} bottom={bottom} width={size.width} />
      <g clip-path="url(#swr-clip)">
        {curves.edges_hz.map((edge) => (
          <path key={edge} class="band-edge" d={`M${x(edge)} ${MARGIN.top}V${bottom}`} />
        ))}
        {ghosts.map((ghost) => (
          <path key={ghost.letter} class={`curve ghost-curve pin-${ghost.letter}`} d={line(ghost.curves, x, y)} />
        ))}
        <path class="curve" d={line(curves, x, y)} />
        {cursor !== null && <path class="cursor" d={`M${x(cursor)} ${MARGIN.top}V${bottom}`} />}
      </g>
    </svg>
  );
}

export function FrequencyAxis({ span, x, bottom, width }: { span: Span; x: (f: number) => number; bottom: number; width: number }) {
  const marks = ticks(span, Math.max(2, Math.floor(width / 90)));
  const digits = decimals((marks[1] ?? span.high) - (marks[0] ?? span.low));
  return (
    <>
      {marks.map((f, index) => {
        const nearEnd = x(f) > width - 26;
        const text = (f / 1e6).toFixed(digits);
        return (
          <g key={f}>
            <path class="grid" d={`M${x(f)} ${MARGIN.top}V${bottom + 4}`} />
            <text class="tick" x={nearEnd ? width - 2 : x(f)} y={bottom + 17} text-anchor={nearEnd ? "end" : "middle"}>
              {index === marks.length - 1 ? `${text} MHz` : text}
            </text>
          </g>
        );
      })}
    </>
  );
}

function line(curves: BandCurves, x: (f: number) => number, y: (swr: number) => number): string {
  const points = curves.frequency_hz.map((f, index) => {
    const swr = Math.min(curves.swr[index] ?? HIGHEST, 100);
    return `${x(f).toFixed(1)} ${y(swr).toFixed(1)}`;
  });
  return `M${points.join("L")}`;
}
