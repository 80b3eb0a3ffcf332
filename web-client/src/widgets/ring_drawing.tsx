// SPDX-License-Identifier: BSD-3-Clause
// The ring, to scale on squared paper: conductor as thick as it is, current as a ribbon along it, kilovolts at the gap,
// the coupling loop in its place, a person beside it. Pinned variants stand behind it as outlines.
import { useRef } from "preact/hooks";
import type { CoreDrawn, Drawing } from "../api/messages";
import { onARule, shownLength, significant, type System } from "../quantities";
import type { PinLetter } from "../state/address";
import { type Box, boxOf, flatten, normals, openedAtStart, pathOf, preferred, ribbon, round125, smoothPathOf, type Spot } from "./ring_geometry";
import { type Size, useSize } from "./size";

export interface Ghost {
  letter: PinLetter;
  drawing: Drawing;
}
interface Props {
  drawing: Drawing;
  ghosts: readonly Ghost[];
  system: System;
  /** The coupling loop's diameter, or the tap's place, as the design says it. */
  couplingSize: string;
}

/** Pixels of the widest ribbon, and what the gap's label and the dimension need beside the ring. */
const RIBBON = { share: 0.055, least: 10, most: 20 };
const BESIDE = 34;
const PERSON = { height: 1.75, belowCentre: 1.2 }; // m; the ring's centre is held at chest height, for scale only
// A standing figure of height 1, feet at 0, 1: head, then shoulders, arms and legs.
const FIGURE =
  "M-.046 .064a.046 .062 0 1 0 .092 0a.046 .062 0 1 0-.092 0ZM-.03 .125C-.04 .148-.118 .15-.126 .19L-.146 .47Q-.147 .5-.127 " +
  ".5Q-.11 .5-.106 .475L-.085 .28L-.082 .5L-.075 .965Q-.073 1-.042 1Q-.015 1-.013 .97L0 .56L.013 .97Q.015 1 .042 1Q.073 1 " +
  ".075 .965L.082 .5L.085 .28L.106 .475Q.11 .5 .127 .5Q.147 .5 .146 .47L.126 .19C.118 .15 .04 .148 .03 .125Z";

export function RingDrawing(props: Props) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  return (
    <div class="ring-frame" ref={frame}>
      {size && size.width > 0 && <Paper {...props} size={size} />}
    </div>
  );
}

function Paper({ drawing, ghosts, system, couplingSize, size }: Props & { size: Size }) {
  const flat = flatten(drawing);
  const box = boxOf(flat.ring);
  const isUpright = Math.abs(drawing.up[2]) > 0.5;
  const scale = size.height / viewHeight(box, size);
  const middle: Spot = [size.width * (isUpright ? 0.44 : 0.5), size.height / 2];
  const widest = widestRibbon(size);
  const toPaper = ([x, y]: Spot): Spot => [middle[0] + x * scale, middle[1] - y * scale];
  const ring = flat.ring.map(toPaper);
  const square = squareSize(scale, system);
  return (
    <svg class="ring-drawing" width={size.width} height={size.height} role="img" aria-label={inWords(drawing, box, system)}>
      <Squares pixels={square * scale} origin={middle} />
      {isUpright && <Person scale={scale} middle={middle} edge={toPaper([box.right, 0])[0] + widest} width={size.width} />}
      {ghosts.map((ghost) => (
        <GhostRing key={ghost.letter} ghost={ghost} toPaper={toPaper} />
      ))}
      <Ribbon ring={ring} conductor={drawing.ring.radius_m * scale} current={drawing.ring.current_rms_a} widest={widest} />
      <Ring ring={ring} thickness={2 * drawing.ring.radius_m * scale} />
      {drawing.core ? (
        <Core at={toPaper(flat.feed)} core={drawing.core} />
      ) : (
        <Coupling
          outline={flat.coupling.map(toPaper)}
          isClosed={drawing.coupling.is_closed}
          feed={toPaper(flat.feed)}
          thickness={2 * drawing.coupling.radius_m * scale}
          size={couplingWords(drawing, couplingSize, toPaper([box.right, 0])[0] - toPaper([box.left, 0])[0] > 180)}
        />
      )}
      <Gap ring={ring} thickness={2 * drawing.ring.radius_m * scale} volts={drawing.gap_voltage_peak_v} widest={widest} />
      <Dimension box={box} toPaper={toPaper} isBelow={flat.gap[1] > 0} widest={widest} system={system} />
      <text class="note" transform={`translate(17 ${size.height - 10}) rotate(-90)`}>
        {`1 square = ${sized(square, system)}${isUpright ? "" : ", seen from above"}`}
      </text>
    </svg>
  );
}

