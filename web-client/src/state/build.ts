// SPDX-License-Identifier: BSD-3-Clause
// The draft as a thing to make: asked for while the page is looked at, once the prediction it rests on is there.
import { batch, computed, effect, signal } from "@preact/signals";
import { getBuild, postBuild, postSheet, Refused } from "../api/http";
import type { BuildFound, SheetAsked } from "../api/messages";
import type { FigureTableByKey } from "../figures";
import * as draft from "./draft";
import { keepFile } from "./keep_file";
import { say } from "./notes";
import { system } from "./preferences";

export type Contents = NonNullable<SheetAsked["contents"]>;
export type Paper = NonNullable<SheetAsked["paper"]>;

export const figures = signal<FigureTableByKey>(new Map());
export const found = signal<BuildFound | null>(null);
export const problem = signal<string | null>(null);
export const isPrinting = signal(false);
/** What the answer is of, as text; tests and stopwatches look for it. */
const foundFor = signal("");

const wanted = computed(() => {
  const asked = draft.pictureAsk.value;
  if (draft.page.value !== "build" || asked === null || !draft.isSettled.value) return null;
  const { detail_band: _, ...rest } = asked;
  return { ...rest, units: system.value };
});

export const isSettled = computed(() => wanted.value !== null && foundFor.value === JSON.stringify(wanted.value));

let journey = 0;

effect(() => {
  const asked = wanted.value;
  if (asked !== null && foundFor.peek() !== JSON.stringify(asked)) void load(asked);
});

async function load(asked: NonNullable<typeof wanted.value>): Promise<void> {
  const mine = ++journey;
  try {
    if (figures.value.size === 0) figures.value = new Map((await getBuild()).figures.map((figure) => [figure.key, figure]));
    const answer = await postBuild(asked);
    if (mine !== journey) return; // something newer is under way
    batch(() => {
      found.value = answer;
      foundFor.value = JSON.stringify(asked);
      problem.value = null;
    });
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    if (mine === journey) problem.value = error.problem.text;
  }
}

/** Has the sheet or the templates set, and gives it to the browser to keep. */
export async function print(paper: Paper, contents: Contents): Promise<void> {
  const asked = wanted.value;
  if (asked === null || isPrinting.value) return;
  isPrinting.value = true;
  try {
    const { name, file } = await postSheet({ ...asked, paper, contents });
    keepFile(file, name);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    say(error.problem.text);
  } finally {
    isPrinting.value = false;
  }
}

export function keepDrawing(name: string, svg: string): void {
  keepFile(new Blob([svg], { type: "image/svg+xml" }), `${name}.svg`);
}
