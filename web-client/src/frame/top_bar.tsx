// SPDX-License-Identifier: BSD-3-Clause
import { useEffect, useRef } from "preact/hooks";
import { PIN_LETTERS } from "../state/address";
import { designs, open, pin, takeUp, unpin, workspace } from "../state/bench";
import * as draft from "../state/draft";
import { canRedo, canUndo, redo, undo } from "../state/history";
import { openFiles } from "../state/opening";
import { isExplaining, system, theme } from "../state/preferences";
import { save } from "../state/saving";
import { isTyped } from "./stop_bar";

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

const LONGEST = 32; // letters that a phone shows, too

/** A name with its middle left out, where it is long: rings kept from one search differ at their ends. */
function inShort(name: string): string {
  return name.length <= LONGEST ? name : `${name.slice(0, 10)}…${name.slice(11 - LONGEST)}`;
}

function DesignOnBench() {
  const name = draft.base.value?.name ?? null;
  const files = designs.value.map((design) => design.name);
  if (name !== null && !files.includes(name)) files.push(name);
  const count = Object.keys(draft.edits.value).length;
  useEffect(() => {
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);
  return (
    <div class="on-bench">
      <select aria-label="design" value={name ?? ""} onChange={(event) => void open(event.currentTarget.value || null)}>
        <option value="">a first ring, not saved yet</option>
        {files.map((file) => (
          <option key={file} value={file} title={file}>
            {inShort(file)}
          </option>
        ))}
      </select>
      <OpenFile />
      <button type="button" class="chief" disabled={name !== null && count === 0} title="Ctrl+S" onClick={() => void save()}>
        Save
      </button>
      <Step label="undo the last change" keys="Control+Z" mark={BACK} isThere={canUndo.value} take={undo} />
      {canRedo.value && <Step label="do again what was undone" keys="Control+Shift+Z" mark={FORTH} isThere take={redo} />}
      {count > 0 && (
        <button type="button" aria-label={`drop ${count} ${count === 1 ? "change" : "changes"}`} title="Back to what the file has; can be undone" onClick={() => (draft.edits.value = {})}>
          Drop {count}
        </button>
      )}
    </div>
  );
}

/** Control or Command with S, Z, Shift Z or Y; in a text field the last three are the field's own. */
function onKey(event: KeyboardEvent): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  if (key === "s") {
    event.preventDefault();
    void save();
  } else if ((key === "z" || key === "y") && !isTyped(event.target) && !document.querySelector("dialog[open]")) {
    event.preventDefault();
    if (key === "y" || event.shiftKey) redo();
    else undo();
  }
}

const BACK = "M9 6L4 11l5 5M4 11h10a5 5 0 0 1 0 10h-3";
const FORTH = "M15 6l5 5l-5 5M20 11H10a5 5 0 0 0 0 10h3";

interface StepProps {
  label: string;
  keys: string;
  mark: string;
  isThere: boolean;
  take: () => void;
}

function Step({ label, keys, mark, isThere, take }: StepProps) {
  return (
    <button type="button" class="step" disabled={!isThere} aria-label={label} aria-keyshortcuts={keys} title={keys.replace("Control", "Ctrl")} onClick={take}>
      <svg viewBox="0 0 24 24" aria-hidden="true">
        <path d={mark} />
      </svg>
    </button>
  );
}

/** A design file of the person's own; it may be dropped on a page as well. */
function OpenFile() {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" title="A design file (.toml) from this computer; it may be dropped on the page, too" onClick={() => input.current?.click()}>
        Open
      </button>
      <input
        ref={input}
        type="file"
        accept=".toml"
        multiple
        hidden
        aria-label="design files"
        onChange={(event) => {
          void openFiles([...(event.currentTarget.files ?? [])]);
          event.currentTarget.value = "";
        }}
      />
    </>
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
