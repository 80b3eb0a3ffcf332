// SPDX-License-Identifier: BSD-3-Clause
// Nudges in hertz: a tap goes as far as the label says. What is not said again within half a second is over, whatever
// happens to the page.
import { useEffect, useRef } from "preact/hooks";
import * as tune from "../../state/tune";

const SAID_EVERY = 200;
const CHANGES = [-5000, -500, 500, 5000];

export function Nudges({ isDisabled }: { isDisabled: boolean }) {
  return (
    <div class="nudges" role="group" aria-label="Nudge: tap, or hold">
      {CHANGES.map((change) => (
        <Nudge key={change} change={change} isDisabled={isDisabled} />
      ))}
      <p class="quiet small">A tap goes that far. Held, as far again every half second.</p>
    </div>
  );
}

function Nudge({ change, isDisabled }: { change: number; isDisabled: boolean }) {
  const timer = useRef<ReturnType<typeof setInterval> | null>(null);
  const say = () => tune.ask({ type: "tune_nudge", change_hz: change });
  const press = () => {
    if (timer.current !== null || isDisabled) return;
    say();
    timer.current = setInterval(say, SAID_EVERY);
  };
  const release = () => {
    if (timer.current === null) return;
    clearInterval(timer.current);
    timer.current = null;
    tune.ask({ type: "tune_nudge", change_hz: 0 });
  };
  useEffect(() => {
    const hide = () => document.hidden && release();
    addEventListener("blur", release);
    document.addEventListener("visibilitychange", hide);
    return () => {
      release();
      removeEventListener("blur", release);
      document.removeEventListener("visibilitychange", hide);
    };
  }, []);
  return (
    <button
      type="button"
      disabled={isDisabled}
      title="tap: that far; hold: as far again every half second"
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        press();
      }}
      onPointerUp={release}
      onPointerCancel={release}
      onLostPointerCapture={release}
      onContextMenu={(event) => event.preventDefault()}
      onKeyDown={(event) => event.key === "Enter" && press()}
      onKeyUp={(event) => event.key === "Enter" && release()}
      onBlur={release}
    >
      {change > 0 ? "+" : "\u2212"}
      {Math.abs(change) / 1000} <span class="unit">kHz</span>
    </button>
  );
}
