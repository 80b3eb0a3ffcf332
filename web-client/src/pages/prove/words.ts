// SPDX-License-Identifier: BSD-3-Clause
// Causes, sizes and sweeps in words. No decision is made here.
import type { ProvedSweep, Suspect, SuspectSize, WattsFoundPct } from "../../api/messages";
import { significant } from "../../quantities";
import { ADDRESSES, type AddressName } from "../../words";

export const CAUSES: Record<Suspect["cause"], string> = {
  joints: "joints",
  capacitor: "capacitor",
  conductor: "ring's conductor",
  earth: "earth",
  metal: "metal nearby",
  coupling: "coupling",
  feed_line: "feedline",
  none: "nothing wrong",
};

/** What brings the decibels of a suspect. */
export const CURES: Partial<Record<Suspect["cause"], string>> = {
  metal: "taking it away",
  earth: "the declared earth",
  conductor: "the declared one",
};

export const KINDS: Record<ProvedSweep["kind"], string> = {
  reflection: "reflection",
  swr: "SWR without phase",
  transmission: "from probe to probe",
};

export type FoundName = AddressName | "unexplained";

/** Addresses of the watts as found: those of the prediction, and what it does not explain. */
export const FOUND: readonly { name: FoundName; letter: string; words: string }[] = [
  ...ADDRESSES,
  { name: "unexplained", letter: "U", words: "unexplained" },
];

export function shares(watts: Partial<Record<FoundName, number | null>> | WattsFoundPct): { name: FoundName; letter: string; words: string; share: number }[] {
  return FOUND.flatMap((address) => {
    const share = watts[address.name] ?? null;
    return share === null ? [] : [{ ...address, share }];
  });
}

const SHOWN: Record<string, readonly [factor: number, unit: string]> = {
  ohm: [1e3, "m\u03a9"],
  Hz: [1e-6, "MHz"],
  "S/m": [1e3, "mS/m"],
  dB: [1, "dB"],
  "": [1, ""],
};

/** How large the fault would be, with its interval. */
export function sizeText({ what, unit, value, low, high }: SuspectSize): string {
  const [factor, shown] = SHOWN[unit] ?? [1, unit];
  const [middle, least, most] = [value, low, high].map((one) => significant(one * factor, 2));
  return `${what} ${middle}${shown && `\u202f${shown}`} (${least} to ${most})`;
}

export function bandOf(sweep: ProvedSweep): string {
  return sweep.band ?? `${((sweep.frequency_hz ?? 0) / 1e6).toFixed(3)} MHz`;
}
