// SPDX-License-Identifier: BSD-3-Clause
// Quantities as the design file writes them, only as far as a slider needs to stand in the right place. The server
// reads them for good and says what is wrong; text that is not understood here is sent as it is.

const FACTORS: Record<string, readonly [dimension: string, toSi: number]> = {
  m: ["length", 1],
  mm: ["length", 1e-3],
  cm: ["length", 1e-2],
  km: ["length", 1e3],
  in: ["length", 0.0254],
  ft: ["length", 0.3048],
  F: ["capacitance", 1],
  uF: ["capacitance", 1e-6],
  nF: ["capacitance", 1e-9],
  pF: ["capacitance", 1e-12],
  ohm: ["resistance", 1],
  "Ω": ["resistance", 1],
  mohm: ["resistance", 1e-3],
  "mΩ": ["resistance", 1e-3],
  kohm: ["resistance", 1e3],
  W: ["power", 1],
  mW: ["power", 1e-3],
  kW: ["power", 1e3],
  V: ["voltage", 1],
  kV: ["voltage", 1e3],
  deg: ["angle", 1],
  "°": ["angle", 1],
  rad: ["angle", 180 / Math.PI],
  "S/m": ["conductivity", 1],
  "mS/m": ["conductivity", 1e-3],
  "MS/m": ["conductivity", 1e6],
};

const PLAIN = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([^\s\d]+)?\s*$/;
const FRACTION = /^\s*(?:(\d+)\s+)?(\d+)\/(\d+)\s*(in|ft)\s*$/;
const GAUGE = /^\s*AWG\s+(0{1,4}|[1-9]\d?)\s*$/;

/** Value of a text, or of a bare number, counted in `unit` (null: a bare number); null where it is not understood. */
export function countIn(value: unknown, unit: string | null): number | null {
  if (typeof value === "number") return unit === null ? value : null;
  if (typeof value !== "string") return null;
  if (unit === null) {
    const number = Number(value);
    return value.trim() !== "" && Number.isFinite(number) ? number : null;
  }
  const wanted = FACTORS[unit];
  const read = readSi(value);
  return wanted && read && read.dimension === wanted[0] ? read.si / wanted[1] : null;
}

function readSi(text: string): { dimension: string; si: number } | null {
  const gauge = GAUGE.exec(text)?.[1];
  if (gauge !== undefined) {
    const number = gauge.startsWith("0") ? 1 - gauge.length : Number(gauge);
    return { dimension: "length", si: 0.005 * 0.0254 * 92 ** ((36 - number) / 39) }; // ASTM B258
  }
  const fraction = FRACTION.exec(text);
  if (fraction) {
    const [, whole, over, under, unit] = fraction;
    const number = Number(whole ?? 0) + Number(over) / Number(under);
    return { dimension: "length", si: number * (FACTORS[unit ?? ""]?.[1] ?? Number.NaN) };
  }
  const [, number, unit] = PLAIN.exec(text) ?? [];
  const factor = FACTORS[unit ?? ""];
  return number !== undefined && factor ? { dimension: factor[0], si: Number(number) * factor[1] } : null;
}

/** A number with so many significant digits and no exponent between 0.0001 and a million. */
export function significant(value: number, digits: number): string {
  const rounded = Number(value.toExponential(Math.max(digits - 1, 0)));
  if (rounded === 0) return "0";
  const exponent = Math.floor(Math.log10(Math.abs(rounded)));
  if (exponent < -4) return minus(rounded.toExponential(digits - 1));
  return minus(rounded.toFixed(Math.min(Math.max(digits - 1 - exponent, 0), 20)));
}

/** The hyphen of a number as a true minus sign. */
export function minus(text: string): string {
  return text.replace("-", "\u2212");
}

/** A share of power in decibels and in S-points of 6 dB (IARU Region 1 Technical Recommendation R.1). */
export function inDecibels(perCent: number): string {
  if (perCent <= 0) return "no power";
  const decibels = 10 * Math.log10(perCent / 100);
  return `${minus(decibels.toFixed(1))} dB, ${minus((decibels / 6).toFixed(1))} S-points`;
}

export type System = "metric" | "imperial";

const FINEST = 32; // parts of an inch on a steel rule

/** Inches as a rule shows them, to a thirty-second, as the sheet for the bench writes them. */
export function onARule(metres: number, round: (parts: number) => number = Math.round): string {
  const parts = round(Number(((metres / 0.0254) * FINEST).toFixed(6)));
  const [whole, rest] = [Math.trunc(parts / FINEST), parts % FINEST];
  if (rest === 0) return `${whole} in`;
  let [over, under] = [rest, FINEST];
  while (over % 2 === 0) [over, under] = [over / 2, under / 2];
  return `${whole > 0 ? `${whole} ` : ""}${over}/${under} in`;
}

/** What is bent and marked, as a text of the design file has it: on a rule's inches, or as written if that is metric. */
export function shownOnTheBench(written: string, system: System): string {
  const metres = countIn(written, "m");
  if (metres === null) return written;
  if (system === "imperial") return onARule(metres);
  return /(in|ft)\s*$|AWG/.test(written) ? shownLength(metres, system) : written;
}

/** A length as a builder measures it. */
export function shownLength(metres: number, system: System): string {
  if (system === "imperial") {
    return Math.abs(metres) >= 0.9144 ? `${significant(metres / 0.3048, 3)} ft` : `${significant(metres / 0.0254, 3)} in`;
  }
  return Math.abs(metres) >= 1 ? `${significant(metres, 3)} m` : `${significant(metres * 1e3, 3)} mm`;
}
