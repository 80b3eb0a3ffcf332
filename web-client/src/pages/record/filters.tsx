// SPDX-License-Identifier: BSD-3-Clause
// What of the line is shown: kinds of entries, one band, one design.
import type { ComponentChildren } from "preact";
import type { RecordLine } from "../../api/messages";
import { shownDay, secondsOf } from "../../moments";
import * as record from "../../state/record";

export function Filters({ line }: { line: RecordLine }) {
  const kinds = line.lanes.filter(({ kind }) => line.entries.some((entry) => entry.kind === kind));
  const designs = line.entries.filter((entry) => entry.kind === "design");
  return (
    <div class="filters">
      <div class="filter" role="group" aria-label="Kinds shown">
        {kinds.map(({ kind, heading }) => (
          <Chip key={kind} isOn={!record.hidden.value.has(kind)} choose={() => (record.hidden.value = toggled(record.hidden.value, kind))}>
            {heading}
          </Chip>
        ))}
      </div>
      {line.bands.length > 1 && (
        <div class="filter" role="group" aria-label="Band">
          <Chip isOn={record.onlyBand.value === null} choose={() => (record.onlyBand.value = null)}>
            all bands
          </Chip>
          {line.bands.map((band) => (
            <Chip key={band} isOn={record.onlyBand.value === band} choose={() => (record.onlyBand.value = band)}>
              {band}
            </Chip>
          ))}
        </div>
      )}
      {designs.length > 1 && (
        <select aria-label="design text" value={record.onlyDesign.value ?? ""} onChange={(event) => (record.onlyDesign.value = event.currentTarget.value || null)}>
          <option value="">all designs</option>
          {designs.map((entry) => (
            <option key={entry.key} value={entry.designs[0]}>
              {entry.title}, {shownDay(secondsOf(entry.at))}
            </option>
          ))}
        </select>
      )}
    </div>
  );
}

export function Chip({ isOn, choose, children }: { isOn: boolean; choose: () => void; children: ComponentChildren }) {
  return (
    <button type="button" class="chip" aria-pressed={isOn} onClick={choose}>
      {children}
    </button>
  );
}

function toggled(set: ReadonlySet<string>, one: string): Set<string> {
  const next = new Set(set);
  if (!next.delete(one)) next.add(one);
  return next;
}
