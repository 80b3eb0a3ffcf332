// SPDX-License-Identifier: BSD-3-Clause
// The rings beside each other, the one that is looked at band by band, and why not the others.
import type { SearchBand, SearchDocument, SearchRing } from "../../api/messages";
import * as brief from "../../state/brief";
import { Triangle } from "../../widgets/triangle";
import { BriefFigure } from "./figure";

export function RingTable({ rings }: { rings: readonly SearchRing[] }) {
  const isPriced = rings.some((ring) => ring.cost !== null);
  return (
    <div class="table-scroll" tabIndex={0} role="group" aria-label="Table, may be scrolled">
      <table class="brief-table brief-list">
        <thead>
          <tr>
            <th scope="col">ring</th>
            <th scope="col">score</th>
            <th scope="col">sky</th>
            <th scope="col">across</th>
            <th scope="col">mass</th>
            {isPriced && <th scope="col">cost</th>}
          </tr>
        </thead>
        <tbody>
          {rings.map((ring, number) => (
            <tr key={ring.design} class={number === brief.chosen.value ? "chosen" : ""}>
              <th scope="row">
                <button type="button" class="brief-pick" aria-pressed={number === brief.chosen.value} onClick={() => (brief.chosen.value = number)}>
                  {number + 1}. {ring.design}
                </button>
              </th>
              <td>
                <BriefFigure of="score" value={ring.score} />
              </td>
              <td>
                <BriefFigure of="sky_db" value={ring.sky_db} />
              </td>
              <td>
                <BriefFigure of="diameter_m" value={ring.diameter_m} />
              </td>
              <td>
                <BriefFigure of="mass_kg" value={ring.mass_kg} />
              </td>
              {isPriced && (
                <td>
                  <BriefFigure of="cost" value={ring.cost} />
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** One row a figure, one column a band: what must not be missed is in sight on a phone too. */
const ROWS: readonly { label: string; of: string; value: (band: SearchBand) => number | null }[] = [
  { label: "into the sky", of: "bands.efficiency_sky_pct", value: (band) => band.efficiency_sky_pct },
  { label: "SWR", of: "bands.swr_min", value: (band) => band.swr_min },
  { label: "width", of: "bands.bandwidth_half_power_hz", value: (band) => band.bandwidth_half_power_hz },
  { label: "volts", of: "bands.capacitor_voltage_peak_v", value: (band) => band.capacitor_voltage_peak_v },
  { label: "capacitor to spare", of: "bands.voltage_margin_db", value: (band) => band.voltage_margin_db },
  { label: "people to spare", of: "bands.people_margin_db", value: (band) => band.people_margin_db },
];

export function Chosen({ ring }: { ring: SearchRing }) {
  const caution = brief.stock.value?.cautions[0];
  return (
    <section class="brief-chosen" aria-labelledby="chosen-ring">
      <h2 id="chosen-ring">{ring.design}</h2>
      <p>
        Coupling loop <BriefFigure of="coupling_diameter_m" value={ring.coupling_diameter_m} /> across.{" "}
        {ring.verified ? "Solved for itself on your site." : "Carried from solutions nearby so far."}
      </p>
      <div class="table-scroll" tabIndex={0} role="group" aria-label="Bands, may be scrolled">
        <table class="brief-table">
          <thead>
            <tr>
              <th scope="col">band</th>
              {ring.bands.map((band) => (
                <th key={band.frequency_hz} scope="col">
                  {band.band ?? `${(band.frequency_hz / 1e6).toFixed(3)} MHz`}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {ROWS.map(({ label, of, value }) => (
              <tr key={of}>
                <th scope="row">{label}</th>
                {ring.bands.map((band) => {
                  const found = value(band);
                  return <td key={band.frequency_hz}>{found === null && of === "bands.people_margin_db" ? "nobody" : <BriefFigure of={of} value={found} />}</td>;
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {caution && (
        <p class="caution">
          <Triangle /> {caution}
        </p>
      )}
      <p class="quiet small">Site, drive and feedline of the design on the bench go along.</p>
      <button type="button" class="chief" onClick={() => void brief.build(ring)}>
        Keep this ring and open it
      </button>
    </section>
  );
}

export function WhyNot({ found }: { found: SearchDocument }) {
  return (
    <section class="brief-why" aria-labelledby="why-not">
      <h2 id="why-not">Why not the others</h2>
      <p class="quiet">
        {found.considered} considered, {found.screened} provably out, {found.solved} solved on {found.solutions} full-wave solutions
        {found.solutions_kept > 0 && `, ${found.solutions_kept} of them known from before`}; {found.passing} pass.
      </p>
      <ul>
        {found.refused.map((refused) => (
          <li key={refused.key}>
            <span class="count">{refused.count}</span>
            <span>
              <strong>{refused.reason}</strong>
              <br />
              {refused.relax}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
