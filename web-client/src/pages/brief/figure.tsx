// SPDX-License-Identifier: BSD-3-Clause
// A figure of the search's table, in the person's units.
import { written } from "../../figures";
import { shownLength, significant } from "../../quantities";
import { figures } from "../../state/brief";
import { isExplaining, system } from "../../state/preferences";
import { asked } from "../../widgets/figure";

const POUND = 0.45359237;

/** Number and unit of a figure as one text. */
export function figureText(of: string, value: number | null): string {
  const figure = figures.value.get(of);
  if (value === null && of === "cost") return "not priced";
  if (!figure || value === null) return "none";
  if (figure.unit === "m") return shownLength(value, system.value);
  if (figure.unit === "kg" && system.value === "imperial") return `${significant(value / POUND, figure.digits)} lb`;
  const { number, unit } = written(figure, value);
  return `${number} ${unit}`.trimEnd();
}

export function BriefFigure({ of, value }: { of: string; value: number | null }) {
  const text = figureText(of, value);
  const cut = value === null ? -1 : text.lastIndexOf(" ");
  const content = (
    <>
      {cut < 0 ? text : text.slice(0, cut)}
      {cut >= 0 && <small>{`\u202f${text.slice(cut + 1)}`}</small>}
    </>
  );
  if (!isExplaining.value) return <span class="figure">{content}</span>;
  return (
    <button type="button" class="figure figure-ask" title={figures.value.get(of)?.label} onClick={() => (asked.value = of)}>
      {content}
    </button>
  );
}
