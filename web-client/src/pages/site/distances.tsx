// SPDX-License-Identifier: BSD-3-Clause
// How far people must stay away: the distance to keep first, then where it comes from. One row for each limit and tier,
// never merged. What the far-field formula would say stands at the end, for what it is here.
import type { KeepOutLimit } from "../../api/messages";
import * as draft from "../../state/draft";
import * as site from "../../state/site";
import { Triangle } from "../../widgets/triangle";
import { SiteFigure } from "./figure";
import { Swatch } from "./limit_chips";
import { limitKey, limitWords, markOf } from "./words";

export function KeepAway() {
  const part = site.distances.value.get(draft.bandIndex.value);
  const band = draft.chosenBand.value;
  if (!band) return null;
  return (
    <section class="keep-away" aria-label="How far people must stay away">
      <h2>Keep away on {draft.bandName(band)}</h2>
      {part && site.isCurrent(part) ? (
        <div data-current={true}>
          <Advised rows={part.by_limit} />
          <details class="folded">
            <summary>every limit, direction by direction</summary>
            <Table rows={part.by_limit} />
          </details>
        </div>
      ) : (
        <p class="quiet" data-current={false}>
          Walking round this ring in every direction…
        </p>
      )}
      <Waiting />
      <Cautions />
    </section>
  );
}

/** In the place of the danger: what the distances are worth, whom they do not protect, and who decides. */
function Cautions() {
  const words = site.cautions.value;
  if (!words) return null;
  return (
    <ul class="cautions small" aria-label="What to keep in mind">
      {[words.distances, words.implants, words.authority].map((text) => (
        <li key={text} class="caution">
          <Triangle />
          {text}
        </li>
      ))}
    </ul>
  );
}

/** While the slow parts take longer than a moment, how far they are. */
function Waiting() {
  const progress = site.progress.value;
  if (!progress || progress.step === progress.steps || performance.now() - progress.since < 2000) return null;
  return (
    <p class="quiet small" role="status">
      <progress max={progress.steps} value={progress.step} aria-label="parts of the site's picture" /> part {progress.step} of {progress.steps}
    </p>
  );
}

function isDrawn(row: KeepOutLimit): boolean {
  return site.scene.value?.limits.some((one) => one.is_chosen && limitKey(one) === limitKey(row)) ?? false;
}

/** The rows of the limits that are drawn. */
function Advised({ rows }: { rows: readonly KeepOutLimit[] }) {
  const drawn = rows.filter(isDrawn);
  if (drawn.length === 0) return <p class="quiet">Choose a limit above.</p>;
  return (
    <ul class="advised">
      {drawn.map((row) => (
        <li key={limitKey(row)}>
          <strong>
            <SiteFigure of="by_limit.distance_advised_m" value={row.distance_advised_m} />
          </strong>
          <span>
            <Swatch name={row.limit} mark={markOf(row)} /> {limitWords(row.limit).words}, {row.tier}
          </span>
          <span class="quiet small">
            exceeded to <SiteFigure of="by_limit.distance_max_m" value={row.distance_max_m} />
            {row.governed_by && (
              <>
                , set by <SiteFigure of="by_limit.governed_by" value={row.governed_by === "h" ? "the magnetic field" : "the electric field"} />
              </>
            )}
            {row.advised_beside && (
              <>
                ; the distance to keep is set by the field at the {row.advised_beside}, <SiteFigure of="by_limit.distance_advised_m" value={row.distance_advised_m} /> from the ring's centre
              </>
            )}
          </span>
        </li>
      ))}
    </ul>
  );
}

const COLUMNS = [
  { key: "distance_axis_m", words: "along the axis" },
  { key: "distance_plane_m", words: "in the plane" },
  { key: "distance_above_m", words: "above" },
  { key: "distance_below_m", words: "below" },
  { key: "distance_max_m", words: "anywhere" },
] as const;

function Table({ rows }: { rows: readonly KeepOutLimit[] }) {
  return (
    <div class="wide-table" tabIndex={0} role="region" aria-label="Distances by limit and direction">
      <table>
        <thead>
          <tr>
            <th scope="col">limit</th>
            <th scope="col">keep away</th>
            {COLUMNS.map(({ key, words }) => (
              <th key={key} scope="col">
                {words}
              </th>
            ))}
            <th scope="col">set by</th>
            <th scope="col">far-field formula, not valid here</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={limitKey(row)}>
              <th scope="row">
                <Swatch name={row.limit} mark={markOf(row)} /> {limitWords(row.limit).words}, {row.tier}
              </th>
              <td>
                <strong>
                  <SiteFigure of="by_limit.distance_advised_m" value={row.distance_advised_m} />
                </strong>
              </td>
              {COLUMNS.map(({ key }) => (
                <td key={key}>
                  <SiteFigure of={`by_limit.${key}`} value={row[key]} />
                </td>
              ))}
              <td>
                <SiteFigure of="by_limit.governed_by" value={row.governed_by?.toUpperCase() ?? "none"} />
              </td>
              <td class="not-valid">
                <SiteFigure of="by_limit.far_field_formula_m" value={row.far_field_formula_m} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The other bands in short: the distance to keep under each limit that is drawn. */
export function OtherBands() {
  const bands = draft.picture.value?.prediction.bands ?? [];
  if (bands.length < 2) return null;
  return (
    <section class="other-bands" aria-label="Keep away, band by band">
      <h2>Band by band</h2>
      <ul>
        {bands.map((band, index) => {
          const part = site.distances.value.get(index);
          return (
            <li key={draft.bandName(band)}>
              <strong>{draft.bandName(band)}</strong>
              {(site.isCurrent(part) ? part : undefined)?.by_limit.filter(isDrawnAnywhere).map((row) => (
                <span key={limitKey(row)}>
                  <Swatch name={row.limit} mark={markOf(row)} /> <SiteFigure of="by_limit.distance_advised_m" value={row.distance_advised_m} />
                </span>
              )) ?? <span class="quiet small">not there yet</span>}
            </li>
          );
        })}
      </ul>
    </section>
  );
}

function isDrawnAnywhere(row: KeepOutLimit): boolean {
  return site.limits.value ? site.limits.value.some((one) => limitKey(one) === limitKey(row)) : isDrawn(row);
}
