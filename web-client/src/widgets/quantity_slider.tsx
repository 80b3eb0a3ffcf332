// SPDX-License-Identifier: BSD-3-Clause
// A quantity to drag or to type. What cannot be built says so right here, and the handle stays where it was put.
import type { TargetedFocusEvent, TargetedInputEvent, TargetedKeyboardEvent } from "preact";
import { useState } from "preact/hooks";
import type { Slider, Value } from "../api/messages";
import {
  controlFor,
  numberAt,
  numberOf,
  positionOf,
  POSITIONS,
  setting,
  textOfValue,
  valueOfNumber,
  valueOfText,
} from "../controls";
import * as draft from "../state/draft";
import { asOneStep } from "../state/history";
import { system } from "../state/preferences";

export function QuantitySlider({ slider }: { slider: Slider }) {
  const control = controlFor(slider, draft.isStated, system.value);
  const value = draft.valueNow(control.key);
  const number = numberOf(control, value);
  const shown = textOfValue(control, value);
  const id = `control-${control.key.replaceAll(".", "-")}`;
  const refusal = draft.problem.value?.key === control.key ? draft.problem.value.text : null;
  const set = (next: Value | null) => draft.change(setting(control.key, next));
  return (
    <div class={`control${control.key in draft.edits.value ? " changed" : ""}`} data-key={control.key}>
      <label for={id}>{control.label}</label>
      <input
        id={id}
        type="range"
        min={0}
        max={POSITIONS}
        value={number === null ? POSITIONS / 2 : positionOf(control, number)}
        aria-valuetext={shown || "not stated"}
        aria-describedby={refusal === null ? undefined : `${id}-refusal`}
        onInput={(event) => set(valueOfNumber(control, numberAt(control, event.currentTarget.valueAsNumber, number)))}
      />
      <TypedValue
        key={shown}
        shown={shown}
        label={`${control.label}, typed`}
        isDefault={!draft.isStated(control.key)}
        refusalId={refusal === null ? undefined : `${id}-refusal`}
        commit={(text) => set(text.trim() === "" ? null : valueOfText(control, text))}
      />
      {refusal !== null && <Refusal id={`${id}-refusal`} text={refusal} />}
    </div>
  );
}

interface TypedProps {
  shown: string;
  label: string;
  isDefault: boolean;
  refusalId: string | undefined;
  commit: (text: string) => void;
}

/** A text field's handlers: what is typed counts only when it is finished with Enter or left, whatever is drawn anew in
 * between; Escape brings the old text back. */
export function useTyped(shown: string, commit: (text: string) => void) {
  const [typed, setTyped] = useState<string | null>(null);
  // What stands in the field counts, not what was drawn last: a hand may be quicker than the next picture.
  const finish = (text: string) => {
    if (text !== shown) asOneStep(() => commit(text));
    setTyped(null);
  };
  return {
    value: typed ?? shown,
    onInput: (event: TargetedInputEvent<HTMLInputElement>) => setTyped(event.currentTarget.value),
    onBlur: (event: TargetedFocusEvent<HTMLInputElement>) => finish(event.currentTarget.value),
    onKeyDown: (event: TargetedKeyboardEvent<HTMLInputElement>) => {
      if (event.key === "Enter") finish(event.currentTarget.value);
      if (event.key === "Escape") {
        event.currentTarget.value = shown;
        setTyped(null);
      }
    },
  };
}

/** Empty: left out of the file. */
export function TypedValue({ shown, label, isDefault, refusalId, commit }: TypedProps) {
  return (
    <input
      class={`field typed${isDefault ? " default" : ""}`}
      type="text"
      autocomplete="off"
      spellcheck={false}
      title={isDefault ? "A default: the design does not state it" : undefined}
      aria-label={label}
      aria-invalid={refusalId !== undefined}
      aria-describedby={refusalId}
      {...useTyped(shown, commit)}
    />
  );
}

export function Refusal({ id, text }: { id?: string; text: string }) {
  return (
    <p class="refusal" id={id} role="alert">
      {text}
    </p>
  );
}
