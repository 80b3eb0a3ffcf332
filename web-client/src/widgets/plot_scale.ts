// SPDX-License-Identifier: BSD-3-Clause
// Scales and ticks of the curves.

export interface Span {
  low: number;
  high: number;
}

/** Frequencies to show: the dip with some room beside it, within what was computed. */
export function dipSpan(frequencies: readonly number[], centre: number, halfWidth: number): Span {
  const reach = 4 * halfWidth;
  return {
    low: Math.max(centre - reach, frequencies[0] ?? centre - reach),
    high: Math.min(centre + reach, frequencies.at(-1) ?? centre + reach),
  };
}

/** Round numbers inside a span, at most so many. */
export function ticks({ low, high }: Span, most: number): number[] {
  const raw = (high - low) / most;
  const decade = 10 ** Math.floor(Math.log10(raw));
  const step = decade * ([1, 2, 5, 10].find((one) => one * decade >= raw) ?? 10);
  const first = Math.ceil(low / step);
  return Array.from({ length: Math.floor(high / step) - first + 1 }, (_, index) => (first + index) * step);
}

/** Decimals of a megahertz that tell neighbouring ticks apart. */
export function decimals(step: number): number {
  return Math.max(0, Math.ceil(6 - Math.log10(step) - 1e-9));
}

/** Value at a place between samples of ascending places. */
export function interpolate(places: readonly number[], values: readonly number[], place: number): number {
  const next = places.findIndex((one) => one >= place);
  if (next <= 0) return values[next === 0 ? 0 : values.length - 1] ?? Number.NaN;
  const [before, after] = [places[next - 1] ?? 0, places[next] ?? 1];
  const share = (place - before) / (after - before || 1);
  return (values[next - 1] ?? 0) * (1 - share) + (values[next] ?? 0) * share;
}

const STEP = 5; // pixels
const CLEAR = 45; // pixels between the middles of two labels: room for a thumb on each

/** How far up (negative) or down each label stands from its spot so that none covers another; 0 where there is room. */
export function stacked(spots: readonly { x: number; y: number }[], room: { top: number; bottom: number }): number[] {
  const placed: { x: number; y: number }[] = [];
  return spots.map(({ x, y }) => {
    const isFree = (at: number) => at >= room.top && at <= room.bottom && placed.every((one) => Math.abs(one.x - x) >= CLEAR || Math.abs(one.y - at) >= CLEAR);
    const tries = [0, ...Array.from({ length: Math.ceil((room.bottom - room.top) / STEP) }, (_, index) => (index + 1) * STEP).flatMap((away) => [-away, away])];
    const away = tries.find((one) => isFree(y + one)) ?? 0;
    placed.push({ x, y: y + away });
    return away;
  });
}
