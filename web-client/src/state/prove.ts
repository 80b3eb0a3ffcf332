// SPDX-License-Identifier: BSD-3-Clause
// The sweeps on the page, and what the server found of them: each by itself, then all together against the suspects.
import { batch, computed, effect, signal } from "@preact/signals";
import type { Prove } from "../api/live_line";
import type {
  ProofCautions,
  ProofDocument,
  ProofFound,
  ProofProblem,
  ProofProgress,
  ProofStopped,
  ProofSweep,
  ProofSweeps,
  SweepChanged,
  SweepEntry,
  SweepSent,
} from "../api/messages";
import type { FigureTableByKey } from "../figures";
import { momentOf } from "../moments";
import * as draft from "./draft";

export type ProofMessage = ProofSweeps | ProofProgress | ProofFound | ProofStopped | ProofProblem;

/**
 * A sweep on the page: readings as typed `text`, a file as its bytes in base64, which nobody here reads; `refused`: why
 * it was not even sent; `measuredAt`: when the file was last written, if it says so; `columns`: what the person says of
 * those of a table, as in "swr=3".
 */
export interface Item {
  name: string;
  kind: SweepSent["kind"];
  text: string;
  content: string;
  refused: string | null;
  measuredAt: string | null;
  columns: string[];
}

/** Bytes of all files together. */
export const MOST_BYTES = 2_000_000;
/** Those as JSON, in base64: the server's largest message less room for the draft's changes. */
const MOST_SENT = 2_700_000;

export const figures = signal<FigureTableByKey>(new Map());
export const cautions = signal<ProofCautions | null>(null);
/** What lies in the workspace's sweeps/. */
export const folder = signal<SweepEntry[]>([]);

export const items = signal<readonly Item[]>([]);
/** What was found of an item; an item that is not in it has not been judged yet. */
export const found = signal<ReadonlyMap<Item, ProofSweep>>(new Map());
export const proof = signal<ProofDocument | null>(null);
export const progress = signal<ProofProgress | null>(null);
export const problem = signal<string | null>(null);
export const isStopped = signal(false);

const asked = signal<{ seq: number; items: readonly Item[]; of: string } | null>(null);
export const isWorking = signal(false);

/** The draft that was last predicted, as text that only changes when it does. */
const drafted = computed(() => {
  const ask = draft.pictureAsk.value;
  return ask && JSON.stringify({ base: ask.base, edits: ask.edits });
});
const sendable = computed(() => items.value.filter((item) => item.refused === null));

export const isWanted = computed(() => sendable.value.length > 0);

/** The draft that the sweeps on the page are set against; null before there is one. */
export const against = computed(() => drafted.value);

/** What to ask for; null while nobody looks, and where it has been asked for. */
export const wanted = computed<Prove | null>(() => {
  const of = drafted.value;
  if (draft.page.value !== "prove" || of === null || !isWanted.value) return null;
  const before = asked.value;
  if (before?.items === sendable.value && before.of === of) return null;
  const [first, ...others] = sendable.value.map(sentOf);
  return first ? { ...(JSON.parse(of) as Pick<Prove, "base" | "edits">), sweeps: [first, ...others] } : null;
});

/** They were asked for under this number. */
export function begin(seq: number): void {
  batch(() => {
    asked.value = { seq, items: sendable.peek(), of: drafted.peek() ?? "" };
    isWorking.value = true;
    isStopped.value = false;
    proof.value = progress.value = problem.value = null;
  });
}

/** Compares all of them together once more. */
export function again(): void {
  asked.value = null;
}

/** The line was cut, and with it the work; it is asked for again. */
export function lose(): void {
  batch(() => {
    asked.value = progress.value = null;
    isWorking.value = false;
  });
}

/** Nothing is left on the page; whether something was under way. */
export function forget(): boolean {
  const was = isWorking.peek();
  batch(() => {
    found.value = new Map();
    asked.value = proof.value = progress.value = problem.value = null;
    isWorking.value = isStopped.value = false;
  });
  return was;
}

export function receive(message: ProofMessage): void {
  const request = asked.peek();
  if (message.seq !== null && message.seq !== request?.seq) return; // of an older request
  batch(() => {
    switch (message.type) {
      case "proof_sweeps":
        found.value = new Map(message.sweeps.flatMap((sweep, index) => (request?.items[index] ? [[request.items[index], sweep] as const] : [])));
        return;
      case "proof_progress":
        progress.value = message;
        return;
      case "proof_found":
        proof.value = message.proof;
        break;
      case "proof_stopped":
        isStopped.value = true;
        break;
      case "proof_problem":
        found.value = new Map();
        problem.value = message.text;
        break;
    }
    isWorking.value = false;
    progress.value = null;
  });
}

