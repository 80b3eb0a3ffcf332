// SPDX-License-Identifier: BSD-3-Clause
// Layers of what was measured: those of the workspace, and sweeps of the page made into one.
import { batch, computed, signal } from "@preact/signals";
import { getCalibrations, postCalibration, Refused } from "../api/http";
import type { CalibrationEntry, CalibrationKept, CalibrationSent } from "../api/messages";
import * as draft from "./draft";
import * as prove from "./prove";

export const layers = signal<CalibrationEntry[]>([]);
export const isAccepting = signal(false);
export const problem = signal<string | null>(null);
/** What came of the sweeps that were accepted last, and of which items these were. */
export const accepted = signal<{ kept: CalibrationKept; items: readonly prove.Item[] } | null>(null);

/** Those of the design on the bench, by its own name, and the one that is asked for. */
export const offered = computed(() => layers.value.filter((layer) => layer.design === draft.valueNow("name") || layer.name === draft.calibration.value));

export async function load(): Promise<void> {
  try {
    layers.value = (await getCalibrations()).calibrations;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
  }
}

/** Takes what was found on the page for the truth. */
export async function accept(name: string): Promise<void> {
  const against = prove.against.value;
  const items = prove.items.value.filter((item) => prove.found.value.get(item)?.found);
  const [first, ...others] = items.map(prove.sentOf);
  if (against === null || !first) return;
  isAccepting.value = true;
  problem.value = null;
  try {
    const drafted = JSON.parse(against) as Pick<CalibrationSent, "base" | "edits">;
    const kept = await postCalibration({ ...drafted, name, sweeps: [first, ...others] });
    await load();
    accepted.value = { kept, items: prove.items.value };
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    problem.value = error.problem.text;
  } finally {
    isAccepting.value = false;
  }
}

/** The ring as the layer has it, on the page Ring. */
export function show(name: string): void {
  batch(() => {
    draft.calibration.value = name;
    draft.page.value = "ring";
  });
}
