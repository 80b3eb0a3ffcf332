// SPDX-License-Identifier: BSD-3-Clause
// Reports over time, and the stretch that is looked at: drag over the bars, or set its two ends.
import { useRef } from "preact/hooks";
import type { AirTimes } from "../../api/messages";
import * as air from "../../state/air";
import { moment } from "./words";

const WIDTH = 600;
const HEIGHT = 64;

export function TimeBrush({ times }: { times: AirTimes }) {
  const from = useRef<number | null>(null);
  const parts = times.counts.length;
  const step = (times.end_s - times.start_s) / parts;
  const [start, end] = air.stretch.value ?? [times.start_s, times.end_s];
  const [first, last] = [part(start, times), Math.min(parts, Math.max(part(start, times) + 1, Math.round((end - times.start_s) / step)))];
  const set = (low: number, high: number) => {
    const [a, b] = [Math.min(low, high), Math.max(low, high)];
    air.stretch.value = a <= 0 && b >= parts ? null : [times.start_s + a * step, times.start_s + b * step];
  };
  const most = Math.max(1, ...times.counts);
  const under = (event: PointerEvent & { currentTarget: SVGSVGElement }) => {
    const box = event.currentTarget.getBoundingClientRect();
    return Math.max(0, Math.min(parts, Math.round(((event.clientX - box.left) / box.width) * parts)));
  };
  return (
    <section class="time-brush" aria-label="Time">
      <h2>When</h2>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        preserveAspectRatio="none"
        aria-hidden="true"
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          from.current = under(event);
        }}
        onPointerMove={(event) => {
          if (from.current !== null && under(event) !== from.current) set(from.current, under(event));
        }}
        onPointerUp={() => (from.current = null)}
        onPointerCancel={() => (from.current = null)}
      >
        <rect class="stretch" x={(first / parts) * WIDTH} width={((last - first) / parts) * WIDTH} height={HEIGHT} />
        {times.counts.map((count, index) => (
          <rect
            key={index}
            class={index >= first && index < last ? "bar in" : "bar"}
            x={(index / parts) * WIDTH + 0.5}
            width={WIDTH / parts - 1}
            y={HEIGHT - (count / most) * HEIGHT}
            height={(count / most) * HEIGHT}
          />
        ))}
      </svg>
      <div class="ends">
        <End label="from" value={first} low={0} high={last - 1} said={moment(times.start_s + first * step)} set={(value) => set(value, last)} />
        <End label="to" value={last} low={first + 1} high={parts} said={moment(times.start_s + last * step)} set={(value) => set(first, value)} />
        <button type="button" disabled={air.stretch.value === null} onClick={() => (air.stretch.value = null)}>
          All of it
        </button>
      </div>
    </section>
  );
}

function End({ label, value, low, high, said, set }: { label: string; value: number; low: number; high: number; said: string; set: (value: number) => void }) {
  return (
    <label class="small">
      {label} <span class="figures">{said}</span>
      <input type="range" min={low} max={high} value={value} aria-valuetext={said} onInput={(event) => set(Number(event.currentTarget.value))} />
    </label>
  );
}

function part(seconds: number, times: AirTimes): number {
  const share = (seconds - times.start_s) / (times.end_s - times.start_s);
  return Math.max(0, Math.min(times.counts.length - 1, Math.round(share * times.counts.length)));
}
