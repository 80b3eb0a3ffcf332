// SPDX-License-Identifier: BSD-3-Clause
// The line as text: the same entries, in the same order, for whoever reads rather than looks.
import { secondsOf, shownMoment } from "../../moments";
import * as record from "../../state/record";
import { about, what } from "./words";

export function EntryList() {
  const entries = record.entries.value;
  return (
    <details class="folded entry-list">
      <summary>
        <span>As a list: {entries.length === 1 ? "one entry" : `${entries.length} entries`}</span>
      </summary>
      <ol reversed>
        {entries.toReversed().map((entry) => (
          <li key={entry.key}>
            <button type="button" aria-pressed={entry.key === record.chosen.value} onClick={() => (record.chosen.value = entry.key)}>
              <span class="small quiet">{shownMoment(secondsOf(entry.at))}</span> <strong>{what(entry)}</strong> {about(entry)}
            </button>
          </li>
        ))}
      </ol>
    </details>
  );
}
