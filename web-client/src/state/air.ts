// SPDX-License-Identifier: BSD-3-Clause
// The reports on the table as they are looked at: own place, band, stretch of time, two antennas. Latest wins.
import { batch, computed, effect, signal } from "@preact/signals";
import { deleteReports, postAirLook, postReports, Refused } from "../api/http";
import type { AirAsked, AirSeen } from "../api/messages";
import * as draft from "./draft";

/** A file that could not be laid on the table: the sentence, and the file, should its columns be named. */
export interface Refusal {
  name: string;
  text: string;
  file: File | null;
}

export const seen = signal<AirSeen | null>(null);
export const refusals = signal<readonly Refusal[]>([]);
export const problem = signal<string | null>(null);
export const isReading = signal(false);

export const locator = signal("");
export const band = signal<string | null>(null);
/** The stretch of time that is looked at [s since 1970]; null: all of it. */
export const stretch = signal<readonly [number, number] | null>(null);
export const compared = signal<readonly [string, string] | null>(null);
/** Counts what was laid on the table and taken off it. */
const changes = signal(0);

/** The draft that was last predicted, as text that only changes when it does. */
const drafted = computed(() => {
  const ask = draft.pictureAsk.value;
  return ask && JSON.stringify({ base: ask.base, edits: ask.edits });
});

const wanted = computed<string | null>(() => {
  if (draft.page.value !== "air" || drafted.value === null) return null;
  const asked: AirAsked = {
    ...(JSON.parse(drafted.value) as Pick<AirAsked, "base" | "edits">),
    locator: locator.value.trim() || null,
    band: band.value,
    start_s: stretch.value?.[0] ?? null,
    end_s: stretch.value?.[1] ?? null,
    compare: compared.value ? [compared.value[0], compared.value[1]] : null,
  };
  return JSON.stringify([changes.value, asked]);
});

/** Whether what is seen is what is wanted; what looks from outside waits for it. */
export const isSettled = computed(() => !isReading.value && shown.value === wanted.value);
const shown = signal<string | null>(null);
let isAsking = false;

effect(() => {
  if (wanted.value !== null) void look();
});

async function look(): Promise<void> {
  if (isAsking) return;
  isAsking = true;
  try {
    for (;;) {
      const text = wanted.peek();
      if (text === null || text === shown.peek()) return;
      await lookOnce(text);
    }
  } finally {
    isAsking = false;
  }
}

async function lookOnce(text: string): Promise<void> {
  try {
    const answer = await postAirLook((JSON.parse(text) as [number, AirAsked])[1]);
    batch(() => {
      seen.value = answer;
      problem.value = null;
      shown.value = text;
      begin(answer);
    });
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    batch(() => {
      problem.value = error.problem.text;
      shown.value = text;
    });
  }
}

/** The two busiest antennas are compared by themselves; a band that is gone is let go. */
function begin(answer: AirSeen): void {
  const names = answer.antennas.map((antenna) => antenna.name);
  const [first, second] = names;
  const stands = compared.peek()?.every((name) => names.includes(name)) ?? false;
  if (!stands) compared.value = first !== undefined && second !== undefined ? [first, second] : null;
  if (band.peek() !== null && !answer.bands.some((one) => one.band === band.peek())) band.value = null;
}

export async function addFiles(files: readonly File[], columns: readonly string[] = []): Promise<void> {
  isReading.value = true;
  const names = files.map((file) => file.name);
  refusals.value = refusals.value.filter((refusal) => !names.includes(refusal.name));
  for (const file of files) {
    try {
      await postReports(file, columns);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      refusals.value = [...refusals.value, { name: file.name, text: error.problem.text, file }];
    }
  }
  batch(() => {
    changes.value += 1;
    stretch.value = null;
    isReading.value = false;
  });
}

export async function remove(name: string): Promise<void> {
  try {
    await deleteReports(name);
  } catch (error) {
    if (!(error instanceof Refused)) throw error; // gone already, by another page
  }
  batch(() => {
    changes.value += 1;
    stretch.value = null;
  });
}

export function dismiss(name: string): void {
  refusals.value = refusals.value.filter((refusal) => refusal.name !== name);
}
