// SPDX-License-Identifier: BSD-3-Clause
// How do we know: definition, formula, source and validity of the figure that was asked.
import { useEffect, useRef } from "preact/hooks";
import { figures as briefFigures } from "../state/brief";
import { figures as buildFigures } from "../state/build";
import { figures } from "../state/draft";
import { isExplaining } from "../state/preferences";
import { figures as proofFigures } from "../state/prove";
import { figures as recordFigures } from "../state/record";
import { figures as siteFigures } from "../state/site";
import { asked } from "./figure";

export function Explanation() {
  const figure = asked.value === null ? undefined : (figures.value.get(asked.value) ?? siteFigures.value.get(asked.value) ?? buildFigures.value.get(asked.value) ?? proofFigures.value.get(asked.value) ?? recordFigures.value.get(asked.value) ?? briefFigures.value.get(asked.value));
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), [figure]);
  if (!isExplaining.value) return null;
  return (
    <aside class="explanation" aria-label="How do we know">
      {figure ? (
        <>
          <header>
            <h2 ref={heading} tabIndex={-1}>
              {figure.label}
            </h2>
            <button type="button" onClick={() => (asked.value = null)}>
              Close
            </button>
          </header>
          <p>{figure.definition}</p>
          <dl>
            <dt>Formula</dt>
            <dd class="formula">{figure.formula}</dd>
            <dt>From</dt>
            <dd>{figure.inputs.join(", ")}</dd>
            <dt>Source</dt>
            <dd>{figure.source}</dd>
            <dt>Holds for</dt>
            <dd>{figure.validity}</dd>
          </dl>
        </>
      ) : (
        <p>Choose any underlined figure to read what it is, its formula, its source and how far it holds.</p>
      )}
    </aside>
  );
}
