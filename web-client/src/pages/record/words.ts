// SPDX-License-Identifier: BSD-3-Clause
// Entries of the record in words, and the marks of notes. No decision is made here.
import type { RecordEntry, TakenIn } from "../../api/messages";
import { secondsOf, shownMoment } from "../../moments";
import { significant } from "../../quantities";

/** What a kind of note is drawn as, in a square of 16 about the middle. */
export const MARKS: Record<string, string> = {
  rain: "M0 -7C4 -2 5 0 5 2.5a5 5 0 0 1-10 0C-5 0-4-2 0-7Z",
  weather: "M0-3.5a3.5 3.5 0 1 0 .1 0M0-7.5V-5.5M0 5.5V7.5M-7.5 0H-5.5M5.5 0H7.5M-5-5L-4-4M5-5L4-4M-5 5L-4 4M5 5L4 4",
  repair: "M-6 6L1-1M1-1a4 4 0 0 1 5-5L4-3.5L5.5-2L7-4a4 4 0 0 1-6 3Z",
  joint: "M-7 2H-2M2 2H7M-2-2H2V6H-2Z",
  box: "M-6-4H6V6H-6ZM-6 0H6M0-4V0",
  other: "M-5-6H3L6-3V6H-5ZM-2-1H3M-2 2H3",
};

/** What an entry is, for those who hear the page, and for a list. */
export function spoken(entry: RecordEntry): string {
  return [shownMoment(secondsOf(entry.at)), what(entry), about(entry)].filter((part) => part !== "").join(", ");
}

export function what(entry: RecordEntry): string {
  if (entry.kind === "sweep") return `sweep ${entry.band ?? ""}`.trim();
  return entry.kind === "note" ? entry.title : `${entry.kind} ${entry.title}`;
}

export function about(entry: RecordEntry): string {
  const { sweep } = entry;
  if (!sweep) return entry.words;
  const q = `Q ${significant(sweep.q_unloaded, 3)} (${significant(sweep.q_unloaded_low, 3)} to ${significant(sweep.q_unloaded_high, 3)})`;
  return [q, entry.build ?? "", sweep.temperature_degc === null ? "" : `${significant(sweep.temperature_degc, 3)} °C`, entry.is_lost ? "original lost" : "", entry.words]
    .filter((part) => part !== "")
    .join("; ");
}

/** What a copy brings, in words; empty where it brings nothing. */
export function broughtIn({ sweeps, results, notes, tunings, reports, tuning_pairs: pairs }: TakenIn): string {
  const counts = [
    [sweeps, "sweep"],
    [results, "result"],
    [notes, "note"],
    [tunings, "tuning"],
    [reports, "report"],
    [pairs, "pair of a tuning table"],
  ] as const;
  return counts
    .filter(([number]) => number > 0)
    .map(([number, word]) => `${number} ${number === 1 ? word : word.replace(/^\w+/, "$&s")}`)
    .join(", ");
}
