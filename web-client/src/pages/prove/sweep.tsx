// SPDX-License-Identifier: BSD-3-Clause
// One sweep: the sentence first, then its curves over the predicted ones, then the figures with their intervals.
import type { ProofCurves, ProofSweep, ProvedSweep } from "../../api/messages";
import { inDecibels, significant } from "../../quantities";
import { Triangle } from "../../widgets/triangle";
import { FittedCircle, Legend, MeasuredSwr } from "./curves";
import { ProofFigure } from "./figure";
import { bandOf, KINDS } from "./words";

export function SweepCard({ sweep }: { sweep: ProofSweep }) {
  if (!sweep.found || !sweep.curves) {
    return (
      <section class="sweep-card" aria-label={sweep.name}>
        <h2>{sweep.name}</h2>
        <p class="refusal">{sweep.problem}</p>
      </section>
    );
  }
  return <Found name={sweep.name} found={sweep.found} curves={sweep.curves} />;
}

function Found({ name, found, curves }: { name: string; found: ProvedSweep; curves: ProofCurves }) {
  const what = `${bandOf(found)}, ${name}`;
  const isPredicted = curves.predicted !== null;
  return (
    <section class="sweep-card" aria-label={what} data-file={name}>
      <h2>
        {bandOf(found)} <span class="quiet">{name}</span> <span class="quiet small">{KINDS[found.kind]}</span>
      </h2>
      <p class="verdict">{found.verdict}</p>
      {found.match && <p class="quiet">{found.match}</p>}
      <div class="sweep-plots">
        {curves.measured.swr && (
          <figure class="swr">
            <figcaption class="small">SWR as at the coupling loop, the cable taken out</figcaption>
            <MeasuredSwr curves={curves} label={`SWR over frequency of ${what}, measured over predicted. ${found.match ?? ""}`} />
          </figure>
        )}
        {curves.measured.re ? (
          <figure class="reflection-figure">
            <figcaption class="small">{found.kind === "transmission" ? "Transmission, as a share of its circle" : "Reflection chart"}</figcaption>
            <FittedCircle curves={curves} label={`Measured points of ${what} and the circle fitted to them`} />
          </figure>
        ) : (
          <p class="quiet small no-circle">An SWR has no phase, so there is no circle to draw; a sweep with phase tells more, and surer.</p>
        )}
      </div>
      <Legend isPredicted={isPredicted} />
      <Figures found={found} />
      <Flags found={found} />
    </section>
  );
}

function Figures({ found }: { found: ProvedSweep }) {
  const { predicted } = found;
  const [low, high] = predicted.q_unloaded_range;
  return (
    <dl class="match-words">
      <div>
        <dt>Q, unloaded</dt>
        <dd>
          <ProofFigure of="sweeps.q_unloaded" value={found.q_unloaded} low={found.q_unloaded_low} high={found.q_unloaded_high} />
          <span class="quiet small aside">
            predicted {significant(predicted.q_unloaded, 3)}, {significant(low, 3)} to {significant(high, 3)}
          </span>
        </dd>
      </div>
      <div>
        <dt>to the sky</dt>
        <dd>
          <ProofFigure of="sweeps.efficiency_pct" value={found.efficiency_pct} low={found.efficiency_pct_low} high={found.efficiency_pct_high} />
          <span class="quiet small aside">
            {inDecibels(found.efficiency_pct ?? 0)}; predicted {significant(predicted.efficiency_pct, 3)} %
          </span>
        </dd>
      </div>
      <div>
        <dt>loses in all, at the gap</dt>
        <dd>
          <ProofFigure of="sweeps.resistance_total_ohm" value={found.resistance_total_ohm} low={found.resistance_total_ohm_low} high={found.resistance_total_ohm_high} />
          <span class="quiet small aside">predicted {significant(predicted.resistance_total_ohm * 1e3, 3)} mΩ</span>
        </dd>
      </div>
      <div>
        <dt>coupling</dt>
        <dd>
          <ProofFigure of="sweeps.coupling" value={found.coupling} low={found.coupling_low} high={found.coupling_high} />
          <span class="quiet small aside">predicted {significant(predicted.coupling, 3)}</span>
        </dd>
      </div>
      <div>
        <dt>resonance</dt>
        <dd>
          <ProofFigure of="sweeps.frequency_hz" value={found.frequency_hz} low={found.frequency_hz_low} high={found.frequency_hz_high} />
        </dd>
      </div>
      <div>
        <dt>half-power width, f/Q</dt>
        <dd>
          <ProofFigure of="sweeps.bandwidth_half_power_hz" value={found.bandwidth_half_power_hz} low={found.bandwidth_half_power_hz_low} high={found.bandwidth_half_power_hz_high} />
        </dd>
      </div>
      {found.loss_found_db !== null && (
        <div>
          <dt>cable&apos;s loss, one way</dt>
          <dd>
            <ProofFigure of="sweeps.loss_found_db" value={found.loss_found_db} low={found.loss_found_db_low} high={found.loss_found_db_high} />
            <span class="quiet small aside">declared {found.feedline_loss_db.toFixed(2)} dB</span>
          </dd>
        </div>
      )}
    </dl>
  );
}

function Flags({ found }: { found: ProvedSweep }) {
  if (found.notes.length === 0) return null;
  return (
    <ul class="sweep-notes small" aria-label="Notes on this sweep">
      {found.notes.map((note) => (
        <li key={note}>
          <Triangle />
          {note}
        </li>
      ))}
    </ul>
  );
}