/** What goes to the server of an item. */
export function sentOf({ name, kind, text, content, columns }: Item): SweepSent {
  return kind === "file" ? { name, kind, content, columns } : { name, kind, text, columns };
}

/** Puts sweeps on the page, each in place of one of its kind and name. */
export function add(...more: readonly Omit<Item, "refused" | "measuredAt" | "content" | "columns">[]): void {
  put(more.map((one) => ({ ...one, content: "", measuredAt: null, columns: [] })));
}

function put(more: readonly Omit<Item, "refused">[]): void {
  let next = [...items.peek()];
  for (const one of more) {
    next = next.filter((item) => item.kind !== one.kind || item.name !== one.name);
    const bytes = new Blob([JSON.stringify([...next.filter((item) => item.refused === null), one])]).size;
    next.push(bytes > MOST_SENT ? { ...one, text: "", content: "", refused: tooLarge(one.name) } : { ...one, refused: null });
  }
  items.value = next;
}

/** Says what a table's columns are; it is read again. */
export function nameColumns(item: Item, columns: string[]): void {
  items.value = items.value.map((one) => (one === item ? { ...item, columns } : one));
}

export function remove(item: Item): void {
  items.value = items.value.filter((one) => one !== item);
}

/** Reads chosen or dropped files; one that is too large or cannot be read stays with its sentence. */
export async function addFiles(files: readonly File[]): Promise<void> {
  const read = await Promise.all(
    files.map(async (file) => {
      if (file.size > MOST_BYTES) return { name: file.name, refused: tooLarge(file.name) };
      try {
        return { name: file.name, content: await base64Of(file), measuredAt: momentOf(Math.floor(file.lastModified / 1000)) };
      } catch {
        return { name: file.name, refused: `${file.name}: this cannot be read here; choose the file itself.` };
      }
    }),
  );
  batch(() => {
    put(read.flatMap(({ name, content, measuredAt }) => (content === undefined ? [] : [{ name, kind: "file" as const, text: "", content, measuredAt, columns: [] }])));
    const refused = read.flatMap(({ name, refused }) => (refused === undefined ? [] : [{ name, kind: "file" as const, text: "", content: "", refused, measuredAt: null, columns: [] }]));
    items.value = [...items.value, ...refused];
  });
}

/** A file's bytes; what they mean is the server's to say, with the reader that the terminal has. */
function base64Of(file: File): Promise<string> {
  return new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(String(reader.result).split(",")[1] ?? "");
    reader.onerror = () => failed(reader.error);
    reader.readAsDataURL(file);
  });
}

export function addReadings(text: string): void {
  const numbers = items.value.filter((item) => item.kind === "readings").map((item) => Number(item.name.split(" ")[1]));
  add({ name: `readings ${Math.max(0, ...numbers) + 1}`, kind: "readings", text });
}

export function take(name: string): void {
  add({ name, kind: "folder", text: "" });
}

/** Files of the folder that are to be taken once it is known what is on the page: one that was just kept is on it already. */
const waiting = signal<readonly SweepChanged[]>([]);
const isJudged = computed(() => problem.value !== null || isStopped.value || sendable.value.every((item) => found.value.has(item)));

/** A file of the folder is new or has changed: while the page is open it is taken by itself, unless the record put it there. */
export function fileChanged(change: SweepChanged): void {
  const isOnThePage = items.value.some((item) => item.kind === "folder" && item.name === change.name);
  if (isOnThePage || (change.is_there && !change.is_recorded && draft.page.value === "prove")) waiting.value = [...waiting.value, change];
}

effect(() => {
  const told = waiting.value;
  if (!isJudged.value || told.length === 0) return;
  batch(() => {
    waiting.value = [];
    const here = new Set(items.peek().map((item) => found.peek().get(item)?.sha256 ?? null));
    for (const { name, sha256 } of told) if (sha256 === null || !here.has(sha256)) take(name);
  });
});

function tooLarge(name: string): string {
  return `${name}: too large to send, with the others more than ${MOST_BYTES / 1e6} MB. Put it into the workspace's folder sweeps and take it from there.`;
}
