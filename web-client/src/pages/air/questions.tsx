// SPDX-License-Identifier: BSD-3-Clause
// One antenna alone: against its own past, and its null beside the predicted one. Each says what it cannot say.
import { useState } from "preact/hooks";
import type { AirSeen } from "../../api/messages";
import * as air from "../../state/air";
import { signed } from "./words";

export function Past({ seen }: { seen: AirSeen }) {
  return (
    <details class="folded air-past">
      <summary>Against its own past</summary>
      <div class="asked">
        <label class="small">
          Antenna
          <select class="field" value={air.alone.value ?? ""} onChange={(event) => (air.alone.value = event.currentTarget.value || null)}>
            <option value="">all reports</option>
            {seen.antennas.map(({ name }) => (
              <option key={name} value={name}>
                {name}
              </option>
            ))}
          </select>
        </label>
        <label class="small">
          Changed on, UTC
          <input class="field" type="date" value={air.since.value} onChange={(event) => (air.since.value = event.currentTarget.value)} />
        </label>
      </div>
      {seen.history_problem && <p class="refusal">{seen.history_problem}</p>}
      {seen.history?.words.map((words, index) => (
        <p key={words} class={index === 0 ? "" : "small quiet"}>
          {signed(words)}
        </p>
      ))}
      {!seen.history && <p class="small quiet">The same receivers at the same hours, before and after that day; of all bands, or the chosen one.</p>}
    </details>
  );
}

export function Null({ seen }: { seen: AirSeen }) {
  const [bearings, setBearings] = useState<Record<string, string>>({});
  const names = seen.antennas.map(({ name }) => name);
  const asked = [...(names.length ? names : [""])];
  const turned = asked.flatMap((name) => {
    const text = bearings[name] ?? "";
    return text.trim() === "" || Number.isNaN(Number(text)) ? [] : [{ antenna: name || null, bearing_deg: Number(text) }];
  });
  const found = air.nullFound.value;
  return (
    <details class="folded air-null">
      <summary>Where it is quiet</summary>
      <form
        class="asked"
        onSubmit={(event) => {
          event.preventDefault();
          const [first, ...rest] = turned;
          if (first) void air.findNull([first, ...rest]);
        }}
      >
        {asked.map((name) => (
          <label key={name} class="small">
            {name ? `Plane of ${name}, true bearing` : "Plane of the ring, true bearing"}
            <input class="field" type="number" min={-360} max={360} step="any" placeholder="leave it out" value={bearings[name] ?? ""} onInput={(event) => setBearings({ ...bearings, [name]: event.currentTarget.value })} />
          </label>
        ))}
        <button type="submit" disabled={turned.length === 0 || seen.world === null}>
          Find the null
        </button>
      </form>
      <p class="small quiet">Turned between slots and named so in the reports, one ring tells most: give each name its bearing. One bearing is enough for a guess.</p>
      {typeof found === "string" && <p class="refusal">{found}</p>}
      {found !== null && typeof found !== "string" && (
        <>
          <p>{signed(found.words)}</p>
          {found.predicted.map((words) => (
            <p key={words} class="small">
              {words}
            </p>
          ))}
          <p class="small quiet">{found.limits}</p>
        </>
      )}
    </details>
  );
}
