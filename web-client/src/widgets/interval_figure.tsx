// SPDX-License-Identifier: BSD-3-Clause
// A measured figure of a table, with the ends of its interval below it where they can be told apart as written.
import { decimalsFor, type FigureTableByKey, written } from "../figures";
import { minus } from "../quantities";
import { isExplaining } from "../state/preferences";
import { asked } from "./figure";

export interface IntervalProps {
  of: string;
  value: number | null;
  low?: number | null;
  high?: number | null;
  /** A change: what is more has a plus. */
  isChange?: boolean;
}

export function IntervalFigure({ of, value, low = null, high = null, isChange = false, table }: IntervalProps & { table: FigureTableByKey }) {
  const figure = table.get(of);
  if (!figure) throw new Error(`no measured figure is called ${of}`);
  const decimals = decimalsFor(figure, value, low, high);
  const shown = (one: number) => {
    const plain = figure.unit === "dB" ? { number: fixed(one, figure.digits), unit: "dB" } : written(figure, one);
    const { number, unit } = decimals === null ? plain : { number: fixed(one * figure.factor, decimals), unit: plain.unit };
    return { number: isChange && one > 0 && Number(number) !== 0 ? `+${number}` : number, unit };
  };
  const { number, unit } = value === null ? { number: "not told", unit: "" } : shown(value);
  const [first, last] = low === null || high === null ? [null, null] : [shown(low).number, shown(high).number];
  const content = (
    <>
      {number}
      {unit && <small>{`\u202f${unit}`}</small>}
      {first !== last && (
        <span class="range" title="holds the true value in 95 of 100 such sweeps">
          {" "}
          {first} to {last}
        </span>
      )}
    </>
  );
  if (!isExplaining.value) return <span class="figure">{content}</span>;
  return (
    <button type="button" class="figure figure-ask" title={figure.label} onClick={() => (asked.value = of)}>
      {content}
    </button>
  );
}

/** What rounds to zero has no sign. */
function fixed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace("-", "") : minus(text);
}
