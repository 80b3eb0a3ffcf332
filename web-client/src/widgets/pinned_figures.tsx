// SPDX-License-Identifier: BSD-3-Clause
// The pinned variants beside what is on the bench, figure by figure; on every page that shows the draft.
import type { Picture } from "../api/http";
import type { Band } from "../api/messages";
import { valueOf } from "../figures";
import { shownLength } from "../quantities";
import { PIN_LETTERS, type PinLetter } from "../state/address";
import * as draft from "../state/draft";
import { system } from "../state/preferences";
import { Figure } from "./figure";
import { boxOf, flatten } from "./ring_geometry";

const ROWS = [
  { of: "watts_pct.sky", label: "to the sky" },
  { of: "match.swr_min", label: "least SWR" },
  { of: "bandwidth_swr2_hz", label: "width at SWR 2" },
  { of: "q_unloaded", label: "unloaded Q" },
  { of: "tuning.capacitance_f", label: "capacitance at the gap" },
  { of: "tuning.capacitor_voltage_peak_v", label: "at the gap, peak" },
  { of: "limits.power_max_w", label: "power allowed" },
  { of: "tuning.step_hz", label: "one microstep" },
] as const;

interface Column {
  letter: PinLetter | null;
  /** What it is of, where that is not what stands on the bench. */
  name: string | null;
  changes: number;
  across: number | null;
  band: Band | null;
}

export function PinnedFigures() {
  const [picture, band] = [draft.picture.value, draft.chosenBand.value];
  const pins = PIN_LETTERS.flatMap((letter) => draft.pins.value[letter] ? [{ letter, pin: draft.pins.value[letter] }] : []);
  if (!picture || !band || pins.length === 0) return null;
  const name = draft.bandName(band);
  const design = draft.base.value?.name ?? null;
  const onBench: Column = { letter: null, name: null, changes: Object.keys(draft.edits.value).length, across: across(picture), band };
  const columns = [
    onBench,
    ...pins.map(({ letter, pin }) => ({
      letter,
      name: (pin.design || null) === design ? null : pin.design || "a first ring",
      changes: Object.keys(pin.edits).length,
      across: pin.picture && across(pin.picture),
      band: pin.picture?.prediction.bands.find((one) => draft.bandName(one) === name) ?? null,
    })),
  ];
  return (
    <section class="pinned" aria-labelledby="pinned-figures">
      <h2 id="pinned-figures">Beside the pinned, on {name}</h2>
      <div class="table-scroll" tabIndex={0} role="group" aria-label="Pinned variants, may be scrolled">
        <table>
          <thead>
            <tr>
              <td />
              {columns.map((column) => (
                <Head key={column.letter} column={column} />
              ))}
            </tr>
          </thead>
          <tbody>
            <tr>
              <th scope="row">across</th>
              {columns.map(({ letter, across }) => (
                <td key={letter}>{across === null ? "\u2013" : shownLength(across, system.value)}</td>
              ))}
            </tr>
            {ROWS.map(({ of, label }) => (
              <tr key={of}>
                <th scope="row">{label}</th>
                {columns.map(({ letter, band }) => (
                  <td key={letter}>{band === null || valueOf(band, of) === null ? "\u2013" : <Figure of={of} band={band} isQuiet />}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

/** As the dimension line of the drawing has it [m]. */
function across(picture: Picture): number {
  const box = boxOf(flatten(picture.drawing).ring);
  return box.right - box.left;
}

function Head({ column: { letter, name, changes } }: { column: Column }) {
  return (
    <th scope="col" class={letter === null ? undefined : `pin-${letter}`}>
      {letter ?? "now"}
      <br />
      <span class="quiet small">
        {name}
        {name !== null && ", "}
        {changes === 0 ? "as its file" : `${changes} changed`}
      </span>
    </th>
  );
}
