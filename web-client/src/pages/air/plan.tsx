// SPDX-License-Identifier: BSD-3-Clause
// A plan for alternating two antennas fairly: short slots in twos, the order in each two drawn by lot.
import { useState } from "preact/hooks";
import * as air from "../../state/air";

export function PlanMaker() {
  const [first, setFirst] = useState("ring");
  const [second, setSecond] = useState("dipole");
  const [minutes, setMinutes] = useState(2);
  const [count, setCount] = useState(60);
  const [start, setStart] = useState("");
  const isPlan = first.trim() !== "" && second.trim() !== "" && minutes > 0 && count > 1;
  return (
    <details class="folded">
      <summary>Plan a fair comparison</summary>
      <form
        class="plan-maker"
        onSubmit={(event) => {
          event.preventDefault();
          const start_s = start ? Date.parse(`${start}:00Z`) / 1000 : null;
          void air.savePlan({ antennas: [first.trim(), second.trim()], start_s, length_s: minutes * 60, count });
        }}
      >
        <label class="small">
          one antenna
          <input class="field" value={first} maxLength={80} onInput={(event) => setFirst(event.currentTarget.value)} />
        </label>
        <label class="small">
          the other
          <input class="field" value={second} maxLength={80} onInput={(event) => setSecond(event.currentTarget.value)} />
        </label>
        <label class="small">
          minutes a slot
          <input class="field" type="number" min={0.5} max={60} step={0.5} value={minutes} onInput={(event) => setMinutes(Number(event.currentTarget.value))} />
        </label>
        <label class="small">
          slots
          <input class="field" type="number" min={2} max={2000} step={2} value={count} onInput={(event) => setCount(Number(event.currentTarget.value))} />
        </label>
        <label class="small whole">
          start, UTC (left empty: the next minute)
          <input class="field" type="datetime-local" value={start} onInput={(event) => setStart(event.currentTarget.value)} />
        </label>
        <button type="submit" class="whole" disabled={!isPlan}>
          Save the plan
        </button>
      </form>
      <p class="small quiet">
        Short slots, the order drawn by lot, the same power. Later drop plan.csv here with the reports: those without an antenna get that of their slot, and what makes the comparison unfair is told.
        Change antennas only with the transmitter off, so that nobody can key it.
      </p>
    </details>
  );
}
