// SPDX-License-Identifier: BSD-3-Clause
// People and metal as the draft has them, in metres, and the edits that move, add and remove them.
import type { Value } from "../../api/messages";
import { countIn, type System } from "../../quantities";
import * as draft from "../../state/draft";
import { added, draftKey, removed, tablesOf, type ListedTable } from "../../state/lists";
import { system } from "../../state/preferences";
import { type Place, rounded } from "./plane";

export const PEOPLE = "site.people";
export const METAL = "site.metal";

export interface Item {
  list: string;
  number: number;
  /** What people call it. */
  name: string;
  /** Places that can be moved, by their key in the file; null where the text cannot be read here. */
  places: readonly { key: string; at: Place }[];
  values: Record<string, Value>;
}

const PLACES: Record<string, readonly string[]> = { [PEOPLE]: ["at"], [METAL]: ["from", "to", "corner"] };

export function itemsOf(list: string): Item[] {
  if (draft.base.value !== lastBase) lastPlaces.clear();
  lastBase = draft.base.value;
  return tablesOf(list, draft.base.value?.values ?? {}, draft.edits.value).map((table) => itemOf(list, table));
}

/** Where things last stood, so that they stay there while what is typed cannot be read. */
const lastPlaces = new Map<string, Place>();
let lastBase: unknown = null;

function itemOf(list: string, { number, values }: ListedTable): Item {
  const places = (PLACES[list] ?? []).flatMap((key) => {
    if (values[key] === undefined) return [];
    const name = `${list}[${number}].${key}`;
    const at = placeOf(values[key]) ?? lastPlaces.get(name);
    if (at) lastPlaces.set(name, at);
    return at ? [{ key, at }] : [];
  });
  const name = values[list === PEOPLE ? "name" : "kind"];
  return { list, number, name: typeof name === "string" ? name : "wire", places, values };
}

/** Three lengths of the file in metres; null where they cannot be read here. */
export function placeOf(value: Value | undefined): Place | null {
  if (!Array.isArray(value)) return null;
  const [x, y, z] = value.map((one) => countIn(one, "m"));
  return x == null || y == null || z == null ? null : [x, y, z];
}

const UNITS: Record<System, readonly [unit: string, size: number, digits: number]> = {
  metric: ["m", 1, 2],
  imperial: ["ft", 0.3048, 1],
};

/** A length as the person writes it in the file. */
export function lengthValue(metres: number, digitsMore = 0): string {
  const [unit, size, digits] = UNITS[system.value];
  return `${Number((metres / size).toFixed(digits + digitsMore))} ${unit}`;
}

/** Steps of the hand and of the arrow keys, in metres. */
export function steps(): { fine: number; coarse: number } {
  return system.value === "metric" ? { fine: 0.05, coarse: 0.5 } : { fine: 0.1 * 0.3048, coarse: 2 * 0.3048 };
}

export function move(item: Item, key: string, to: Place): void {
  const { fine } = steps();
  const tidy = to.map((metres) => lengthValue(rounded(metres, fine)));
  draft.change({ [`${item.list}[${item.number}].${key}`]: tidy });
}

export function set(item: Item, key: string, value: Value | null): void {
  draft.change({ [`${item.list}[${item.number}].${key}`]: value });
}

export function remove(item: Item): void {
  draft.edits.value = removed(item.list, item.number, draft.base.value?.values ?? {}, draft.edits.value);
}

function add(list: string, table: Record<string, Value>): number {
  const result = added(list, table, draft.base.value?.values ?? {}, draft.edits.value);
  draft.edits.value = result.edits;
  return result.number;
}

export function addPerson(at: Place): number {
  const names = itemsOf(PEOPLE).map((person) => person.name);
  let count = names.length + 1;
  while (names.includes(`person ${count}`)) count++;
  return add(PEOPLE, { name: `person ${count}`, at: at.map((metres) => lengthValue(rounded(metres, steps().fine))), kind: "public" });
}

const RAILING = { diameter: 0.04, inches: "1.5 in" }; // common practice, no source

export function addRailing(from: Place, to: Place): number {
  const ends = [from, to].map((place) => place.map((metres) => lengthValue(rounded(metres, steps().fine))));
  const diameter = system.value === "metric" ? `${RAILING.diameter * 1e3} mm` : RAILING.inches;
  return add(METAL, { kind: "railing", from: ends[0] ?? [], to: ends[1] ?? [], diameter, material: "steel" });
}

/** The sentence about a key of the draft that the design could not be made with; null where nothing is wrong there. */
export function refusalOf(key: string): string | null {
  const problem = draft.problem.value;
  if (!problem || problem.key === null) return null;
  const mine = draftKey(problem.key, draft.base.value?.values ?? {}, draft.edits.value);
  return mine === key || mine.startsWith(`${key}.`) || mine.startsWith(`${key}[`) ? problem.text : null;
}
