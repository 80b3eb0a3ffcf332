// SPDX-License-Identifier: BSD-3-Clause
// What to cut, to buy, to keep apart, to hold up and to test.
import type { BuildFound, Piece } from "../../api/messages";
import { Triangle } from "../../widgets/triangle";
import { BuildFigure, BuildRow } from "./figure";

export function CutList({ found }: { found: BuildFound }) {
  return (
    <>
      <div class="table-scroll" tabIndex={0} role="group" aria-label="Table, may be scrolled">
        <table>
          <thead>
            <tr>
              <th scope="col">piece</th>
              <th scope="col">count</th>
              <th scope="col">cut</th>
              <th scope="col">along the axis</th>
              <th scope="col">ends off square</th>
            </tr>
          </thead>
          <tbody>
            {[...found.cuts.pieces, ...found.cuts.coupling].map((piece) => (
              <tr key={`${piece.name}${piece.cut_text}`}>
                <th scope="row">
                  {piece.letter && <span class="piece-letter">{piece.letter}</span>} {piece.name}
                  {piece.note && <span class="quiet small piece-note">{piece.note}</span>}
                </th>
                <td>{piece.count}</td>
                <td>{piece.cut_text}</td>
                <td>{piece.axis_text}</td>
                <td>{ends(piece)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <dl class="facts">
        <BuildRow of="cuts.gap_m" value={found.cuts.gap_m} />
        <BuildRow of="cuts.needed_m" value={found.cuts.needed_m} />
        <BuildRow of="mass.ring_per_metre_kg" value={found.mass.ring_per_metre_kg} />
      </dl>
      {found.bends.map((bend) => (
        <p key={bend.what}>
          {bend.what}: <BuildFigure of="bends.radius_m" value={bend.radius_m} /> at its sharpest. It {bend.verdict}.
        </p>
      ))}
    </>
  );
}

function ends(piece: Piece): string {
  const angles = piece.angles_deg.map((angle) => (angle === 0 ? "square" : `${Math.round(angle * 10) / 10}°`));
  return angles[0] === angles[1] ? (angles[0] === "square" ? "square" : `${angles[0]}, both`) : angles.join(" and ");
}

export function Shopping({ found }: { found: BuildFound }) {
  const isPriced = found.parts.some((part) => part.price !== null);
  const unknown = found.parts.filter((part) => part.price === null).length;
  return (
    <>
      <ul class="shopping">
        {found.parts.map((part, number) => (
          <li key={number}>
            <span class="count">{part.count}</span> <span>{part.name}</span>
            {part.cost !== null && <span class="cost">{`${part.cost.toFixed(2)} ${part.currency}`}</span>}
          </li>
        ))}
      </ul>
      <p class="quiet">
        {isPriced
          ? `Together ${Object.entries(found.total)
              .map(([currency, amount]) => `${amount.toFixed(2)} ${currency}`)
              .join(" and ")}${unknown > 0 ? `; ${unknown} lines have no price.` : "."}`
          : "No prices are stated: write them into the design file, as [[parts]]."}
      </p>
    </>
  );
}

export function Standing({ found }: { found: BuildFound }) {
  const { wind, standing, mass, sag } = found;
  return (
    <>
      <dl class="facts">
        <BuildRow of="mass.total_kg" value={mass.total_kg} />
        <BuildRow of="mass.ring_kg" value={mass.ring_kg} />
        <BuildRow of="wind.speed_m_per_s" value={wind.speed_m_per_s} />
        <BuildRow of="wind.face_on_n" value={wind.face_on_n} />
        <BuildRow of="wind.force_n" value={wind.force_n} />
        <BuildRow of="wind.moment_nm" value={wind.moment_nm} />
        {standing && (
          <>
            <BuildRow of="standing.tips_at_m_per_s" value={standing.tips_at_m_per_s} />
            <BuildRow of="standing.slides_at_m_per_s" value={standing.slides_at_m_per_s} />
            <BuildRow of="standing.ballast_needed_kg" value={standing.ballast_needed_kg} />
          </>
        )}
        {sag && (
          <>
            <BuildRow of="sag.by_weight_m" value={sag.by_weight_m} />
            <BuildRow of="sag.stress_wind_pa" value={sag.stress_wind_pa} />
            <BuildRow of="sag.yields_at_pa" value={sag.yields_at_pa} />
          </>
        )}
      </dl>
      {found.stand.is_assumed && <p class="quiet">No [stand] is in the design: what it stands on was assumed.</p>}
    </>
  );
}

export function Apart({ found }: { found: BuildFound }) {
  const { clearance } = found;
  return (
    <dl class="facts">
      <BuildRow of="clearance.voltage_v" value={clearance.voltage_v} />
      <BuildRow of="clearance.air_m" value={clearance.air_m} />
      <BuildRow of="clearance.creepage_dry_m" value={clearance.creepage_dry_m} />
      <BuildRow of="clearance.creepage_damp_m" value={clearance.creepage_damp_m} />
      <BuildRow of="clearance.wall_m" value={clearance.wall_m} />
    </dl>
  );
}

export function Warming({ found }: { found: BuildFound }) {
  return (
    <div class="table-scroll" tabIndex={0} role="group" aria-label="Table, may be scrolled">
      <table>
        <thead>
          <tr>
            <th scope="col">band</th>
            <th scope="col">heat in the ring</th>
            <th scope="col">warms by</th>
            <th scope="col">drifts by</th>
            <th scope="col">a tenth of the width</th>
            <th scope="col">leaves it after</th>
          </tr>
        </thead>
        <tbody>
          {found.warmth.map((one) => (
            <tr key={one.frequency_hz}>
              <th scope="row">{one.band ?? `${(one.frequency_hz / 1e6).toFixed(3)} MHz`}</th>
              <td>
                <BuildFigure of="warmth.heat_w" value={one.heat_w} />
              </td>
              <td>
                <BuildFigure of="warmth.final_rise_k" value={one.final_rise_k} />
              </td>
              <td>
                <BuildFigure of="warmth.drift_hz" value={one.drift_hz} />
              </td>
              <td>
                <BuildFigure of="warmth.drift_allowed_hz" value={one.drift_allowed_hz} />
              </td>
              <td>{one.time_to_drift_s === null ? "never" : <BuildFigure of="warmth.time_to_drift_s" value={one.time_to_drift_s} />}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function Tests({ found }: { found: BuildFound }) {
  return (
    <ol class="bench-tests">
      {found.tests.map((test) => (
        <li key={test.title}>
          <h3>{test.title}</h3>
          <p>{test.how}</p>
          <ul>
            {test.expect.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          <p class="quiet">Stop at: {test.stop}</p>
        </li>
      ))}
    </ol>
  );
}

/** Cautions that begin with one of these words, where the danger is. */
export function Bites({ found, at }: { found: BuildFound; at: readonly string[] }) {
  return (
    <>
      {found.cautions
        .filter((words) => at.some((begin) => words.startsWith(begin)))
        .map((words) => (
          <p key={words} class="caution">
            <Triangle /> {words}
          </p>
        ))}
    </>
  );
}
