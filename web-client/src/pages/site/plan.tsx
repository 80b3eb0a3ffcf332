// SPDX-License-Identifier: BSD-3-Clause
// The level cut, seen from above: ring, metal, people, zones, the lobe round the horizon and its null, in true
// bearings. The ring is turned here, people and railings are placed.
import { useRef, useState } from "preact/hooks";
import type { Direction, Drawing, SiteScene } from "../../api/messages";
import { shownLength } from "../../quantities";
import { system } from "../../state/preferences";
import * as site from "../../state/site";
import { pathOf, type Spot } from "../../widgets/ring_geometry";
import type { Size } from "../../widgets/size";
import { chosenItem, placing } from "./chosen";
import { Handle, holdThePage } from "./handle";
import { addPerson, addRailing, itemsOf, METAL, PEOPLE } from "./items";
import { ItemHandles, MetalLines } from "./item_handles";
import { Label, Paper, squareText, Zones } from "./marks";
import { inMetres, onPaper, type Place, type Plane, polarPath, type Room, turnOf } from "./plane";
import { gainText, lobeRadius } from "./section";
import { setTurn, solvedTurn, type Stand, standNow, turnNow, turnOfScene } from "./stand";
import { bearingText, degrees } from "./words";

export const REACH = 1.2; // m above the earth: the height of a hand or a seat, where something is placed
export const RAIL_HEIGHT = 0.9; // m
const CARD_EDGE = 52; // px outside the compass card for its letters and the noise

export function planPlane({ low, high }: Room, size: Size, scale: number): Plane {
  const zero: Spot = [size.width / 2 - ((low[0] + high[0]) / 2) * scale, size.height / 2 + ((low[1] + high[1]) / 2) * scale];
  return { ...size, scale, zero, right: [1, 0, 0], up: [0, 1, 0] };
}

interface Props {
  scene: SiteScene;
  drawing: Drawing;
  plane: Plane;
}

export function Plan({ scene, drawing, plane }: Props) {
  const stand = standNow(drawing);
  const cut = site.cuts.value?.plan ?? scene.plan;
  const centre = onPaper(plane, stand.centre);
  const label = `Plan at ${shownLength(site.planHeight.value, system.value)}, ring turned ${degrees(turnNow() ?? 0)}`;
  return (
    <svg class="cut plan" width={plane.width} height={plane.height} role="group" aria-label={label}>
      <Paper plane={plane} id="plan" system={system.value} />
      <Zones plane={plane} cut={cut} />
      <Around scene={scene} plane={plane} centre={centre} />
      <Trace scene={scene} plane={plane} />
      <MetalLines items={itemsOf(METAL)} plane={plane} isGone={scene.is_metal_gone} />
      <path class="conductor plan-ring" d={pathOf(stand.ring.map((place) => onPaper(plane, place)))} />
      {placing.value && <PlacingRoom plane={plane} />}
      <TurnHandle stand={stand} drawing={drawing} plane={plane} />
      <ItemHandles items={itemsOf(METAL)} plane={plane} scene={scene} />
      <ItemHandles items={itemsOf(PEOPLE)} plane={plane} scene={scene} />
      {site.noiseBearing.value !== null && <NoiseHandle scene={scene} plane={plane} centre={centre} />}
      <text class="note" x={8} y={plane.height - 9}>
        {`plan at ${shownLength(site.planHeight.value, system.value)}, ${squareText(plane.scale, system.value)}`}
      </text>
      <text class="note lobe-note" x={8} y={18}>
        {`gain at ${degrees(scene.lobes.elevation_deg)} elevation, rim ${gainText(scene)}`}
      </text>
    </svg>
  );
}

/** Degrees from the x axis towards y that true north lies at. */
export function northOf(scene: SiteScene): number {
  const { azimuth_deg, bearing_deg } = scene.lobes.quietest;
  return azimuth_deg + bearing_deg;
}

function towards(centre: Spot, radius: number, azimuth: number): Spot {
  const angle = (azimuth * Math.PI) / 180;
  return [centre[0] + radius * Math.cos(angle), centre[1] - radius * Math.sin(angle)];
}

