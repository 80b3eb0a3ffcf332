// SPDX-License-Identifier: BSD-3-Clause
// The pattern in space on a plain canvas: facets sorted from back to front, as a painter would. Drag it to turn it, or
// take the arrow keys.
import { signal } from "@preact/signals";
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Drawing, SiteScene, SiteSpace } from "../../api/messages";
import { theme } from "../../state/preferences";
import * as site from "../../state/site";
import type { Size } from "../../widgets/size";
import { facets, type Look, seen } from "./facets";
import { northOf } from "./plan";
import { bearingText, degrees } from "./words";

const look = signal<Look>({ azimuth: -60, elevation: 24 });
const DEGREES_PER_PIXEL = 0.5;

function turnBy(azimuth: number, elevation: number): void {
  const { value } = look;
  look.value = { azimuth: (value.azimuth + azimuth) % 360, elevation: Math.min(Math.max(value.elevation + elevation, -89), 89) };
}

const KEYS: Record<string, readonly [number, number]> = { ArrowLeft: [5, 0], ArrowRight: [-5, 0], ArrowUp: [0, 5], ArrowDown: [0, -5] };

export function SpaceView({ drawing, size }: { drawing: Drawing; size: Size }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const held = useRef<{ x: number; y: number } | null>(null);
  const { space, scene } = { space: site.space.value, scene: site.scene.value };
  const from = look.value;
  const light = theme.value;
  useLayoutEffect(() => {
    if (canvas.current && space && scene) paint(canvas.current, { space, scene, drawing, size, from });
  }, [space, scene, drawing, size.width, size.height, from, light]);
  const strongest = scene && `strongest at ${degrees(scene.lobes.pattern.elevation_deg)} elevation, bearing ${bearingText(scene.lobes.pattern.bearing_deg)}`;
  return (
    <>
      <canvas
        ref={canvas}
        class="space-view"
        tabIndex={0}
        role="img"
        aria-label={`Pattern in space, ${strongest ?? "not there yet"}. Seen from bearing ${scene ? bearingText((northOf(scene) - from.azimuth + 720) % 360) : ""}; arrow keys turn it.`}
        style={{ width: `${size.width}px`, height: `${size.height}px` }}
        onKeyDown={(event) => {
          const turn = KEYS[event.key];
          if (!turn) return;
          event.preventDefault();
          turnBy(...turn);
        }}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          held.current = { x: event.clientX, y: event.clientY };
        }}
        onPointerMove={(event) => {
          if (!held.current) return;
          turnBy((held.current.x - event.clientX) * DEGREES_PER_PIXEL, (event.clientY - held.current.y) * DEGREES_PER_PIXEL);
          held.current = { x: event.clientX, y: event.clientY };
        }}
        onPointerUp={() => (held.current = null)}
        onPointerCancel={() => (held.current = null)}
      />
      {!space && <p class="waiting quiet">Drawing the pattern…</p>}
    </>
  );
}

interface Scenery {
  space: SiteSpace;
  scene: SiteScene;
  drawing: Drawing;
  size: Size;
  from: Look;
}

function paint(canvas: HTMLCanvasElement, { space, scene, drawing, size, from }: Scenery): void {
  const pen = canvas.getContext("2d");
  if (!pen) return;
  const sharp = devicePixelRatio || 1;
  [canvas.width, canvas.height] = [Math.round(size.width * sharp), Math.round(size.height * sharp)];
  pen.setTransform(sharp, 0, 0, sharp, 0, 0);
  const ink = (name: string) => inkOf(canvas, name);
  const radius = 0.42 * Math.min(size.width * 0.8, size.height);
  const hasEarth = scene.earth !== null;
  const middle = { x: size.width / 2, y: size.height * (hasEarth ? 0.66 : 0.5) };
  card(pen, { scene, from, radius, middle, ink: ink("--rule-strong"), words: ink("--ink-soft"), font: getComputedStyle(canvas).fontFamily });
  const [low, high, edge, dark] = [ink("--lobe-low"), ink("--lobe-high"), ink("--lobe-line"), ink("--lobe-shade")];
  pen.lineWidth = 0.6;
  pen.lineJoin = "round";
  for (const facet of facets(space, scene.lobes.pattern.gain_max_dbi, from)) {
    pen.beginPath();
    facet.corners.forEach(([x, y], index) => (index ? pen.lineTo : pen.moveTo).call(pen, middle.x + x * radius, middle.y - y * radius));
    pen.closePath();
    const shade = Math.round(62 + 38 * facet.light);
    pen.fillStyle = `color-mix(in oklab, color-mix(in oklab, ${high} ${Math.round(100 * facet.share)}%, ${low}) ${shade}%, ${dark})`;
    pen.strokeStyle = edge;
    pen.fill();
    pen.stroke();
  }
  ringMark(pen, { drawing, from, middle, radius, ink: ink("--ink") });
}

/** A colour of the style sheet as it is in this light. */
function inkOf(canvas: HTMLCanvasElement, name: string): string {
  canvas.style.color = `var(${name})`;
  return getComputedStyle(canvas).color;
}

interface Card {
  scene: SiteScene;
  from: Look;
  radius: number;
  middle: { x: number; y: number };
  ink: string;
  words: string;
  font: string;
}

/** The horizon with its true bearings. */
function card(pen: CanvasRenderingContext2D, { scene, from, radius, middle, ink, words, font }: Card): void {
  const north = northOf(scene);
  const at = (azimuth: number, far: number) => {
    const angle = (azimuth * Math.PI) / 180;
    const [x, y] = seen([far * Math.cos(angle), far * Math.sin(angle), 0], from);
    return [middle.x + x * radius, middle.y - y * radius] as const;
  };
  pen.strokeStyle = ink;
  pen.lineWidth = 1;
  pen.beginPath();
  for (let azimuth = 0; azimuth <= 360; azimuth += 5) pen.lineTo(...at(azimuth, 1.05));
  for (let azimuth = 0; azimuth < 360; azimuth += 45) {
    pen.moveTo(...at(azimuth, 0));
    pen.lineTo(...at(azimuth, 1.05));
  }
  pen.stroke();
  pen.fillStyle = words;
  pen.font = `600 13px ${font}`;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  ["N", "E", "S", "W"].forEach((name, index) => pen.fillText(name, ...at(north - index * 90, 1.17)));
}

interface RingMark {
  drawing: Drawing;
  from: Look;
  middle: { x: number; y: number };
  radius: number;
  ink: string;
}

/** The ring in the middle, not to the scale of anything: it shows how the lobe lies to it. */
function ringMark(pen: CanvasRenderingContext2D, { drawing, from, middle, radius, ink }: RingMark): void {
  const offsets = drawing.ring.points_m.map((point) => point.map((value, axis) => value - (drawing.centre_m[axis] ?? 0)));
  const size = Math.max(...offsets.map((offset) => Math.hypot(...offset)));
  pen.strokeStyle = ink;
  pen.lineWidth = 1.75;
  pen.beginPath();
  for (const offset of [...offsets, offsets[0] ?? [0, 0, 0]]) {
    const [x, y] = seen(offset.map((value) => (0.13 * value) / size), from);
    pen.lineTo(middle.x + x * radius, middle.y - y * radius);
  }
  pen.stroke();
}
