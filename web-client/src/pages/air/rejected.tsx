// SPDX-License-Identifier: BSD-3-Clause
// What was read and what was not used, each row with its reason, one tap away.
import type { AirSeen } from "../../api/messages";
import { thousands } from "./words";

export function Rejected({ seen }: { seen: AirSeen }) {
  if (seen.read === 0) return null;
  const words = `${thousands(seen.read)} rows read, ${thousands(seen.kept)} kept, ${thousands(seen.rejected_count)} rejected`;
  if (seen.rejected_count === 0) return <p class="small quiet">{words}.</p>;
  const rest = seen.rejected_count - seen.rejected.length;
  return (
    <details class="rejected">
      <summary>{words}</summary>
      <ul>
        {seen.rejected.map((row) => (
          <li key={`${row.file} ${row.row} ${row.reason}`}>
            <span class="quiet">
              {row.file}, row {row.row} (line {row.line}):
            </span>{" "}
            {row.reason}
          </li>
        ))}
      </ul>
      {rest > 0 && <p class="small quiet">And {thousands(rest)} more; the command air --json lists them all.</p>}
    </details>
  );
}
