// SPDX-License-Identifier: BSD-3-Clause
// What the columns of a table are, where its headings do not say it: said once, remembered by the workspace.
import { useState } from "preact/hooks";
import * as prove from "../../state/prove";

/** What a column may be: what the server calls it, with the unit of a frequency, and what a person does. */
const MEANINGS: readonly (readonly [value: string, words: string])[] = [
  ["", "passed over"],
  ["frequency", "frequency, unit as headed"],
  ["frequency Hz", "frequency, Hz"],
  ["frequency kHz", "frequency, kHz"],
  ["frequency MHz", "frequency, MHz"],
  ["frequency GHz", "frequency, GHz"],
  ["resistance", "R, ohm"],
  ["reactance", "X, ohm"],
  ["real", "S11, real part"],
  ["imaginary", "S11, imaginary part"],
  ["magnitude", "S11, size"],
  ["return_loss", "S11 in dB, return loss"],
  ["phase", "S11, angle"],
  ["swr", "SWR"],
];

export function ColumnsOf({ item }: { item: prove.Item }) {
  const sweep = prove.found.value.get(item);
  if (!sweep || sweep.headings.length === 0) return null;
  return (
    <details class="columns-of folded small" open={sweep.problem !== null}>
      <summary>{sweep.problem === null ? "Columns" : "Say what its columns are"}</summary>
      <ColumnForm key={sweep.headings.join("|")} item={item} headings={sweep.headings} />
    </details>
  );
}

function ColumnForm({ item, headings }: { item: prove.Item; headings: readonly string[] }) {
  const [meanings, setMeanings] = useState<readonly string[]>(headings.map((_, place) => meaningOf(item, place)));
  const said = meanings.map((meaning) => meaning.split(" ")[0] ?? "").filter((role) => role !== "");
  const isClear = said.includes("frequency") && said.length > 1 && new Set(said).size === said.length;
  return (
    <form
      aria-label={`Columns of ${item.name}`}
      onSubmit={(event) => {
        event.preventDefault();
        if (isClear) prove.nameColumns(item, assignments(meanings));
      }}
    >
      <ul>
        {headings.map((heading, place) => (
          <li key={place}>
            <label>
              <span>{heading || `column ${place + 1}`}</span>
              <select aria-label={heading || `column ${place + 1}`} value={meanings[place]} onChange={({ currentTarget }) => setMeanings(meanings.map((one, at) => (at === place ? currentTarget.value : one)))}>
                {MEANINGS.map(([value, words]) => (
                  <option key={value} value={value}>
                    {words}
                  </option>
                ))}
              </select>
            </label>
          </li>
        ))}
      </ul>
      <button type="submit" disabled={!isClear}>
        Read it so
      </button>
      <p class="quiet">A frequency, and R with X, S11 or SWR, each once. Tables with these headings are read so from now on.</p>
    </form>
  );
}

/** What was said of a column before. */
function meaningOf({ columns }: prove.Item, place: number): string {
  const said = new Map(columns.map((text) => text.split("=") as [string, string]));
  const role = [...said].find(([, number]) => number === String(place + 1))?.[0] ?? "";
  const unit = said.get("frequency_unit");
  return role === "frequency" && unit ? `${role} ${unit}` : role;
}

function assignments(meanings: readonly string[]): string[] {
  return meanings.flatMap((meaning, place) => {
    const [role, unit] = meaning.split(" ");
    return role ? [`${role}=${place + 1}`, ...(unit ? [`frequency_unit=${unit}`] : [])] : [];
  });
}