/** The lobe at the chosen elevation inside a compass card, and its nulls. */
function Around({ scene, plane, centre }: { scene: SiteScene; plane: Plane; centre: Spot }) {
  const { around_dbi: gains, pattern, nulls } = scene.lobes;
  const radius = lobeRadius(plane, centre, CARD_EDGE);
  const north = northOf(scene);
  const angles = gains.map((_, index) => (index * 360) / gains.length);
  const path = `${polarPath(centre, radius, pattern.gain_max_dbi, angles, gains)}Z`;
  return (
    <g class="lobe">
      <circle class="card" cx={centre[0]} cy={centre[1]} r={radius} />
      {Array.from({ length: 36 }, (_, index) => {
        const [a, b] = [towards(centre, radius, north - index * 10), towards(centre, radius + (index % 9 === 0 ? 8 : 4), north - index * 10)];
        return <path key={index} class="card" d={`M${a[0]} ${a[1]}L${b[0]} ${b[1]}`} />;
      })}
      {["N", "E", "S", "W"].map((name, index) => {
        const [x, y] = towards(centre, radius + 18, north - index * 90);
        return (
          <text key={name} class="note compass" x={x} y={y + 4.5} text-anchor="middle">
            {name}
          </text>
        );
      })}
      <path class="lobe-fill" d={path} />
      <path class="lobe-edge" d={path} />
      {nulls.slice(0, 4).map((one) => (
        <NullMark key={one.azimuth_deg} direction={one} centre={centre} radius={radius} width={plane.width} />
      ))}
    </g>
  );
}

function NullMark({ direction, centre, radius, width }: { direction: Direction; centre: Spot; radius: number; width: number }) {
  const tip = towards(centre, radius - 4, direction.azimuth_deg);
  const [one, other] = [-4, 4].map((side) => towards(centre, radius + 7, direction.azimuth_deg + side));
  const text = towards(centre, radius - 24, direction.azimuth_deg);
  return (
    <>
      <path class="null-mark" d={`M${tip[0]} ${tip[1]}L${one?.[0]} ${one?.[1]}L${other?.[0]} ${other?.[1]}Z`} />
      <Label at={[text[0], text[1] + 4]} text={`null ${direction.depth_db.toFixed(0)} dB`} width={width} />
    </>
  );
}

/** Where the side view cuts. */
function Trace({ scene, plane }: { scene: SiteScene; plane: Plane }) {
  const [x, y] = scene.section.right;
  const far = Math.max(plane.width, plane.height);
  const [a, b] = [-1, 1].map((side) => [plane.zero[0] + side * x * far, plane.zero[1] - side * y * far]);
  return <path class="cut-trace" d={`M${a?.join(" ")}L${b?.join(" ")}`} />;
}

function TurnHandle({ stand, drawing, plane }: { stand: Stand; drawing: Drawing; plane: Plane }) {
  const centre = onPaper(plane, stand.centre);
  const half = Math.max(...stand.ring.map((place) => Math.hypot(place[0], place[1]))) * plane.scale;
  const turn = turnNow() ?? solvedTurn(drawing);
  const knob = towards(centre, half + 26, turn);
  return (
    <>
      <path class="turn-arm" d={`M${towards(centre, half, turn).join(" ")}L${knob.join(" ")}`} />
      <Handle
        at={knob}
        class="turn-handle"
        label="the ring, turned"
        value={{ now: Math.round(turn), low: -180, high: 180, text: `${Math.round(turn)} degrees from x towards y` }}
        drag={([x, y]) => setTurn((Math.atan2(centre[1] - y, x - centre[0]) * 180) / Math.PI)}
        nudge={(right, up, isFar) => setTurn(turn + (up - right) * (isFar ? 15 : 1))}
      >
        <circle class="grip" cx={knob[0]} cy={knob[1]} r={7} />
        <path class="grip-sign" d={`M${knob[0] - 3.5} ${knob[1]}a3.5 3.5 0 1 1 3.5 3.5`} />
      </Handle>
    </>
  );
}

