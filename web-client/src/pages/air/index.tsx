// SPDX-License-Identifier: BSD-3-Clause
// Who heard it: the world from one's own place, and which of two antennas is better.
import * as air from "../../state/air";
import * as draft from "../../state/draft";
import { useDrop } from "../../widgets/drop";
import { Histograms } from "./histograms";
import { Intake } from "./intake";
import { Light } from "./light";
import { WorldMap } from "./map";
import { Null, Past } from "./questions";
import { Rejected } from "./rejected";
import { TimeBrush } from "./brush";
import { Verdict } from "./verdict";

export function AirPage() {
  const isOver = useDrop((files) => void air.addFiles(files));
  const seen = air.seen.value;
  const hasReports = seen !== null && seen.total > 0;
  return (
    <div class="air-bench" data-seq={draft.pictureSeq.value} data-settled={air.isSettled.value}>
      <div class="aired">
        {air.problem.value && (
          <p class="refusal" role="alert">
            {air.problem.value}
          </p>
        )}
        {seen && !hasReports && seen.files.length === 0 && <Nothing />}
        {hasReports && <Verdict seen={seen} />}
        {hasReports && <Bands />}
        {hasReports && (seen.world ? <WorldMap seen={seen} world={seen.world} /> : <NoPlace />)}
        {seen?.times && <TimeBrush times={seen.times} />}
        {hasReports && seen.world && <Histograms world={seen.world} />}
        {hasReports && seen.light && <Light light={seen.light} />}
        {hasReports && <Past seen={seen} />}
        {hasReports && <Null seen={seen} />}
        {seen && <Rejected seen={seen} />}
        <p class="out-of-sight" role="status">
          {seen && seen.total > 0 ? `${seen.shown} of ${seen.total} reports are shown; ${seen.rejected_count} rows were rejected.` : ""}
        </p>
      </div>
      <Intake />
      {isOver && (
        <div class="drop-here" aria-hidden="true">
          <p>Let go: the reports are read here.</p>
        </div>
      )}
    </div>
  );
}

function Bands() {
  const bands = air.seen.value?.bands ?? [];
  const choices = [{ key: null, label: "all bands" }, ...bands.map(({ band, count }) => ({ key: band, label: `${band} · ${count}` }))];
  return (
    <div class="chips" role="group" aria-label="Bands">
      {choices.map(({ key, label }) => (
        <button key={label} type="button" class="chip" aria-pressed={air.band.value === key} onClick={() => (air.band.value = key)}>
          {label}
        </button>
      ))}
    </div>
  );
}

function NoPlace() {
  return <p class="note-strip">A map needs a middle: say where you are, with your locator. Everything else is answered without.</p>;
}

function Nothing() {
  return (
    <div class="nothing-yet">
      <p class="nothing-words">Drop logs or report lists here.</p>
      <p class="quiet">
        Who heard you, from your own roof: how far, from where, at what hour, band by band. With two antennas named in the reports you learn which is better, by how many decibels, and how sure that is.
        Nothing leaves this computer&apos;s server.
      </p>
    </div>
  );
}
