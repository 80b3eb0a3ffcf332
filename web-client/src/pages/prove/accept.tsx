// SPDX-License-Identifier: BSD-3-Clause
// The sweeps on the page taken for the truth: a name, one press, and what that did to the prediction.
import { signal } from "@preact/signals";
import type { BandNarrowed, InputMoved } from "../../api/messages";
import { significant } from "../../quantities";
import * as calibration from "../../state/calibration";
import * as prove from "../../state/prove";

const NAME = /^[\p{L}\p{N}_ ()+-]{1,50}$/u;
const TENTH = 1.2816; // standard deviations from the middle of a normal distribution to its ends at 10 and 90 %
const INPUTS: Record<string, string> = {
  capacitor_q: "capacitor's Q",
  joint_resistance: "each joint's resistance",
  earth_conductivity: "earth's conductivity",
  earth_permittivity: "earth's permittivity",
};

/** What was typed so far; the form itself goes while more sweeps are weighed. */
const typed = signal("");

export function AcceptForm() {
  const name = typed.value;
  const done = calibration.accepted.value;
  const isDone = done !== null && done.items === prove.items.value;
  return (
    <form
      class="accept-form"
      aria-label="Let the prediction learn from it"
      onSubmit={(event) => {
        event.preventDefault();
        if (NAME.test(name.trim())) void calibration.accept(name.trim());
      }}
    >
      <h3>Let the prediction learn from it</h3>
      {isDone ? (
        <Learnt />
      ) : (
        <>
          <p class="small quiet">
            If the ring is as it should be: capacitor, joints and earth move to what these sweeps say, as a calibration laid over the design. The design file stays as it is.
          </p>
          <label>
            Calibration <span class="quiet">(as in &quot;after cure&quot;)</span>
            <input class="field" maxLength={50} value={name} onInput={(event) => (typed.value = event.currentTarget.value)} />
          </label>
          {calibration.problem.value && (
            <p class="refusal" role="alert">
              {calibration.problem.value}
            </p>
          )}
          <button type="submit" disabled={!NAME.test(name.trim()) || calibration.isAccepting.value}>
            {calibration.isAccepting.value ? "Accepting…" : "Accept these sweeps"}
          </button>
        </>
      )}
    </form>
  );
}

function Learnt() {
  const kept = calibration.accepted.value?.kept;
  if (!kept) return null;
  return (
    <div class="learnt" role="status">
      <p>
        Accepted as <strong>{kept.name}</strong>, in {kept.file}. Between the ends lie four of five rings, before and now.
      </p>
      <table class="small">
        <thead>
          <tr>
            <th scope="col">what</th>
            <th scope="col">before</th>
            <th scope="col">now</th>
          </tr>
        </thead>
        <tbody>
          {kept.inputs.map((moved) => (
            <Moved key={moved.key} moved={moved} />
          ))}
          {kept.bands.map((band) => (
            <Narrowed key={band.frequency_hz} band={band} />
          ))}
        </tbody>
      </table>
      <button type="button" class="chief" onClick={() => calibration.show(kept.name)}>
        Show it on the page Ring
      </button>
    </div>
  );
}

function Moved({ moved }: { moved: InputMoved }) {
  const span = (shift: number, spread: number) => [-TENTH, TENTH].map((side) => significant(Math.exp(shift + side * spread), 2)).join(" to ");
  return (
    <tr>
      <th scope="row">{INPUTS[moved.key] ?? moved.key}, times</th>
      <td>{span(0, moved.standard_deviation_before)}</td>
      <td>{span(moved.shift, moved.standard_deviation)}</td>
    </tr>
  );
}

function Narrowed({ band }: { band: BandNarrowed }) {
  const span = (ends: readonly number[]) => ends.map((end) => significant(end, 3)).join(" to ");
  const name = band.band ?? `${(band.frequency_hz / 1e6).toFixed(3)} MHz`;
  return (
    <>
      <tr>
        <th scope="row">{name}: Q</th>
        <td>{span(band.q_unloaded_before)}</td>
        <td>{span(band.q_unloaded)}</td>
      </tr>
      <tr>
        <th scope="row">{name}: into the sky, %</th>
        <td>{span(band.efficiency_sky_pct_before)}</td>
        <td>{span(band.efficiency_sky_pct)}</td>
      </tr>
    </>
  );
}
