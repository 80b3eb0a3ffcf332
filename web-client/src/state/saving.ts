// SPDX-License-Identifier: BSD-3-Clause
// Saving a draft. Where somebody else changed the same, both texts are shown and the person decides.
import { computed, signal } from "@preact/signals";
import { getDesign, putDesign, Refused } from "../api/http";
import type { Conflict, Edits, SaveRequest } from "../api/messages";
import { listDesigns } from "./bench";
import * as draft from "./draft";
import { listAnew, listOf } from "./lists";
import { say } from "./notes";

export const conflict = signal<Conflict | null>(null);
export const isNaming = signal(false);
/** Why the last try to save failed, shown in the dialog it was made from. */
export const refusal = signal<string | null>(null);

/** Saves what is on the bench where it came from, or asks for a name. */
export async function save(): Promise<void> {
  const base = draft.base.value;
  if (!base) return;
  refusal.value = null;
  if (base.name === null) isNaming.value = true;
  else await put(base.name, { base: { name: base.name, etag: base.etag, text: base.text }, edits: draft.edits.value });
}

/** Saves what is on the bench as a new file. */
export async function saveAs(name: string): Promise<void> {
  const text = conflict.value?.yours;
  const changed = { base: { text: draft.base.value?.text ?? null }, edits: draft.edits.value };
  const request: SaveRequest = text === undefined ? changed : { text };
  await put(name, request);
}

/** Whether the disputed file is the one on the bench, so that both changes can be put together. */
export const isMergeable = computed(() => conflict.value?.name === draft.base.value?.name);

/** Settles a conflict: of the keys in dispute mine stay, or theirs; whatever else they wrote is kept. */
export async function settle(whose: "mine" | "theirs"): Promise<void> {
  const found = conflict.value;
  if (!found) return;
  let kept: Edits = { ...draft.edits.value };
  if (whose === "theirs") for (const key of found.keys) delete kept[key];
  else kept = await withListsAnew(found, kept);
  if (Object.keys(kept).length === 0) {
    await lay(found.name);
    say(`${found.name}.toml stays as it was changed elsewhere.`);
    return;
  }
  await put(found.name, { base: { name: found.name, etag: found.etag, text: found.theirs }, edits: kept });
}

/** Numbers of tables may have moved in their text: a disputed list of mine takes the place of all of theirs. */
async function withListsAnew(found: Conflict, edits: Edits): Promise<Edits> {
  const lists = new Set(found.keys.flatMap((key) => listOf(key) ?? []));
  if (lists.size === 0) return edits;
  const theirs = (await getDesign(found.name)).values;
  const result = Object.fromEntries(Object.entries(edits).filter(([key]) => !lists.has(listOf(key) ?? "")));
  for (const list of lists) Object.assign(result, listAnew(list, draft.base.value?.values ?? {}, edits, theirs));
  return result;
}

async function put(name: string, request: SaveRequest): Promise<void> {
  const work = putAndLay(name, request);
  draft.isBeingSaved(work.catch(() => undefined));
  await work;
}

async function putAndLay(name: string, request: SaveRequest): Promise<void> {
  try {
    const answer = await putDesign(name, request);
    if (answer.outcome === "conflict") {
      isNaming.value = false;
      conflict.value = answer;
      return;
    }
    await lay(name, request.edits);
    say(answer.is_merged ? `Saved as ${name}.toml, beside what was changed there meanwhile.` : `Saved as ${name}.toml.`);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    if (isNaming.value || conflict.value) refusal.value = error.problem.text;
    else say(error.problem.text);
  }
}

/** Takes the file as it stands now; changes made while it was being saved stay changes. */
async function lay(name: string, saved: Edits = draft.edits.value): Promise<void> {
  const { problem: _, ...text } = await getDesign(name);
  const since = Object.entries(draft.edits.value).filter(([key, value]) => value !== saved[key]);
  draft.lay(text, Object.fromEntries(since));
  conflict.value = null;
  isNaming.value = false;
  await listDesigns();
}
