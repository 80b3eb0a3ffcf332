// SPDX-License-Identifier: BSD-3-Clause
// Day, grey line and night at both ends: rows here, columns at the receivers.
import type { AirLight } from "../../api/messages";
import { thousands } from "./words";

const NAMES = ["day", "grey line", "night"];

export function Light({ light }: { light: AirLight }) {
  const most = Math.max(1, ...light.both.flat());
  return (
    <section class="air-light" aria-labelledby="air-light">
      <h2 id="air-light">In which light</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">here, and there:</th>
            {NAMES.map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {light.both.map((row, index) => (
            <tr key={index}>
              <th scope="row">{NAMES[index]}</th>
              {row.map((count, column) => (
                <td key={column}>
                  <span class="heap" style={{ width: `${(Math.sqrt(count / most) * 100).toFixed(0)}%` }} aria-hidden="true" />
                  {thousands(count)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small quiet">
        Reports by the sun&apos;s height; within 6° of the horizon is the grey line.
        {light.place_unknown > 0 && ` ${thousands(light.place_unknown)} tell no place.`}
      </p>
    </section>
  );
}
