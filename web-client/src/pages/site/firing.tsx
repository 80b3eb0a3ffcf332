// SPDX-License-Identifier: BSD-3-Clause
// Which way the ring fires and hears, in words: take-off, nulls, the noise, a dipole in its place, the metal gone.
import type { Band, SiteScene } from "../../api/messages";
import * as draft from "../../state/draft";
import * as site from "../../state/site";
import { Figure } from "../../widgets/figure";
import { SiteFigure } from "./figure";
import { pointNullAt } from "./plan";
import { bearingText } from "./words";

export function Firing({ scene, band }: { scene: SiteScene; band: Band }) {
  return (
    <section class="firing" aria-label="Which way it fires and hears">
      <h2>Which way it fires and hears on {draft.bandName(band)}</h2>
      <dl class="match-words">
        <div>
          <dt>strongest</dt>
          <dd>
            <Figure of="pattern.gain_max_dbi" band={band} /> at <Figure of="pattern.elevation_deg" band={band} />
          </dd>
        </div>
        <div>
          <dt>towards, true bearing</dt>
          <dd>{scene.lobes.pattern.elevation_deg > 89 ? "straight up" : bearingText(scene.lobes.pattern.bearing_deg)}</dd>
        </div>
        <div>
          <dt>at 20{"\u00b0"} elevation</dt>
          <dd>
            <Figure of="pattern.gain_20deg_dbi" band={band} />
          </dd>
        </div>
        <Dipole />
      </dl>
      <ElevationOfCut />
      <Nulls scene={scene} />
      <MetalGone band={band} />
      <p class="caution small">{site.cautions.value?.near_field}</p>
    </section>
  );
}

function Dipole() {
  const part = site.comparison.value;
  if (!part?.dipole) return part?.why_no_dipole ? <p class="quiet small">{part.why_no_dipole}</p> : null;
  const { ahead_db, ahead_20deg_db, gain_max_dbi } = part.dipole;
  return (
    <div class={site.isCurrent(part) ? "" : "outdated"}>
      <dt>against a half-wave dipole in its place</dt>
      <dd>
        <SiteFigure of="dipole.ahead_db" value={ahead_db} />
        <small class="quiet">
          {" "}
          at its best (<SiteFigure of="dipole.gain_max_dbi" value={gain_max_dbi} />), <SiteFigure of="dipole.ahead_20deg_db" value={ahead_20deg_db} /> at 20{"\u00b0"}
        </small>
      </dd>
    </div>
  );
}

/** The plan's lobe is that of one elevation; which one is chosen here. */
function ElevationOfCut() {
  const value = site.elevation.value;
  return (
    <div class="cursor-row elevation-row">
      <label for="cut-elevation" class="small">
        round the horizon at elevation
      </label>
      <input id="cut-elevation" type="range" min={1} max={85} value={value} aria-valuetext={`${value} degrees`} onInput={(event) => (site.elevation.value = event.currentTarget.valueAsNumber)} />
      <output>{`${value}\u00b0`}</output>
    </div>
  );
}

function Nulls({ scene }: { scene: SiteScene }) {
  const { nulls, quietest, towards, elevation_deg } = scene.lobes;
  const at = `at ${elevation_deg.toFixed(0)}\u00b0 elevation`;
  return (
    <p class="nulls">
      {nulls.length > 0 ? (
        <>
          Nulls {at}:{" "}
          {nulls.slice(0, 4).map((one, index) => (
            <span key={one.azimuth_deg}>
              {index > 0 && ", "}
              {bearingText(one.bearing_deg)} (<SiteFigure of="nulls.depth_db" value={one.depth_db} /> down)
            </span>
          ))}
          .{" "}
        </>
      ) : (
        <>
          No null {at}: the weakest direction, {bearingText(quietest.bearing_deg)}, is only <SiteFigure of="nulls.depth_db" value={quietest.depth_db} /> down.{" "}
        </>
      )}
      <span class="quiet">The textbook&apos;s endless null along the axis is that of a small loop alone in free space; it is not valid here.</span>
      <CableWords />
      {towards && (
        <>
          {" "}
          Noise from {bearingText(towards.bearing_deg)} is <SiteFigure of="nulls.depth_db" value={towards.depth_db} /> down.{" "}
          <button type="button" class="inline-button" onClick={() => pointNullAt(scene, towards.bearing_deg)}>
            Turn closer
          </button>
        </>
      )}
    </p>
  );
}

/** The null with the outside of the cable as a wire of the antenna, and without. */
function CableWords() {
  const part = site.comparison.value;
  if (!part) return null;
  const { quietest_with_cable_db: withCable, quietest_without_cable_db: without } = part;
  if (withCable === null || without === null) return null;
  return (
    <span class={site.isCurrent(part) ? "" : "outdated"}>
      {" "}
      With the cable&apos;s outside hanging straight down the weakest direction is <SiteFigure of="nulls.depth_db" value={withCable} /> down, without it{" "}
      <SiteFigure of="nulls.depth_db" value={without} />.
    </span>
  );
}

const COMPARED = ["watts_pct.sky", "watts_pct.metal", "pattern.gain_max_dbi", "pattern.gain_20deg_dbi", "q_unloaded", "tuning.capacitance_f"];

function MetalGone({ band }: { band: Band }) {
  const part = site.comparison.value;
  const isGone = site.isMetalGone.value;
  if (!part?.without_metal) return null;
  return (
    <div class={`metal-gone ${site.isCurrent(part) ? "" : "outdated"}`}>
      <button type="button" role="switch" aria-checked={isGone} onClick={() => (site.isMetalGone.value = !isGone)}>
        <span class="knob" aria-hidden="true" />
        as if the metal nearby were gone
      </button>
      <table class="compared">
        <thead>
          <tr>
            <th scope="col">
              <span class="out-of-sight">figure</span>
            </th>
            <th scope="col">as it is</th>
            <th scope="col">metal gone</th>
          </tr>
        </thead>
        <tbody>
          {COMPARED.map((key) => (
            <tr key={key}>
              <th scope="row">{draft.figures.value.get(key)?.label}</th>
              <td>
                <Figure of={key} band={part.with_metal} />
              </td>
              <td>{part.without_metal && <Figure of={key} band={part.without_metal} isQuiet />}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="out-of-sight">{draft.bandName(band)}</p>
    </div>
  );
}
