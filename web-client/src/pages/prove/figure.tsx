// SPDX-License-Identifier: BSD-3-Clause
import { figures } from "../../state/prove";
import { IntervalFigure, type IntervalProps } from "../../widgets/interval_figure";

/** A figure of the proof's table. */
export function ProofFigure(props: IntervalProps) {
  return <IntervalFigure {...props} table={figures.value} />;
}
