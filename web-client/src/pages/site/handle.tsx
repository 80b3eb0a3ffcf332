// SPDX-License-Identifier: BSD-3-Clause
// What can be taken hold of on a drawing: with a finger or a mouse, and with the arrow keys just the same.
import type { ComponentChildren } from "preact";
import { useRef } from "preact/hooks";
import type { Spot } from "../../widgets/ring_geometry";
import { isHolding } from "./chosen";

interface Props {
  at: Spot;
  /** What it is, and how it stands now. */
  label: string;
  /** For a handle with one number: the number in words. Others are points. */
  value?: { now: number; low: number; high: number; text: string };
  class?: string;
  /** To a spot of the drawing. */
  drag: (to: Spot) => void;
  /** Arrow keys: steps to the right and upwards, `isFar` with Shift. */
  nudge: (right: number, up: number, isFar: boolean) => void;
  remove?: () => void;
  choose?: () => void;
  children: ComponentChildren;
}

const ARROWS: Record<string, Spot> = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
export const FINGER = 22; // px, half of what a finger needs

/** The page stays under the finger: browsers heed `touch-action` on whole drawings only, not on their parts. */
export function holdThePage(event: TouchEvent): void {
  event.preventDefault();
}

export function Handle({ at, label, value, class: name, drag, nudge, remove, choose, children }: Props) {
  const grip = useRef<Spot | null>(null);
  const onKeyDown = (event: KeyboardEvent) => {
    const arrow = ARROWS[event.key];
    if (arrow) nudge(arrow[0], arrow[1], event.shiftKey);
    else if (event.key === "Delete" && remove) remove();
    else if (event.key === "Enter" && choose) choose();
    else return;
    event.preventDefault();
  };
  const spotOf = (event: PointerEvent): Spot => {
    const box = (event.currentTarget as SVGGElement).ownerSVGElement?.getBoundingClientRect();
    return [event.clientX - (box?.left ?? 0), event.clientY - (box?.top ?? 0)];
  };
  const letGo = () => {
    grip.current = null;
    isHolding.value = false;
  };
  const role = value
    ? { role: "slider" as const, "aria-valuenow": value.now, "aria-valuemin": value.low, "aria-valuemax": value.high, "aria-valuetext": value.text }
    : { role: "button" as const, "aria-roledescription": "point to move" };
  return (
    <g
      class={`handle ${name ?? ""}`}
      tabindex={0}
      aria-label={label}
      {...role}
      onKeyDown={onKeyDown}
      onTouchStart={holdThePage}
      onPointerDown={(event) => {
        if (event.button !== 0) return;
        const spot = spotOf(event);
        grip.current = [spot[0] - at[0], spot[1] - at[1]];
        isHolding.value = true;
        event.currentTarget.focus({ preventScroll: true });
        event.currentTarget.setPointerCapture(event.pointerId);
        event.stopPropagation();
      }}
      onPointerMove={(event) => {
        if (grip.current === null) return;
        const spot = spotOf(event);
        drag([spot[0] - grip.current[0], spot[1] - grip.current[1]]);
      }}
      onPointerUp={letGo}
      onPointerCancel={letGo}
    >
      <circle class="finger" cx={at[0]} cy={at[1]} r={FINGER} />
      {children}
    </g>
  );
}