/** Metres shown from top to bottom, in steps, so that the ring is seen to grow while it is dragged. */
function viewHeight(box: Box, size: Size): number {
  const [width, height] = [box.right - box.left, box.high - box.low];
  const room = size.height - 2 * (widestRibbon(size) + BESIDE);
  return preferred(Math.max((height * size.height) / room, (1.8 * width * size.height) / size.width));
}

function widestRibbon({ height }: Size): number {
  return Math.min(Math.max(RIBBON.share * height, RIBBON.least), RIBBON.most);
}

function squareSize(scale: number, system: System): number {
  const steps =
    system === "metric" ? [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5] : [1, 3, 6, 12, 36, 120].map((inches) => inches * 0.0254);
  return steps.find((step) => step * scale >= 13) ?? 10;
}

function Squares({ pixels, origin: [x, y] }: { pixels: number; origin: Spot }) {
  const heavy = 5 * pixels;
  return (
    <>
      <defs>
        <pattern id="squares" width={pixels} height={pixels} x={x} y={y} patternUnits="userSpaceOnUse">
          <path class="square" d={`M0 0H${pixels}M0 0V${pixels}`} />
        </pattern>
        <pattern id="squares-strong" width={heavy} height={heavy} x={x} y={y} patternUnits="userSpaceOnUse">
          <path class="square-strong" d={`M0 0H${heavy}M0 0V${heavy}`} />
        </pattern>
      </defs>
      <rect width="100%" height="100%" fill="url(#squares)" />
      <rect width="100%" height="100%" fill="url(#squares-strong)" />
    </>
  );
}

function Person({ scale, middle, edge, width }: { scale: number; middle: Spot; edge: number; width: number }) {
  const height = PERSON.height * scale;
  const half = 0.15 * height;
  const x = Math.min(edge + 24 + half, Math.max(width - half - 8, edge));
  const top = middle[1] + PERSON.belowCentre * scale - height;
  return <path class="person" d={FIGURE} transform={`translate(${x} ${top}) scale(${height})`} />;
}

function GhostRing({ ghost, toPaper }: { ghost: Ghost; toPaper: (spot: Spot) => Spot }) {
  const flat = flatten(ghost.drawing);
  const ring = flat.ring.map(toPaper);
  const [nodeX, nodeY] = ring[Math.round(ring.length * (ghost.letter === "A" ? 0.88 : 0.12))] ?? [0, 0];
  const [middleX, middleY] = toPaper([0, 0]);
  const [x, y] = [nodeX + 0.16 * (middleX - nodeX), nodeY + 0.16 * (middleY - nodeY)];
  return (
    <g class={`ghost pin-${ghost.letter}`}>
      <path d={pathOf(ring)} />
      <path d={pathOf(flat.coupling.map(toPaper), ghost.drawing.coupling.is_closed)} />
      <text x={x} y={y}>
        {ghost.letter}
      </text>
    </g>
  );
}

interface RibbonProps {
  ring: readonly Spot[];
  conductor: number;
  current: readonly number[];
  widest: number;
}

/** As wide as the current is large; full width stands for a round number of amperes, stated beside the drawing. */
function Ribbon({ ring, conductor, current, widest }: RibbonProps) {
  const full = fullRibbon(current);
  const widths = current.map((amperes) => (widest * amperes) / full);
  const { inner, outer } = ribbon(ring, Math.max(conductor, 0.75), widths);
  return (
    <g class="ribbon">
      <path class="ribbon-fill" fill-rule="evenodd" d={pathOf(outer) + pathOf(inner)} />
      <path class="ribbon-edge" d={pathOf(outer)} />
    </g>
  );
}

/** Amperes at which the ribbon has its full width. */
export function fullRibbon(current: readonly number[]): number {
  return round125(Math.max(...current, 1e-6));
}

function Ring({ ring, thickness }: { ring: readonly Spot[]; thickness: number }) {
  return <path class="conductor" d={pathOf(openedAtStart(ring, gapHalf(thickness)), false)} stroke-width={Math.max(thickness, 1.5)} />;
}

function gapHalf(thickness: number): number {
  return Math.max(0.6 * thickness, 4);
}

