// SPDX-License-Identifier: BSD-3-Clause
// What is asked for: bands, room, where, what is at hand, and what counts.
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import * as brief from "../../state/brief";
import * as draft from "../../state/draft";
import { shownLength } from "../../quantities";
import { system } from "../../state/preferences";
import { PageLink } from "../../widgets/page_link";
import { useTyped } from "../../widgets/quantity_slider";

const WORTH: Record<brief.Weight, string> = {
  sky_db: "a decibel into the sky",
  size: "a metre less across",
  mass: "a kilogram less",
  cost: "a unit of money less",
  bandwidth: "a decibel more width",
  margin: "a decibel more margin",
};

export function BriefForm({ children }: { children: ComponentChildren }) {
  const form = brief.form.value;
  const stock = brief.stock.value;
  return (
    <form class="brief-form" aria-label="Brief" onSubmit={(event) => event.preventDefault()}>
      <FromFile />
      <fieldset>
        <legend>Bands</legend>
        <Chips names={stock?.bands ?? form.bands} on={form.bands} change={(bands) => brief.set({ bands })} />
        <Refusal of="bands" />
      </fieldset>
      <div class="brief-pair">
        <Typed label="Power" of="power" value={form.power} set={(power) => brief.set({ power })} />
        <label class="brief-field">
          Mode
          <select value={form.mode} onChange={(event) => brief.set({ mode: event.currentTarget.value })}>
            {form.mode === "" && <option value="">the file's duty</option>}
            {(stock?.modes ?? [form.mode]).map((mode) => (
              <option key={mode}>{mode}</option>
            ))}
          </select>
        </label>
      </div>
      <fieldset>
        <legend>Room the ring must fit in</legend>
        <div class="brief-triple">
          <Typed label="Width" of="room.width" hint="any" value={form.room.width} set={(width) => brief.set({ room: { ...form.room, width } })} />
          <Typed label="Depth" of="room.depth" hint="any" value={form.room.depth} set={(depth) => brief.set({ room: { ...form.room, depth } })} />
          <Typed label="Height" of="room.height" hint="any" value={form.room.height} set={(height) => brief.set({ room: { ...form.room, height } })} />
        </div>
      </fieldset>
      <Where />
      <fieldset>
        <legend>Rings to try</legend>
        <Chips names={stock?.shapes ?? form.shapes} on={form.shapes} change={(shapes) => brief.set({ shapes })} />
        <div class="brief-triple">
          <Typed label="Round, from" of="grid.perimeter" value={form.perimeter.from} set={(from) => brief.set({ perimeter: { ...form.perimeter, from } })} />
          <Typed label="to" value={form.perimeter.to} set={(to) => brief.set({ perimeter: { ...form.perimeter, to } })} />
          <Typed label="sizes" value={form.perimeter.count} set={(count) => brief.set({ perimeter: { ...form.perimeter, count } })} />
        </div>
        <Refusal of="grid.shape" />
        <Parts title="Conductors" names={stock?.conductors ?? []} />
        <Parts title="Capacitors" names={stock?.capacitors ?? []} />
      </fieldset>
      <fieldset>
        <legend>At most</legend>
        <div class="brief-pair">
          <Typed label="Mass" of="limits.mass" hint="any, or 8 kg" value={form.mass} set={(mass) => brief.set({ mass })} />
          <Typed label="Cost" of="limits.cost" hint="any, or 90 EUR" value={form.cost} set={(cost) => brief.set({ cost })} />
          <Typed label="Volts stood over needed, at least" of="limits.capacitor_voltage_margin" value={form.margin} set={(margin) => brief.set({ margin })} />
          <Typed label="SWR" of="limits.swr" hint="any" value={form.swr} set={(swr) => brief.set({ swr })} />
        </div>
      </fieldset>
      <fieldset>
        <legend>What a step is worth, in decibels</legend>
        <div class="brief-pair">
          {brief.WEIGHTS.map((name) => (
            <Typed key={name} label={WORTH[name]} of={`weights.${name}`} value={form.weights[name]} set={(text) => brief.set({ weights: { ...form.weights, [name]: text } })} />
          ))}
        </div>
        <Refusal of="weights" />
      </fieldset>
      {children}
    </form>
  );
}

/** Which file the fields start from, what of it counts without a field, and what does not. */
function FromFile() {
  const stored = brief.file.value;
  if (!stored?.file) return null;
  if (stored.problem)
    return (
      <p class="refusal brief-file" role="status">
        {stored.problem}. These fields are not the file's.
      </p>
    );
  return (
    <section class="brief-file quiet" aria-label="The folder's brief">
      <p>
        {brief.isOfFile.value ? `As in ${stored.file} in this folder.` : `Changed from ${stored.file} in this folder; the file stays as it is. `}
        {!brief.isOfFile.value && (
          <button type="button" onClick={brief.takeFile}>
            Fill in from {stored.file}
          </button>
        )}
        {brief.before.value && (
          <>
            {" "}
            <button type="button" onClick={brief.takeBack}>
              Back to what stood here
            </button>
          </>
        )}
      </p>
      {stored.says.map((text) => (
        <p key={text}>{text}</p>
      ))}
    </section>
  );
}

function Where() {
  const height = draft.valueNow("site.height");
  const earth = draft.valueNow("site.earth");
  const keys = draft.statedKeys();
  const count = (list: string) => new Set(keys.flatMap((key) => new RegExp(`^site\\.${list}\\[(\\d+)\\]`).exec(key)?.[1] ?? [])).size;
  const [people, metal] = [count("people"), count("metal")];
  const metres = typeof height === "string" && /^[\d.]+ m$/.test(height) ? shownLength(Number.parseFloat(height), system.value) : String(height ?? "1.8 m");
  return (
    <section class="brief-where" aria-labelledby="where">
      <h2 id="where">Where</h2>
      <p>
        Lowest point {metres} up, earth: {String(earth ?? "average")}; {metal === 0 ? "no metal" : metal === 1 ? "1 piece of metal" : `${metal} pieces of metal`} and{" "}
        {people === 0 ? "nobody" : people === 1 ? "1 person" : `${people} people`} nearby.{" "}
        <PageLink to="site">Draw it on the page Site</PageLink>
      </p>
    </section>
  );
}

function Chips({ names, on, change }: { names: readonly string[]; on: readonly string[]; change: (names: string[]) => void }) {
  return (
    <div class="chips">
      {names.map((name) => (
        <button key={name} type="button" class="chip" aria-pressed={on.includes(name)} onClick={() => change(brief.toggled(on, name, names))}>
          {name}
        </button>
      ))}
    </div>
  );
}

function Parts({ title, names }: { title: string; names: readonly string[] }) {
  const without = brief.form.value.without;
  const some = names.filter((name) => !without.includes(name)).length;
  const all = brief.stock.value ? [...brief.stock.value.conductors, ...brief.stock.value.capacitors] : [];
  const rest = without.filter((name) => !names.includes(name));
  return (
    <details class="brief-parts">
      <summary>
        {title}: {some === names.length ? `all ${names.length}` : `${some} of ${names.length}`}
      </summary>
      <p>
        <button type="button" onClick={() => brief.set({ without: rest })}>
          All
        </button>{" "}
        <button type="button" onClick={() => brief.set({ without: [...rest, ...names] })}>
          None
        </button>
      </p>
      <ul>
        {names.map((name) => (
          <li key={name}>
            <label>
              <input type="checkbox" checked={!without.includes(name)} onChange={() => brief.set({ without: brief.toggled(without, name, all) })} />
              {name}
            </label>
          </li>
        ))}
      </ul>
    </details>
  );
}

interface TypedProps {
  label: string;
  /** The brief's key, to which a refusal belongs. */
  of?: string;
  hint?: string;
  value: string;
  set: (text: string) => void;
}

function Typed({ label, of, hint, value, set }: TypedProps) {
  const isRefused = of !== undefined && brief.problem.value?.key === of;
  const id = useId();
  return (
    <div class="brief-field">
      <label for={id}>{label}</label>
      <input
        id={id}
        class="field"
        type="text"
        autocomplete="off"
        spellcheck={false}
        placeholder={hint ?? ""}
        aria-invalid={isRefused}
        aria-describedby={isRefused ? `${id}-refusal` : undefined}
        {...useTyped(value, set)}
      />
      {of !== undefined && <Refusal of={of} id={`${id}-refusal`} />}
    </div>
  );
}

function Refusal({ of, id }: { of: string; id?: string }) {
  const problem = brief.problem.value;
  if (problem?.key?.replace(/\[.*/, "") !== of) return null;
  return (
    <span class="refusal" role="alert" id={id}>
      {problem.text}
    </span>
  );
}
