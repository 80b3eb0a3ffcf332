// SPDX-License-Identifier: BSD-3-Clause
// What is known of the entry that was chosen, and the way from it to a comparison.
import { useState } from "preact/hooks";
import { getTextOnLine } from "../../api/http";
import type { RecordEntry, SweepFigures } from "../../api/messages";
import { secondsOf, shownMoment } from "../../moments";
import { inDecibels } from "../../quantities";
import * as record from "../../state/record";
import { Triangle } from "../../widgets/triangle";
import { ProofFigure } from "../prove/figure";
import { RecordFigure } from "./figure";
import { what } from "./words";

export function Details() {
  const entry = record.chosenEntry.value;
  if (!entry) return <p class="small quiet choose-hint">Choose an entry to read it. Drag A and B, or put them on an entry, to set two moments side by side.</p>;
  return (
    <section class="entry-details" aria-label="The entry chosen" data-entry={entry.key}>
      <h2>
        {what(entry)} <span class="quiet">{shownMoment(secondsOf(entry.at))}</span> {entry.build && <span class="quiet small">{entry.build}</span>}
      </h2>
      {entry.words && <p class="entry-words">{entry.words}</p>}
      {entry.changes_ring && <p class="small quiet">The ring is another build from here on; trends start anew.</p>}
      {entry.sweep && <Sweep sweep={entry.sweep} isLost={entry.is_lost} />}
      {entry.changes.length > 0 && <Changes entry={entry} />}
      {entry.designs.length > 0 && <Texts entry={entry} key={entry.key} />}
      <p class="ways">
        <button type="button" onClick={() => record.setMoment("before", secondsOf(entry.at))}>
          Put A here
        </button>
        <button type="button" onClick={() => record.setMoment("after", secondsOf(entry.at))}>
          Put B here
        </button>
      </p>
    </section>
  );
}

function Sweep({ sweep, isLost }: { sweep: SweepFigures; isLost: boolean }) {
  return (
    <>
      <dl class="match-words">
        <div>
          <dt>Q, unloaded</dt>
          <dd>
            <ProofFigure of="sweeps.q_unloaded" value={sweep.q_unloaded} low={sweep.q_unloaded_low} high={sweep.q_unloaded_high} />
          </dd>
        </div>
        <div>
          <dt>resonance</dt>
          <dd>
            <ProofFigure of="sweeps.frequency_hz" value={sweep.frequency_hz} low={sweep.frequency_hz_low} high={sweep.frequency_hz_high} />
          </dd>
        </div>
        <div>
          <dt>loses in all, at the gap</dt>
          <dd>
            <ProofFigure of="sweeps.resistance_total_ohm" value={sweep.resistance_total_ohm} low={sweep.resistance_total_ohm_low} high={sweep.resistance_total_ohm_high} />
          </dd>
        </div>
        <div>
          <dt>to the sky</dt>
          <dd>
            <ProofFigure of="sweeps.efficiency_pct" value={sweep.efficiency_pct} low={sweep.efficiency_pct_low} high={sweep.efficiency_pct_high} />
            <span class="quiet small aside">{inDecibels(sweep.efficiency_pct)}</span>
          </dd>
        </div>
        {sweep.temperature_degc !== null && (
          <div>
            <dt>temperature</dt>
            <dd>
              <RecordFigure of="entries.temperature_degc" value={sweep.temperature_degc} />
            </dd>
          </div>
        )}
      </dl>
      <p class="small">
        {isLost && <Triangle />}
        sweeps/{sweep.file}
        {sweep.name_given !== sweep.file && <span class="quiet">, given as {sweep.name_given}</span>}
        {isLost && ": gone or altered"}
      </p>
      {sweep.notes.length > 0 && (
        <ul class="sweep-notes small" aria-label="Notes on this sweep">
          {sweep.notes.map((note) => (
            <li key={note}>
              <Triangle />
              {note}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

function Changes({ entry }: { entry: RecordEntry }) {
  return (
    <table class="key-changes small">
      <caption>Set otherwise than in the text before it</caption>
      <thead>
        <tr>
          <th scope="col">key</th>
          <th scope="col">before</th>
          <th scope="col">here</th>
        </tr>
      </thead>
      <tbody>
        {entry.changes.map(({ key, before, after }) => (
          <tr key={key}>
            <th scope="row">{key}</th>
            <td>{before}</td>
            <td>{after}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The text of the design it was last set against, fetched when it is asked for. */
function Texts({ entry }: { entry: RecordEntry }) {
  const [text, setText] = useState<string | null>(null);
  const sha256 = entry.designs.at(-1);
  const fetch = async () => {
    if (text !== null || sha256 === undefined) return;
    try {
      setText((await getTextOnLine(sha256)).text);
    } catch (error) {
      setText(record.refusal(error));
    }
  };
  return (
    <details class="folded" onToggle={(event) => event.currentTarget.open && void fetch()}>
      <summary>
        <span>{entry.kind === "design" ? "Its text" : "The design it was set against"}</span>
      </summary>
      <pre class="design-text" tabIndex={0} aria-label="Text of the design">
        {text ?? "…"}
      </pre>
    </details>
  );
}
