// SPDX-License-Identifier: BSD-3-Clause
// The time line: lanes of entries over one axis of time, and the two moments that are compared, to be dragged along it.
import { useRef } from "preact/hooks";
import type { RecordEntry, RecordLine } from "../../api/messages";
import { secondsOf, timeTicks } from "../../moments";
import * as record from "../../state/record";
import { useSize } from "../../widgets/size";
import { DesignLane, GenericLane, NoteLane, SweepLane } from "./lanes";
import { lanesOf, type Scale } from "./layout";
import { MomentHandle } from "./moment_handle";

const AXIS = 26; // px, below the lanes
const REACH = 26; // px from a finger to the entry that it means
const NEARER = 1 / 1.6;

export function LinePicture({ line }: { line: RecordLine }) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const width = size?.width ?? 0;
  const lanes = lanesOf(line, record.entries.value);
  const height = lanes.reduce((sum, lane) => sum + lane.height, 0) + AXIS;
  const { low, high } = record.span.value;
  const left = width < 560 ? 52 : 84;
  const scale: Scale = { left, right: width - 14, x: (at) => left + ((at - low) / (high - low)) * (width - 14 - left) };
  return (
    <figure class="line-figure">
      <figcaption class="line-head">
        <span class="small quiet">{record.moments.value ? "A and B: the two moments that are set side by side. Drag them, or use the arrow keys." : ""}</span>
        <span class="zoom-row" role="group" aria-label="Time shown">
          <button type="button" aria-label="less time, larger" onClick={() => record.zoom(NEARER)}>
            +
          </button>
          <button type="button" aria-label="more time, smaller" onClick={() => record.zoom(1 / NEARER)}>
            {"\u2212"}
          </button>
          <button type="button" aria-pressed={record.looked.value === null} onClick={() => (record.looked.value = null)}>
            All
          </button>
        </span>
      </figcaption>
      <div class="line-frame" ref={frame} style={{ height: `${height + 44}px` }}>
        {width > 0 && (
          <>
            {record.moments.value && (["before", "after"] as const).map((which) => <MomentHandle key={which} which={which} scale={scale} height={height - AXIS} />)}
            <Board lanes={lanes} scale={scale} width={width} height={height} />
          </>
        )}
      </div>
    </figure>
  );
}

interface BoardProps {
  lanes: ReturnType<typeof lanesOf>;
  scale: Scale;
  width: number;
  height: number;
}

/** One stop for the Tab key: arrows go from entry to entry, Enter reads one, A and B put a moment there. */
function Board({ lanes, scale, width, height }: BoardProps) {
  const hands = useHands(lanes, scale);
  const shown = lanes.flatMap((lane) => lane.entries);
  const { low, high } = record.span.value;
  const active = shown.find((entry) => entry.key === record.chosen.value && secondsOf(entry.at) >= low && secondsOf(entry.at) <= high)?.key ?? null;
  const bottom = height - AXIS;
  const changes = shown.filter((entry) => entry.changes_ring);
  return (
    <div
      class="line-board"
      role="listbox"
      tabIndex={0}
      aria-label="Time line. Arrow keys go from entry to entry, A and B put a moment there."
      aria-activedescendant={active === null ? undefined : idOf(active)}
      {...hands}
    >
      <svg class="plot time-line" width={width} height={height} role="presentation">
        <g aria-hidden="true">
          {timeTicks({ low, high }, Math.max(2, Math.floor(width / 92))).map(({ at, label }) => (
            <g key={at}>
              <path class="grid" d={`M${scale.x(at)} 0V${bottom + 5}`} />
              <text class="tick" x={scale.x(at)} y={bottom + 19} text-anchor="middle">
                {label}
              </text>
            </g>
          ))}
          {changes.map((entry) => (
            <path key={entry.key} class="changed" d={`M${scale.x(secondsOf(entry.at))} 0V${bottom}`} />
          ))}
          {lanes.map((lane) => (
            <path key={lane.key} class="lane-rule" d={`M0 ${lane.top + lane.height}H${width}`} />
          ))}
        </g>
        {lanes.map((lane) => {
          const props = { lane, scale, chosen: active, idOf };
          if (lane.kind === "sweep") return <SweepLane key={lane.key} {...props} />;
          if (lane.kind === "note") return <NoteLane key={lane.key} {...props} />;
          return lane.kind === "design" ? <DesignLane key={lane.key} {...props} /> : <GenericLane key={lane.key} {...props} />;
        })}
      </svg>
    </div>
  );
}

