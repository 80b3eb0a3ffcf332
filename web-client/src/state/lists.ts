// SPDX-License-Identifier: BSD-3-Clause
// Tables of a list, such as `site.people`, in a draft. They go by the number they have in the file, new ones count on
// from there, and no number changes before the draft is saved.
import type { Edits, Value } from "../api/messages";

export interface ListedTable {
  number: number;
  isNew: boolean;
  values: Record<string, Value>;
}

type Values = Readonly<Record<string, Value>>;

const KEY = /^(?<list>[^[]+)\[(?<number>\d+)\](?:\.(?<name>.+))?$/;

function taken(key: string): { list: string; number: number; name: string | null } | null {
  const groups = KEY.exec(key)?.groups;
  return groups ? { list: groups.list ?? "", number: Number(groups.number), name: groups.name ?? null } : null;
}

/** How many tables the text itself has. */
export function countIn(list: string, values: Values): number {
  const numbers = Object.keys(values).flatMap((key) => {
    const parts = taken(key);
    return parts?.list === list ? [parts.number] : [];
  });
  return Math.max(0, ...numbers);
}

/** The tables as the draft has them, in the order of the file; those taken out are not among them. */
export function tablesOf(list: string, values: Values, edits: Edits): ListedTable[] {
  const count = countIn(list, values);
  const found = new Map<number, ListedTable>();
  for (const [key, value] of [...Object.entries(values), ...Object.entries(edits)]) {
    const parts = taken(key);
    if (parts?.list !== list || parts.name === null) continue;
    const table = found.get(parts.number) ?? { number: parts.number, isNew: parts.number > count, values: {} };
    if (value === null) delete table.values[parts.name];
    else table.values[parts.name] = value;
    found.set(parts.number, table);
  }
  return [...found.values()]
    .filter((table) => edits[`${list}[${table.number}]`] === undefined)
    .sort((one, other) => one.number - other.number);
}

/** Edits with one more table; its number. */
export function added(list: string, table: Record<string, Value>, values: Values, edits: Edits): { edits: Edits; number: number } {
  const numbers = tablesOf(list, values, edits).map((one) => one.number);
  const number = Math.max(countIn(list, values), ...numbers) + 1;
  const fresh = Object.fromEntries(Object.entries(table).map(([name, value]) => [`${list}[${number}].${name}`, value]));
  return { edits: { ...edits, ...fresh }, number };
}

/** Edits without a table. One of the text is taken out; one that was new was never there, and later ones move up. */
export function removed(list: string, number: number, values: Values, edits: Edits): Edits {
  const isNew = number > countIn(list, values);
  const rest: Edits = {};
  for (const [key, value] of Object.entries(edits)) {
    const parts = taken(key);
    if (parts?.list !== list) rest[key] = value;
    else if (parts.number !== number) {
      const moved = isNew && parts.number > number ? parts.number - 1 : parts.number;
      rest[`${list}[${moved}]${parts.name === null ? "" : `.${parts.name}`}`] = value;
    }
  }
  return isNew ? rest : { ...rest, [`${list}[${number}]`]: null };
}

/** The key in the draft that a key of the resulting design stands for, whose numbers have no gaps. */
export function draftKey(key: string, values: Values, edits: Edits): string {
  const parts = taken(key);
  const table = parts && tablesOf(parts.list, values, edits)[parts.number - 1];
  return table ? `${parts.list}[${table.number}]${parts.name === null ? "" : `.${parts.name}`}` : key;
}

/** Whether a key that was changed here stands for something else in the new text; of a list, whether any of it does. */
export function isDisputed(key: string, before: Values, after: Values): boolean {
  const list = taken(key)?.list;
  if (list === undefined) return JSON.stringify(before[key]) !== JSON.stringify(after[key]);
  return JSON.stringify(tablesOf(list, before, {})) !== JSON.stringify(tablesOf(list, after, {}));
}

/** Edits that make a list in another text what it is in this draft: all of theirs out, all of ours in. */
export function listAnew(list: string, values: Values, edits: Edits, theirs: Values): Edits {
  const count = countIn(list, theirs);
  const result: Edits = {};
  for (let number = 1; number <= count; number++) result[`${list}[${number}]`] = null;
  tablesOf(list, values, edits).forEach((table, index) => {
    for (const [name, value] of Object.entries(table.values)) result[`${list}[${count + index + 1}].${name}`] = value;
  });
  return result;
}

/** The list that a key belongs to, null for a key of no list. */
export function listOf(key: string): string | null {
  return taken(key)?.list ?? null;
}
