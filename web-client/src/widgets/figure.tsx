// SPDX-License-Identifier: BSD-3-Clause
// A figure of the table of figures: number, small unit, faint range. While the page explains, each one can be asked.
import { signal } from "@preact/signals";
import type { Band } from "../api/messages";
import { rangeText, valueOf, written } from "../figures";
import { figures } from "../state/draft";
import { isExplaining, system } from "../state/preferences";

/** Key of the figure that is being explained. */
export const asked = signal<string | null>(null);

interface Props {
  of: string;
  band: Band;
  /** Without its range, and never to be asked: the same figure stands elsewhere on the page. */
  isQuiet?: boolean;
}

export function Figure({ of, band, isQuiet = false }: Props) {
  const figure = figures.value.get(of);
  if (!figure) throw new Error(`no figure is called ${of}`);
  const { number, unit } = written(figure, valueOf(band, of), system.value);
  const range = isQuiet ? null : rangeText(figure, band);
  const content = (
    <>
      {number}
      {unit && <small>{`\u202f${unit}`}</small>}
      {range && (
        <span class="range" title="four of five rings built within the stated tolerances">
          {" "}
          {range}
        </span>
      )}
    </>
  );
  if (isQuiet || !isExplaining.value) return <span class="figure">{content}</span>;
  return (
    <button type="button" class="figure figure-ask" title={figure.label} onClick={() => (asked.value = of)}>
      {content}
    </button>
  );
}
