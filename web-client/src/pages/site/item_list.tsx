// SPDX-License-Identifier: BSD-3-Clause
// People or metal as a list to type into: one can be open at a time, and it is the one in hand on the drawing.
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import type { SitePerson } from "../../api/messages";
import { countIn } from "../../quantities";
import * as draft from "../../state/draft";
import { system } from "../../state/preferences";
import * as site from "../../state/site";
import { Refusal, TypedValue, useTyped } from "../../widgets/quantity_slider";
import { chosenItem } from "./chosen";
import { SiteFigure } from "./figure";
import { type Item, itemsOf, lengthValue, METAL, PEOPLE, refusalOf, remove, set } from "./items";
import { marginWords, personOf, standingOf } from "./item_handles";
import { PersonMark } from "./marks";
import { limitKey, limitWords } from "./words";

interface Props {
  list: string;
  title: string;
  none: string;
  children?: ComponentChildren;
}

export function ItemList({ list, title, none, children }: Props) {
  const items = itemsOf(list);
  return (
    <fieldset class="control-group item-list">
      <legend>{title}</legend>
      {items.length === 0 && <p class="quiet small">{none}</p>}
      {items.length > 0 && children}
      {items.map((item, index) => (
        <ItemRow key={item.number} item={item} index={index} />
      ))}
    </fieldset>
  );
}

function ItemRow({ item, index }: { item: Item; index: number }) {
  const row = useRef<HTMLDetailsElement>(null);
  const isByHand = useRef(false); // opened here, where the focus is already
  const chosen = chosenItem.value;
  const isOpen = chosen?.list === item.list && chosen.number === item.number;
  const key = `${item.list}[${item.number}]`;
  const refusal = refusalOf(key);
  const scene = site.scene.value;
  const person = item.list === PEOPLE && scene ? personOf(scene, item, index) : null;
  useEffect(() => {
    const isHere = isByHand.current || row.current?.contains(document.activeElement);
    isByHand.current = false;
    if (isOpen && !isHere) row.current?.querySelector<HTMLInputElement>("input")?.focus({ preventScroll: true });
  }, [isOpen]);
  return (
    <details
      ref={row}
      class="item"
      data-key={key}
      open={isOpen || refusal !== null}
      onToggle={(event) => {
        const wants = event.currentTarget.open;
        if (wants === isOpen || refusal !== null) return;
        isByHand.current = wants;
        chosenItem.value = wants ? { list: item.list, number: item.number } : null;
      }}
    >
      <summary>
        {item.list === PEOPLE && (
          <svg class="item-mark" viewBox="-12 -12 24 24" aria-hidden="true">
            <PersonMark at={[0, 0]} standing={standingOf(person)} />
          </svg>
        )}
        <span>
          {item.name}
          {person && <span class="quiet"> {marginWords(person)}</span>}
        </span>
      </summary>
      <Fields item={item} keyOf={key} />
      {person && <Limits person={person} />}
      {refusal !== null && <Refusal text={refusal} />}
      <button type="button" class="remove" onClick={() => remove(item)}>
        Take {item.name} out
      </button>
    </details>
  );
}

