// SPDX-License-Identifier: BSD-3-Clause
// A figure of the site's table: as the other figures, and distances always on the safe side.
import type { FigureEntry } from "../../api/messages";
import { written } from "../../figures";
import { minus } from "../../quantities";
import { isExplaining, system } from "../../state/preferences";
import { figures } from "../../state/site";
import { asked } from "../../widgets/figure";
import { distanceText } from "./words";

interface Props {
  of: string;
  value: number | string | null;
}

function texts(figure: FigureEntry, value: number | string | null): { number: string; unit: string } {
  if (figure.unit === "m" && typeof value === "number") return distanceText(value, system.value, figure.digits);
  if (figure.unit === "dB" && typeof value === "number") return { number: minus(value.toFixed(figure.digits)), unit: "dB" };
  return written(figure, value);
}

export function SiteFigure({ of, value }: Props) {
  const figure = figures.value.get(of);
  if (!figure) throw new Error(`no figure of the site is called ${of}`);
  const { number, unit } = texts(figure, value);
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
