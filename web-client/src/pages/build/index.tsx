// SPDX-License-Identifier: BSD-3-Clause
// To the workshop: the ring taken apart, what to cut, buy and keep apart, how it stands, and the sheet to print.
import { useState } from "preact/hooks";
import type { BuildFound, DrawingFile } from "../../api/messages";
import * as build from "../../state/build";
import * as draft from "../../state/draft";
import { system } from "../../state/preferences";
import { PinnedFigures } from "../../widgets/pinned_figures";
import { Triangle } from "../../widgets/triangle";
import { Drawn } from "./drawing";
import { Apart, Bites, CutList, Shopping, Standing, Tests, Warming } from "./lists";
import { Resolution } from "./resolution";

export function BuildPage() {
  const found = build.found.value;
  return (
    <div class="build-bench" data-seq={draft.pictureSeq.value} data-settled={build.isSettled.value}>
      {build.problem.value && (
        <p class="refusal" role="alert">
          {build.problem.value}
        </p>
      )}
      {found ? <Found found={found} /> : <p class="waiting quiet">{draft.problem.value?.text ?? "Measuring what is to be cut…"}</p>}
    </div>
  );
}

function Found({ found }: { found: BuildFound }) {
  const byName = new Map(found.drawings.map((drawing) => [drawing.name, drawing]));
  const some = (...names: string[]) => names.flatMap((name) => byName.get(name) ?? []);
  const corners = found.drawings.filter((drawing) => drawing.name.startsWith("corner"));
  const sweeps = found.drawings.filter((drawing) => drawing.name.startsWith("sweep"));
  return (
    <>
      {found.notices.map((words) => (
        <p key={words} class="caution">
          <Triangle /> {words}
        </p>
      ))}
      <div class="build-first">
        <Row drawings={some("exploded")} isLarge />
        <Printing />
      </div>
      <section class="build-part" aria-labelledby="cut">
        <h2 id="cut">Cut and bend</h2>
        <Bites found={found} at={["Sawn", "Solder"]} />
        <CutList found={found} />
        <Row drawings={some("ring")} isLarge />
        <Row drawings={[...some("turns", "coupling"), ...corners]} />
      </section>
      <section class="build-part" aria-labelledby="buy">
        <h2 id="buy">Buy</h2>
        <Shopping found={found} />
      </section>
      <section class="build-part" aria-labelledby="wire">
        <h2 id="wire">Wire, and keep the kilovolts in</h2>
        <Bites found={found} at={["Up to", "A box wall"]} />
        <Row drawings={some("box")} isLarge />
        <Apart found={found} />
      </section>
      <section class="build-part" aria-labelledby="drive">
        <h2 id="drive">Drive</h2>
        <Resolution />
      </section>
      <section class="build-part" aria-labelledby="stand">
        <h2 id="stand">Stand it up</h2>
        <Bites found={found} at={["A ring that falls", "Look for power lines", "Disconnect"]} />
        <div class="side-by-side">
          <Row drawings={some("stand")} />
          <div>
            <Standing found={found} />
          </div>
        </div>
      </section>
      <PinnedFigures />
      <section class="build-part" aria-labelledby="expect">
        <h2 id="expect">Expect</h2>
        <Row drawings={sweeps} />
        <Warming found={found} />
      </section>
      <section class="build-part" aria-labelledby="test">
        <h2 id="test">Test, in this order</h2>
        <Bites found={found} at={["The transmitter stays off", "Railings", "People with"]} />
        <Tests found={found} />
        <Bites found={found} at={["Limits and codes"]} />
      </section>
      <p class="out-of-sight" role="status">
        {build.isSettled.value ? `The build is worked out: kinds of piece ${found.cuts.pieces.length}, lines to buy ${found.parts.length}.` : "The build is being worked out."}
      </p>
    </>
  );
}

function Row({ drawings, isLarge = false }: { drawings: readonly DrawingFile[]; isLarge?: boolean }) {
  return (
    <div class="drawings">
      {drawings.map((drawing) => (
        <Drawn key={drawing.name} drawing={drawing} isLarge={isLarge} />
      ))}
    </div>
  );
}

function Printing() {
  const [paper, setPaper] = useState<build.Paper>(system.value === "imperial" ? "letter" : "a4");
  const isWaiting = build.isPrinting.value || !build.isSettled.value;
  return (
    <aside class="printing" aria-labelledby="print">
      <h2 id="print">To print</h2>
      <p class="quiet">At 100 %, never fitted to the page: the templates have a bar of 100 mm, and one of 2 in, to hold a rule against.</p>
      <label>
        Paper{" "}
        <select value={paper} onChange={(event) => setPaper(event.currentTarget.value as build.Paper)}>
          <option value="a4">A4</option>
          <option value="letter">Letter</option>
        </select>
      </label>
      <button type="button" class="chief" disabled={isWaiting} onClick={() => void build.print(paper, "sheet")}>
        Sheet for the bench
      </button>
      <button type="button" disabled={isWaiting} onClick={() => void build.print(paper, "templates")}>
        Templates at 1:1
      </button>
      <button type="button" disabled={isWaiting} onClick={() => void build.print(paper, "sheet and templates")}>
        Both in one file
      </button>
    </aside>
  );
}
