// SPDX-License-Identifier: BSD-3-Clause
// The brief: what is asked for, whether a search runs, and the rings it found. Site and tolerances are the draft's.
import { batch, computed, effect, signal } from "@preact/signals";
import { getBrief, getStock, Refused } from "../api/http";
import type { BriefAsked, BriefFields, BriefStart, SearchDocument, SearchFound, SearchProblem, SearchProgress, SearchRing, SearchStopped, StockList } from "../api/messages";
import type { FigureTableByKey } from "../figures";
import { openOn } from "./bench";
import * as draft from "./draft";
import { say } from "./notes";
import { keepNew } from "./opening";

export type SearchMessage = SearchProgress | SearchFound | SearchStopped | SearchProblem;

/** As typed; an empty text leaves the key out. `parts`: names that were struck out. */
export interface Form {
  bands: string[];
  power: string;
  mode: string;
  room: { width: string; depth: string; height: string };
  mass: string;
  cost: string;
  margin: string;
  swr: string;
  weights: Record<Weight, string>;
  shapes: string[];
  perimeter: { from: string; to: string; count: string };
  without: string[];
}
export const WEIGHTS = ["sky_db", "size", "mass", "cost", "bandwidth", "margin"] as const;
export type Weight = (typeof WEIGHTS)[number];

const KEPT_AS = "ringwright.brief";
const TAKEN_AS = "ringwright.brief.taken";
const FIRST: Form = {
  bands: ["40m", "30m", "20m"],
  power: "20 W",
  mode: "SSB voice",
  room: { width: "", depth: "", height: "" },
  mass: "",
  cost: "",
  margin: "1",
  swr: "",
  weights: { sky_db: "1", size: "2", mass: "0.1", cost: "0", bandwidth: "0", margin: "0" },
  shapes: ["octagon"],
  perimeter: { from: "2 m", to: "4 m", count: "5" },
  without: [],
};

export const form = signal<Form>(kept());
export const stock = signal<StockList | null>(null);
/** The folder's own brief file, as it was when the page came up. */
export const file = signal<BriefStart | null>(null);
/** The form as the file has it; null without one that can be read. */
const ofFile = computed(() => (stock.value && file.value?.form ? formOf(file.value.form, stock.value) : null));
export const isOfFile = computed(() => JSON.stringify(ofFile.value) === JSON.stringify(form.value));
/** What stood in the fields before the file was taken. */
export const before = signal<Form | null>(null);
export const figures = signal<FigureTableByKey>(new Map());
export const isSearching = signal(false);
export const progress = signal<{ done: number; total: number; text: string } | null>(null);
export const found = signal<SearchDocument | null>(null);
/** How far a search was that was stopped, in parts of the whole; null if none was. */
export const stoppedAt = signal<number | null>(null);
/** What is known while the search runs, or where it was stopped. */
const soFar = signal<SearchRing[]>([]);
export const problem = signal<{ key: string | null; text: string } | null>(null);
export const rings = computed(() => found.value?.front ?? soFar.value);
/** Index of the ring that is looked at. */
export const chosen = signal(0);
/** The brief that the rings are of, as text. */
const foundFor = signal("");
export const isOfTheForm = computed(() => foundFor.value === JSON.stringify(form.value));

effect(() => {
  const text = JSON.stringify(form.value);
  try {
    localStorage.setItem(KEPT_AS, text);
  } catch {
    // storage may be switched off; then the brief lasts as long as the page
  }
});

effect(() => {
  if (draft.page.value === "brief" && stock.peek() === null) void load();
});

function kept(): Form {
  try {
    const stored = JSON.parse(localStorage.getItem(KEPT_AS) ?? "null") as Partial<Form> | null;
    return { ...FIRST, ...stored };
  } catch {
    return FIRST;
  }
}

async function load(): Promise<void> {
  try {
    const [table, stored] = await Promise.all([getStock(), getBrief()]);
    batch(() => {
      stock.value = withOwn(table, stored);
      file.value = stored;
      figures.value = new Map(table.figures.map((figure) => [figure.key, figure]));
      if (stored.form && stored.etag !== taken()) takeFile();
    });
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    problem.value = error.problem;
  }
}

/** Which file the fields were filled from last; one that was changed on disk is taken anew. */
function taken(): string | null {
  try {
    return localStorage.getItem(TAKEN_AS);
  } catch {
    return null;
  }
}

/** Fills the fields from the file; what stood there is kept for once. */
export function takeFile(): void {
  const next = ofFile.value;
  if (!next) return;
  const now = form.value;
  const isWorthKeeping = ![FIRST, next].some((one) => JSON.stringify(one) === JSON.stringify(now));
  batch(() => {
    before.value = isWorthKeeping ? now : null;
    form.value = next;
  });
  try {
    localStorage.setItem(TAKEN_AS, file.value?.etag ?? "");
  } catch {
    // storage may be switched off; then the file is taken at every visit
  }
}

/** Puts back what stood in the fields before the file was taken. */
export function takeBack(): void {
  batch(() => {
    form.value = before.value ?? form.value;
    before.value = null;
  });
}

