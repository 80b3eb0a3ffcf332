// SPDX-License-Identifier: BSD-3-Clause
// How far and from where, as bars: distance in steps, bearing round the compass.
import type { AirWorld } from "../../api/messages";
import { distance, thousands } from "./words";

const [WIDTH, HEIGHT] = [300, 90];

export function Histograms({ world }: { world: AirWorld }) {
  const far = world.by_distance.reduce((last, count, index) => (count > 0 ? index + 1 : last), 1);
  return (
    <section class="air-histograms">
      <Bars
        title="How far"
        counts={world.by_distance.slice(0, far)}
        ends={[distance(0), distance(far * world.distance_step_m)]}
        said={(index) => `${distance(index * world.distance_step_m)} to ${distance((index + 1) * world.distance_step_m)}`}
      />
      <Bars title="From where, true bearing" counts={world.by_bearing} ends={["0°", "350°"]} said={(index) => `${index * world.bearing_step_deg}°`} />
    </section>
  );
}

function Bars({ title, counts, ends, said }: { title: string; counts: readonly number[]; ends: readonly [string, string]; said: (index: number) => string }) {
  const most = Math.max(1, ...counts);
  const top = counts.indexOf(most);
  return (
    <figure>
      <h2>{title}</h2>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`${title}: most, ${most} reports, at ${said(Math.max(0, top))}`}>
        {counts.map((count, index) => (
          <rect key={index} class="bar in" x={(index / counts.length) * WIDTH + 0.5} width={WIDTH / counts.length - 1} y={HEIGHT - (count / most) * HEIGHT} height={(count / most) * HEIGHT}>
            <title>{`${said(index)}: ${thousands(count)}`}</title>
          </rect>
        ))}
      </svg>
      <p class="bar-ends small quiet" aria-hidden="true">
        <span>{ends[0]}</span>
        <span>most {thousands(most)}</span>
        <span>{ends[1]}</span>
      </p>
    </figure>
  );
}