export function idOf(key: string): string {
  return `entry-${key.replaceAll(" ", "-")}`;
}

/** Keys, a tap on an entry, a drag along the time, two fingers or Ctrl and the wheel for more or less of it. */
function useHands(lanes: BoardProps["lanes"], scale: Scale) {
  const fingers = useRef(new Map<number, number>());
  const moved = useRef(0);
  const inOrder = [...lanes.flatMap((lane) => lane.entries)].sort((one, other) => secondsOf(one.at) - secondsOf(other.at));
  const place = (event: PointerEvent | WheelEvent) => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const perPixel = () => (record.span.value.high - record.span.value.low) / (scale.right - scale.left);
  const timeAt = (x: number) => record.span.value.low + (x - scale.left) * perPixel();
  const letGo = (event: PointerEvent) => {
    fingers.current.delete(event.pointerId);
    if (event.type !== "pointerup" || fingers.current.size > 0 || moved.current > 6) return;
    const near = nearest(lanes, scale, place(event));
    if (near) record.chosen.value = near.key;
  };
  return {
    onKeyDown: (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (!onKey(event.key, inOrder)) return;
      event.preventDefault();
    },
    onPointerDown: (event: PointerEvent) => {
      if (event.button !== 0) return;
      if (fingers.current.size === 0) moved.current = 0;
      fingers.current.set(event.pointerId, place(event).x);
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
    },
    onPointerMove: (event: PointerEvent) => {
      const before = fingers.current.get(event.pointerId);
      if (before === undefined) return;
      const { x } = place(event);
      const other = [...fingers.current].find(([id]) => id !== event.pointerId)?.[1];
      moved.current += Math.abs(x - before);
      fingers.current.set(event.pointerId, x);
      if (other !== undefined && Math.abs(x - other) > 8) record.zoom(Math.abs(before - other) / Math.abs(x - other), timeAt((x + other) / 2));
      else if (other === undefined && moved.current > 6) {
        const by = (before - x) * perPixel();
        record.look(record.span.value.low + by, record.span.value.high + by);
      }
    },
    onPointerUp: letGo,
    onPointerCancel: letGo,
    onWheel: (event: WheelEvent) => {
      if (!event.ctrlKey && !event.metaKey) return;
      event.preventDefault();
      record.zoom(event.deltaY < 0 ? NEARER : 1 / NEARER, timeAt(place(event).x));
    },
  };
}

/** Whether the key means something here. */
function onKey(key: string, inOrder: readonly RecordEntry[]): boolean {
  const here = inOrder.findIndex((entry) => entry.key === record.chosen.value);
  const go = (index: number) => {
    const entry = inOrder[Math.min(Math.max(index, 0), inOrder.length - 1)];
    if (!entry) return;
    record.chosen.value = entry.key;
    keepInSight(secondsOf(entry.at));
  };
  const chosen = inOrder[here];
  switch (key) {
    case "ArrowRight":
    case "ArrowDown":
      go(here + 1);
      return true;
    case "ArrowLeft":
    case "ArrowUp":
      go(here < 0 ? inOrder.length - 1 : here - 1);
      return true;
    case "Home":
      go(0);
      return true;
    case "End":
      go(inOrder.length - 1);
      return true;
    case "a":
    case "b":
      if (chosen) record.setMoment(key === "a" ? "before" : "after", secondsOf(chosen.at));
      return true;
    case "+":
      record.zoom(NEARER, chosen && secondsOf(chosen.at));
      return true;
    case "-":
      record.zoom(1 / NEARER, chosen && secondsOf(chosen.at));
      return true;
    default:
      return false;
  }
}

function keepInSight(at: number): void {
  const { low, high } = record.span.value;
  if (at < low || at > high) record.look(at - (high - low) / 2, at + (high - low) / 2);
}

function nearest(lanes: BoardProps["lanes"], scale: Scale, { x, y }: { x: number; y: number }): RecordEntry | null {
  let found: RecordEntry | null = null;
  let best = REACH;
  for (const lane of lanes) {
    for (const entry of lane.entries) {
      const away = Math.hypot(scale.x(secondsOf(entry.at)) - x, (lane.top + lane.y(entry) - y) / 1.5);
      if (away < best) [found, best] = [entry, away];
    }
  }
  return found;
}