/** Parts that the file alone describes come first. */
function withOwn(table: StockList, stored: BriefStart): StockList {
  const together = (own: string[], names: string[]) => [...own, ...names.filter((name) => !own.includes(name))];
  return {
    ...table,
    conductors: together(stored.own_conductors, table.conductors),
    capacitors: together(stored.own_capacitors, table.capacitors),
  };
}

export function formOf(fields: BriefFields, stock: StockList): Form {
  const rest = (all: readonly string[], some: readonly string[] | null) => (some ? all.filter((name) => !some.includes(name)) : []);
  return {
    bands: fields.bands,
    power: fields.power,
    mode: fields.mode ?? "",
    room: { width: fields.width ?? "", depth: fields.depth ?? "", height: fields.height ?? "" },
    mass: fields.mass ?? "",
    cost: fields.cost ?? "",
    margin: String(fields.margin),
    swr: fields.swr === null ? "" : String(fields.swr),
    weights: Object.fromEntries(WEIGHTS.map((name) => [name, String(fields.weights[name] ?? 0)])) as Record<Weight, string>,
    shapes: fields.shapes,
    perimeter: { from: fields.perimeter_from, to: fields.perimeter_to, count: String(fields.perimeter_count) },
    without: [...rest(stock.conductors, fields.conductors), ...rest(stock.capacitors, fields.capacitors)],
  };
}

export function set(change: Partial<Form>): void {
  form.value = { ...form.value, ...change };
}

/** A name in a list, or no longer in it; the order is that of `all`. */
export function toggled(list: readonly string[], name: string, all: readonly string[]): string[] {
  const has = new Set(list);
  if (!has.delete(name)) has.add(name);
  return all.filter((one) => has.has(one));
}

/** A search begins; what it is asked, and whether the file's keys that have no field count, too. */
export function begin(): { brief: BriefAsked; from_file: boolean } {
  batch(() => {
    isSearching.value = true;
    progress.value = found.value = problem.value = stoppedAt.value = null;
    soFar.value = [];
    chosen.value = 0;
    foundFor.value = JSON.stringify(form.value);
  });
  const own = file.value ? [...file.value.own_conductors, ...file.value.own_capacitors] : [];
  return { brief: asked(form.value, stock.value, own), from_file: (file.value?.form ?? null) !== null };
}

/** A form as the server reads it; parts of the file's `own` are at hand only by name. */
export function asked(form: Form, stock: StockList | null, own: readonly string[] = []): BriefAsked {
  const left = (names: readonly string[] | undefined) => {
    const some = names?.filter((name) => !form.without.includes(name)) ?? null;
    return some?.length === names?.length && !some?.some((name) => own.includes(name)) ? null : some;
  };
  return {
    bands: form.bands,
    power: form.power,
    mode: form.mode || null,
    room: { width: form.room.width || null, depth: form.room.depth || null, height: form.room.height || null },
    limits: {
      mass: form.mass || null,
      cost: form.cost || null,
      capacitor_voltage_margin: number(form.margin),
      swr: number(form.swr),
    },
    weights: Object.fromEntries(WEIGHTS.map((name) => [name, number(form.weights[name]) ?? 0])),
    grid: {
      shape: form.shapes,
      perimeter: [form.perimeter.from, form.perimeter.to, Math.round(number(form.perimeter.count) ?? 0)],
      conductors: left(stock?.conductors),
      capacitors: left(stock?.capacitors),
    },
  };
}

function number(text: string): number | null {
  const value = Number(text);
  return text.trim() !== "" && Number.isFinite(value) ? value : null;
}

/** The line was cut, and with it the search. */
export function lose(): void {
  if (!isSearching.value) return;
  batch(() => {
    isSearching.value = false;
    problem.value = { key: null, text: "The search ended with the connection; start it again, it goes on where it was." };
  });
}

export function receive(message: SearchMessage): void {
  batch(() => {
    if (message.type === "search_progress") {
      progress.value = message;
      soFar.value = message.best;
      return;
    }
    isSearching.value = false;
    const last = progress.value;
    progress.value = null;
    switch (message.type) {
      case "search_found":
        found.value = message.search;
        chosen.value = 0;
        break;
      case "search_stopped":
        soFar.value = message.best;
        stoppedAt.value = last && last.total > 0 ? last.done / last.total : 0;
        break;
      case "search_problem":
        problem.value = message;
        break;
    }
  });
}

/** What stays the person's own whichever ring is built: the drive, and the cable that leads to it. */
const STAYS = /^(drive|feedline)\./;

/** Keeps a ring as a design file of the workspace, under a name that is free, and opens it in the designer. */
export async function build(ring: SearchRing): Promise<void> {
  const wanted = ring.design
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, 50)
    .replace(/^-|-$/g, "");
  try {
    const own = draft.statedKeys().filter((key) => STAYS.test(key));
    const name = await keepNew(wanted, ring.design_toml, Object.fromEntries(own.map((key) => [key, draft.valueNow(key)])));
    await openOn("ring", name);
    say(`Kept as ${name}.toml.`);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    say(error.problem.text);
  }
}
