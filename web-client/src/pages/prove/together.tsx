// SPDX-License-Identifier: BSD-3-Clause
// All sweeps together: where the watts go as predicted and as found, who is suspected, and what to measure next.
import type { NextMeasurement, ProofDocument, ProvedSweep, Suspect } from "../../api/messages";
import { significant } from "../../quantities";
import * as bench from "../../state/bench";
import * as draft from "../../state/draft";
import * as prove from "../../state/prove";
import { Measure } from "../../widgets/measure";
import { Triangle } from "../../widgets/triangle";
import { AcceptForm } from "./accept";
import { ProofFigure } from "./figure";
import { bandOf, CAUSES, CURES, FOUND, type FoundName, shares, sizeText } from "./words";

const WORTH_WORDS = 0.05; // of probability: below, a suspect is a bar and no sentence

export function WattsFound({ sweeps }: { sweeps: readonly ProvedSweep[] }) {
  if (sweeps.length === 0) return null;
  return (
    <section class="watts-found" aria-label="Where the watts go, as predicted and as found">
      <h2>Where the watts go</h2>
      {sweeps.map((sweep) => (
        <Watts key={sweep.file} sweep={sweep} />
      ))}
      <ul class="letters small" aria-hidden="true">
        {FOUND.map(({ name, letter, words }) => (
          <li key={name}>
            <span class={`swatch ink-${name}`} /> {letter} {words}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Watts({ sweep }: { sweep: ProvedSweep }) {
  const band = draft.picture.value?.prediction.bands.find((one) => one.band === sweep.band);
  const unexplained = sweep.watts_found_pct.unexplained;
  return (
    <div class="watts-row">
      <h3>
        {bandOf(sweep)} <span class="quiet small">{sweep.file}</span>
      </h3>
      {band && <Bar words="as predicted" watts={band.watts_pct} band={bandOf(sweep)} />}
      <Bar words="as found" watts={sweep.watts_found_pct} band={bandOf(sweep)} />
      <p class="small">
        {unexplained < 0.5 ? (
          "Nothing is left unexplained."
        ) : (
          <>
            <strong>
              <ProofFigure of="sweeps.watts_found_pct" value={unexplained} />
            </strong>{" "}
            is unexplained: it goes somewhere that the design does not know.
          </>
        )}
      </p>
    </div>
  );
}

function Bar({ words, watts, band }: { words: string; watts: Partial<Record<FoundName, number | null>>; band: string }) {
  const parts = shares(watts);
  const spoken = parts.map((part) => `${part.words} ${part.share.toFixed(1)} per cent`).join(", ");
  return (
    <div class="found-bar">
      <span class="small quiet">{words}</span>
      <span class="watt-bar" role="img" aria-label={`${band} ${words}: ${spoken}`}>
        {parts.map(({ name, letter, words: address, share }) => (
          <span key={name} class={`segment ink-${name}`} style={{ flexGrow: String(Math.max(share, 0)) }} title={`${address} ${significant(share, 3)} %`}>
            <span class="segment-name">{share >= 14 ? address : share >= 3.5 ? letter : ""}</span>
          </span>
        ))}
      </span>
    </div>
  );
}

export function Together() {
  const proof = prove.proof.value;
  const progress = prove.progress.value;
  return (
    <section class="together-all" aria-label="What explains all of it together">
      <h2>What explains all of it together</h2>
      {prove.isWorking.value && (
        <div class="working">
          <p role="status">
            {progress?.total ? <progress max={progress.total} value={progress.done} aria-label="the suspects, one by one" /> : null} {progress?.text ?? "reading the sweeps"}…
          </p>
          <button type="button" onClick={bench.endProof}>
            End the comparison
          </button>
        </div>
      )}
      {prove.isStopped.value && (
        <div class="working">
          <p role="status">Ended; what is said of single sweeps holds.</p>
          <button type="button" onClick={prove.again}>
            Compare them together
          </button>
        </div>
      )}
      {proof && <Suspects proof={proof} />}
      {proof && <Next proof={proof} />}
      {proof && <AcceptForm />}
    </section>
  );
}

function Suspects({ proof }: { proof: ProofDocument }) {
  const alike = proof.not_told_apart.map((cause) => CAUSES[cause]);
  return (
    <>
      <ul class="suspects">
        {proof.diagnosis.map((suspect) => (
          <li key={suspect.cause}>
            <Measure label={CAUSES[suspect.cause]} words={`${(100 * suspect.probability).toFixed(0)} per cent probable`} share={suspect.probability}>
              <ProofFigure of="diagnosis.probability" value={100 * suspect.probability} />
            </Measure>
            {suspect.probability >= WORTH_WORDS && suspect.size && <IfSo suspect={suspect} />}
          </li>
        ))}
      </ul>
      {alike.length > 1 && <p class="not-told-apart">These sweeps do not tell apart: {alike.join(", ")}.</p>}
    </>
  );
}

function IfSo({ suspect }: { suspect: Suspect }) {
  return (
    <p class="small quiet if-so">
      If so: {suspect.size && sizeText(suspect.size)}; {CURES[suspect.cause] ?? "mending it"} <Gain suspect={suspect} /> on {(suspect.gain_at_frequency_hz / 1e6).toPrecision(4)} MHz
      {suspect.cause === "metal" && ": sweeps tell what it takes from the ring, not what of that it sends into the sky"}.
    </p>
  );
}

/** What a cure brings or costs, in words which of the two; as the terminal says it. */
function Gain({ suspect }: { suspect: Suspect }) {
  const tenths = (decibels: number) => Number(decibels.toFixed(1));
  const [value, low, high] = [tenths(suspect.gain_db), tenths(suspect.gain_db_low), tenths(suspect.gain_db_high)];
  if (low === 0 && high === 0) return <>changes less than 0.1 dB</>;
  const figure = (decibels: number) => <ProofFigure of="diagnosis.gain_db" value={decibels} />;
  if (low < 0 && high > 0)
    return (
      <>
        may cost {figure(-low)} or bring {figure(high)}
      </>
    );
  return (
    <>
      {low < 0 ? "costs" : "brings"} {figure(Math.abs(value))} ({Math.min(Math.abs(low), Math.abs(high)).toFixed(1)} to {Math.max(Math.abs(low), Math.abs(high)).toFixed(1)})
    </>
  );
}

function Next({ proof }: { proof: ProofDocument }) {
  const cautions = prove.cautions.value;
  const offered = [proof.next_measurement, ...proof.other_measurements].filter((one) => one !== null);
  const [first, ...others] = offered.filter((one) => one.is_worth_making);
  return (
    <div class="next">
      <h3>Measure this next</h3>
      {first ? <Do what={first} isFirst /> : <HardlyMore offered={offered} />}
      {cautions && (
        <ul class="cautions small" aria-label="Before you touch it">
          {[cautions.before_touching, cautions.authority].map((text) => (
            <li key={text} class="caution">
              <Triangle />
              {text}
            </li>
          ))}
        </ul>
      )}
      {others.length > 0 && (
        <details class="folded">
          <summary>or else</summary>
          <ul class="others">
            {others.map((one) => (
              <li key={one.do}>
                <Do what={one} />
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}

function HardlyMore({ offered }: { offered: readonly NextMeasurement[] }) {
  const most = Math.max(0, ...offered.map((one) => one.expected_information_bits));
  return (
    <p class="quiet">
      Another sweep would tell hardly more: at most <ProofFigure of="next_measurement.expected_information_bits" value={most} />, where 1 tells two equals apart.
    </p>
  );
}

function Do({ what, isFirst = false }: { what: NextMeasurement; isFirst?: boolean }) {
  const [one, other] = what.separates.map((cause) => CAUSES[cause]);
  return (
    <>
      <p class={isFirst ? "do-next" : ""}>{what.do}</p>
      <p class="small quiet">
        It tells {one} from {other} best; <ProofFigure of="next_measurement.expected_information_bits" value={what.expected_information_bits} /> expected.
      </p>
    </>
  );
}
