// SPDX-License-Identifier: BSD-3-Clause
// The chosen band in detail: SWR curve, reflection chart, a cursor on both, and the figures of the match.
import { useState } from "preact/hooks";
import type { Band, BandCurves } from "../../api/messages";
import { text } from "../../figures";
import { PIN_LETTERS } from "../../state/address";
import * as draft from "../../state/draft";
import { Figure } from "../../widgets/figure";
import { interpolate } from "../../widgets/plot_scale";
import { ReflectionChart } from "../../widgets/reflection_chart";
import { type GhostCurves, SwrCurve, swrSpan } from "../../widgets/swr_curve";

const CURSOR_STEPS = 200;

export function BandDetail({ band, curves }: { band: Band; curves: BandCurves }) {
  const [cursor, setCursor] = useState<number | null>(null);
  const name = draft.bandName(band);
  const span = swrSpan(band, curves);
  const f = cursor === null ? null : span.low + (cursor / CURSOR_STEPS) * (span.high - span.low);
  const ghosts = ghostCurves(name);
  const least = `${text(draft.figures.value, band, "match.swr_min")} at ${text(draft.figures.value, band, "match.frequency_hz")}`;
  return (
    <section class="detail" aria-label={`${name} in detail`}>
      <figure class="swr">
        <figcaption>
          <strong>{name}</strong> SWR at the feed, least <Figure of="match.swr_min" band={band} />
        </figcaption>
        <SwrCurve band={band} curves={curves} ghosts={ghosts} cursor={f} label={`SWR over frequency, least ${least}`} />
        <div class="cursor-row">
          <input
            type="range"
            aria-label="read the curve at"
            min={0}
            max={CURSOR_STEPS}
            value={cursor ?? CURSOR_STEPS / 2}
            aria-valuetext={f === null ? "not read yet" : reading(curves, f)}
            onInput={(event) => setCursor(event.currentTarget.valueAsNumber)}
          />
          <output>{f === null ? "slide to read" : reading(curves, f)}</output>
        </div>
      </figure>
      <figure class="reflection-figure">
        <figcaption>Reflection chart</figcaption>
        <ReflectionChart band={band} curves={curves} ghosts={ghosts} cursor={f} label={`Reflection chart; least SWR ${least}`} />
      </figure>
      <MatchWords band={band} />
    </section>
  );
}

function reading(curves: BandCurves, f: number): string {
  return `SWR ${interpolate(curves.frequency_hz, curves.swr, f).toFixed(2)} at ${(f / 1e6).toFixed(4)} MHz`;
}

function ghostCurves(name: string): GhostCurves[] {
  return PIN_LETTERS.flatMap((letter) => {
    const pinned = draft.pins.value[letter]?.picture;
    const index = pinned?.prediction.bands.findIndex((one) => draft.bandName(one) === name) ?? -1;
    const curves = pinned?.bands[index];
    return curves ? [{ letter, curves }] : [];
  });
}

function MatchWords({ band }: { band: Band }) {
  return (
    <dl class="match-words">
      <div>
        <dt>width at SWR 2</dt>
        <dd>
          <Figure of="bandwidth_swr2_hz" band={band} />
        </dd>
      </div>
      <div>
        <dt>half-power width, f/Q</dt>
        <dd>
          <Figure of="bandwidth_half_power_hz" band={band} />
        </dd>
      </div>
      <div>
        <dt>one microstep</dt>
        <dd>{band.tuning.step_hz === null ? <span class="quiet">no drive stated</span> : <Figure of="tuning.step_hz" band={band} />}</dd>
      </div>
      <div>
        <dt>power allowed</dt>
        <dd>
          {band.limits.power_max_w === null ? (
            <span class="quiet">no rating stated</span>
          ) : (
            <>
              <Figure of="limits.power_max_w" band={band} /> <span class="quiet small">by {band.limits.set_by}</span>
            </>
          )}
        </dd>
      </div>
      <div>
        <dt>capacitance at the gap</dt>
        <dd>
          <Figure of="tuning.capacitance_f" band={band} />
        </dd>
      </div>
      <div>
        <dt>unloaded Q</dt>
        <dd>
          <Figure of="q_unloaded" band={band} />
        </dd>
      </div>
    </dl>
  );
}
