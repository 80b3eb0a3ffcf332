// SPDX-License-Identifier: BSD-3-Clause
// Where a band is going: Q and resonance against time, temperature or rain, and a reminder where there is reason.
import { useRef } from "preact/hooks";
import type { RecordLine, StraightLine, TrendDrawn, TrendPoint } from "../../api/messages";
import { secondsOf, shownDay, shownMoment, timeTicks } from "../../moments";
import { significant } from "../../quantities";
import * as draft from "../../state/draft";
import * as record from "../../state/record";
import { type Span, ticks } from "../../widgets/plot_scale";
import { type Size, useSize } from "../../widgets/size";
import { Triangle } from "../../widgets/triangle";
import { RecordFigure } from "./figure";
import { Chip } from "./filters";

const MARGIN = { left: 58, right: 12, top: 10, bottom: 24 };
const ROOM = 0.08;
const OVER: readonly { key: record.Over; words: string }[] = [
  { key: "time", words: "time" },
  { key: "temperature", words: "temperature" },
  { key: "rain", words: "rain" },
];
const CHANGE: Record<record.Over, readonly [q: keyof TrendDrawn, frequency: keyof TrendDrawn, words: string]> = {
  time: ["q_change_pct", "frequency_change_hz", "over this time"],
  temperature: ["q_per_kelvin_pct", "frequency_per_kelvin_hz", "each kelvin"],
  rain: ["q_after_rain_pct", "frequency_after_rain_hz", "in the day after rain"],
};

export function TrendOfBand({ line }: { line: RecordLine }) {
  const trend = record.trend.value;
  return (
    <section class="trend" aria-label="Where it is going">
      <h2>Where it is going</h2>
      <div class="filters">
        <div class="filter" role="group" aria-label="Band of the trend">
          {line.bands.map((band) => (
            <Chip
              key={band}
              isOn={band === record.trendBand.value}
              choose={() => {
                record.onlyBand.value = null;
                draft.band.value = band;
              }}
            >
              {band}
            </Chip>
          ))}
        </div>
        <div class="filter" role="group" aria-label="Against">
          {OVER.map(({ key, words }) => (
            <Chip key={key} isOn={record.over.value === key} choose={() => (record.over.value = key)}>
              {words}
            </Chip>
          ))}
        </div>
      </div>
      {trend && <Drawn trend={trend} />}
    </section>
  );
}

function Drawn({ trend }: { trend: TrendDrawn }) {
  const over = record.over.value;
  const inLine = trend.points.filter((point) => point.is_in_line).length;
  return (
    <div class="trend-drawn" data-band={trend.band}>
      {trend.reminders.map((reminder) => (
        <p key={reminder} class="reminder" role="alert">
          <Triangle />
          {reminder}
        </p>
      ))}
      <p class="small quiet">
        {trend.band}: {inLine} of {trend.points.length} sweeps, {shownDay(secondsOf(trend.from))} to {shownDay(secondsOf(trend.to))}
        {trend.changed_by && `, since ${trend.changed_by.kind} ${shownMoment(secondsOf(trend.changed_by.at))}`}. Full marks are of the ring as it is now, open ones of the ring before.
      </p>
      <div class="trend-plots">
        <Plotted trend={trend} over={over} of="q" />
        <Plotted trend={trend} over={over} of="frequency" />
      </div>
      <p class="small quiet">The resonance tells something of the ring only where the capacitor stayed where it was.</p>
    </div>
  );
}

function Plotted({ trend, over, of }: { trend: TrendDrawn; over: record.Over; of: "q" | "frequency" }) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const key = CHANGE[over][of === "q" ? 0 : 1] as "q_change_pct";
  const [value, low, high] = [trend[key], trend[`${key}_low`], trend[`${key}_high`]];
  const name = of === "q" ? "Q, unloaded" : "resonance";
  return (
    <figure>
      <figcaption class="small">
        <strong>{name}</strong>{" "}
        {value === null ? (
          <span class="quiet">{CHANGE[over][2]}: too few sweeps tell</span>
        ) : (
          <>
            {CHANGE[over][2]} <RecordFigure of={`trend.${key}`} value={value} low={low} high={high} isChange />
          </>
        )}
      </figcaption>
      <div class="plot-frame" ref={frame}>
        {size && size.width > 0 && <Plot trend={trend} over={over} of={of} size={size} label={`${name} on ${trend.band} against ${over}`} />}
      </div>
    </figure>
  );
}

interface Mark {
  x: number;
  y: readonly [number, number, number];
  isFull: boolean;
  isWet: boolean;
}

