// SPDX-License-Identifier: BSD-3-Clause
// Sweeps in, truth out: what the built ring does beside what was predicted, sweep by sweep and all together.
import type { ProofSweep } from "../../api/messages";
import * as draft from "../../state/draft";
import * as prove from "../../state/prove";
import { useDrop } from "../../widgets/drop";
import { PinnedFigures } from "../../widgets/pinned_figures";
import { Triangle } from "../../widgets/triangle";
import { Intake } from "./intake";
import { SweepCard } from "./sweep";
import { bandOf } from "./words";
import { Together, WattsFound } from "./together";

export function ProvePage() {
  const isOver = useDrop((files) => void prove.addFiles(files));
  const items = prove.items.value;
  const judged = items.flatMap((item) => prove.found.value.get(item) ?? []);
  const good = judged.flatMap((sweep) => sweep.found ?? []);
  return (
    <div class="prove-bench" data-seq={draft.pictureSeq.value} data-working={prove.isWorking.value}>
      <div class="proved">
        {prove.problem.value && (
          <p class="refusal" role="alert">
            {prove.problem.value}
          </p>
        )}
        {items.length === 0 && <Nothing />}
        {items.length > 0 && <Against />}
        <Verdicts sweeps={judged} />
        {good.length > 0 && <Together />}
        <WattsFound sweeps={good} />
        {judged.map((sweep) => (
          <SweepCard key={sweep.name} sweep={sweep} />
        ))}
        {good.length > 0 && <PinnedFigures />}
        <p class="out-of-sight" role="status">
          {spoken(good.length, judged.length - good.length)}
        </p>
      </div>
      <Intake />
      {isOver && (
        <div class="drop-here" aria-hidden="true">
          <p>Let go: the sweeps are read here.</p>
        </div>
      )}
    </div>
  );
}

/** What each sweep says, in one sentence, before all that stands behind it. */
function Verdicts({ sweeps }: { sweeps: readonly ProofSweep[] }) {
  if (sweeps.length === 0) return null;
  return (
    <section class="verdicts" aria-label="What each sweep says">
      <ul>
        {sweeps.map(({ name, found, problem }) => (
          <li key={name} class={found ? "" : "refusal"}>
            {found && <strong>{bandOf(found)}</strong>} {found ? found.verdict : problem} {found && <span class="quiet small">{name}</span>}
          </li>
        ))}
      </ul>
      <button type="button" class="to-intake" onClick={() => document.getElementById("sweeps-in")?.scrollIntoView()}>
        Add, keep or take off sweeps
      </button>
    </section>
  );
}

function spoken(good: number, bad: number): string {
  if (good + bad === 0) return "";
  return `${good} ${good === 1 ? "sweep is" : "sweeps are"} set against the design${bad > 0 ? `; ${bad} cannot be used` : ""}.`;
}

/** Which design is the yardstick; one that nobody has made his own is no yardstick for a built ring. */
function Against() {
  const name = draft.base.value?.name;
  if (!name) {
    return (
      <p class="set-against unsaved">
        <Triangle />
        Set against <strong>a first ring that is not saved yet</strong>: not yours? Choose your design at the top of the page; what is said here holds for the ring on the bench alone.
      </p>
    );
  }
  return (
    <p class="set-against">
      Set against <strong>{name}</strong>
      {draft.isEdited.value ? ", with changes that are not saved." : "."}
    </p>
  );
}

function Nothing() {
  return (
    <div class="nothing-yet">
      <p class="nothing-words">Drop the analyser&apos;s sweeps here.</p>
      <p class="quiet">
        They are set against the design on the bench: what Q, loss and match the ring really has, each with the interval that holds in 95 of 100 measurements; where watts are missing, where they most
        likely went; and what to measure or mend next. Nothing leaves this computer&apos;s server, and no file is altered.
      </p>
    </div>
  );
}
