// SPDX-License-Identifier: BSD-3-Clause
// From the server's list of sliders to what stands on the page: the key that the design states where several can say
// the same, the unit the person reads, and where the handle stands.
import type { Edits, Slider, Value } from "./api/messages";
import { countIn, type System } from "./quantities";

export interface Control {
  key: string;
  label: string;
  unit: string | null;
  low: number;
  high: number;
  digits: number;
  isLogarithmic: boolean;
}

/** Sliders that stand beside the server's where the design states their key or its shape has it. */
export const BESIDE: readonly Slider[] = [
  { key: "ring.aspect", label: "width : height", unit: null, low: 0.3, high: 3, digits: 2, is_logarithmic: true },
  { key: "capacitor.plate_gap", label: "plate gap", unit: "mm", low: 0.2, high: 20, digits: 2, is_logarithmic: true },
];

/** Other keys that say what a slider's key says; setting one leaves the others out of the file. */
const SAME: Record<string, readonly Control[]> = {
  "ring.perimeter": [
    control("ring.diameter", "diameter", "m", 0.25, 4, 3),
    control("ring.side", "side", "m", 0.1, 3, 3),
  ],
  "capacitor.q": [control("capacitor.esr", "series resistance", "mohm", 1, 500, 1)],
};
const IMPERIAL: Record<string, readonly [unit: string, size: number, digits: number]> = {
  m: ["ft", 0.3048, 0],
  mm: ["in", 25.4, 2],
};
/** Of a coupling, which nobody measures in feet. */
const IN_INCHES = ["in", 0.0254, -1] as const;
export const POSITIONS = 1000;

function control(key: string, label: string, unit: string, low: number, high: number, digits: number): Control {
  return { key, label, unit, low, high, digits, isLogarithmic: true };
}

/** The control for a slider of the server, given which keys are stated and how the person reads lengths. */
export function controlFor(slider: Slider, isStated: (key: string) => boolean, system: System): Control {
  const { is_logarithmic: isLogarithmic, ...rest } = slider;
  const same = SAME[slider.key]?.find((one) => isStated(one.key)) ?? { ...rest, isLogarithmic };
  const isSmall = same.unit === "m" && same.key.startsWith("coupling.");
  const imperial = system !== "imperial" ? undefined : isSmall ? IN_INCHES : IMPERIAL[same.unit ?? ""];
  if (!imperial) return same;
  const [unit, size, digits] = imperial;
  return { ...same, unit, low: same.low / size, high: same.high / size, digits: same.digits + digits };
}

/** Keys that say the same by another way, with no control of their own. */
const INSTEAD: Record<string, readonly string[]> = { mode: ["duty"], transmit_share: ["duty"] };

/** What each kind of coupling has, and where it starts: sizes to pull about, not to build. */
const COUPLINGS: Record<string, { keys: readonly string[]; start: Edits }> = {
  loop: {
    keys: ["diameter", "shape", "squash", "at", "clearance", "feed_at", "conductor.diameter"],
    start: { "coupling.diameter": "0.2 m" },
  },
  tapped: { keys: ["tap_at", "clearance", "conductor.diameter"], start: { "coupling.tap_at": "0.3 m" } },
  transformer: {
    keys: ["turns", "passes", "inductance_factor", "core_q"],
    start: { "coupling.turns": 10, "coupling.inductance_factor": "1 uH", "coupling.core_q": 20 },
  },
};

/** Whether a kind of coupling has a key; true of keys of anything else. */
export function couplingHas(kind: string, key: string): boolean {
  const [table, ...name] = key.split(".");
  return table !== "coupling" || name[0] === "kind" || (COUPLINGS[kind]?.keys.includes(name.join(".")) ?? true);
}

/** The edits that turn a coupling into another kind: what the new one does not have is left out. */
export function anotherCoupling(kind: string, stated: readonly string[]): Edits {
  const foreign = stated.filter((key) => key.startsWith("coupling.") && !couplingHas(kind, key));
  const conductor = kind === "transformer" ? stated.filter((key) => key.startsWith("coupling.conductor.")) : [];
  const edits: Edits = Object.fromEntries([...foreign, ...conductor].map((key) => [key, null]));
  const start = Object.entries(COUPLINGS[kind]?.start ?? {}).filter(([key]) => !stated.includes(key));
  return { ...edits, ...Object.fromEntries(start), "coupling.kind": kind };
}

/** The edit that sets a key: whatever else says the same is left out. */
export function setting(key: string, value: Value | null): Edits {
  const group = Object.entries(SAME).find(([main, others]) => main === key || others.some((one) => one.key === key));
  const edits: Edits = {};
  if (group) for (const other of [group[0], ...group[1].map((one) => one.key)]) edits[other] = null;
  for (const other of INSTEAD[key] ?? []) edits[other] = null;
  edits[key] = value;
  return edits;
}

/** A value in the control's own form. */
export function valueOfNumber(control: Control, number: number): Value {
  const rounded = number.toFixed(control.digits);
  return control.unit === null ? Number(rounded) : `${rounded} ${control.unit}`;
}

/** What a person typed, in the design file's form: a bare number gets the control's unit. */
export function valueOfText(control: Control, text: string): Value {
  const trimmed = text.trim();
  const number = trimmed === "" ? Number.NaN : Number(trimmed);
  if (control.unit === null) return Number.isNaN(number) ? trimmed : number;
  return Number.isNaN(number) ? trimmed : `${trimmed} ${control.unit}`;
}

/** The number a value stands for in the control's unit, null where it cannot be told here. */
export function numberOf(control: Control, value: Value | null): number | null {
  return countIn(value, control.unit);
}

/** How a value is shown: as it was written if that is in the control's unit, else turned into it. */
export function textOfValue(control: Control, value: Value | null): string {
  const number = numberOf(control, value);
  if (number === null || typeof value !== "string") return value === null ? "" : String(value);
  const isSameUnit = control.unit !== null && value.trim().endsWith(` ${control.unit}`);
  return isSameUnit ? value.trim() : `${Number(number.toFixed(control.digits))} ${control.unit ?? ""}`.trim();
}

/** Where the handle stands, 0 to POSITIONS. */
export function positionOf(control: Control, number: number): number {
  const { low, high, isLogarithmic } = control;
  const share = isLogarithmic ? Math.log(number / low) / Math.log(high / low) : (number - low) / (high - low);
  return Math.round(POSITIONS * Math.min(Math.max(share, 0), 1));
}

/** The number at a position; a move of the handle always moves it, by one of its last digits at least. */
export function numberAt(control: Control, position: number, from: number | null): number {
  const { low, high, digits, isLogarithmic } = control;
  const share = position / POSITIONS;
  const exact = isLogarithmic ? low * (high / low) ** share : low + share * (high - low);
  const number = Number(exact.toFixed(digits));
  if (from === null || number !== Number(from.toFixed(digits))) return number;
  const direction = Math.sign(position - positionOf(control, from));
  return Math.min(Math.max(Number((from + direction * 10 ** -digits).toFixed(digits)), low), high);
}