/** A source of noise on the rim: taking it round turns the ring so that its null follows. */
function NoiseHandle({ scene, plane, centre }: { scene: SiteScene; plane: Plane; centre: Spot }) {
  const bearing = site.noiseBearing.value ?? 0;
  const radius = lobeRadius(plane, centre, CARD_EDGE) + 34;
  const knob = towards(centre, radius, northOf(scene) - bearing);
  const depth = scene.lobes.towards?.depth_db;
  const setTo = (to: number) => pointNullAt(scene, to);
  return (
    <Handle
      at={knob}
      class="noise-handle"
      label="source of noise; the ring turns its null there"
      value={{ now: Math.round(bearing), low: 0, high: 360, text: `${bearingText(bearing)}${depth === undefined ? "" : `, ${depth.toFixed(0)} decibels down`}` }}
      drag={([x, y]) => setTo(northOf(scene) - (Math.atan2(centre[1] - y, x - centre[0]) * 180) / Math.PI)}
      nudge={(right, up, isFar) => setTo(bearing + (right + up) * (isFar ? 15 : 1))}
    >
      <circle class="noise-room" cx={knob[0]} cy={knob[1]} r={11} />
      <path class="noise-sign" d={`M${knob[0] - 8} ${knob[1] + 1}l3-6l3 10l4-12l3 9l2-4`} />
      <Label at={[knob[0], knob[1] + 24]} text="noise" width={plane.width} />
    </Handle>
  );
}

/** Notes the bearing of the noise and turns the ring by what its nearest deep dip lacks. */
export function pointNullAt(scene: SiteScene, bearing: number): void {
  const whole = ((bearing % 360) + 360) % 360;
  site.noiseBearing.value = Math.round(whole);
  const wanted = northOf(scene) - whole;
  const { nulls, quietest } = scene.lobes;
  const deep = [quietest, ...nulls.filter((one) => one.depth_db > quietest.depth_db - 1)];
  const missing = deep.map((one) => turnOf(wanted - one.azimuth_deg)).reduce((least, one) => (Math.abs(one) < Math.abs(least) ? one : least));
  setTurn(turnOfScene(scene) + missing);
}

/** Takes the next press: a person's spot, or a railing from where it begins to where the hand lets go. */
function PlacingRoom({ plane }: { plane: Plane }) {
  const begun = useRef<Place | null>(null);
  const [line, setLine] = useState<readonly [Spot, Spot] | null>(null);
  const spotOf = (event: PointerEvent): Spot => {
    const box = (event.currentTarget as SVGElement).getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const placeAt = (spot: Spot, height: number): Place => [...inMetres(plane, spot), height] as Place;
  const onDown = (event: PointerEvent) => {
    const spot = spotOf(event);
    if (placing.value === "person") {
      chosenItem.value = { list: PEOPLE, number: addPerson(placeAt(spot, REACH)) };
      placing.value = null;
      return;
    }
    (event.currentTarget as SVGElement).setPointerCapture(event.pointerId);
    begun.current = placeAt(spot, RAIL_HEIGHT);
    setLine([spot, spot]);
  };
  const onUp = (event: PointerEvent) => {
    const from = begun.current;
    if (!from) return;
    begun.current = null;
    setLine(null);
    const to = placeAt(spotOf(event), RAIL_HEIGHT);
    if (Math.hypot(to[0] - from[0], to[1] - from[1]) < 0.2) return; // a press is no railing
    chosenItem.value = { list: METAL, number: addRailing(from, to) };
    placing.value = null;
  };
  return (
    <>
      <rect
        class="placing-room"
        width={plane.width}
        height={plane.height}
        onTouchStart={holdThePage}
        onPointerDown={onDown}
        onPointerMove={(event) => line && setLine([line[0], spotOf(event)])}
        onPointerUp={onUp}
      />
      {line && <path class="metal-line drawn" d={`M${line[0].join(" ")}L${line[1].join(" ")}`} />}
    </>
  );
}
