// SPDX-License-Identifier: BSD-3-Clause
// The coupling for all bands at once: what it gives now, and a search for the one to bend.
import { useState } from "preact/hooks";
import type { Band, MatchDocument, MatchTrial } from "../../../api/messages";
import * as bench from "../../../state/bench";
import * as draft from "../../../state/draft";
import * as match from "../../../state/match";
import { Figure } from "../../../widgets/figure";
import { MatchCurve, lengthWords } from "./match_curve";

const KINDS: Record<string, string> = {
  loop: "Coupling loop",
  tapped: "Tapped coupling",
  transformer: "Transformer",
};

export function CouplingPanel({ band }: { band: Band }) {
  const kind = String(draft.valueNow("coupling.kind") ?? "loop");
  const [isWide, setIsWide] = useState(false);
  const bands = draft.picture.value?.prediction.bands ?? [];
  const found = match.found.value;
  return (
    <section class="panel" aria-label="Coupling">
      <h3>{KINDS[kind] ?? "Coupling"}</h3>
      <dl class="least-swr" aria-label="Least SWR band by band">
        {bands.map((one) => (
          <div key={draft.bandName(one)} class={one === band ? "chosen" : ""}>
            <dt>{draft.bandName(one)}</dt>
            <dd>
              SWR <Figure of="match.swr_min" band={one} />
            </dd>
          </div>
        ))}
      </dl>
      {kind === "loop" && (
        <button type="button" aria-pressed={isWide} onClick={() => setIsWide(!isWide)}>
          vary squash and clearance, too
        </button>
      )}
      {match.isSeeking.value ? (
        <button type="button" onClick={bench.endSearch}>
          End the search
        </button>
      ) : (
        <button type="button" disabled={!draft.isConnected.value} onClick={() => bench.seekCoupling(isWide && kind === "loop" ? ["squash", "clearance"] : [])}>
          Find the best for all bands
        </button>
      )}
      <p class="small" role="status">
        {match.isSeeking.value && (match.progress.value ?? "Trying the first couplings…")}
        {match.problem.value}
        {match.soFar.value && `Ended early: best so far ${sizes(match.soFar.value)}, SWR ${match.soFar.value.swr_worst.toFixed(2)}.`}
      </p>
      {found && <Found found={found} />}
    </section>
  );
}

function Found({ found }: { found: MatchDocument }) {
  const edits = match.edits.value;
  if (!match.isOfTheDraft.value) return <p class="quiet small">What was found is of another draft; seek again.</p>;
  const isTaken = edits !== null && Object.entries(edits).every(([key, value]) => value === null || draft.valueNow(key) === value);
  return (
    <>
      <p>
        <strong>{sizes(found.best)}</strong>: SWR {found.best.swr_worst.toFixed(2)} on the worst band
        {found.now.swr_worst - found.best.swr_worst > 0.005 && <span class="quiet">, now {found.now.swr_worst.toFixed(2)}</span>}
      </p>
      {edits && (
        <button type="button" disabled={isTaken} onClick={() => draft.change(edits)}>
          {isTaken ? "It is on the bench" : "Take it"}
        </button>
      )}
      <MatchCurve found={found} />
      <ul class="small">
        {found.notes.map((note) => (
          <li key={note.code}>{note.text}</li>
        ))}
      </ul>
    </>
  );
}

function sizes(trial: MatchTrial): string {
  if (trial.turns !== null) return `${trial.turns} turns on the core`;
  if (trial.tap_at_m !== null) return `tap ${lengthWords(trial.tap_at_m)} from the point opposite the gap`;
  const parts = [`${lengthWords(trial.diameter_m ?? 0)} across`];
  if (trial.squash !== null && trial.squash !== 1) parts.push(`squash ${trial.squash.toFixed(2)}`);
  if (trial.clearance_m !== null) parts.push(`${lengthWords(trial.clearance_m)} clear`);
  if (trial.wire_m !== null) parts.push(`${lengthWords(trial.wire_m)} of wire`);
  return parts.join(", ");
}
