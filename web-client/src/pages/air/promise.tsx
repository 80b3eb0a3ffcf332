// SPDX-License-Identifier: BSD-3-Clause
// What the two antennas' designs promise at the angles their paths need, beside what was found.
import { useState } from "preact/hooks";
import type { AirCompared } from "../../api/messages";
import * as air from "../../state/air";
import { designs } from "../../state/bench";
import { signed } from "./words";

/** The draft on the bench; no design file is called so, since names are not empty. */
const DRAFT = "";

export function Promised({ compared }: { compared: AirCompared }) {
  const [chosen, choose] = useState<readonly [string, string]>([DRAFT, designs.value[0]?.name ?? DRAFT]);
  const found = air.promiseFound.value;
  return (
    <details class="folded air-promise">
      <summary>What their designs promise</summary>
      <form
        class="asked"
        onSubmit={(event) => {
          event.preventDefault();
          void air.findPromise([chosen[0] || null, chosen[1] || null]);
        }}
      >
        <Choice label={`${compared.a} is`} value={chosen[0]} set={(name) => choose([name, chosen[1]])} />
        <Choice label={`${compared.b} is`} value={chosen[1]} set={(name) => choose([chosen[0], name])} />
        <button type="submit">Set them beside it</button>
      </form>
      {typeof found === "string" && <p class="refusal">{found}</p>}
      {found !== null && typeof found !== "string" && <p class="promise-words">{signed(found.words)}</p>}
      <p class="small quiet">A mirror at 300 km for the layer, the fewest equal hops: a picture of the paths, not a forecast.</p>
    </details>
  );
}

function Choice({ label, value, set }: { label: string; value: string; set: (name: string) => void }) {
  return (
    <label class="small">
      {label}
      <select class="field" value={value} onChange={(event) => set(event.currentTarget.value)}>
        <option value={DRAFT}>the draft on the bench</option>
        {designs.value.map(({ name }) => (
          <option key={name} value={name}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}
