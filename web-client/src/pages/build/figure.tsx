// SPDX-License-Identifier: BSD-3-Clause
// A figure of the build's table, in the person's units.
import type { FigureEntry } from "../../api/messages";
import { written } from "../../figures";
import { onARule, significant, type System } from "../../quantities";
import { figures } from "../../state/build";
import { isExplaining, system } from "../../state/preferences";
import { asked } from "../../widgets/figure";

interface Props {
  of: string;
  value: number | null;
}

/** What a pound and a mile make of an SI unit; what is not here stays as it is. */
const IMPERIAL: Record<string, readonly [unit: string, factor: number]> = {
  kg: ["lb", 1 / 0.45359237],
  "kg/m": ["lb/ft", 0.3048 / 0.45359237],
  N: ["lbf", 1 / 4.4482216],
  "N m": ["lbf ft", 1 / 1.3558179],
  "m/s": ["mph", 1 / 0.44704],
  Pa: ["psi", 1 / 6894.757],
};

/** Shorter than a rule shows; such lengths are told, not marked. [m] */
const LEAST = 0.0254 / 32;

function texts(figure: FigureEntry, value: number | null, units: System): { number: string; unit: string } {
  if (value !== null && units === "imperial" && figure.unit === "m") return inches(figure, value);
  const other = units === "imperial" ? IMPERIAL[figure.unit] : undefined;
  if (value === null || other === undefined) return written(figure, value);
  return { number: significant(value * other[1], figure.digits), unit: other[0] };
}

/** As the sheet for the bench writes them: on a rule, what must not be less rounded up. */
function inches(figure: FigureEntry, value: number): { number: string; unit: string } {
  if (value > 0 && value < LEAST) return { number: significant(value / 0.0254, figure.digits), unit: "in" };
  if (figure.shown_unit === "m") {
    const [feet, rest] = [Math.trunc(Math.round(value / 0.0254) / 12), Math.round(value / 0.0254) % 12];
    return { number: `${feet} ft ${rest}`, unit: "in" };
  }
  const words = onARule(value, figure.key.startsWith("clearance.") ? Math.ceil : Math.round);
  return { number: words.slice(0, -3), unit: "in" };
}

export function BuildFigure({ of, value }: Props) {
  const figure = figures.value.get(of);
  if (!figure) throw new Error(`no figure of the build is called ${of}`);
  const { number, unit } = texts(figure, value, system.value);
  const content = (
    <>
      {number}
      {unit && <small>{`\u202f${unit}`}</small>}
    </>
  );
  if (!isExplaining.value) return <span class="figure">{content}</span>;
  return (
    <button type="button" class="figure figure-ask" title={figure.label} onClick={() => (asked.value = of)}>
      {content}
    </button>
  );
}

/** Label and figure, as a row of a list. */
export function BuildRow({ of, value }: Props) {
  return (
    <>
      <dt>{figures.value.get(of)?.label}</dt>
      <dd>
        <BuildFigure of={of} value={value} />
      </dd>
    </>
  );
}
