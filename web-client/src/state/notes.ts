// SPDX-License-Identifier: BSD-3-Clause
// Short notes to the person: they stand until dismissed, the newest first, and are read out.
import { signal } from "@preact/signals";

export interface Note {
  id: number;
  text: string;
}

const MOST = 3;
let last = 0;
export const notes = signal<Note[]>([]);

export function say(text: string): void {
  const others = notes.value.filter((note) => note.text !== text);
  notes.value = [{ id: ++last, text }, ...others].slice(0, MOST);
}

export function dismiss(id: number): void {
  notes.value = notes.value.filter((note) => note.id !== id);
}
