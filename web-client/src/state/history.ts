// SPDX-License-Identifier: BSD-3-Clause
// Steps back and forth through what was changed on the bench. One stroke of a slider is one step, so is a value typed;
// another text, or the same one saved, begins anew.
import { batch, computed, effect, signal, type Signal } from "@preact/signals";
import type { Edits } from "../api/messages";
import * as draft from "./draft";

const MOST = 200;
const STROKE = 800; // ms: changes of the same keys that follow each other sooner are one stroke

const past = signal<readonly Edits[]>([]);
const future = signal<readonly Edits[]>([]);
export const canUndo = computed(() => past.value.length > 0);
export const canRedo = computed(() => future.value.length > 0);

let text: draft.BaseText | null = null;
let stands: Edits = {};
let stroke = { keys: "", at: -Infinity };

effect(() => {
  const [base, now] = [draft.base.value, draft.edits.value];
  const was = stands;
  stands = now;
  if (base?.name !== text?.name || base?.etag !== text?.etag) {
    text = base;
    begin();
  } else if (now !== was) {
    remember(was, now);
  }
});

function begin(): void {
  stroke = { keys: "", at: -Infinity };
  batch(() => {
    past.value = [];
    future.value = [];
  });
}

function remember(was: Edits, now: Edits): void {
  const keys = differing(was, now).join();
  if (keys === "") return;
  const at = performance.now();
  const isOneStroke = keys === stroke.keys && at - stroke.at < STROKE;
  stroke = { keys, at };
  batch(() => {
    if (!isOneStroke) past.value = [...past.peek(), was].slice(-MOST);
    future.value = [];
  });
}

/** Keys that two sets of changes do not have alike. */
function differing(one: Edits, other: Edits): string[] {
  const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
  return [...keys].filter((key) => JSON.stringify(one[key]) !== JSON.stringify(other[key])).sort();
}

export function undo(): void {
  step(past, future);
}

export function redo(): void {
  step(future, past);
}

/** Makes a change a step of its own, however soon it comes after another of the same keys. */
export function asOneStep(change: () => void): void {
  stroke = { keys: "", at: -Infinity };
  change();
  stroke = { keys: "", at: -Infinity };
}

function step(from: Signal<readonly Edits[]>, to: Signal<readonly Edits[]>): void {
  const next = from.value.at(-1);
  if (!next) return;
  stroke = { keys: "", at: -Infinity };
  batch(() => {
    from.value = from.value.slice(0, -1);
    to.value = [...to.value, stands];
    stands = next; // so that the step is not remembered as a change
    draft.edits.value = next;
  });
}
