// SPDX-License-Identifier: BSD-3-Clause
// Two antennas in one sentence, with the interval as a bar and what would make it shorter.
import type { AirCompared, AirSeen } from "../../api/messages";
import * as air from "../../state/air";
import { Promised } from "./promise";
import { decibels, signed } from "./words";

const [WIDTH, HEIGHT] = [600, 46];

export function Verdict({ seen }: { seen: AirSeen }) {
  const names = seen.antennas.map((antenna) => antenna.name);
  if (names.length < 2) {
    return (
      <p class="small quiet">
        {names.length === 1 ? `All reports that name an antenna were made with ${names[0]}.` : "The reports name no antenna."} Two that alternate in short random slots can be compared fairly; one alone
        only shows where it is heard.
      </p>
    );
  }
  return (
    <section class="air-verdict" aria-label="Comparison">
      <div class="versus">
        <Choice label="A" index={0} names={names} />
        <span aria-hidden="true">against</span>
        <Choice label="B" index={1} names={names} />
      </div>
      {seen.compare_problem && <p class="refusal">{seen.compare_problem}</p>}
      {seen.compared && (
        <>
          <p class="verdict-words">{signed(seen.compared.verdict)}</p>
          <Interval of={seen.compared} />
          <p class="small quiet">{seen.compared.more.replace("+-", "±")}</p>
          {seen.plan && seen.fairness.length === 0 && <p class="small quiet">Checked against the plan: equal shares, nothing carried over.</p>}
          {seen.fairness.map((words) => (
            <p key={words} class="note-strip">
              {signed(words)}
            </p>
          ))}
          <Promised compared={seen.compared} />
        </>
      )}
    </section>
  );
}

function Choice({ label, index, names }: { label: string; index: 0 | 1; names: readonly string[] }) {
  const pair = air.compared.value;
  const other = pair?.[1 - index];
  const set = (name: string) => {
    if (!pair) return;
    const swapped = name === other ? (pair[index] ?? name) : (other ?? name);
    air.compared.value = index === 0 ? [name, swapped] : [swapped, name];
  };
  return (
    <label>
      {label}{" "}
      <select class="field" value={pair?.[index] ?? ""} onChange={(event) => set(event.currentTarget.value)}>
        {names.map((name) => (
          <option key={name} value={name}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}

/** The 95 % interval on a line of decibels, zero in the middle: left B is better, right A. */
function Interval({ of }: { of: AirCompared }) {
  const { low_db: low, high_db: high, difference_db: middle } = of;
  if (low === null || high === null || middle === null) return null;
  const reach = Math.max(3, Math.ceil(Math.max(Math.abs(low), Math.abs(high))));
  const x = (value: number) => WIDTH / 2 + (value / reach) * (WIDTH / 2 - 30);
  return (
    <svg class="interval" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`A minus B: ${decibels(middle)}, between ${decibels(low)} and ${decibels(high)} with 95 % confidence`}>
      <line class="axis" x1={x(-reach)} x2={x(reach)} y1={18} y2={18} />
      <line class="zero" x1={x(0)} x2={x(0)} y1={6} y2={30} />
      <line class="span" x1={x(low)} x2={x(high)} y1={18} y2={18} />
      <circle class="middle" cx={x(middle)} cy={18} r={6} />
      <text x={x(-reach)} y={44}>
        −{reach} dB: B better
      </text>
      <text x={x(0)} y={44} class="at-zero">
        0
      </text>
      <text x={x(reach)} y={44} class="at-end">
        A better: +{reach} dB
      </text>
    </svg>
  );
}
