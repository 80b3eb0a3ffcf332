// SPDX-License-Identifier: BSD-3-Clause
// Everything about the site that can be dragged, typed or chosen, beside the picture.
import type { Choice, Edits, Slider } from "../../api/messages";
import * as draft from "../../state/draft";
import * as site from "../../state/site";
import { QuantitySlider, Refusal } from "../../widgets/quantity_slider";
import { Triangle } from "../../widgets/triangle";
import { WordChoice } from "../../widgets/word_choice";
import { SiteFigure } from "./figure";
import { ItemList } from "./item_list";
import { LimitChips } from "./limit_chips";
import { METAL, PEOPLE, refusalOf } from "./items";

const STATED = "constants of your own";
const CONSTANTS = ["site.conductivity", "site.permittivity"];
const OWN_KEYS = [
  "site.height", "site.turn", "site.x_bearing", "site.earth", ...CONSTANTS, "power", "mode", "transmit_share", "feedline.outside", "feedline.choke",
];

export function Controls() {
  const start = draft.start.value;
  if (!start) return null;
  const one = (key: string) => <Control key={key} of={key} sliders={start.sliders} choices={start.choices} />;
  const isDown = draft.valueNow("feedline.outside") === "straight down";
  return (
    <section class="controls" aria-label="The site">
      <h2 class="out-of-sight">The site</h2>
      <LooseProblem />
      <LimitChips />
      <fieldset class="control-group">
        <legend>Where the ring stands</legend>
        {["site.height", "site.turn"].map(one)}
        <EarthChoice />
        {CONSTANTS.every(draft.isStated) && CONSTANTS.map(one)}
        <details>
          <summary>more about the place</summary>
          {one("site.x_bearing")}
        </details>
      </fieldset>
      <fieldset class="control-group">
        <legend>Transmitter</legend>
        {["power", "mode", "transmit_share"].map(one)}
        <AveragePower />
      </fieldset>
      <ItemList list={PEOPLE} title="People" none="Nobody is placed yet. Place whoever may come near: a neighbour's window, the operator's chair." />
      <ItemList list={METAL} title="Metal nearby" none="No metal is placed. Railings, gutters and masts within a few metres take power and carry fields on.">
        <p class="caution small">
          <Triangle />
          {site.cautions.value?.nearby_metal}
        </p>
      </ItemList>
      <fieldset class="control-group">
        <legend>Feedline</legend>
        {one("feedline.outside")}
        {isDown && one("feedline.choke")}
        <p class="quiet small">The outside of the cable&apos;s screen is a wire of the antenna, too: it fills the null and carries the field on. A choke at the loop quietens it.</p>
      </fieldset>
    </section>
  );
}

function Control({ of, sliders, choices }: { of: string; sliders: readonly Slider[]; choices: readonly Choice[] }) {
  const slider = sliders.find((one) => one.key === of);
  if (slider) return <QuantitySlider slider={slider} />;
  const choice = choices.find((one) => one.key === of);
  return choice ? <WordChoice choice={choice} /> : null;
}

/** An earth by name, or by constants; which they are, and who says so, stands beside it. */
function EarthChoice() {
  const choice = draft.start.value?.choices.find((one) => one.key === "site.earth");
  const earth = site.scene.value?.earth ?? null;
  const isStated = CONSTANTS.some(draft.isStated);
  const value = isStated ? STATED : String(draft.valueNow("site.earth") ?? "");
  const refusal = refusalOf("site.earth");
  const choose = (word: string) => draft.change(word === STATED ? constantsOf(earth) : { "site.earth": word, [CONSTANTS[0] ?? ""]: null, [CONSTANTS[1] ?? ""]: null });
  const options = [...new Set([...(choice?.options ?? []), ...(earth && !earth.is_perfect ? [STATED] : []), value])].filter(Boolean);
  return (
    <div class={`control${"site.earth" in draft.edits.value ? " changed" : ""}`} data-key="site.earth">
      <label for="choice-site-earth">earth</label>
      <select id="choice-site-earth" value={value} onChange={(event) => choose(event.currentTarget.value)}>
        {options.map((option) => (
          <option key={option}>{option}</option>
        ))}
      </select>
      <p class="control-note quiet small">
        {earth === null ? (
          "No earth: the ring alone in free space."
        ) : earth.is_perfect ? (
          earth.source
        ) : (
          <>
            <SiteFigure of="earth.conductivity_s_per_m" value={earth.conductivity_s_per_m} />, permittivity <SiteFigure of="earth.permittivity" value={earth.permittivity} />; {earth.source}
          </>
        )}
      </p>
      {refusal !== null && <Refusal text={refusal} />}
    </div>
  );
}

function constantsOf(earth: { conductivity_s_per_m: number; permittivity: number } | null): Edits {
  if (!earth) return {};
  return {
    "site.earth": null,
    "site.conductivity": `${Number((earth.conductivity_s_per_m * 1e3).toPrecision(4))} mS/m`,
    "site.permittivity": earth.permittivity,
  };
}

function AveragePower() {
  const scene = site.scene.value;
  if (!scene) return null;
  return (
    <p class="control-note quiet small">
      Averaged limits see <SiteFigure of="average_power_w" value={scene.average_power_w} />; instantaneous ones the peak.
    </p>
  );
}

/** A problem that belongs to no control and no item on this page. */
function LooseProblem() {
  const problem = draft.problem.value ?? site.problem.value;
  if (!problem) return null;
  const { key } = problem;
  if (key !== null && (OWN_KEYS.includes(key) || [PEOPLE, METAL].some((list) => key.startsWith(`${list}[`)))) return null;
  return (
    <p class="refusal" role="alert">
      {problem.text}
    </p>
  );
}