/** Every limit at somebody's spot by itself, and the power that would just keep it, at the unfavourable end of the range. */
function Limits({ person }: { person: SitePerson }) {
  return (
    <table class="person-limits">
      <thead>
        <tr>
          <th scope="col">limit</th>
          <th scope="col">margin</th>
          <th scope="col">passes up to</th>
        </tr>
      </thead>
      <tbody>
        {person.margins.map((margin) => (
          <tr key={limitKey(margin)}>
            <th scope="row">
              {margin.passes ? "" : "exceeds "}
              {limitWords(margin.limit).words}, {margin.tier}
            </th>
            <td>
              <SiteFigure of="people.margin_unfavourable_db" value={margin.margin_unfavourable_db} />
            </td>
            <td>
              <SiteFigure of="people.power_allowed_unfavourable_w" value={margin.power_allowed_unfavourable_w} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const POINTS: Record<string, string> = { at: "spot", from: "from", to: "to", corner: "corner", along: "along", across: "across" };

function Fields({ item, keyOf }: { item: Item; keyOf: string }) {
  const isMesh = item.values.kind === "mesh";
  const points = item.list === PEOPLE ? ["at"] : isMesh ? ["corner", "along", "across"] : ["from", "to"];
  return (
    <>
      {item.list === PEOPLE && <WordField item={item} name="name" label="name" keyOf={keyOf} />}
      {item.list === METAL && !isMesh && <WordField item={item} name="kind" label="what it is" keyOf={keyOf} />}
      {points.map((point) => (
        <PointFields key={point} item={item} point={point} />
      ))}
      {item.list === PEOPLE ? <KindChoice item={item} keyOf={keyOf} /> : <MetalFields item={item} keyOf={keyOf} isMesh={isMesh} />}
    </>
  );
}

function PointFields({ item, point }: { item: Item; point: string }) {
  const value = item.values[point];
  const parts = Array.isArray(value) ? value.map(String) : ["", "", ""];
  const commit = (axis: number, text: string) => {
    const next = parts.map((part, index) => (index === axis ? withUnit(text) : part));
    set(item, point, next);
  };
  return (
    <div class="point-fields" role="group" aria-label={`${item.name}, ${POINTS[point]}`}>
      <span class="quiet small">{POINTS[point]}</span>
      {["x", "y", "z"].map((axis, index) => (
        <label key={axis}>
          <span class="small">{axis}</span>
          <TypedValue
            key={parts[index]}
            shown={inSystem(parts[index] ?? "")}
            label={`${item.name}, ${POINTS[point]}, ${axis}`}
            isDefault={false}
            refusalId={undefined}
            commit={(text) => commit(index, text)}
          />
        </label>
      ))}
    </div>
  );
}

/** A length as it stands in the file, or in the person's unit. */
function inSystem(text: string): string {
  const metres = countIn(text, "m");
  if (metres === null) return text;
  const isImperial = /(ft|in)$/.test(text.trim());
  return isImperial === (system.value === "imperial") ? text : lengthValue(metres, 1);
}

function withUnit(text: string): string {
  const trimmed = text.trim();
  return trimmed !== "" && !Number.isNaN(Number(trimmed)) ? `${trimmed} ${system.value === "metric" ? "m" : "ft"}` : trimmed;
}

function WordField({ item, name, label, keyOf }: { item: Item; name: string; label: string; keyOf: string }) {
  const id = `${keyOf}.${name}`.replaceAll(/[^a-z0-9]+/g, "-");
  return (
    <div class="control wide-field">
      <label for={id}>{label}</label>
      <input
        id={id}
        class="field"
        type="text"
        autocomplete="off"
        {...useTyped(String(item.values[name] ?? ""), (text) => set(item, name, text))}
      />
    </div>
  );
}

function KindChoice({ item, keyOf }: { item: Item; keyOf: string }) {
  const id = `${keyOf}.kind`.replaceAll(/[^a-z0-9]+/g, "-");
  return (
    <div class="control wide-field">
      <label for={id}>who</label>
      <select id={id} value={String(item.values.kind ?? "public")} onChange={(event) => set(item, "kind", event.currentTarget.value)}>
        <option value="public">anyone (public)</option>
        <option value="informed">informed, may leave (occupational tier)</option>
      </select>
    </div>
  );
}

function MetalFields({ item, keyOf, isMesh }: { item: Item; keyOf: string; isMesh: boolean }) {
  const materials = draft.start.value?.choices.find((one) => one.key === "ring.conductor.material")?.options ?? [];
  const id = `${keyOf}.material`.replaceAll(/[^a-z0-9]+/g, "-");
  const material = String(item.values.material ?? (item.values.conductivity === undefined ? "steel" : ""));
  const sizes = isMesh ? ["spacing", "diameter"] : ["diameter"];
  return (
    <>
      {sizes.map((name) => (
        <div key={name} class="control wide-field">
          <span>{name}</span>
          <TypedValue key={String(item.values[name])} shown={String(item.values[name] ?? "")} label={`${item.name}, ${name}`} isDefault={false} refusalId={undefined} commit={(text) => set(item, name, text || null)} />
        </div>
      ))}
      <div class="control wide-field">
        <label for={id}>metal</label>
        <select id={id} value={material} onChange={(event) => set(item, "material", event.currentTarget.value)}>
          {[...new Set([...materials, material])].map((one) => (
            <option key={one} value={one}>
              {one || "as stated by its constants"}
            </option>
          ))}
        </select>
      </div>
    </>
  );
}
