// SPDX-License-Identifier: BSD-3-Clause
// Texts that become designs of the workspace, each under a name that is free: no file is written over.
import { getDesign, putDesign, Refused } from "../api/http";
import type { Edits } from "../api/messages";
import { designs, listDesigns, openOn } from "./bench";
import * as draft from "./draft";
import { say } from "./notes";

const LARGEST = 200_000; // bytes; a design file has a few thousand
const MOST_OF_A_NAME = 70; // characters, with room for a number behind

/** Opens the person's own files on the page that is shown; several: the last one stays on the bench. */
export async function openFiles(files: readonly File[]): Promise<void> {
  for (const file of files) {
    try {
      await openFile(file);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      say(`${file.name} is not taken in: ${error.problem.text}`);
    }
  }
}

async function openFile(file: File): Promise<void> {
  if (file.size > LARGEST) {
    say(`${file.name} is too large for a design file, which has a few kilobytes.`);
    return;
  }
  const wanted = nameOf(file.name);
  const name = await keepNew(wanted, await file.text());
  await openOn(draft.page.value, name);
  say(name === wanted ? `${file.name} is opened, and kept as ${name}.toml.` : `${file.name} is opened, and kept as ${name}.toml beside the ${wanted}.toml that was there.`);
}

/** Keeps a text, with changes of it, as a design file of the workspace, under `wanted` or that with a number; the name it
 * has there. A file that has the text already is that file. */
export async function keepNew(wanted: string, text: string, edits: Edits = {}): Promise<string> {
  const isAsItIs = Object.keys(edits).length === 0;
  const taken = new Set(designs.value.map((design) => design.name));
  for (let number = 1; ; number++) {
    const name = number === 1 ? wanted : `${wanted}-${number}`;
    if (taken.has(name)) {
      if (isAsItIs && (await getDesign(name)).text === text) return name;
      continue;
    }
    const answer = await putDesign(name, isAsItIs ? { text } : { base: { text }, edits });
    if (answer.outcome === "conflict") continue; // written meanwhile by somebody else
    await listDesigns();
    return name;
  }
}

/** A name of a design file out of that of any file. */
export function nameOf(file: string): string {
  const name = file
    .replace(/\.toml$/i, "")
    .replace(/[^\p{L}\p{N}_ .()+-]+/gu, "-")
    .replace(/^[^\p{L}\p{N}]+/u, "")
    .slice(0, MOST_OF_A_NAME)
    .replace(/[^\p{L}\p{N}_()+-]+$/u, "");
  return name || "design";
}
