// SPDX-License-Identifier: BSD-3-Clause
// What the figures mean to a builder, in words. No decision is made here: the server's figures are put into sentences.
import type { Band, Notice, WattsPct } from "./api/messages";

export type AddressName = Exclude<keyof WattsPct, "sum">;

/** Addresses of the watts in the order they are drawn, with the letters every face of the program uses. */
export const ADDRESSES: readonly { name: AddressName; letter: string; words: string }[] = [
  { name: "sky", letter: "S", words: "sky" },
  { name: "earth", letter: "E", words: "earth" },
  { name: "ring", letter: "R", words: "ring" },
  { name: "joints", letter: "J", words: "joints" },
  { name: "capacitor", letter: "C", words: "capacitor" },
  { name: "coupling", letter: "L", words: "coupling" },
  { name: "metal", letter: "M", words: "nearby metal" },
];

/** Why watts go there, and what changes it. Common practice, no source; the figures beside it are computed. */
export const REASONS: Record<AddressName, { why: string; remedy: string }> = {
  sky: {
    why: "This leaves for good and can be heard. It is what the ring is for.",
    remedy: "More of it: a larger ring first, then whatever shrinks the largest loss beside it.",
  },
  earth: {
    why: "The ring's field drives currents in the ground below, and they warm it.",
    remedy: "Less of it: raise the ring, or stand it upright.",
  },
  ring: {
    why: "At this frequency current flows in a thin skin of the conductor, which has resistance.",
    remedy: "Less of it: a thicker tube, better metal, or a larger ring.",
  },
  joints: {
    why: "The whole ring current crosses every joint.",
    remedy: "Less of it: fewer joints; solder or braze instead of clamping; clean contact over a wide face.",
  },
  capacitor: {
    why: "The whole ring current crosses the capacitor, whose plates, wipers and insulators have loss.",
    remedy: "Less of it: a part with a higher Q, without wiper contacts; short wide straps to the ring.",
  },
  coupling: {
    why: "The coupling loop's own conductor carries the feed current.",
    remedy: "Less of it: thicker wire. It is seldom worth the trouble.",
  },
  metal: {
    why: "The ring's field drives currents in metal nearby.",
    remedy: "Less of it: more distance, or turn the ring so that the metal lies along its axis.",
  },
};

/** The resistance that stands for an address in `resistance_ohm`. */
export function resistanceKey(name: AddressName): string {
  return `resistance_ohm.${name === "sky" ? "radiation" : name}`;
}

/** What is missing to tune the whole band, as the prediction says it; null if nothing is. */
export function missing(band: Band, warnings: readonly Notice[]): string | null {
  if (band.tuning.reachable) return null;
  const notice = warnings.find((one) => one.code === "out-of-reach" && one.band === band.band);
  return notice?.text ?? "out of the capacitor's reach";
}
