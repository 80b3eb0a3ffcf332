// SPDX-License-Identifier: BSD-3-Clause
// Where the lanes of the time line lie: one for each kind of entry, and of sweeps one for each band, at the height of Q.
import type { RecordEntry, RecordLine } from "../../api/messages";
import { secondsOf } from "../../moments";
import type { Which } from "../../state/record";

export interface Scale {
  left: number;
  right: number;
  /** Pixels of a moment. */
  x: (at: number) => number;
}

export interface Lane {
  key: string;
  kind: string;
  heading: string;
  entries: readonly RecordEntry[];
  top: number;
  height: number;
  /** Height of an entry in its lane, from above. */
  y: (entry: RecordEntry) => number;
  /** Height of a Q, of sweeps alone, and the numbers at its ends. */
  ofQ?: (q: number) => number;
  ends?: readonly [low: number, high: number];
}

const PLAIN = 44;
const ROW = 24; // of a further design; each name has a row of its own, so that none lies under another's mark
const SWEEPS = 92;
const NOTES = 60;
const INSET = 18;
const LEAST_SPREAD = Math.log(1.15); // Q that hardly moves is not drawn as if it did

export function lanesOf({ lanes, bands }: RecordLine, entries: readonly RecordEntry[]): Lane[] {
  const found: Lane[] = [];
  const add = (lane: Omit<Lane, "top">) => {
    const last = found.at(-1);
    if (lane.entries.length > 0) found.push({ ...lane, top: last ? last.top + last.height : 0 });
  };
  for (const { kind, heading } of lanes) {
    const ofKind = entries.filter((entry) => entry.kind === kind);
    if (kind === "sweep") {
      for (const band of [...bands, null]) add(sweepLane(band, ofKind.filter((entry) => entry.band === band)));
    } else if (kind === "design") {
      const names = [...new Set(ofKind.map((entry) => entry.title))];
      const y = ({ title }: RecordEntry) => PLAIN / 2 + ROW * names.indexOf(title);
      add({ key: kind, kind, heading, entries: ofKind, height: PLAIN + ROW * (names.length - 1), y });
    } else {
      const height = kind === "note" ? NOTES : PLAIN;
      add({ key: kind, kind, heading, entries: ofKind, height, y: () => (kind === "note" ? 20 : height / 2) });
    }
  }
  return found;
}

function sweepLane(band: string | null, entries: readonly RecordEntry[]): Omit<Lane, "top"> {
  const ends = entries.flatMap(({ sweep }) => (sweep ? [Math.log(sweep.q_unloaded_low), Math.log(sweep.q_unloaded_high)] : []));
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const room = Math.max(LEAST_SPREAD - (high - low), 0) / 2;
  const ofQ = (q: number) => SWEEPS - INSET - ((Math.log(q) - low + room) / (high - low + 2 * room || 1)) * (SWEEPS - 2 * INSET);
  return {
    key: `sweep ${band}`,
    kind: "sweep",
    heading: band ?? "other",
    entries,
    height: SWEEPS,
    ofQ,
    ends: [Math.exp(low - room), Math.exp(high + room)], // of the axis, so that they never lie on each other
    y: ({ sweep }) => ofQ(sweep?.q_unloaded ?? Math.exp(low)),
  };
}

/** Entries in stretches in which the ring was not changed: by a note of it, or by another name of the build. */
export function stretches(entries: readonly RecordEntry[], changes: readonly number[]): RecordEntry[][] {
  const found: RecordEntry[][] = [];
  for (const entry of entries) {
    const before = found.at(-1)?.at(-1);
    const isRenamed = before?.build && entry.build && before.build !== entry.build;
    const isNew = !before || isRenamed || changes.some((at) => at > secondsOf(before.at) && at <= secondsOf(entry.at));
    if (isNew) found.push([entry]);
    else found.at(-1)?.push(entry);
  }
  return found;
}

export interface Label {
  text: string;
  /** Whether it ends at its entry, since it would leave the picture if it began there. */
  isBefore: boolean;
}

/** Width of what a finger takes hold of, and of the tab that is drawn in its middle; px. */
export const FINGER = 44;
const TAB = 24;

/** Where the tab of a moment at `x` stands beside one that stands at `other`: never upon it. */
export function tabOf(which: Which, x: number, other: number, right: number): { x: number; leans: string } {
  const isLeft = x === other ? which === "before" : x < other;
  const leans = Math.abs(x - other) < FINGER ? ` leans-${isLeft ? "left" : "right"}` : "";
  if (Math.abs(x - other) >= TAB) return { x, leans };
  const middle = Math.min((x + other) / 2, right - TAB / 2);
  return { x: middle + (isLeft ? -TAB / 2 : TAB / 2), leans };
}

const LETTER = 6.4; // px, about
const LONGEST = 22; // letters
const LEAST = 3; // letters: fewer tell nothing
const MARK = 14; // px to the left of a mark's middle that are its own

/**
 * Labels of the entries that have room for one: of those that change the ring first, then from the left on. Where
 * `isLevel` they stand at the height of the marks, so that none may run into the next mark; it is shortened to its room.
 */
export function labelsOf(entries: readonly RecordEntry[], scale: Scale, text: (entry: RecordEntry) => string, aside: number, isLevel = false): Map<RecordEntry, Label> {
  const kept = new Map<RecordEntry, Label>();
  const taken: (readonly [from: number, to: number])[] = [];
  const places = isLevel ? entries.map((entry) => scale.x(secondsOf(entry.at))) : [];
  const inOrder = [...entries].sort((one, other) => Number(other.changes_ring) - Number(one.changes_ring));
  for (const entry of inOrder) {
    const x = scale.x(secondsOf(entry.at));
    const room = Math.min(...places.filter((other) => other > x + 0.5)) - MARK - x - aside;
    const words = shortened(text(entry), Math.min(LONGEST, Math.floor(room / LETTER)));
    const width = aside + LETTER * words.length;
    const isBefore = x + width > scale.right + 10;
    const [from, to] = isBefore ? [x - width, x + aside] : [x - aside, x + width];
    const isOverMark = isBefore && places.some((other) => other < x - 0.5 && other + MARK > from);
    if (words.length < LEAST || isOverMark || taken.some((other) => from < other[1] && to > other[0])) continue;
    taken.push([from, to]);
    kept.set(entry, { text: words, isBefore });
  }
  return kept;
}

function shortened(text: string, longest: number): string {
  const [line = ""] = text.split("\n");
  if (line.length <= longest) return line;
  return longest < LEAST ? "" : `${line.slice(0, longest - 1).trimEnd()}…`;
}
