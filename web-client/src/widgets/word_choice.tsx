// SPDX-License-Identifier: BSD-3-Clause
// Keys with a fixed set of words: a list to choose from, chips for several at once, and the ring's shape as a slider.
import type { Choice } from "../api/messages";
import { anotherCoupling, setting } from "../controls";
import * as draft from "../state/draft";
import { Refusal } from "./quantity_slider";

/** What a kind of conductor does not have; it is left out of the file when the kind is chosen. */
const NOT_OF_KIND: Record<string, readonly string[]> = {
  tube: ["width", "thickness", "braid_factor"],
  solid: ["wall", "width", "thickness", "braid_factor"],
  strip: ["diameter", "wall", "braid_factor"],
  braid: ["wall", "width", "thickness"],
};

function refusalOf(key: string): string | null {
  return draft.problem.value?.key === key ? draft.problem.value.text : null;
}

export function WordChoice({ choice }: { choice: Choice }) {
  const id = `choice-${choice.key.replaceAll(".", "-")}`;
  const value = String(draft.valueNow(choice.key) ?? "");
  const refusal = refusalOf(choice.key);
  const options = choice.options.includes(value) ? choice.options : [value, ...choice.options];
  const choose = (word: string) => {
    if (choice.key === "coupling.kind") {
      draft.change(anotherCoupling(word, draft.statedKeys()));
      return;
    }
    const parent = choice.key.replace(/\.kind$/, "");
    const gone = choice.key.endsWith("conductor.kind") ? (NOT_OF_KIND[word] ?? []) : [];
    draft.change({ ...setting(choice.key, word), ...Object.fromEntries(gone.map((name) => [`${parent}.${name}`, null])) });
  };
  return (
    <div class={`control${choice.key in draft.edits.value ? " changed" : ""}`} data-key={choice.key}>
      <label for={id}>{choice.label}</label>
      <select id={id} value={value} onChange={(event) => choose(event.currentTarget.value)}>
        {options.map((option) => (
          <option key={option} value={option}>
            {option || "not stated"}
          </option>
        ))}
      </select>
      {refusal !== null && <Refusal text={refusal} />}
    </div>
  );
}

export function Chips({ choice }: { choice: Choice }) {
  const value = draft.valueNow(choice.key);
  const chosen = Array.isArray(value) ? value.map(String) : [];
  const refusal = refusalOf(choice.key);
  const toggle = (option: string) => {
    const isOn = chosen.includes(option);
    const next = choice.options.filter((one) => (one === option ? !isOn : chosen.includes(one)));
    draft.change({ [choice.key]: next, ...(choice.key === "bands" && { tune_to: null }) });
  };
  return (
    <fieldset class="chips" data-key={choice.key}>
      <legend>{choice.label}</legend>
      {choice.options.map((option) => (
        <button key={option} type="button" aria-pressed={chosen.includes(option)} onClick={() => toggle(option)}>
          {option}
        </button>
      ))}
      {refusal !== null && <Refusal text={refusal} />}
    </fieldset>
  );
}

const SIDES: readonly { shape: string; sides: string }[] = [
  { shape: "square", sides: "4 sides" },
  { shape: "hexagon", sides: "6 sides" },
  { shape: "octagon", sides: "8 sides" },
  { shape: "circle", sides: "circle" },
];

/** The number of sides as a slider; a circle has no end of them. Other shapes are chosen by name. */
export function SidesSlider({ choice }: { choice: Choice }) {
  const value = String(draft.valueNow(choice.key) ?? "");
  const index = SIDES.findIndex((one) => one.shape === value);
  const refusal = refusalOf(choice.key);
  const choose = (next: string) => draft.change({ [choice.key]: next, ...(next !== "oval" && { "ring.aspect": null }) });
  return (
    <div class={`control${choice.key in draft.edits.value ? " changed" : ""}`} data-key={choice.key}>
      <label for="control-sides">sides</label>
      <input
        id="control-sides"
        type="range"
        class="stops"
        min={0}
        max={SIDES.length - 1}
        value={index < 0 ? SIDES.length - 1 : index}
        aria-valuetext={SIDES[index]?.sides ?? value}
        onInput={(event) => choose(SIDES[event.currentTarget.valueAsNumber]?.shape ?? "circle")}
      />
      <select class="typed" aria-label="shape" value={value} onChange={(event) => choose(event.currentTarget.value)}>
        {[...new Set([...choice.options, value])].map((option) => (
          <option key={option}>{option}</option>
        ))}
      </select>
      {refusal !== null && <Refusal text={refusal} />}
    </div>
  );
}
