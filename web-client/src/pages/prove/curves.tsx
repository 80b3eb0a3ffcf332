// SPDX-License-Identifier: BSD-3-Clause
// A sweep drawn: SWR over frequency with the prediction and its range behind it, and the circle in the reflection chart.
import { useId, useRef } from "preact/hooks";
import type { ProofCurves, Trace } from "../../api/messages";
import { Chart, R } from "../../widgets/reflection_chart";
import type { Span } from "../../widgets/plot_scale";
import { type Size, useSize } from "../../widgets/size";
import { FrequencyAxis, HIGHEST, LINES, MARGIN } from "../../widgets/swr_curve";

interface Props {
  curves: ProofCurves;
  label: string;
}

const ROOM = 0.12; // of the dip's width, on either side

type Point = readonly [number, number];

export function MeasuredSwr(props: Props) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  return (
    <div class="plot-frame" ref={frame}>
      {size && size.width > 0 && <Plot {...props} size={size} />}
    </div>
  );
}

function Plot({ curves, label, size }: Props & { size: Size }) {
  const clip = useId();
  const along = curves.fitted.frequency_hz;
  const span = dip(curves);
  const [right, bottom] = [size.width - MARGIN.right, size.height - MARGIN.bottom];
  const x = (f: number) => MARGIN.left + ((f - span.low) / (span.high - span.low)) * (right - MARGIN.left);
  const y = (swr: number) => bottom - (Math.log(Math.min(swr, 100)) / Math.log(HIGHEST)) * (bottom - MARGIN.top);
  const points = (values: readonly number[] | null, frequencies = along) => (values ?? []).map((swr, index): Point => [x(frequencies[index] ?? 0), y(swr)]);
  const [low, high] = [points(curves.predicted_swr_low), points(curves.predicted_swr_high)];
  return (
    <svg class="plot" width={size.width} height={size.height} role="img" aria-label={label}>
      <clipPath id={clip}>
        <rect x={MARGIN.left} y={MARGIN.top} width={right - MARGIN.left} height={bottom - MARGIN.top + 2} />
      </clipPath>
      <g clip-path={`url(#${clip})`}>{low.length > 0 && <path class="expected" d={`${line([...low, ...high.reverse()])}Z`} />}</g>
      {LINES.map((swr) => (
        <g key={swr}>
          <path class={swr === 2 ? "grid strong" : "grid"} d={`M${MARGIN.left} ${y(swr)}H${right}`} />
          <text class="tick" x={MARGIN.left - 6} y={y(swr) + 4} text-anchor="end">
            {swr}
          </text>
        </g>
      ))}
      <FrequencyAxis span={span} x={x} bottom={bottom} width={size.width} />
      <g clip-path={`url(#${clip})`}>
        {curves.predicted && <path class="curve predicted" d={line(points(curves.predicted.swr))} />}
        <path class="measured" d={dots(points(curves.measured.swr, curves.measured.frequency_hz))} />
        <path class="curve" d={line(points(curves.fitted.swr))} />
      </g>
    </svg>
  );
}

/** The frequencies on the paper: where one of the curves is, with some room beside it. */
function dip({ fitted, predicted }: ProofCurves): Span {
  const along = fitted.frequency_hz;
  const shown = along.filter((_, index) => Math.min(fitted.swr?.[index] ?? HIGHEST, predicted?.swr?.[index] ?? HIGHEST) < HIGHEST);
  const [low, high] = shown.length > 1 ? [shown[0] ?? 0, shown.at(-1) ?? 1] : [along[0] ?? 0, along.at(-1) ?? 1];
  const room = ROOM * (high - low);
  return { low: low - room, high: high + room };
}

export function FittedCircle({ curves, label }: Props) {
  return (
    <svg class="plot reflection" viewBox="-104 -104 208 208" role="img" aria-label={label}>
      <Chart />
      {curves.predicted && <path class="curve predicted" d={line(inThePlane(curves.predicted))} />}
      <path class="measured" d={dots(inThePlane(curves.measured))} />
      <path class="curve" d={line(inThePlane(curves.fitted))} />
    </svg>
  );
}

/** What the marks mean, in words and by the marks themselves. */
export function Legend({ isPredicted }: { isPredicted: boolean }) {
  return (
    <ul class="legend small" aria-hidden="true">
      <li>
        <Mark name="measured" d={dots([[4, 6], [12, 6], [20, 6]])} /> measured
      </li>
      <li>
        <Mark name="curve" d="M1 6H23" /> fitted
      </li>
      {isPredicted && (
        <li>
          <Mark name="expected" d="M0 1H24V11H0Z" line="M1 6H23" /> predicted, with its range
        </li>
      )}
    </ul>
  );
}

function Mark({ name, d, line }: { name: string; d: string; line?: string }) {
  return (
    <svg class="plot" viewBox="0 0 24 12" width="24" height="12">
      <path class={name} d={d} />
      {line && <path class="curve predicted" d={line} />}
    </svg>
  );
}

function inThePlane({ re, im }: Trace): Point[] {
  return (re ?? []).map((one, index): Point => [one * R, -(im?.[index] ?? 0) * R]);
}

function line(points: readonly Point[]): string {
  return points.length === 0 ? "" : `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L")}`;
}

/** Round ends make a dot of a line without length. */
function dots(points: readonly Point[]): string {
  return points.map(([x, y]) => `M${x.toFixed(1)} ${y.toFixed(1)}h0`).join("");
}
