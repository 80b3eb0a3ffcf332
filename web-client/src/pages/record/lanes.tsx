// SPDX-License-Identifier: BSD-3-Clause
// The lanes as they are drawn. A kind that is known by nothing but its title is a square with the title beside it.
import type { ComponentChildren } from "preact";
import type { RecordEntry } from "../../api/messages";
import { secondsOf } from "../../moments";
import { significant } from "../../quantities";
import * as record from "../../state/record";
import { type Label, type Lane, labelsOf, type Scale, stretches } from "./layout";
import { MARKS, spoken } from "./words";

interface Props {
  lane: Lane;
  scale: Scale;
  chosen: string | null;
  idOf: (key: string) => string;
}

export function SweepLane(props: Props) {
  const { lane, scale } = props;
  const changes = (record.line.value?.entries ?? []).filter((entry) => entry.changes_ring).map((entry) => secondsOf(entry.at));
  const [low, high] = lane.ends ?? [1, 1];
  return (
    <>
      <Heading lane={lane} aside="Q" />
      <g aria-hidden="true" transform={`translate(0 ${lane.top})`}>
        {[high, low].map((q, index) => (
          <text key={index} class="tick" x={scale.left - 6} y={(lane.ofQ?.(q) ?? 0) + 4} text-anchor="end">
            {significant(q, 3)}
          </text>
        ))}
        {stretches(lane.entries, changes).map((some) => (
          <path key={some[0]?.key} class="stretch" d={`M${some.map((entry) => `${scale.x(secondsOf(entry.at)).toFixed(1)} ${lane.y(entry).toFixed(1)}`).join("L")}`} />
        ))}
      </g>
      {lane.entries.map((entry) => (
        <Mark key={entry.key} {...props} entry={entry}>
          {entry.sweep && <path class="whisker" d={`M0 ${(lane.ofQ?.(entry.sweep.q_unloaded_low) ?? 0) - lane.y(entry)}V${(lane.ofQ?.(entry.sweep.q_unloaded_high) ?? 0) - lane.y(entry)}`} />}
          {entry.is_lost ? <path class="cross" d="M-4-4L4 4M4-4L-4 4" /> : <circle class="dot" r="4.5" />}
        </Mark>
      ))}
    </>
  );
}

export function NoteLane(props: Props) {
  const { lane, scale } = props;
  const labels = labelsOf(lane.entries, scale, (entry) => entry.words, 8);
  return (
    <>
      <Heading lane={lane} />
      {lane.entries.map((entry) => (
        <Mark key={entry.key} {...props} entry={entry}>
          <path class="note-mark" d={MARKS[entry.mark] ?? MARKS["other"]} />
        </Mark>
      ))}
      <Labels lane={lane} scale={scale} labels={labels} aside={-7} down={26} />
    </>
  );
}

export function DesignLane(props: Props) {
  return <TitledLane {...props} mark="M0-7L7 0L0 7L-7 0Z" />;
}

export function GenericLane(props: Props) {
  return <TitledLane {...props} mark="M-5-5H5V5H-5Z" />;
}

function TitledLane(props: Props & { mark: string }) {
  const { lane, scale, mark } = props;
  const rows = [...new Set(lane.entries.map(lane.y))].map((row) => lane.entries.filter((entry) => lane.y(entry) === row));
  const labels = new Map(rows.flatMap((row) => [...labelsOf(row, scale, (entry) => entry.title, 14, true)]));
  return (
    <>
      <Heading lane={lane} />
      {lane.entries.map((entry) => (
        <Mark key={entry.key} {...props} entry={entry}>
          <path class="diamond" d={mark} />
        </Mark>
      ))}
      <Labels lane={lane} scale={scale} labels={labels} aside={12} down={4} />
    </>
  );
}

function Heading({ lane, aside }: { lane: Lane; aside?: string }) {
  return (
    <text class="lane-heading" aria-hidden="true" x="0" y={lane.top + (lane.kind === "sweep" ? lane.height / 2 + 4 : 14)}>
      {lane.heading}
      {aside && <tspan class="tick"> {aside}</tspan>}
    </text>
  );
}

function Mark({ entry, lane, scale, chosen, idOf, children }: Props & { entry: RecordEntry; children: ComponentChildren }) {
  const x = scale.x(secondsOf(entry.at));
  if (!isInside(scale, x)) return null;
  const isChosen = entry.key === chosen;
  return (
    <g
      id={idOf(entry.key)}
      role="option"
      aria-selected={isChosen}
      aria-label={spoken(entry)}
      data-entry={entry.key}
      class={`entry kind-${entry.kind}${isChosen ? " chosen" : ""}${entry.is_lost ? " is-lost" : ""}`}
      transform={`translate(${x.toFixed(1)} ${(lane.top + lane.y(entry)).toFixed(1)})`}
    >
      <title>{spoken(entry)}</title>
      <circle class="finger" r="12" />
      {isChosen && <circle class="ring-round" r="12" />}
      {children}
    </g>
  );
}

interface LabelProps {
  lane: Lane;
  scale: Scale;
  labels: ReadonlyMap<RecordEntry, Label>;
  aside: number;
  down: number;
}

/** Beside their marks, for the eye alone: an entry says all of it itself. */
function Labels({ lane, scale, labels, aside, down }: LabelProps) {
  return (
    <g class="labels" aria-hidden="true">
      {[...labels].map(([entry, { text, isBefore }]) => {
        const x = scale.x(secondsOf(entry.at));
        return isInside(scale, x) ? (
          <text key={entry.key} class="tick" x={isBefore ? x - aside : x + aside} y={lane.top + lane.y(entry) + down} text-anchor={isBefore ? "end" : "start"}>
            {text}
          </text>
        ) : null;
      })}
    </g>
  );
}

function isInside(scale: Scale, x: number): boolean {
  return x >= scale.left - 1 && x <= scale.right + 1;
}
