// SPDX-License-Identifier: BSD-3-Clause
import { figures } from "../../state/record";
import { IntervalFigure, type IntervalProps } from "../../widgets/interval_figure";

/** A figure of the record's table. */
export function RecordFigure(props: IntervalProps) {
  return <IntervalFigure {...props} table={figures.value} />;
}