function Plot({ trend, over, of, size, label }: { trend: TrendDrawn; over: record.Over; of: "q" | "frequency"; size: Size; label: string }) {
  const marks = trend.points.flatMap((point) => markOf(point, over, of));
  const [right, bottom] = [size.width - MARGIN.right, size.height - MARGIN.bottom];
  if (marks.length === 0) return <p class="quiet small no-marks">No sweep of this band has its temperature.</p>;
  const along = over === "rain" ? { low: -0.6, high: 1.6 } : widened(marks.map((mark) => mark.x), over === "time" ? 3600 : 0.5);
  const up = widened(marks.flatMap((mark) => mark.y), of === "q" ? 1 : 20);
  const x = (one: number) => MARGIN.left + ((one - along.low) / (along.high - along.low)) * (right - MARGIN.left);
  const y = (one: number) => bottom - ((one - up.low) / (up.high - up.low)) * (bottom - MARGIN.top);
  const line = lineOf(trend, over, of);
  return (
    <svg class="plot trend-plot" width={size.width} height={size.height} role="img" aria-label={label}>
      {ticks(up, 4).map((at) => (
        <g key={at}>
          <path class="grid" d={`M${MARGIN.left} ${y(at)}H${right}`} />
          <text class="tick" x={MARGIN.left - 6} y={y(at) + 4} text-anchor="end">
            {of === "q" ? at.toFixed(up.high - up.low < 4 ? 1 : 0) : (at / 1e6).toFixed(frequencyDigits(up))}
          </text>
        </g>
      ))}
      {acrossTicks(along, over, size.width).map(({ at, label: text }) => (
        <text key={at} class="tick" x={x(at)} y={bottom + 17} text-anchor="middle">
          {text}
        </text>
      ))}
      {over === "time" &&
        trend.notes
          .filter((note) => ["repair", "joint"].includes(note.kind) && secondsOf(note.at) > along.low && secondsOf(note.at) < along.high)
          .map((note) => <path key={note.number} class="changed" d={`M${x(secondsOf(note.at))} ${MARGIN.top}V${bottom}`} />)}
      {line && <path class="curve" d={`M${x(line.x[0])} ${y(line.y[0])}L${x(line.x[1])} ${y(line.y[1])}`} />}
      {marks.map((mark, index) => (
        <g key={index} class={`sweep-mark${mark.isFull ? "" : " former"}${mark.isWet ? " wet" : ""}`}>
          <path class="whisker" d={`M${x(mark.x)} ${y(mark.y[1])}V${y(mark.y[2])}`} />
          <circle cx={x(mark.x)} cy={y(mark.y[0])} r="4" />
          {mark.isWet && <path class="drop" d={`M${x(mark.x) + 8} ${y(mark.y[0]) - 6}c2.5 3 3 4 3 5.5a3 3 0 0 1-6 0c0-1.5.5-2.5 3-5.5Z`} />}
        </g>
      ))}
    </svg>
  );
}

function markOf(point: TrendPoint, over: record.Over, of: "q" | "frequency"): Mark[] {
  const y: Mark["y"] = of === "q" ? [point.q_unloaded, point.q_unloaded_low, point.q_unloaded_high] : [point.frequency_hz, point.frequency_hz_low, point.frequency_hz_high];
  const x = over === "time" ? secondsOf(point.measured_at) : over === "rain" ? Number(point.is_wet) + spread(point.number) : point.temperature_degc;
  return x === null ? [] : [{ x, y, isFull: point.is_in_line, isWet: point.is_wet }];
}

/** Sweeps that are alike in rain stand beside each other instead of on top. */
function spread(number: number): number {
  return (((number * 37) % 11) / 10 - 0.5) * 0.5;
}

function lineOf(trend: TrendDrawn, over: record.Over, of: "q" | "frequency"): StraightLine | null {
  if (over === "rain") return null;
  if (over === "time") return of === "q" ? trend.q_line : trend.frequency_line;
  return of === "q" ? trend.q_line_by_warmth : trend.frequency_line_by_warmth;
}

function acrossTicks(along: Span, over: record.Over, width: number): readonly { at: number; label: string }[] {
  if (over === "rain") return [{ at: 0, label: "dry" }, { at: 1, label: "wet" }];
  const most = Math.max(2, Math.floor(width / 90));
  return over === "time" ? timeTicks(along, most) : ticks(along, most).map((at) => ({ at, label: `${significant(at, 3)} °C` }));
}

/** What the values take up, with some room, and no less than `least` on either side. */
function widened(values: readonly number[], least: number): Span {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = Math.max(ROOM * (high - low), least);
  return { low: low - room, high: high + room };
}

function frequencyDigits({ low, high }: Span): number {
  return Math.min(Math.max(Math.ceil(6 - Math.log10((high - low) / 4)), 3), 5);
}
