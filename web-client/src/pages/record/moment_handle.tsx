// SPDX-License-Identifier: BSD-3-Clause
// One of the two moments: a tab above the line with a thread through all lanes. It is dragged, or steps from entry to entry.
import { useRef } from "preact/hooks";
import { shownMoment } from "../../moments";
import * as record from "../../state/record";
import { FINGER, type Scale, tabOf } from "./layout";

const LETTERS: Record<record.Which, string> = { before: "A", after: "B" };

export function MomentHandle({ which, scale, height }: { which: record.Which; scale: Scale; height: number }) {
  const grip = useRef<number | null>(null);
  const at = record.moments.value?.[which] ?? 0;
  const { low, high } = record.span.value;
  const isOutside = at < low || at > high;
  const place = (one: number) => scale.x(Math.min(Math.max(one, low), high));
  const x = place(at);
  const tab = tabOf(which, x, place(record.moments.value?.[which === "before" ? "after" : "before"] ?? 0), scale.right);
  const move = (to: number) => record.setMoment(which, Math.min(Math.max(to, low), high));
  const onKeyDown = (event: KeyboardEvent) => {
    const step = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key] as 1 | -1 | undefined;
    const far = (high - low) / 10;
    if (step) record.setMoment(which, record.nextMoment(at, step));
    else if (event.key === "PageUp") move(at + far);
    else if (event.key === "PageDown") move(at - far);
    else if (event.key === "Home") move(low);
    else if (event.key === "End") move(high);
    else return;
    event.preventDefault();
  };
  const letGo = () => (grip.current = null);
  return (
    <>
      <span class={`thread moment-${which}${isOutside ? " outside" : ""}`} style={{ left: `${x}px`, height: `${height}px` }} />
      <div
        class={`moment moment-${which}${isOutside ? " outside" : ""}${tab.leans}`}
        style={{ left: `${tab.x - FINGER / 2}px` }}
        role="slider"
        tabIndex={0}
        aria-label={`moment ${LETTERS[which]}`}
        aria-valuemin={Math.round(record.whole.value.low)}
        aria-valuemax={Math.round(record.whole.value.high)}
        aria-valuenow={Math.round(at)}
        aria-valuetext={shownMoment(at)}
        onKeyDown={onKeyDown}
        onPointerDown={(event) => {
          if (event.button !== 0) return;
          grip.current = event.clientX - x;
          event.currentTarget.setPointerCapture(event.pointerId);
        }}
        onPointerMove={(event) => {
          if (grip.current === null) return;
          move(low + ((event.clientX - grip.current - scale.left) / (scale.right - scale.left)) * (high - low));
        }}
        onPointerUp={letGo}
        onPointerCancel={letGo}
      >
        {LETTERS[which]}
      </div>
    </>
  );
}
