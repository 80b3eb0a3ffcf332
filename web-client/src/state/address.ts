// SPDX-License-Identifier: BSD-3-Clause
// What the address of the page holds: page, design, band, what was changed and what is pinned. A bookmark, the way
// back and a second window then show the same.
import type { Edits, Value } from "../api/messages";

export const PIN_LETTERS = ["A", "B"] as const;
export type PinLetter = (typeof PIN_LETTERS)[number];

/** The built-in start where it was asked for by name: an address without a design is one where nobody said which. */
export const FIRST_RING = "";

/** A variant: a design file (null or FIRST_RING: the built-in start) and what was changed of it. */
export interface Variant {
  design: string | null;
  edits: Edits;
}

export interface Place extends Variant {
  page: string;
  band: string | null;
  /** The layer of what was measured that lies over the design. */
  calibration: string | null;
  pins: Partial<Record<PinLetter, Variant>>;
}

export function toAddress(place: Place): string {
  const query = new URLSearchParams();
  if (place.band !== null) query.set("band", place.band);
  if (place.calibration !== null) query.set("calibration", place.calibration);
  writeVariant(query, place);
  for (const letter of PIN_LETTERS) {
    const pin = place.pins[letter];
    if (pin) query.set(`pin-${letter.toLowerCase()}`, writeVariant(new URLSearchParams(), pin).toString());
  }
  const text = query.toString();
  return `/${place.page}${text && `?${text}`}`;
}

export function fromAddress(path: string, search: string, pages: readonly string[]): Place {
  const query = new URLSearchParams(search);
  const page = path.replace(/^\//, "");
  const pins: Place["pins"] = {};
  for (const letter of PIN_LETTERS) {
    const pin = query.get(`pin-${letter.toLowerCase()}`);
    if (pin !== null) pins[letter] = readVariant(new URLSearchParams(pin));
  }
  return {
    page: pages.includes(page) ? page : (pages[0] ?? ""),
    band: query.get("band"),
    calibration: query.get("calibration"),
    pins,
    ...readVariant(query),
  };
}

/** Whether two places differ in more than what a slider changes; then the way back leads from one to the other. */
export function isOtherPlace(one: Place, other: Place): boolean {
  const bare = (place: Place) => toAddress({ ...place, design: place.design || null, edits: {} });
  return bare(one) !== bare(other);
}

/** Whether a place leaves open which design it is of. */
export function namesNoDesign(place: Place): boolean {
  return place.design === null && Object.keys(place.edits).length === 0;
}

function writeVariant(query: URLSearchParams, { design, edits }: Variant): URLSearchParams {
  if (design !== null) query.set("design", design);
  for (const [key, value] of Object.entries(edits)) query.append("set", `${key}=${writeValue(value)}`);
  return query;
}

function readVariant(query: URLSearchParams): Variant {
  const edits: Edits = {};
  for (const entry of query.getAll("set")) {
    const cut = entry.indexOf("=");
    if (cut > 0) edits[entry.slice(0, cut)] = readValue(entry.slice(cut + 1));
  }
  return { design: query.get("design"), edits };
}

/** Text stands as it is unless it would read as something else. */
function writeValue(value: Value | null): string {
  return typeof value === "string" && readValue(value) === value ? value : JSON.stringify(value);
}

function readValue(text: string): Value | null {
  try {
    return JSON.parse(text) as Value | null;
  } catch {
    return text;
  }
}
