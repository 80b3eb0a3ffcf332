// SPDX-License-Identifier: BSD-3-Clause
import { useEffect } from "preact/hooks";
import { PIN_LETTERS } from "../state/address";
import { designs, open, pin, takeUp, unpin, workspace } from "../state/bench";
import * as draft from "../state/draft";
import { isExplaining, system, theme } from "../state/preferences";
import { save } from "../state/saving";

export function TopBar() {
  return (
    <header class="top">
      <p class="name">
        <strong>Ringwright</strong>
        <span class="quiet small">{workspace.value}</span>
      </p>
      <DesignOnBench />
      <Pins />
      <Preferences />
    </header>
  );
}

function DesignOnBench() {
  const name = draft.base.value?.name ?? null;
  const files = designs.value.map((design) => design.name);
  if (name !== null && !files.includes(name)) files.push(name);
  const count = Object.keys(draft.edits.value).length;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key.toLowerCase() !== "s" || !(event.ctrlKey || event.metaKey)) return;
      event.preventDefault();
      void save();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);
  return (
    <div class="on-bench">
      <select aria-label="design" value={name ?? ""} onChange={(event) => void open(event.currentTarget.value || null)}>
        <option value="">a first ring, not saved yet</option>
        {files.map((file) => (
          <option key={file} value={file}>
            {file}
          </option>
        ))}
      </select>
      <button type="button" class="chief" disabled={name !== null && count === 0} title="Ctrl+S" onClick={() => void save()}>
        Save
      </button>
      {count > 0 && (
        <button type="button" aria-label={`undo ${count} ${count === 1 ? "change" : "changes"}`} onClick={() => (draft.edits.value = {})}>
          Undo {count}
        </button>
      )}
    </div>
  );
}

function Pins() {
  const free = PIN_LETTERS.find((letter) => !draft.pins.value[letter]);
  return (
    <div class="pins" role="group" aria-label="Pinned variants">
      {PIN_LETTERS.filter((letter) => draft.pins.value[letter]).map((letter) => (
        <span key={letter} class={`pin pin-${letter}`}>
          <button type="button" title="Take it up again" aria-label={`take up variant ${letter}`} onClick={() => void takeUp(letter)}>
            {letter}
          </button>
          <button type="button" aria-label={`remove variant ${letter}`} onClick={() => unpin(letter)}>
            {"\u00d7"}
          </button>
        </span>
      ))}
      {free && (
        <button type="button" disabled={!draft.picture.value} title="Keep this variant as a ghost in every plot" onClick={() => pin(free)}>
          Pin {free}
        </button>
      )}
    </div>
  );
}

function Preferences() {
  const isDark = theme.value === "dark";
  const isImperial = system.value === "imperial";
  return (
    <div class="preferences" role="group" aria-label="Preferences">
      <button type="button" aria-pressed={isExplaining.value} onClick={() => (isExplaining.value = !isExplaining.value)}>
        Explain
      </button>
      <button type="button" aria-label={`lengths in ${isImperial ? "feet and inches" : "metres"}; change`} onClick={() => (system.value = isImperial ? "metric" : "imperial")}>
        {isImperial ? "ft" : "m"}
      </button>
      <button type="button" aria-label={isDark ? "dark; change to light" : "light; change to dark"} onClick={() => (theme.value = isDark ? "light" : "dark")}>
        <svg viewBox="0 0 24 24" aria-hidden="true" class="lamp">
          <circle cx="12" cy="12" r="7" />
          <path d="M12 5a7 7 0 0 1 0 14Z" />
        </svg>
      </button>
    </div>
  );
}
