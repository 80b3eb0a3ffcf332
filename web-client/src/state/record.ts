// SPDX-License-Identifier: BSD-3-Clause
// The record on the page: its line, what of it is shown, the two moments that are compared, and the trend of a band.
import { batch, computed, effect, signal } from "@preact/signals";
import { getRecord, getRecordTable, getTrend, postArchive, postCompare, postNote, Refused } from "../api/http";
import type { MomentsCompared, NoteSent, RecordEntry, RecordLine, RecordTable, TakenIn, TrendDrawn } from "../api/messages";
import type { FigureTableByKey } from "../figures";
import { momentOf, secondsOf } from "../moments";
import type { Span } from "../widgets/plot_scale";
import * as draft from "./draft";
import { say } from "./notes";

export type Which = "before" | "after";
export type Over = "time" | "temperature" | "rain";

export const table = signal<RecordTable | null>(null);
export const figures = computed<FigureTableByKey>(() => new Map((table.value?.figures ?? []).map((figure) => [figure.key, figure])));
export const line = signal<RecordLine | null>(null);
/** Why there is no line. */
export const problem = signal<string | null>(null);

/** Kinds of entries that are not shown; the band, and the design's text, whose entries alone are. */
export const hidden = signal<ReadonlySet<string>>(new Set());
export const onlyBand = signal<string | null>(null);
export const onlyDesign = signal<string | null>(null);
export const chosen = signal<string | null>(null);
/** The part of time that is drawn; null: all of it. */
export const looked = signal<Span | null>(null);
export const moments = signal<Readonly<Record<Which, number>> | null>(null);
export const compared = signal<MomentsCompared | null>(null);
export const comparedProblem = signal<string | null>(null);
export const trend = signal<TrendDrawn | null>(null);
export const over = signal<Over>("time");
/** An archive that waits for the person's word, and what it would bring. */
export const offered = signal<{ archive: File; brings: TakenIn } | null>(null);
export const copyProblem = signal<string | null>(null);

const MARGIN = 0.04; // of the whole time, on either side
const SHORTEST = 3600; // s; a line of one moment is drawn as wide

export const isLooking = computed(() => draft.page.value === "record");
export const isEmpty = computed(() => !line.value?.entries.some((entry) => entry.kind !== "design"));

/** Entries that the filters let through, in order. An entry of no band belongs to all bands, one of no design to all. */
export const entries = computed<readonly RecordEntry[]>(() =>
  (line.value?.entries ?? []).filter(
    (entry) =>
      !hidden.value.has(entry.kind) &&
      (onlyBand.value === null || entry.band === null || entry.band === onlyBand.value) &&
      (onlyDesign.value === null || entry.designs.length === 0 || entry.designs.includes(onlyDesign.value)),
  ),
);
export const chosenEntry = computed(() => line.value?.entries.find((entry) => entry.key === chosen.value) ?? null);

/** From the first entry to the last, with some room. */
export const whole = computed<Span>(() => {
  const times = (line.value?.entries ?? []).map((entry) => secondsOf(entry.at));
  const [low, high] = times.length > 0 ? [Math.min(...times), Math.max(...times)] : [Date.now() / 1000 - 86400, Date.now() / 1000];
  const room = Math.max(MARGIN * (high - low), SHORTEST);
  return { low: low - room, high: high + room };
});
export const span = computed(() => looked.value ?? whole.value);

/** The band of the trend: the page's own, the first of the record where it has none of it. */
export const trendBand = computed(() => {
  const bands = line.value?.bands ?? [];
  return bands.find((band) => band === (onlyBand.value ?? draft.band.value)) ?? bands[0] ?? null;
});

/** Asks anew whenever something came into the record; nobody looks: nothing is asked. */
export async function load(): Promise<void> {
  if (!isLooking.peek()) return;
  try {
    if (table.peek() === null) table.value = await getRecordTable(); // read unseen: whoever calls may be an effect
    const found = await getRecord();
    batch(() => {
      line.value = found;
      problem.value = null;
      if (moments.value === null) moments.value = firstMoments(found);
    });
  } catch (error) {
    problem.value = refusal(error);
  }
}

