// SPDX-License-Identifier: BSD-3-Clause
// What is in hand on the site: the item whose fields are open, and what a press on the plan will place.
import { signal } from "@preact/signals";

export const chosenItem = signal<{ list: string; number: number } | null>(null);
export const placing = signal<"person" | "railing" | null>(null);
export const zoom = signal(1);
/** While something is dragged the scale of the drawings rests. */
export const isHolding = signal(false);
