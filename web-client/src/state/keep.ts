// SPDX-License-Identifier: BSD-3-Clause
// Sweeps of the page into the record, with what the person says of them, and what became of each.
import { batch, computed, effect, signal } from "@preact/signals";
import { postSweeps } from "../api/http";
import type { SweepKept, SweepsSent } from "../api/messages";
import * as prove from "./prove";
import { refusal } from "./record";

export type Labels = Pick<SweepsSent, "build" | "temperature_degc" | "note" | "measured_at">;

/** What became of an item, and against which draft it was kept. */
const outcomes = signal<ReadonlyMap<prove.Item, { kept: SweepKept; against: string | null }>>(new Map());
/** The file that holds the record, as the server names it. */
export const record = signal<string | null>(null);
export const isKeeping = signal(false);
export const problem = signal<string | null>(null);

/** What was found and is not kept yet against the draft as it stands. */
export const open = computed(() =>
  prove.items.value.filter((item) => prove.found.value.get(item)?.found && (outcomes.value.get(item)?.against !== prove.against.value || outcomes.value.get(item)?.kept.number === null)),
);
/** What is kept of what is on the page. */
export const kept = computed(() => prove.items.value.flatMap((item) => outcomes.value.get(item)?.kept ?? []));

export async function keep(labels: Labels): Promise<void> {
  const [items, against] = [open.value, prove.against.value];
  const [first, ...others] = items.map((item) => ({ ...prove.sentOf(item), measured_at: item.measuredAt }));
  if (against === null || !first) return;
  isKeeping.value = true;
  problem.value = null;
  try {
    const drafted = JSON.parse(against) as Pick<SweepsSent, "base" | "edits">;
    const answer = await postSweeps({ ...drafted, sweeps: [first, ...others], ...labels });
    batch(() => {
      record.value = answer.record;
      outcomes.value = new Map([...outcomes.value, ...answer.sweeps.flatMap((one, index) => (items[index] ? [[items[index], { kept: one, against }] as const] : []))]);
    });
  } catch (error) {
    problem.value = refusal(error);
  }
  isKeeping.value = false;
}

/** What left the page is forgotten here; the record keeps it. */
effect(() => {
  const there = new Set(prove.items.value);
  const gone = [...outcomes.peek().keys()].filter((item) => !there.has(item));
  if (gone.length > 0) outcomes.value = new Map([...outcomes.peek()].filter(([item]) => there.has(item)));
});
