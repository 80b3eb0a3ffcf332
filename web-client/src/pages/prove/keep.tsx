// SPDX-License-Identifier: BSD-3-Clause
// The sweeps on the page into the antenna's record: what the person says of them, one press, and where they lie now.
import { useState } from "preact/hooks";
import type { SweepKept } from "../../api/messages";
import { typedMoment } from "../../moments";
import * as keep from "../../state/keep";
import * as record from "../../state/record";
import { PageLink } from "../../widgets/page_link";

export function KeepForm() {
  const [build, setBuild] = useState("");
  const [temperature, setTemperature] = useState("");
  const [note, setNote] = useState("");
  const [at, setAt] = useState("");
  const open = keep.open.value;
  const kept = keep.kept.value;
  if (open.length + kept.length === 0) return null;
  const warmth = temperature.trim() === "" ? null : Number(temperature.replace(",", "."));
  const isNumber = warmth === null || Number.isFinite(warmth);
  return (
    <form
      class="keep-form"
      aria-label="Keep in the record"
      onSubmit={(event) => {
        event.preventDefault();
        if (isNumber) void keep.keep({ build: build.trim() || null, temperature_degc: warmth, note, measured_at: typedMoment(at) });
      }}
    >
      <h3>Keep in the record</h3>
      {open.length > 0 && (
        <>
          <label>
            Build <span class="quiet">(as in &quot;joint 5 remade&quot;)</span>
            <input class="field" maxLength={60} list="builds" value={build} onInput={(event) => setBuild(event.currentTarget.value)} />
          </label>
          <datalist id="builds">
            {record.line.value?.builds.map((one) => (
              <option key={one} value={one} />
            ))}
          </datalist>
          <div class="two-fields">
            <label>
              Outside, °C
              <input class="field" inputMode="decimal" value={temperature} onInput={(event) => setTemperature(event.currentTarget.value)} />
            </label>
            <label>
              Measured
              <input class="field" type="datetime-local" value={at} onInput={(event) => setAt(event.currentTarget.value)} />
            </label>
          </div>
          <p class="small quiet">If no moment is set, each file counts as measured when it was last written; readings, now.</p>
          <label>
            Note
            <input class="field" maxLength={2000} value={note} onInput={(event) => setNote(event.currentTarget.value)} />
          </label>
          {!isNumber && <p class="refusal">{temperature} is no temperature; write degrees Celsius as a number, as in 4.5.</p>}
          <button type="submit" class="chief" disabled={!isNumber || keep.isKeeping.value}>
            {keep.isKeeping.value ? "Keeping…" : `Keep ${open.length === 1 ? "this sweep" : `these ${open.length} sweeps`}`}
          </button>
        </>
      )}
      {keep.problem.value && (
        <p class="refusal" role="alert">
          {keep.problem.value}
        </p>
      )}
      {kept.length > 0 && <Kept sweeps={kept} />}
    </form>
  );
}

function Kept({ sweeps }: { sweeps: readonly SweepKept[] }) {
  return (
    <div class="kept small" role="status">
      <ul aria-label="Kept in the record">
        {sweeps.map((sweep) => (
          <li key={sweep.name} class={sweep.number === null ? "refusal" : ""}>
            {sweep.number === null ? sweep.problem : `${sweep.name} is kept as sweep ${sweep.number}, sweeps/${sweep.file}${sweep.is_known || !sweep.is_new ? "; it was there already" : ""}.`}
          </li>
        ))}
      </ul>
      <p class="quiet">
        In {keep.record.value}, with the design as it stands; see it on the page{" "}
        <PageLink to="record">Record</PageLink>
        .
      </p>
    </div>
  );
}