/** The first sweep and the last of the band that was swept over the longest time; null where no band was swept twice. */
export function firstMoments({ entries }: Pick<RecordLine, "entries">): Record<Which, number> | null {
  const ends = new Map<string | null, Record<Which, number>>();
  for (const { kind, band, at } of entries) {
    if (kind === "sweep") ends.set(band, { before: ends.get(band)?.before ?? secondsOf(at), after: secondsOf(at) });
  }
  const length = (one: Record<Which, number>) => one.after - one.before;
  const [longest] = [...ends.values()].sort((one, other) => length(other) - length(one));
  return longest && length(longest) > 0 ? longest : null;
}

export function setMoment(which: Which, at: number): void {
  const other = moments.value ?? { before: at, after: at };
  moments.value = { ...other, [which]: at };
}

/** The next entry's moment in a direction from here, the end of the line where there is none. */
export function nextMoment(from: number, direction: 1 | -1): number {
  const times = entries.value.map((entry) => secondsOf(entry.at));
  const ahead = times.filter((at) => (at - from) * direction > 0.5);
  return ahead.length > 0 ? (direction > 0 ? Math.min(...ahead) : Math.max(...ahead)) : from;
}

/** Shows so much of the time, kept within the whole and no shorter than an hour. */
export function look(low: number, high: number): void {
  const all = whole.peek();
  const width = Math.min(Math.max(high - low, SHORTEST), all.high - all.low);
  const begin = Math.min(Math.max((low + high - width) / 2, all.low), all.high - width);
  looked.value = width >= (all.high - all.low) * 0.999 ? null : { low: begin, high: begin + width };
}

/** Nearer (below 1) or further, about a moment that stays where it is. */
export function zoom(factor: number, about = (span.peek().low + span.peek().high) / 2): void {
  const { low, high } = span.peek();
  look(about - (about - low) * factor, about + (high - about) * factor);
}

export async function writeNote(note: NoteSent): Promise<string | null> {
  try {
    const kept = await postNote(note);
    chosen.value = `note ${kept.number}`;
    await load();
    return null;
  } catch (error) {
    return refusal(error);
  }
}

/** Looks into an archive; what it would bring is shown and asked. */
export async function offer(archive: File): Promise<void> {
  copyProblem.value = null;
  try {
    offered.value = { archive, brings: await postArchive(archive, true) };
  } catch (error) {
    copyProblem.value = refusal(error);
  }
}

export async function takeIn(): Promise<void> {
  const asked = offered.value;
  if (!asked) return;
  try {
    await postArchive(asked.archive, false);
    say(`${asked.archive.name} is in the record now.`);
    await load();
  } catch (error) {
    copyProblem.value = refusal(error);
  }
  offered.value = null;
}

export function refusal(error: unknown): string {
  if (!(error instanceof Refused)) throw error;
  return error.problem.text;
}

let newest = 0;

/** Compares again as soon as a moment or the record moves; an answer that is overtaken is dropped. */
effect(() => {
  const pair = moments.value;
  if (!isLooking.value || !line.value || !pair) return;
  const mine = ++newest;
  const hand = setTimeout(() => void compare(pair, mine), 60);
  return () => clearTimeout(hand);
});

async function compare(pair: Readonly<Record<Which, number>>, mine: number): Promise<void> {
  let found: MomentsCompared | null = null;
  let why: string | null = null;
  try {
    const answer = await postCompare({ before: momentOf(pair.before), after: momentOf(pair.after) });
    if (answer.why_not === null) found = answer;
    else why = answer.why_not;
  } catch (error) {
    why = refusal(error);
  }
  if (mine !== newest) return;
  batch(() => {
    compared.value = found;
    comparedProblem.value = why;
  });
}

effect(() => {
  const band = trendBand.value;
  if (!isLooking.value || !line.value) return;
  if (band === null) trend.value = null;
  else void follow(band);
});

async function follow(band: string): Promise<void> {
  try {
    const found = await getTrend(band);
    if (trendBand.peek() === band) trend.value = found;
  } catch (error) {
    problem.value = refusal(error);
  }
}

effect(() => {
  if (isLooking.value) void load();
});
