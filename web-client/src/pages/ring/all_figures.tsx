// SPDX-License-Identifier: BSD-3-Clause
// Every figure of the chosen band, the closed forms beside them, and the defaults the design leaves open.
import type { Band } from "../../api/messages";
import { valueOf } from "../../figures";
import { inDecibels } from "../../quantities";
import * as draft from "../../state/draft";
import { Figure } from "../../widgets/figure";

export function AllFigures({ band }: { band: Band }) {
  const entries = [...draft.figures.value.values()].filter((figure) => figure.key !== "band");
  const closed = entries.filter((figure) => figure.key.startsWith("cross_check."));
  return (
    <details class="folded">
      <summary>all figures of {draft.bandName(band)}</summary>
      <FigureList band={band} keys={entries.filter((figure) => !closed.includes(figure)).map((figure) => figure.key)} />
      <h3>Closed formulas beside it, as a cross-check</h3>
      <p class="quiet small">They hold up to the limit that each of them states, and never stand in for the figures above.</p>
      <FigureList band={band} keys={closed.map((figure) => figure.key)} />
    </details>
  );
}

function FigureList({ band, keys }: { band: Band; keys: readonly string[] }) {
  return (
    <dl class="figure-list">
      {keys.map((key) => (
        <div key={key}>
          <dt>{draft.figures.value.get(key)?.label}</dt>
          <dd>
            <Figure of={key} band={band} />
            <Decibels of={key} band={band} />
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** A share of power stands beside its decibels, always; the sum is no share. */
function Decibels({ of, band }: { of: string; band: Band }) {
  const value = valueOf(band, of);
  const isShare = draft.figures.value.get(of)?.shown_unit === "%" && !of.endsWith(".sum");
  if (!isShare || typeof value !== "number") return null;
  return <span class="quiet small together">{` ${inDecibels(value)}`}</span>;
}

export function DefaultsUsed() {
  const defaults = draft.picture.value?.defaults ?? [];
  return (
    <details class="folded">
      <summary>{defaults.length} defaults stand for what the design leaves open</summary>
      <dl class="figure-list">
        {defaults.map(({ key, value, why }) => (
          <div key={key}>
            <dt>
              {key} <span class="quiet small">{why}</span>
            </dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}

export function Warnings() {
  const warnings = draft.picture.value?.prediction.warnings ?? [];
  if (warnings.length === 0) return null;
  return (
    <ul class="warnings" aria-label="What to know">
      {warnings.map(({ code, text, band }) => (
        <li key={`${code} ${band}`}>{text}</li>
      ))}
    </ul>
  );
}
