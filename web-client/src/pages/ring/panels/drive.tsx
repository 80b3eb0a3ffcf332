// SPDX-License-Identifier: BSD-3-Clause
// Whether the drive lands on frequency: what one microstep, the twist and the play are against the width to land in.
import type { Band, Drive } from "../../../api/messages";
import { text } from "../../../figures";
import * as draft from "../../../state/draft";
import { Figure } from "../../../widgets/figure";
import { Measure } from "../../../widgets/measure";
import { Triangle } from "../../../widgets/triangle";
import { KnownFigures } from "./figure_list";

const A_TENTH = 0.1; // of the width: common practice, as the server's figures have it
const TRACK = 0.5; // of the width, drawn from end to end
const REST = [
  "drive.reduction_needed",
  "drive.reduction_needed_whole_steps",
  "drive.microsteps_needed",
  "drive.travel_time_s",
  "drive.next_band_time_s",
  "drive.torque_needed_nm",
  "drive.torque_available_nm",
  "drive.windup_angle_deg",
  "drive.windup_set_by",
  "drive.insulation_m",
  "drive.insulation_needed_m",
  "drive.insulation_needed_damp_m",
  "tuning.drift_per_kelvin_hz",
];

export function DrivePanel({ band }: { band: Band }) {
  const drive = band.drive;
  return (
    <section class="panel" aria-label="Drive">
      <h3>Drive</h3>
      {drive === null ? (
        <p class="quiet small">
          No drive is stated. Warmth alone moves the resonance by <Figure of="tuning.drift_per_kelvin_hz" band={band} /> per kelvin.
        </p>
      ) : (
        <Landing band={band} drive={drive} />
      )}
    </section>
  );
}

function Landing({ band, drive }: { band: Band; drive: Drive }) {
  const row = (label: string, name: "step_worst_hz" | "windup_worst_hz" | "backlash_worst_hz" | "lands_within_hz") => {
    const hertz = drive[name];
    if (hertz === null) return null;
    const isOver = name === "lands_within_hz" && hertz > A_TENTH * drive.width_hz;
    return (
      <Measure
        label={label}
        words={`${text(draft.figures.value, band, `drive.${name}`)} of ${text(draft.figures.value, band, "drive.width_hz")}`}
        share={hertz / drive.width_hz / TRACK}
        mark={A_TENTH / TRACK}
        isOver={isOver}
      >
        <Figure of={`drive.${name}`} band={band} />
      </Measure>
    );
  };
  return (
    <>
      <p class="small">
        The width to land in is <Figure of="drive.width_hz" band={band} />. The bars&apos; ground is half of it, the mark a tenth.
      </p>
      {row("one microstep", "step_worst_hz")}
      {row("the shaft's twist", "windup_worst_hz")}
      {row("play", "backlash_worst_hz")}
      {row("lands within", "lands_within_hz")}
      {drive.lands_within_hz === null && <p class="quiet small">The capacitor states no travel, or does not reach this band.</p>}
      <p class="caution small">
        <Triangle />
        The shaft carries the gap&apos;s kilovolts unless it insulates: keep the motor off the voltage.
      </p>
      <details>
        <summary>gearing, time and torque on {draft.bandName(band)}</summary>
        <KnownFigures band={band} keys={REST} />
      </details>
    </>
  );
}
