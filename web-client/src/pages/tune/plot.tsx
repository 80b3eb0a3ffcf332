// SPDX-License-Identifier: BSD-3-Clause
// SWR as it was read, against the position of the drive, with the dip that was fitted to it.
import { useRef } from "preact/hooks";
import type { TuneDip, TuneSearch } from "../../api/messages";
import type { Span } from "../../widgets/plot_scale";
import { ticks } from "../../widgets/plot_scale";
import { type Size, useSize } from "../../widgets/size";
import { HIGHEST, LINES, MARGIN } from "../../widgets/swr_curve";

interface Props {
  search: TuneSearch | null;
  position: number | null;
  /** SWR here and now; null where there is no carrier, or all comes back. */
  swr: number | null;
  last: number;
}

const SHOWN_WIDTHS = 8;
const BEFORE_A_SEARCH = 2000; // steps on either side
const CURVE_POINTS = 160;

export function TunePlot(props: Props) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  return (
    <div class="plot-frame tune-plot" ref={frame}>
      {size && size.width > 0 && <Plot {...props} size={size} />}
    </div>
  );
}

/** The positions on the paper: around the dip once there is one, and never without where the drive is. */
export function plotSpan({ search, position, last }: Pick<Props, "search" | "position" | "last">): Span {
  if (search === null) {
    const centre = position ?? last / 2;
    return { low: centre - BEFORE_A_SEARCH, high: centre + BEFORE_A_SEARCH };
  }
  const { dip } = search;
  const reach = dip ? SHOWN_WIDTHS * dip.half_width_steps : 0;
  const low = dip ? dip.centre_steps - reach : search.low_steps;
  const high = dip ? dip.centre_steps + reach : search.high_steps;
  const room = 0.04 * (high - low);
  return { low: Math.min(low, position ?? low) - room, high: Math.max(high, position ?? high) + room };
}

export function dipSwr(dip: TuneDip, position: number): number {
  const x = (position - dip.centre_steps) / dip.half_width_steps;
  const size = Math.sqrt(Math.min(Math.max(dip.floor - dip.depth / (1 + x * x), 0), 0.9999));
  return (1 + size) / (1 - size);
}

function Plot({ search, position, swr, last, size }: Props & { size: Size }) {
  const span = plotSpan({ search, position, last });
  const [right, bottom] = [size.width - MARGIN.right, size.height - MARGIN.bottom];
  const x = (at: number) => MARGIN.left + ((at - span.low) / (span.high - span.low)) * (right - MARGIN.left);
  const height = (swr: number) => bottom - (Math.log(swr) / Math.log(HIGHEST)) * (bottom - MARGIN.top);
  const y = (value: number | null) => height(Math.min(value ?? HIGHEST, HIGHEST));
  const marks = ticks(span, Math.max(2, Math.floor(size.width / 110)));
  const readings = search?.readings ?? [];
  return (
    <svg class="plot" width={size.width} height={size.height} role="img" aria-label={inWords(search, position, swr)}>
      <clipPath id="tune-clip">
        <rect x={MARGIN.left} y={MARGIN.top} width={right - MARGIN.left} height={bottom - MARGIN.top} />
      </clipPath>
      {LINES.map((one) => (
        <g key={one}>
          <path class={one === 2 ? "grid strong" : "grid"} d={`M${MARGIN.left} ${y(one)}H${right}`} />
          <text class="tick" x={MARGIN.left - 6} y={y(one) + 4} text-anchor="end">
            {one}
          </text>
        </g>
      ))}
      {marks.map((at, index) => (
        <g key={at}>
          <path class="grid" d={`M${x(at)} ${MARGIN.top}V${bottom + 4}`} />
          <text class="tick" x={Math.min(x(at), size.width - 34)} y={bottom + 17} text-anchor="middle">
            {index === marks.length - 1 ? `step ${at}` : at}
          </text>
        </g>
      ))}
      <g clip-path="url(#tune-clip)">
        {search?.dip && <path class="curve" d={dipPath(search.dip, span, x, height)} />}
        {readings.map(([at, value], index) => (
          <circle key={index} class="reading" cx={x(at)} cy={y(value)} r={3.2} />
        ))}
        {position !== null && <path class="here" d={`M${x(position)} ${MARGIN.top}V${bottom}`} />}
        {position !== null && swr !== null && <circle class="here-dot" cx={x(position)} cy={y(swr)} r={6} />}
      </g>
      {search === null && (
        <text class="nothing-read" x={(MARGIN.left + right) / 2} y={(MARGIN.top + bottom) / 2} text-anchor="middle">
          No reading yet: choose a band below.
        </text>
      )}
    </svg>
  );
}

function dipPath(dip: TuneDip, span: Span, x: (at: number) => number, y: (swr: number) => number): string {
  const points = Array.from({ length: CURVE_POINTS + 1 }, (_, index) => {
    const at = span.low + (index / CURVE_POINTS) * (span.high - span.low);
    return `${x(at).toFixed(1)} ${y(dipSwr(dip, at)).toFixed(1)}`;
  });
  return `M${points.join("L")}`;
}

function inWords(search: TuneSearch | null, position: number | null, swr: number | null): string {
  const here = position === null ? "" : ` The drive is at step ${position}${swr === null ? "" : `, SWR ${swr.toFixed(2)}`}.`;
  if (search === null) return `SWR against position. Nothing was read yet.${here}`;
  const dip = search.dip ? `; the dip lies at step ${Math.round(search.dip.centre_steps)}` : "";
  return `SWR against position, ${search.readings.length} readings${dip}.${here}`;
}
