// SPDX-License-Identifier: BSD-3-Clause
// The reports on the table as they are looked at: own place, band, stretch of time, two antennas. Latest wins.
import { batch, computed, effect, signal } from "@preact/signals";
import { deleteReports, postAirKeep, postAirLook, postAirNull, postAirPicture, postAirPromise, postAirSlots, postReports, Refused } from "../api/http";
import type { AirAsked, AirNull, AirNullAsked, AirPictureAsked, AirPromised, AirSeen, AirSlotsAsked } from "../api/messages";
import * as draft from "./draft";
import { keepFile } from "./keep_file";
import { say } from "./notes";

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
/** The antenna that is looked at alone, and the day from which on it is set against its past; null, "": none. */
export const alone = signal<string | null>(null);
export const since = signal("");
/** Whether what the record holds is looked at too. */
export const withRecord = signal(true);
/** Files of this visit by name, so that a table's columns can be named anew. */
export const given = signal<ReadonlyMap<string, File>>(new Map());
/** Answers to questions of their own; they are of what was looked at then. */
export const nullFound = signal<AirNull | string | null>(null);
export const promiseFound = signal<AirPromised | string | null>(null);
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
    antenna: alone.value,
    since_s: since.value ? Date.parse(`${since.value}T00:00:00Z`) / 1000 : null,
    with_record: withRecord.value,
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
      if (askedFrom(shown.peek()) !== askedFrom(text)) nullFound.value = promiseFound.value = null;
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

/** The two busiest antennas are compared by themselves, in the order in which reports name them; a band that is gone is let go. */
function begin(answer: AirSeen): void {
  const names = answer.antennas.map((antenna) => antenna.name);
  const [first, second] = names;
  const stands = compared.peek()?.every((name) => names.includes(name)) ?? false;
  if (!stands) compared.value = first !== undefined && second !== undefined ? [first, second] : null;
  if (alone.peek() !== null && !names.includes(alone.peek() ?? "")) alone.value = null;
  if (band.peek() !== null && !answer.bands.some((one) => one.band === band.peek())) band.value = null;
}

export async function addFiles(files: readonly File[], columns: readonly string[] = []): Promise<void> {
  isReading.value = true;
  const names = files.map((file) => file.name);
  refusals.value = refusals.value.filter((refusal) => !names.includes(refusal.name));
  for (const file of files) {
    try {
      await postReports(file, columns);
      given.value = new Map([...given.value, [file.name, file]]);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      refusals.value = [...refusals.value, { name: file.name, text: error.problem.text, file }];
    }
  }
  batch(() => {
    changes.value += 1;
    stretch.value = null;
    nullFound.value = promiseFound.value = null;
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
    nullFound.value = promiseFound.value = null;
  });
}

export function dismiss(name: string): void {
  refusals.value = refusals.value.filter((refusal) => refusal.name !== name);
}

/** What a null and a promise depend on, of what is looked at: all but the question of the past. */
function askedFrom(text: string | null): string {
  if (text === null) return "";
  const [, ask] = JSON.parse(text) as [number, AirAsked];
  return JSON.stringify({ ...ask, antenna: null, since_s: null });
}

/** What is looked at, to ask another question of it. */
function asked(): AirAsked | null {
  return shown.peek() === null ? null : (JSON.parse(shown.peek() ?? "") as [number, AirAsked])[1];
}

/** Keep all reports on the table in the record. */
export async function keep(): Promise<void> {
  await told(async () => {
    const { new: count } = await postAirKeep(locator.value.trim());
    say(count === 1 ? "1 report is kept in the record." : `${count} reports are kept in the record.`);
    changes.value += 1;
  });
}

export async function findNull(turned: AirNullAsked["turned"]): Promise<void> {
  const ask = asked();
  if (ask) nullFound.value = await answered(() => postAirNull({ ...ask, turned }));
}

/** Set two designs beside what was found; null stands for the draft. */
export async function findPromise(designs: readonly [string | null, string | null]): Promise<void> {
  const ask = asked();
  if (ask) promiseFound.value = await answered(() => postAirPromise({ ...ask, designs: [...designs] }));
}

export async function savePicture(kind: NonNullable<AirPictureAsked["kind"]>): Promise<void> {
  const ask = asked();
  if (ask) await told(async () => save(await postAirPicture({ ...ask, kind })));
}

export async function savePlan(wanted: AirSlotsAsked): Promise<void> {
  await told(async () => save(await postAirSlots(wanted)));
}

function save({ name, file }: { name: string; file: Blob }): void {
  keepFile(file, name);
}

/** The answer, or the sentence that says why there is none. */
async function answered<T>(ask: () => Promise<T>): Promise<T | string> {
  try {
    return await ask();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return error.problem.text;
  }
}

async function told(act: () => Promise<void>): Promise<void> {
  const refusal = await answered(act);
  if (typeof refusal === "string") say(refusal);
}
