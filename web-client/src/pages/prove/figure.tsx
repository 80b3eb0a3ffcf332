// SPDX-License-Identifier: BSD-3-Clause
// A figure of the proof's table, with the ends of its interval below it where they can be told apart as written.
import { minus } from "../../quantities";
import { written } from "../../figures";
import { isExplaining } from "../../state/preferences";
import { figures } from "../../state/prove";
import { asked } from "../../widgets/figure";

interface Props {
  of: string;
  value: number | null;
  low?: number | null;
  high?: number | null;
}

export function ProofFigure({ of, value, low = null, high = null }: Props) {
  const figure = figures.value.get(of);
  if (!figure) throw new Error(`no figure of the proof is called ${of}`);
  const shown = (one: number) => (figure.unit === "dB" ? { number: minus(one.toFixed(figure.digits)), unit: "dB" } : written(figure, one));
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
