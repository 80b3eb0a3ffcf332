// SPDX-License-Identifier: BSD-3-Clause
// Two moments side by side: what moved on each band, by how much, and how sure that is.
import type { BandMoved, MomentsCompared } from "../../api/messages";
import { secondsOf, shownMoment } from "../../moments";
import { significant } from "../../quantities";
import * as record from "../../state/record";
import { RecordFigure } from "./figure";

const WIDEST = Math.log(2); // twice and half end the little scale

export function Comparison() {
  const pair = record.moments.value;
  if (!pair) {
    return (
      <section class="comparison" aria-label="Two moments side by side">
        <h2>Two moments side by side</h2>
        <p class="quiet">With two sweeps of a band, two moments can be set side by side here.</p>
      </section>
    );
  }
  const [early, late] = pair.before <= pair.after ? (["A", "B"] as const) : (["B", "A"] as const);
  const found = record.compared.value;
  return (
    <section class="comparison" aria-label="Two moments side by side">
      <h2>
        From {early} <span class="quiet">{shownMoment(Math.min(pair.before, pair.after))}</span> to {late} <span class="quiet">{shownMoment(Math.max(pair.before, pair.after))}</span>
      </h2>
      {record.comparedProblem.value && <p class="quiet">{record.comparedProblem.value[0]?.toUpperCase() + record.comparedProblem.value.slice(1)}.</p>}
      {found && <Found found={found} />}
      <p class="out-of-sight" role="status">
        {found?.bands.map((band) => `${band.band ?? ""} ${verdict(band)}`).join(" ")}
      </p>
    </section>
  );
}

function Found({ found }: { found: MomentsCompared }) {
  return (
    <>
      <p class="small quiet">
        {found.has_changed
          ? "The ring was changed between them: all sweeps of the ring as it was then stand on either side."
          : "The ring was not changed between them: the last sweep before each moment stands on either side."}
      </p>
      {found.bands.map((band) => (
        <Band key={band.band} band={band} />
      ))}
      {found.notes.length > 0 && (
        <ul class="between small" aria-label="Notes between them">
          {found.notes.map((note) => (
            <li key={note.number}>
              <span class="quiet">
                {shownMoment(secondsOf(note.at))} {note.kind}
              </span>{" "}
              {note.text}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

function Band({ band }: { band: BandMoved }) {
  return (
    <div class="band-moved" data-band={band.band}>
      <h3>
        {band.band ?? "other"} <span class="quiet small">{counted(band)}</span>
      </h3>
      <p class="verdict-line">
        {verdict(band)}
        {band.is_told_apart && (
          <>
            {" "}
            That is <RecordFigure of="comparison.gain_db" value={band.gain_db} low={band.gain_db_low} high={band.gain_db_high} isChange /> of power sent.
          </>
        )}
      </p>
      <dl class="match-words">
        <div>
          <dt>Q, unloaded</dt>
          <dd>
            <RecordFigure of="comparison.q" value={band.q_before} low={band.q_before_low} high={band.q_before_high} />
            <span class="arrow"> to </span>
            <RecordFigure of="comparison.q" value={band.q_after} low={band.q_after_low} high={band.q_after_high} />
          </dd>
        </div>
        <div>
          <dt>Q, by the factor</dt>
          <dd>
            <RecordFigure of="comparison.q_ratio" value={band.q_ratio} low={band.q_ratio_low} high={band.q_ratio_high} />
            <Factor value={band.q_ratio} low={band.q_ratio_low} high={band.q_ratio_high} />
          </dd>
        </div>
        <div>
          <dt>loses in all, at the gap</dt>
          <dd>
            <RecordFigure of="comparison.resistance_ohm" value={band.resistance_before_ohm} low={band.resistance_before_ohm_low} high={band.resistance_before_ohm_high} />
            <span class="arrow"> to </span>
            <RecordFigure of="comparison.resistance_ohm" value={band.resistance_after_ohm} low={band.resistance_after_ohm_low} high={band.resistance_after_ohm_high} />
          </dd>
        </div>
        <div>
          <dt>resonance moved by</dt>
          <dd>
            <RecordFigure of="comparison.frequency_change_hz" value={band.frequency_change_hz} low={band.frequency_change_hz_low} high={band.frequency_change_hz_high} isChange />
            <span class="quiet small aside">
              <RecordFigure of="comparison.frequency_hz" value={band.frequency_before_hz} /> to <RecordFigure of="comparison.frequency_hz" value={band.frequency_after_hz} />
            </span>
          </dd>
        </div>
      </dl>
    </div>
  );
}

function counted({ sweeps_before: before, sweeps_after: after, is_without_repeat: isOnce }: BandMoved): string {
  const words = `${before.length} ${before.length === 1 ? "sweep" : "sweeps"} against ${after.length}`;
  return isOnce ? `${words}; one sweep says nothing of how it changes from day to day` : words;
}

export function verdict(band: BandMoved): string {
  if (!band.is_told_apart) return "No change can be told.";
  const [change, low, high] = [band.q_ratio, band.q_ratio_low, band.q_ratio_high].map((one) => 100 * Math.abs(one - 1));
  const [least, most] = [Math.min(low ?? 0, high ?? 0), Math.max(low ?? 0, high ?? 0)];
  return `Q ${band.q_ratio > 1 ? "rose" : "fell"} by ${significant(change ?? 0, 2)} % (${significant(least, 2)} to ${significant(most, 2)}).`;
}

/** A factor with its interval on a scale of half to twice, no change in the middle; what is beyond ends at its end. */
function Factor({ value, low, high }: { value: number; low: number; high: number }) {
  const x = (one: number) => 70 + 66 * Math.max(-1, Math.min(Math.log(one) / WIDEST, 1));
  return (
    <svg class="plot factor" viewBox="0 0 140 18" width="140" height="18" aria-hidden="true">
      <path class="grid" d="M4 9H136M4 6V12M136 6V12" />
      <path class="no-change" d="M70 1V17" />
      <path class="reach" d={`M${x(low)} 9H${Math.max(x(high), x(low) + 1)}`} />
      <circle class="middle" cx={x(value)} cy="9" r="3.5" />
    </svg>
  );
}
