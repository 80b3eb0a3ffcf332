// SPDX-License-Identifier: BSD-3-Clause
// The upright cut: earth line, ring, metal, people, zones, and the lobe over the zenith. Height is taken hold of here.
import type { Drawing, SiteScene } from "../../api/messages";
import { written } from "../../figures";
import { shownLength } from "../../quantities";
import * as draft from "../../state/draft";
import { system } from "../../state/preferences";
import * as site from "../../state/site";
import { boxOf, pathOf, smoothPathOf, type Spot } from "../../widgets/ring_geometry";
import type { Size } from "../../widgets/size";
import { Handle } from "./handle";
import { METAL, itemsOf, PEOPLE, steps } from "./items";
import { ItemHandles, MetalLines } from "./item_handles";
import { Label, Paper, squareText, Zones } from "./marks";
import { type Place, onPaper, type Plane, polarPath, type Room } from "./plane";
import { heightNow, setHeight, type Stand, standNow } from "./stand";
import { degrees } from "./words";

export const EARTH_PX = 30; // of earth below the line
const HIGHEST = 30; // m, what the height slider says

export function sectionPlane(scene: SiteScene, room: Room, size: Size, scale: number): Plane {
  const zero: Spot = [size.width / 2 - ((room.low[0] + room.high[0]) / 2) * scale, size.height - EARTH_PX];
  return { ...size, scale, zero, right: scene.section.right, up: [0, 0, 1] };
}

interface Props {
  scene: SiteScene;
  drawing: Drawing;
  plane: Plane;
}

export function Section({ scene, drawing, plane }: Props) {
  const stand = standNow(drawing);
  const cut = site.cuts.value?.section ?? scene.section;
  return (
    <svg class="cut section" width={plane.width} height={plane.height} role="group" aria-label={inWords(scene, stand)}>
      <Paper plane={plane} id="section" system={system.value} />
      <clipPath id="above-earth">
        <rect width={plane.width} height={scene.earth ? plane.zero[1] : plane.height} />
      </clipPath>
      <g clip-path="url(#above-earth)">
        <Zones plane={plane} cut={cut} />
        <Lobe scene={scene} plane={plane} centre={onPaper(plane, stand.centre)} />
      </g>
      <Earth scene={scene} plane={plane} />
      <PlanLine plane={plane} />
      <MetalLines items={itemsOf(METAL)} plane={plane} isGone={scene.is_metal_gone} />
      <Ring stand={stand} drawing={drawing} plane={plane} />
      {draft.valueNow("feedline.outside") === "straight down" && <Cable stand={stand} plane={plane} />}
      <HeightHandle stand={stand} plane={plane} />
      <ItemHandles items={itemsOf(METAL)} plane={plane} scene={scene} />
      <ItemHandles items={itemsOf(PEOPLE)} plane={plane} scene={scene} />
      <text class="note" x={8} y={plane.height - 9}>
        {squareText(plane.scale, system.value)}
      </text>
      <text class="note lobe-note" x={8} y={18}>
        {`gain over the zenith, rim ${gainText(scene)}`}
      </text>
    </svg>
  );
}

/** The strongest gain as the table of figures has it written. */
export function gainText(scene: SiteScene): string {
  const figure = draft.figures.value.get("pattern.gain_max_dbi");
  if (!figure) return "";
  const { number, unit } = written(figure, scene.lobes.pattern.gain_max_dbi);
  return `${number} ${unit}`;
}

function Earth({ scene, plane }: { scene: SiteScene; plane: Plane }) {
  const y = plane.zero[1];
  if (!scene.earth) {
    return (
      <>
        <path class="no-earth" d={`M0 ${y}H${plane.width}`} />
        <Label at={[plane.width, y + 18]} text="free space: no earth below" width={plane.width} />
      </>
    );
  }
  return (
    <>
      <defs>
        <pattern id="earth-hatch" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path class="earth-stroke" d="M0 0V9" />
        </pattern>
      </defs>
      <rect class="earth-room" x={0} y={y} width={plane.width} height={plane.height - y} />
      <rect x={0} y={y} width={plane.width} height={9} fill="url(#earth-hatch)" />
      <path class="earth-line" d={`M0 ${y}H${plane.width}`} />
      <Label at={[plane.width, plane.height - 9]} text={`earth: ${scene.earth.name}`} width={plane.width} />
    </>
  );
}

/** The strongest direction of the whole sky lies on the rim: 30 dB from there to the middle. */
function Lobe({ scene, plane, centre }: { scene: SiteScene; plane: Plane; centre: Spot }) {
  const { over_angle_deg: angles, over_dbi: gains, pattern } = scene.lobes;
  const radius = lobeRadius(plane, centre, 10);
  return (
    <g class="lobe">
      <path class="lobe-fill" d={`${polarPath(centre, radius, pattern.gain_max_dbi, angles, gains)}L${centre[0]} ${centre[1]}Z`} />
      <path class="lobe-edge" d={polarPath(centre, radius, pattern.gain_max_dbi, angles, gains)} />
    </g>
  );
}

