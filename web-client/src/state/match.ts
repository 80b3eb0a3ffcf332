// SPDX-License-Identifier: BSD-3-Clause
// The search for a coupling: whether one runs, how far it is, and what it found for which draft.
import { batch, computed, signal } from "@preact/signals";
import type { Edits, MatchDocument, MatchFound, MatchProblem, MatchProgress, MatchRequest, MatchStopped, MatchTrial } from "../api/messages";
import * as draft from "./draft";

export type Vary = NonNullable<MatchRequest["vary"]>[number];
export type MatchMessage = MatchProgress | MatchFound | MatchStopped | MatchProblem;

export const isSeeking = signal(false);
/** How far it is, in words. */
export const progress = signal<string | null>(null);
export const found = signal<MatchDocument | null>(null);
/** The best so far of a search that was ended. */
export const soFar = signal<MatchTrial | null>(null);
export const problem = signal<string | null>(null);
/** What puts the coupling found into the draft. */
export const edits = signal<Edits | null>(null);

/** The changes that the search was begun with; the coupling itself may change after it. */
const soughtFor = signal<string | null>(null);
export const isOfTheDraft = computed(() => soughtFor.value === othersOf(draft.base.value?.etag ?? null, draft.edits.value));

export function begin(now: Edits): void {
  batch(() => {
    isSeeking.value = true;
    progress.value = problem.value = found.value = soFar.value = edits.value = null;
    soughtFor.value = othersOf(draft.base.value?.etag ?? null, now);
  });
}

/** The line was cut, and with it the search. */
export function lose(): void {
  if (!isSeeking.value) return;
  batch(() => {
    isSeeking.value = false;
    problem.value = "The search ended with the connection; start it again.";
  });
}

export function receive(message: MatchMessage): void {
  batch(() => {
    if (message.type === "match_progress") {
      progress.value = `${message.tried} tried; ${message.text}`;
      return;
    }
    isSeeking.value = false;
    progress.value = null;
    switch (message.type) {
      case "match_found":
        found.value = message.match;
        edits.value = message.edits;
        break;
      case "match_stopped":
        soFar.value = message.best;
        break;
      case "match_problem":
        problem.value = message.text;
        break;
    }
  });
}

/** A draft without its coupling's own sizes, which the search varies; another kind is another draft. */
function othersOf(etag: string | null, changes: Edits): string {
  const others = Object.entries(changes).filter(([key]) => key === "coupling.kind" || !key.startsWith("coupling."));
  return JSON.stringify([etag, others.sort()]);
}
