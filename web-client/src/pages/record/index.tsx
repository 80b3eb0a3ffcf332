// SPDX-License-Identifier: BSD-3-Clause
// Everything that happened to this antenna on one line of time; two moments of it side by side; where it is going.
import * as draft from "../../state/draft";
import * as record from "../../state/record";
import { PageLink } from "../../widgets/page_link";
import { Triangle } from "../../widgets/triangle";
import { Comparison } from "./comparison";
import { Copy } from "./copy";
import { Details } from "./details";
import { Filters } from "./filters";
import { EntryList } from "./list";
import { LinePicture } from "./picture";
import { TrendOfBand } from "./trend";
import { WriteNote } from "./write";

export function RecordPage() {
  const line = record.line.value;
  return (
    <div class="record-bench" data-seq={draft.pictureSeq.value}>
      <div class="recorded">
        {record.problem.value && (
          <p class="refusal" role="alert">
            {record.problem.value}
          </p>
        )}
        {!line && !record.problem.value && <p class="waiting quiet">Opening the record…</p>}
        {line && <Lost files={line.lost} />}
        {line && record.isEmpty.value && <NothingYet />}
        {line && line.entries.length > 0 && (
          <>
            <Filters line={line} />
            <LinePicture line={line} />
            <Details />
          </>
        )}
        {line && line.bands.length > 0 && (
          <>
            <Comparison />
            <TrendOfBand line={line} />
          </>
        )}
        {line && line.entries.length > 0 && <EntryList />}
      </div>
      <aside class="intake" aria-label="Write and keep">
        <WriteNote />
        <Copy />
      </aside>
    </div>
  );
}

function Lost({ files }: { files: readonly string[] }) {
  if (files.length === 0) return null;
  return (
    <div class="lost" role="alert">
      <p>
        <Triangle />
        {files.length === 1 ? "The original of one sweep is" : `The originals of ${files.length} sweeps are`} gone or altered: {files.map((file) => `sweeps/${file}`).join(", ")}. What they said is kept; put
        the originals back, or prove and keep them again.
      </p>
    </div>
  );
}

function NothingYet() {
  return (
    <div class="nothing-yet">
      <p class="nothing-words">Nothing is recorded of this antenna yet.</p>
      <p class="quiet">
        Sweep the built ring and keep the sweeps on the page{" "}
        <PageLink to="prove">Prove</PageLink>
        , write down here what happens to it, or take in a copy of a record. A sweep now and then on each band, with the temperature, shows what nobody notices from one day to the next: joints that
        corrode, water in the box.
      </p>
    </div>
  );
}
