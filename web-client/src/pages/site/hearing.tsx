// SPDX-License-Identifier: BSD-3-Clause
// What the ring's loss costs on receive, band by band and place by place: where noise from outside rules, nothing.
import * as draft from "../../state/draft";
import * as site from "../../state/site";
import { SiteFigure } from "./figure";

export function Hearing() {
  const part = site.comparison.value;
  const bands = draft.picture.value?.prediction.bands ?? [];
  const places = part?.receptions[0]?.places ?? [];
  if (!part || places.length === 0) return null;
  return (
    <section class="hearing" aria-label="What the loss costs on receive">
      <h2>What the ring&apos;s loss costs on receive</h2>
      <div class={`wide-table ${site.isCurrent(part) ? "" : "outdated"}`} tabIndex={0} role="region" aria-label="Cost on receive by band and place">
        <table>
          <thead>
            <tr>
              <th scope="col">noise at a place in</th>
              {places.map(({ place }) => (
                <th key={place} scope="col">
                  {place}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {part.receptions.map((one) => {
              const band = bands[one.band];
              return (
                band && (
                  <tr key={one.band}>
                    <th scope="row">{draft.bandName(band)}</th>
                    {one.places.map(({ place, loss_db, costs_nothing }) => (
                      <td key={place}>
                        {costs_nothing ? "none heard" : <SiteFigure of="reception.loss_db" value={loss_db} />}
                      </td>
                    ))}
                  </tr>
                )
              );
            })}
          </tbody>
        </table>
      </div>
    </section>
  );
}
