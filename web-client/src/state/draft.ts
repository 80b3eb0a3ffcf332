// SPDX-License-Identifier: BSD-3-Clause
// The draft on the bench: a base text, what was changed of it, and the last picture of it that could be drawn.
import { batch, computed, signal } from "@preact/signals";
import type { Picture } from "../api/http";
import type { Ask } from "../api/live_line";
import type { Edits, Problem, StartDraft, Value } from "../api/messages";
import type { FigureTableByKey } from "../figures";
import type { PinLetter, Variant } from "./address";

/** A text as it was read, with what it sets. `name` null: the built-in start, which is no file yet. */
export interface BaseText {
  name: string | null;
  etag: string;
  text: string;
  values: Record<string, Value>;
}

export interface Pin extends Variant {
  picture: Picture | null;
}

export const start = signal<StartDraft | null>(null);
export const figures = signal<FigureTableByKey>(new Map());
export const base = signal<BaseText | null>(null);
export const edits = signal<Edits>({});
export const page = signal("");
export const band = signal<string | null>(null);
/** The layer of what was measured that is asked for; whether it fits, the picture's prediction says. */
export const calibration = signal<string | null>(null);
export const pins = signal<Partial<Record<PinLetter, Pin>>>({});
export const picture = signal<Picture | null>(null);
/** Number of the request that the picture answers; tests and stopwatches look for it. */
export const pictureSeq = signal(0);
/** The draft that the picture is of. */
export const pictureAsk = signal<Ask | null>(null);
/** Why the draft as it stands has no picture. */
export const problem = signal<Problem | null>(null);
export const isConnected = signal(true);

/** Whether the picture is that of the draft as it stands; what looks from outside waits for it. */
export const isSettled = computed(() => {
  const [asked, text] = [pictureAsk.value, base.value];
  if (asked === null || text === null || problem.value !== null) return false;
  const isSameText = (asked.base?.name ?? null) === text.name && (text.name === null || (asked.base?.etag ?? null) === text.etag);
  if ((asked.base?.calibration ?? null) !== calibration.value) return false;
  return isSameText && asked.detail_band === bandIndex.value && JSON.stringify(asked.edits ?? {}) === JSON.stringify(edits.value);
});

/** The save under way, or the last one: what the folder tells of meanwhile may be the page's own doing. */
let saving: Promise<unknown> = Promise.resolve();

export function isBeingSaved(work: Promise<unknown>): void {
  saving = work;
}

export async function whenSaved(): Promise<void> {
  await saving;
}

export const isEdited = computed(() => Object.keys(edits.value).length > 0);

/** Index of the chosen band, the first where there is none of that name. */
export const bandIndex = computed(() => {
  const bands = picture.value?.prediction.bands ?? [];
  return Math.max(
    bands.findIndex((one) => bandName(one) === band.value),
    0,
  );
});
export const chosenBand = computed(() => picture.value?.prediction.bands[bandIndex.value] ?? null);
export const chosenCurves = computed(() => picture.value?.bands[bandIndex.value] ?? null);

export function bandName(one: { band: string | null; frequency_hz: number }): string {
  return one.band ?? `${(one.frequency_hz / 1e6).toFixed(3)} MHz`;
}

/** What stands for a key now: changed here, set by the text, or a default that the last picture used. */
export function valueNow(key: string): Value | null {
  const edited = edits.value[key];
  if (edited !== undefined && edited !== null) return edited;
  const set = base.value?.values[key];
  if (edited === undefined && set !== undefined) return set;
  return picture.value?.defaults.find((one) => one.key === key)?.value ?? null;
}

/** Whether the file or the person states a key, rather than a default. */
export function isStated(key: string): boolean {
  const edited = edits.value[key];
  return edited === undefined ? base.value?.values[key] !== undefined : edited !== null;
}

/** Every key that the file or the person states. */
export function statedKeys(): string[] {
  return [...new Set([...Object.keys(base.value?.values ?? {}), ...Object.keys(edits.value)])].filter(isStated);
}

/** Changes keys; one that is set to what the text has anyway is no change. */
export function change(wanted: Edits): void {
  const next = { ...edits.value };
  for (const [key, value] of Object.entries(wanted)) {
    const set = base.value?.values[key] ?? null;
    if (JSON.stringify(set) === JSON.stringify(value)) delete next[key];
    else next[key] = value;
  }
  if (JSON.stringify(next) !== JSON.stringify(edits.value)) edits.value = next;
}

/** Puts another text on the bench. */
export function lay(text: BaseText, withEdits: Edits = {}): void {
  batch(() => {
    base.value = text;
    edits.value = withEdits;
  });
}

export function startText(draft: StartDraft): BaseText {
  return { name: null, etag: draft.etag, text: draft.text, values: draft.values };
}
