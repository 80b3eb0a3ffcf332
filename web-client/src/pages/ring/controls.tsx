// SPDX-License-Identifier: BSD-3-Clause
// Everything that can be dragged, typed or chosen, in the order a builder meets it.
import type { Choice, Slider } from "../../api/messages";
import { BESIDE, couplingHas } from "../../controls";
import * as draft from "../../state/draft";
import { QuantitySlider } from "../../widgets/quantity_slider";
import { Triangle } from "../../widgets/triangle";
import { Chips, SidesSlider, WordChoice } from "../../widgets/word_choice";

interface Group {
  title: string;
  keys: readonly string[];
  more: readonly string[];
}

const GROUPS: readonly Group[] = [
  {
    title: "Ring",
    keys: ["ring.perimeter", "ring.shape", "ring.aspect", "ring.conductor.diameter", "site.height"],
    more: [
      "ring.conductor.kind",
      "ring.conductor.material",
      "ring.joints",
      "ring.joint_resistance",
      "ring.plane",
      "ring.gap_at",
      "site.earth",
    ],
  },
  {
    title: "Coupling",
    keys: [
      "coupling.kind",
      "coupling.diameter",
      "coupling.squash",
      "coupling.tap_at",
      "coupling.turns",
      "coupling.inductance_factor",
      "coupling.core_q",
      "coupling.clearance",
    ],
    more: ["coupling.shape", "coupling.conductor.diameter", "coupling.at", "coupling.feed_at", "coupling.passes"],
  },
  {
    title: "Capacitor",
    keys: ["capacitor.minimum", "capacitor.maximum", "capacitor.stray", "capacitor.q"],
    more: [
      "capacitor.kind",
      "capacitor.law",
      "capacitor.rated_voltage",
      "capacitor.plate_gap",
      "capacitor.fixed",
      "capacitor.series",
      "capacitor.contact_resistance",
    ],
  },
  {
    title: "Drive",
    keys: ["drive.reduction"],
    more: ["drive.microsteps", "drive.steps_per_turn", "drive.backlash", "drive.windup"],
  },
  { title: "Transmitter", keys: ["power"], more: ["mode"] },
];

export function Controls() {
  const start = draft.start.value;
  if (!start) return null;
  const bands = start.choices.find((one) => one.key === "bands");
  return (
    <section class="controls" aria-label="What is built">
      <h2 class="out-of-sight">What is built</h2>
      <LooseProblem known={["bands", ...GROUPS.flatMap((group) => [...group.keys, ...group.more]), ...BESIDE.map((one) => one.key)]} />
      {bands && <Chips choice={bands} />}
      {GROUPS.map((group) => (
        <ControlGroup key={group.title} group={group} sliders={start.sliders} choices={start.choices} />
      ))}
    </section>
  );
}

function ControlGroup({ group, sliders, choices }: { group: Group; sliders: Slider[]; choices: Choice[] }) {
  const kind = String(draft.valueNow("coupling.kind") ?? "loop");
  const control = (key: string) => {
    if (!couplingHas(kind, key)) return null;
    const beside = BESIDE.find((one) => one.key === key && isWanted(key));
    const slider = beside ?? sliders.find((one) => one.key === key);
    if (slider) return <QuantitySlider key={key} slider={slider} />;
    const choice = choices.find((one) => one.key === key);
    if (!choice) return null;
    return key === "ring.shape" ? <SidesSlider key={key} choice={choice} /> : <WordChoice key={key} choice={choice} />;
  };
  return (
    <fieldset class="control-group">
      <legend>{group.title}</legend>
      {group.title === "Capacitor" && (
        <p class="caution small">
          <Triangle />
          Kilovolts while transmitting; they burn, also across air. Never touch or adjust it then.
        </p>
      )}
      {group.keys.map(control)}
      {group.more.length > 0 && (
        <details>
          <summary>more about the {group.title.toLowerCase()}</summary>
          {group.more.map(control)}
        </details>
      )}
    </fieldset>
  );
}

function isWanted(key: string): boolean {
  return draft.isStated(key) || (key === "ring.aspect" && draft.valueNow("ring.shape") === "oval");
}

/** A problem that belongs to no control on this page. */
function LooseProblem({ known }: { known: readonly string[] }) {
  const problem = draft.problem.value;
  if (!problem || (problem.key !== null && known.includes(problem.key))) return null;
  return (
    <p class="refusal" role="alert">
      {problem.text}
    </p>
  );
}
