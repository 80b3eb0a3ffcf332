// SPDX-License-Identifier: BSD-3-Clause
// The picture in the middle: side view and plan to one scale, or the pattern in space in their place.
import { signal } from "@preact/signals";
import { useRef } from "preact/hooks";
import type { Cut, Drawing, SiteScene } from "../../api/messages";
import * as draft from "../../state/draft";
import * as site from "../../state/site";
import type { Spot } from "../../widgets/ring_geometry";
import { type Size, useSize } from "../../widgets/size";
import { isHolding, placing, zoom } from "./chosen";
import { itemsOf, METAL, PEOPLE } from "./items";
import { Hatches } from "./marks";
import { Plan, planPlane } from "./plan";
import { dot, type Place, type Room, roomFor, scaleFor } from "./plane";
import { EARTH_PX, Section, sectionPlane } from "./section";
import { SpaceView } from "./space_view";
import { standNow } from "./stand";
import { Triangle } from "../../widgets/triangle";
import { Tools } from "./tools";

type Side = "section" | "plan";
/** On a narrow screen one cut is in sight at a time. */
export const narrowSide = signal<Side>("section");
const NARROW = 560; // px
const FARTHEST_METAL = 12; // m, a long wire need not be seen to its end
const LEAST_ROOM = 1.6; // m to each side of the ring
const AIR = 0.3; // m

export function Picture({ scene, drawing }: { scene: SiteScene; drawing: Drawing }) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const isSpace = site.isInSpace.value;
  const isNarrow = size !== null && size.width < NARROW;
  return (
    <figure class="site-figure">
      <div class="in-sight">
        <ViewChoice isNarrow={isNarrow} />
        <div class="site-frame" ref={frame}>
          {size && size.width > 0 && (isSpace ? <SpaceView drawing={drawing} size={size} /> : <Cuts scene={scene} drawing={drawing} size={size} isNarrow={isNarrow} />)}
          {!isSpace && <Zoom />}
        </div>
      </div>
      {!isSpace && <Tools />}
      <figcaption class="caution small">
        <Triangle />
        {site.cautions.value?.high_voltage}
      </figcaption>
      {draft.problem.value && <p class="stale small">This is the last site that works.</p>}
    </figure>
  );
}

function Cuts({ scene, drawing, size, isNarrow }: { scene: SiteScene; drawing: Drawing; size: Size; isNarrow: boolean }) {
  const panel = { width: isNarrow ? size.width : Math.floor((size.width - 1) / 2), height: size.height };
  const kept = useRef<Rooms | null>(null);
  if (!isHolding.value || kept.current === null) kept.current = roomsOf(scene, drawing);
  const rooms = kept.current;
  const fits = [scaleFor(rooms.section, panel.width, panel.height - EARTH_PX), scaleFor(rooms.plan, panel.width, panel.height)];
  const scale = Math.min(...fits) * zoom.value;
  const isPlan = placing.value !== null || narrowSide.value === "plan";
  return (
    <>
      <svg width="0" height="0" class="out-of-sight" aria-hidden="true">
        <Hatches />
      </svg>
      {(!isNarrow || !isPlan) && <Section scene={scene} drawing={drawing} plane={sectionPlane(scene, rooms.section, panel, scale)} />}
      {(!isNarrow || isPlan) && <Plan scene={scene} drawing={drawing} plane={planPlane(rooms.plan, panel, scale)} />}
    </>
  );
}

interface Rooms {
  section: Room;
  plan: Room;
}

/** What has to be in sight on each cut: ring, people, metal nearby and the zones. */
function roomsOf(scene: SiteScene, drawing: Drawing): Rooms {
  const { ring, highest } = standNow(drawing);
  const near = (metres: number) => Math.min(Math.max(metres, -FARTHEST_METAL), FARTHEST_METAL);
  const people = itemsOf(PEOPLE).flatMap((item) => item.places.map((one) => one.at));
  const metal = itemsOf(METAL).flatMap((item) => item.places.map((one): Place => [near(one.at[0]), near(one.at[1]), near(one.at[2])]));
  const places = [...ring, ...people, ...metal];
  const around = (cut: Cut): Spot[] => cut.zones.flatMap((zone) => zone.rings_m.flatMap((flat) => pairs(flat)));
  const { right, origin_m: origin } = scene.section;
  const section = [...places.map((place): Spot => [dot(place, right), place[2]]), ...around(scene.section).map(([x, y]): Spot => [x, y + origin[2]])];
  const plan = [...places.map(([x, y]): Spot => [x, y]), ...around(scene.plan)];
  const atLeast: Spot[] = [
    [-LEAST_ROOM, 0],
    [LEAST_ROOM, highest + 0.4],
  ];
  return {
    section: roomFor([...section, ...atLeast], AIR),
    plan: roomFor([...plan, [-LEAST_ROOM, -LEAST_ROOM], [LEAST_ROOM, LEAST_ROOM]], AIR),
  };
}

function pairs(flat: readonly number[]): Spot[] {
  return Array.from({ length: Math.floor(flat.length / 2) }, (_, index): Spot => [flat[2 * index] ?? 0, flat[2 * index + 1] ?? 0]);
}

function ViewChoice({ isNarrow }: { isNarrow: boolean }) {
  const isSpace = site.isInSpace.value;
  const isPlan = isNarrow && (narrowSide.value === "plan" || placing.value !== null);
  const show = (next: Partial<{ cut: "axis" | "plane"; side: Side; space: boolean }>) => () => {
    site.isInSpace.value = next.space ?? false;
    placing.value = null;
    if (next.cut) site.section.value = next.cut;
    narrowSide.value = next.side ?? "section";
  };
  const isCut = (cut: "axis" | "plane") => !isSpace && !isPlan && site.section.value === cut;
  return (
    <div class="view-choice" role="group" aria-label="What the picture shows">
      <button type="button" aria-pressed={isCut("axis")} onClick={show({ cut: "axis" })}>
        {isNarrow ? "Axis" : "Side view along the axis"}
      </button>
      <button type="button" aria-pressed={isCut("plane")} onClick={show({ cut: "plane" })}>
        {isNarrow ? "Plane" : "in the ring's plane"}
      </button>
      {isNarrow && (
        <button type="button" aria-pressed={!isSpace && isPlan} onClick={show({ side: "plan" })}>
          Plan
        </button>
      )}
      <button type="button" aria-pressed={isSpace} onClick={show({ space: true })}>
        {isNarrow ? "Space" : "Pattern in space"}
      </button>
    </div>
  );
}

function Zoom() {
  return (
    <span class="zoom" role="group" aria-label="Scale">
      <button type="button" aria-label="larger" onClick={() => (zoom.value = Math.min(zoom.value * 1.25, 8))}>
        +
      </button>
      <button type="button" aria-label="smaller" onClick={() => (zoom.value = Math.max(zoom.value / 1.25, 0.25))}>
        {"\u2212"}
      </button>
    </span>
  );
}