/** As large as the paper leaves room for around a middle, within reason. */
export function lobeRadius(plane: Plane, [x, y]: Spot, margin: number): number {
  const sides = [x, plane.width - x, y, ...(plane.up[2] === 1 ? [] : [plane.height - y])];
  return Math.min(Math.max(Math.min(...sides) - margin, 64), 0.42 * Math.min(plane.width, plane.height));
}

function Ring({ stand, drawing, plane }: { stand: Stand; drawing: Drawing; plane: Plane }) {
  const seen = (places: readonly Place[]) => places.map((place) => onPaper(plane, place));
  const gap = onPaper(plane, stand.gap);
  return (
    <g class="site-ring">
      <path class="conductor halo" d={pathOf(seen(stand.ring))} />
      <path class="conductor" d={pathOf(seen(stand.ring))} stroke-width={Math.max(2 * drawing.ring.radius_m * plane.scale, 2.5)} />
      {stand.coupling.length > 0 && (
        <path
          class="conductor thin"
          d={drawing.coupling.is_closed ? smoothPathOf(seen(stand.coupling)) : pathOf(seen(stand.coupling), false)}
        />
      )}
      <circle class="gap-dot" cx={gap[0]} cy={gap[1]} r={3.5} />
    </g>
  );
}

/** The outside of the feedline's screen, where it is a wire of the antenna. */
function Cable({ stand, plane }: { stand: Stand; plane: Plane }) {
  const [x, y] = onPaper(plane, stand.feed);
  return (
    <>
      <path class="cable" d={`M${x} ${y}V${plane.zero[1] - 3}`} />
      <Label at={[x + 22, plane.zero[1] - 22]} text="cable" width={plane.width} />
    </>
  );
}

function HeightHandle({ stand, plane }: { stand: Stand; plane: Plane }) {
  const height = heightNow() ?? stand.lowest;
  const box = boxOf(stand.ring.map((place) => onPaper(plane, place)));
  const x = (box.left + box.right) / 2;
  const foot = box.high; // on paper y runs down
  const { fine, coarse } = steps();
  const text = shownLength(height, system.value);
  return (
    <>
      <path class="dimension-line" d={`M${x} ${foot}V${plane.zero[1]}M${x - 4} ${plane.zero[1]}H${x + 4}M${x - 4} ${foot}H${x + 4}`} />
      <text class="note" x={x - 8} y={plane.zero[1] - 8} text-anchor="end">
        {text}
      </text>
      <Handle
        at={[x, foot]}
        class="height-handle"
        label="height of the ring's lowest point"
        value={{ now: Number(height.toFixed(2)), low: 0.1, high: HIGHEST, text }}
        drag={([, y]) => setHeight((plane.zero[1] - y) / plane.scale)}
        nudge={(right, up, isFar) => setHeight(height + (right + up) * (isFar ? coarse : fine))}
      >
        <path class="grip" d={`M${x} ${foot - 12}l7 8h-14ZM${x} ${foot + 12}l7-8h-14Z`} />
      </Handle>
    </>
  );
}

/** Where the plan cuts. */
function PlanLine({ plane }: { plane: Plane }) {
  const y = plane.zero[1] - site.planHeight.value * plane.scale;
  const x = plane.width - 26;
  const { fine, coarse } = steps();
  const setTo = (metres: number) => (site.planHeight.value = Math.min(Math.max(Number(metres.toFixed(2)), 0), 60));
  const text = shownLength(site.planHeight.value, system.value);
  return (
    <g class="plan-line">
      <path class="cut-trace" d={`M0 ${y}H${plane.width}`} />
      <text class="note" x={plane.width - 42} y={y - 5} text-anchor="end">
        plan
      </text>
      <Handle
        at={[x, y]}
        label="height of the cut that the plan shows"
        value={{ now: site.planHeight.value, low: 0, high: 60, text }}
        drag={([, to]) => setTo(Math.round((plane.zero[1] - to) / plane.scale / fine) * fine)}
        nudge={(right, up, isFar) => setTo(site.planHeight.value + (right + up) * (isFar ? coarse : fine))}
      >
        <path class="grip" d={`M${x} ${y - 11}l6 7h-12ZM${x} ${y + 11}l6-7h-12Z`} />
      </Handle>
    </g>
  );
}

function inWords(scene: SiteScene, stand: Stand): string {
  const plane = scene.section.name === "axis" ? "along the ring's axis" : "in the ring's plane";
  const lobe = `strongest at ${degrees(scene.lobes.pattern.elevation_deg)} elevation`;
  return `Side view ${plane}: ring from ${shownLength(stand.lowest, system.value)} to ${shownLength(stand.highest, system.value)} above ${scene.earth ? "the earth" : "zero"}, ${lobe}, ${draft.chosenBand.value ? draft.bandName(draft.chosenBand.value) : ""}`;
}
