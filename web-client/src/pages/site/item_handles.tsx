// SPDX-License-Identifier: BSD-3-Clause
// People and metal on a cut, and the handles that move them.
import type { SitePerson, SiteScene } from "../../api/messages";
import { shownLength } from "../../quantities";
import { system } from "../../state/preferences";
import * as site from "../../state/site";
import type { Spot } from "../../widgets/ring_geometry";
import { Handle } from "./handle";
import { type Item, METAL, move, PEOPLE, placeOf, remove, steps } from "./items";
import { Label, PersonMark, type Standing } from "./marks";
import { chosenItem } from "./chosen";
import { inMetres, movedTo, onPaper, type Place, type Plane } from "./plane";
import { limitWords, worst } from "./words";

/** What the scene says about a person of the draft; null while it has not been there yet. */
export function personOf(scene: SiteScene, item: Item, index: number): SitePerson | null {
  const person = site.isOfTheDraft.value ? scene.people[index] : undefined;
  return person !== undefined && person.name === item.values.name ? person : null;
}

export function standingOf(person: SitePerson | null): Standing {
  if (!person) return "unknown";
  return person.margins.every((margin) => margin.passes) ? "passes" : "exceeds";
}

export function MetalLines({ items, plane, isGone }: { items: readonly Item[]; plane: Plane; isGone: boolean }) {
  return (
    <g class={`site-metal${isGone ? " gone" : ""}`}>
      {items.map((item) => (
        <MetalLine key={item.number} item={item} plane={plane} />
      ))}
    </g>
  );
}

function MetalLine({ item, plane }: { item: Item; plane: Plane }) {
  const [from, to] = item.places;
  if (item.values.kind === "mesh") return <Mesh item={item} plane={plane} />;
  if (!from || !to) return null;
  const [a, b] = [onPaper(plane, from.at), onPaper(plane, to.at)];
  const middle: Spot = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2 - 9];
  return (
    <>
      <path class="metal-line" d={`M${a[0]} ${a[1]}L${b[0]} ${b[1]}`} />
      {Math.hypot(a[0] - b[0], a[1] - b[1]) < 3 && <circle class="metal-end" cx={a[0]} cy={a[1]} r={3.5} />}
      <Label at={middle} text={item.name} width={plane.width} />
    </>
  );
}

function Mesh({ item, plane }: { item: Item; plane: Plane }) {
  const [corner, along, across] = ["corner", "along", "across"].map((key) => placeOf(item.values[key]));
  if (!corner || !along || !across) return null;
  const at = (a: number, b: number) => onPaper(plane, corner.map((value, axis) => value + a * (along[axis] ?? 0) + b * (across[axis] ?? 0)));
  const line = (one: Spot, other: Spot) => `M${one.map((value) => value.toFixed(1)).join(" ")}L${other.map((value) => value.toFixed(1)).join(" ")}`;
  const parts = [0, 0.25, 0.5, 0.75, 1];
  return (
    <>
      <path class="metal-line fine" d={parts.map((part) => line(at(part, 0), at(part, 1)) + line(at(0, part), at(1, part))).join("")} />
      <Label at={[at(0.5, 0.5)[0], at(0.5, 0.5)[1] - 6]} text="mesh" width={plane.width} />
    </>
  );
}

export function ItemHandles({ items, plane, scene }: { items: readonly Item[]; plane: Plane; scene: SiteScene }) {
  return (
    <>
      {items.flatMap((item, index) =>
        item.places.map(({ key, at }) => <ItemHandle key={`${item.number} ${key}`} item={item} index={index} place={key} at={at} plane={plane} scene={scene} />),
      )}
    </>
  );
}

interface HandleProps {
  item: Item;
  index: number;
  place: string;
  at: Place;
  plane: Plane;
  scene: SiteScene;
}

const ENDS: Record<string, string> = { at: "", from: ", one end", to: ", other end", corner: ", corner" };

function ItemHandle({ item, index, place, at, plane, scene }: HandleProps) {
  const spot = onPaper(plane, at);
  const person = item.list === PEOPLE ? personOf(scene, item, index) : null;
  const { fine, coarse } = steps();
  const where = at.map((metres) => shownLength(metres, system.value)).join(", ");
  const to = (right: number, up: number) => move(item, place, movedTo(plane, at, [right, up]));
  const here = inMetres(plane, spot);
  const name = item.name.length > 24 ? `${item.name.slice(0, 23)}\u2026` : item.name;
  return (
    <>
      {item.list === PEOPLE && (
        <g aria-hidden="true">
          <Label at={[spot[0], spot[1] - 15]} text={name} width={plane.width} class="note name" />
          {person && <Label at={[spot[0], spot[1] + 24]} text={shortMargin(person)} width={plane.width} class={`note margin ${standingOf(person)}`} />}
        </g>
      )}
      <Handle
        at={spot}
        class={`item-handle ${item.list === METAL ? "metal-handle" : "person-handle"}`}
        label={`${item.name}${ENDS[place] ?? ""}, at ${where}${person ? `, ${marginWords(person)}` : ""}`}
        drag={(moved) => {
          const [right, up] = inMetres(plane, moved);
          to(right, up);
        }}
        nudge={(right, up, isFar) => to(here[0] + right * (isFar ? coarse : fine), here[1] + up * (isFar ? coarse : fine))}
        remove={() => remove(item)}
        choose={() => (chosenItem.value = { list: item.list, number: item.number })}
      >
        {item.list === METAL ? (
          <rect class="metal-grip" x={spot[0] - 5} y={spot[1] - 5} width={10} height={10} />
        ) : (
          <PersonMark at={spot} standing={standingOf(person)} />
        )}
      </Handle>
    </>
  );
}

function shortMargin(person: SitePerson): string {
  const least = worst(person.margins);
  if (least?.margin_unfavourable_db == null) return "no field";
  return least.passes ? `${least.margin_unfavourable_db.toFixed(0)} dB below` : `${(-least.margin_unfavourable_db).toFixed(0)} dB over`;
}

export function marginWords(person: SitePerson): string {
  const least = worst(person.margins);
  if (least?.margin_unfavourable_db == null) return "no field";
  const size = Math.abs(least.margin_unfavourable_db).toFixed(1);
  return `${least.passes ? "passes" : "exceeds"}, ${size} dB ${least.passes ? "below" : "over"} ${limitWords(least.limit).words}, ${least.tier}`;
}