function Gap({ ring, thickness, volts, widest }: { ring: readonly Spot[]; thickness: number; volts: number; widest: number }) {
  const [x, y] = ring[0] ?? [0, 0];
  const [nx, ny] = normals(ring)[0] ?? [0, -1];
  const half = gapHalf(thickness);
  const plate = Math.max(1.4 * thickness, 9);
  const degrees = (Math.atan2(ny, nx) * 180) / Math.PI + 90;
  const away = plate + widest + 4;
  const anchor = nx > 0.4 ? "start" : nx < -0.4 ? "end" : "middle";
  return (
    <>
      <g transform={`translate(${x} ${y}) rotate(${degrees})`}>
        <rect class="gap-room" x={-half} y={-plate - widest} width={2 * half} height={2 * plate + widest} />
        <path class="plate" d={`M${-half} ${-plate}V${plate}M${half} ${-plate}V${plate}`} />
      </g>
      <g transform={`translate(${x + nx * away} ${y + ny * away + (ny < -0.4 ? 0 : ny > 0.4 ? 14 : 5)})`}>
        <text class="volts" text-anchor={anchor}>
          {`${significant(volts / 1e3, 3)} kV peak`}
        </text>
      </g>
    </>
  );
}

function couplingWords(drawing: Drawing, size: string, hasRoom: boolean): string {
  if (!hasRoom) return size;
  return drawing.coupling.is_closed ? `coupling loop ${size}` : `tapped at ${size}`;
}

/** A sign, not to scale: how large a core is, nobody asks. */
function Core({ at: [x, y], core }: { at: Spot; core: CoreDrawn }) {
  return (
    <g class="coupling">
      <rect class="core" x={x - 9} y={y - 9} width={18} height={18} rx={5} />
      <text class="note" text-anchor="middle" x={x} y={y - 16}>
        {`core, ${core.primary_turns} : ${core.passes} turns`}
      </text>
    </g>
  );
}

interface CouplingProps {
  outline: readonly Spot[];
  isClosed: boolean;
  feed: Spot;
  thickness: number;
  size: string;
}

function Coupling({ outline, isClosed, feed, thickness, size }: CouplingProps) {
  const { left, right, low } = boxOf(outline); // on paper y runs down, so `low` is the upper edge
  return (
    <g class="coupling">
      <path class="conductor" d={isClosed ? smoothPathOf(outline) : pathOf(outline, false)} stroke-width={Math.max(thickness, 1.5)} />
      <circle class="feed" cx={feed[0]} cy={feed[1]} r={4} />
      <text class="note" text-anchor="middle" x={(left + right) / 2} y={low - 11}>
        {size}
      </text>
      {right - left > 60 && (
        <text class="note" x={feed[0] + 9} y={feed[1] + 14}>
          feed
        </text>
      )}
    </g>
  );
}

interface DimensionProps {
  box: Box;
  toPaper: (spot: Spot) => Spot;
  isBelow: boolean;
  widest: number;
  system: System;
}

function Dimension({ box, toPaper, isBelow, widest, system }: DimensionProps) {
  const [left, right] = [toPaper([box.left, 0])[0], toPaper([box.right, 0])[0]];
  const edge = toPaper([0, isBelow ? box.low : box.high])[1];
  const y = edge + (isBelow ? 1 : -1) * (widest + 15);
  const middle = (left + right) / 2;
  const words = sized(box.right - box.left, system);
  const half = Math.max(30, 4 * words.length);
  return (
    <g class="dimension">
      <path d={`M${left} ${y}H${right}M${left} ${y - 5}V${y + 5}M${right} ${y - 5}V${y + 5}`} />
      <rect x={middle - half} y={y - 9} width={2 * half} height={18} />
      <text x={middle} y={y + 4.5} text-anchor="middle">
        {words}
      </text>
    </g>
  );
}

/** As on page Build: in inches, never in decimals of a foot. */
function sized(metres: number, system: System): string {
  return system === "imperial" ? onARule(metres) : shownLength(metres, system);
}

function inWords(drawing: Drawing, box: Box, system: System): string {
  const size = `${sized(box.right - box.left, system)} wide and ${sized(box.high - box.low, system)} high`;
  const thick = shownLength(2 * drawing.ring.radius_m, system);
  return `The ring to scale: ${size}, conductor ${thick}, ${significant(drawing.gap_voltage_peak_v / 1e3, 3)} kilovolts peak at the gap`;
}
