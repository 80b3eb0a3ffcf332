// SPDX-License-Identifier: BSD-3-Clause
// Figures as the table of figures says they are written. No number stands on a page that is not in the table.
import type { Band, FigureEntry } from "./api/messages";
import { minus, significant, type System } from "./quantities";

export type FigureTableByKey = ReadonlyMap<string, FigureEntry>;
type Shown = number | boolean | string | null;

const FIXED = new Set(["dBi", "deg"]); // their zero is arbitrary: digits count after the point

/** The value at a dotted path below a band. */
export function valueOf(band: Band, key: string): Shown {
  let place: unknown = band;
  for (const part of key.split(".")) {
    place = typeof place === "object" && place !== null ? (place as Record<string, unknown>)[part] : undefined;
  }
  return typeof place === "number" || typeof place === "boolean" || typeof place === "string" ? place : null;
}

/** Number and unit of a value as people read them; its millimetres in inches where they read those. */
export function written(figure: FigureEntry, value: Shown, system: System = "metric"): { number: string; unit: string } {
  if (value === null) return { number: "none", unit: "" };
  if (typeof value === "boolean") return { number: value ? "yes" : "no", unit: "" };
  if (typeof value === "string") return { number: value, unit: "" };
  if (system === "imperial" && figure.shown_unit === "mm") {
    return { number: significant(value / 0.0254, figure.digits), unit: "in" };
  }
  const scaled = value * figure.factor;
  const number = FIXED.has(figure.shown_unit) ? minus(scaled.toFixed(figure.digits)) : significant(scaled, figure.digits);
  return { number, unit: figure.shown_unit };
}

/** Decimals of the figure as shown that tell its value from both ends, where its own digits do not; null: they do. */
export function decimalsFor(figure: Pick<FigureEntry, "factor" | "digits" | "shown_unit">, value: number | null, low: number | null, high: number | null): number | null {
  if (value === null || low === null || high === null || figure.shown_unit === "dB") return null;
  const near = Math.min(value - low, high - value) * figure.factor;
  const [first, middle, last] = [low, value, high].map((one) => significant(one * figure.factor, figure.digits));
  if (first === last || (first !== middle && middle !== last) || !(near > 0)) return null;
  return Math.min(Math.max(Math.ceil(-Math.log10(near)), 0), 6);
}

/** Number and unit in one text. */
export function text(figures: FigureTableByKey, band: Band, key: string): string {
  const figure = figures.get(key);
  if (!figure) throw new Error(`no figure is called ${key}`);
  const { number, unit } = written(figure, valueOf(band, key));
  return `${number} ${unit}`.trimEnd();
}

/** The 10th and 90th percentile of a figure, where the document has them and they can be told apart as written. */
export function rangeText(figure: FigureEntry, band: Band): string | null {
  const range = band.range[figure.key];
  if (!range) return null;
  const [low, high] = range.map((end) => written(figure, end).number);
  return low === high ? null : `${low}\u2013${high}`;
}
