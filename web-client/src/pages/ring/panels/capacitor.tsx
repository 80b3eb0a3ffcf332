// SPDX-License-Identifier: BSD-3-Clause
// Whether the capacitor reaches the bands, and whether it stands the voltage there.
import type { Band } from "../../../api/messages";
import { text } from "../../../figures";
import * as draft from "../../../state/draft";
import { Figure } from "../../../widgets/figure";
import { Measure } from "../../../widgets/measure";
import { Triangle } from "../../../widgets/triangle";
import { KnownFigures } from "./figure_list";

const PARTS = [
  "capacitor.variable_f",
  "capacitor.variable_voltage_peak_v",
  "capacitor.variable_current_rms_a",
  "capacitor.fixed_current_rms_a",
  "capacitor.series_voltage_peak_v",
  "capacitor.heat_w",
  "capacitor.contact_heat_w",
  "capacitor.fixed_heat_w",
  "capacitor.series_heat_w",
  "capacitor.temperature_rise_k",
  "capacitor.lead_inductance_h",
];

export function CapacitorPanel({ band }: { band: Band }) {
  const { missing_f: missing } = band.tuning;
  const { must_stand_peak_v: must, stands_peak_v: stands } = band.capacitor;
  const scale = 1.1 * Math.max(must, stands ?? 0);
  const table = draft.figures.value;
  return (
    <section class="panel" aria-label="Capacitor">
      <h3>Capacitor</h3>
      <TravelStrip />
      {missing !== null && (
        <p class="small">
          <Triangle />
          {draft.bandName(band)} needs <Figure of="tuning.missing_f" band={band} /> {missing < 0 ? "less: take it off." : "more: add it."}
        </p>
      )}
      <Measure
        label="must stand"
        words={text(table, band, "capacitor.must_stand_peak_v")}
        share={must / scale}
        isOver={stands !== null && must > stands}
      >
        {stands !== null && must > stands && <Triangle />}
        <Figure of="capacitor.must_stand_peak_v" band={band} />
      </Measure>
      {stands === null ? (
        <p class="quiet small">What it stands is not known: state its rated voltage or its plate gap.</p>
      ) : (
        <>
          <Measure label="stands" words={text(table, band, "capacitor.stands_peak_v")} share={stands / scale}>
            <Figure of="capacitor.stands_peak_v" band={band} />
          </Measure>
          <p class="quiet small">
            by its <Figure of="capacitor.stands_set_by" band={band} />. A guide: arcs start at edges, dust and dew.
          </p>
        </>
      )}
      <details>
        <summary>each part of it on {draft.bandName(band)}</summary>
        <KnownFigures band={band} keys={PARTS} />
      </details>
    </section>
  );
}

/** Where every band lies on the capacitor's travel; one beyond an end stands outside it. */
function TravelStrip() {
  const bands = draft.picture.value?.prediction.bands ?? [];
  const inside = bands.filter((one) => one.tuning.at_travel !== null);
  const outside = bands.filter((one) => one.tuning.at_travel === null);
  const words = inside.map((one) => `${draft.bandName(one)} at ${(100 * (one.tuning.at_travel ?? 0)).toFixed(0)} per cent`).join(", ");
  return (
    <figure class="travel">
      <div class="travel-strip" role="img" aria-label={`Places on the travel: ${words || "none"}`}>
        {inside.map((one) => (
          <span
            key={draft.bandName(one)}
            class={`travel-place${one.tuning.reachable ? "" : " partly"}${one === draft.chosenBand.value ? " chosen" : ""}`}
            style={{ left: `${100 * (one.tuning.at_travel ?? 0)}%` }}
          >
            <span>{draft.bandName(one)}</span>
          </span>
        ))}
      </div>
      <figcaption class="quiet small">
        <span>least capacitance</span>
        {outside.length > 0 && <span>beyond an end: {outside.map((one) => draft.bandName(one)).join(", ")}</span>}
        <span>greatest</span>
      </figcaption>
    </figure>
  );
}
