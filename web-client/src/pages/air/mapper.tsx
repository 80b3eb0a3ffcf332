// SPDX-License-Identifier: BSD-3-Clause
// What the columns of a table are: one choice for each thing a report may say. Named once, remembered for its kind.
import { useEffect, useState } from "preact/hooks";
import { postAirHeadings, Refused } from "../../api/http";
import type { AirHeadings } from "../../api/messages";
import * as air from "../../state/air";

const WORDS: Record<string, string> = {
  time: "time, UTC",
  date: "date, where time has none",
  frequency: "frequency",
  band: "band",
  receiver: "receiver",
  locator: "its locator",
  latitude: "its latitude",
  longitude: "its longitude",
  snr: "SNR, dB",
  power: "my power",
  mode: "mode",
  antenna: "my antenna",
  direction: "who heard whom",
  own_locator: "my locator",
};

export function Mapper({ file }: { file: File }) {
  const [found, setFound] = useState<AirHeadings | string | null>(null);
  const [named, setNamed] = useState<Record<string, string>>({});
  useEffect(() => {
    postAirHeadings(file).then(setFound, (error: unknown) => {
      if (!(error instanceof Refused)) throw error;
      setFound(error.problem.text);
    });
  }, [file]);
  if (found === null) return <p class="small quiet">Reading its headings…</p>;
  if (typeof found === "string") return <p class="refusal">{found}</p>;
  const set = (role: string, value: string) => setNamed({ ...named, [role]: value });
  const columns = Object.entries(named).filter(([, value]) => value !== "");
  return (
    <form
      class="mapper"
      aria-label={`Columns of ${file.name}`}
      onSubmit={(event) => {
        event.preventDefault();
        void air.addFiles([file], columns.map(([role, value]) => `${role}=${value}`));
      }}
    >
      {found.roles.map((role) => (
        <Role key={role} role={role} found={found} value={named[role] ?? ""} set={(value) => set(role, value)} />
      ))}
      <Unit label="frequency in" units={found.frequency_units} value={named.frequency_unit ?? ""} set={(value) => set("frequency_unit", value)} />
      <Unit label="power in" units={found.power_units} value={named.power_unit ?? ""} set={(value) => set("power_unit", value)} />
      <button type="submit" disabled={columns.length === 0}>
        Read it so
      </button>
      <p class="small quiet">The workspace remembers it for tables with the same headings.</p>
    </form>
  );
}

interface RoleProps {
  role: string;
  found: AirHeadings;
  value: string;
  set: (value: string) => void;
}

function Role({ role, found, value, set }: RoleProps) {
  const told = found.told[role];
  const unset = told === undefined ? "not in it" : `as headed: ${found.headings[told - 1]}`;
  return (
    <label class="small">
      {WORDS[role] ?? role}
      <select class="field" value={value} onChange={(event) => set(event.currentTarget.value)}>
        <option value="">{unset}</option>
        {found.headings.map((heading, index) => (
          <option key={index} value={String(index + 1)}>
            {`${index + 1}: ${heading}${found.sample[index] ? ` (${found.sample[index]})` : ""}`}
          </option>
        ))}
      </select>
    </label>
  );
}

function Unit({ label, units, value, set }: { label: string; units: readonly string[]; value: string; set: (value: string) => void }) {
  return (
    <label class="small">
      {label}
      <select class="field" value={value} onChange={(event) => set(event.currentTarget.value)}>
        <option value="">what its heading says</option>
        {units.map((unit) => (
          <option key={unit} value={unit}>
            {unit}
          </option>
        ))}
      </select>
    </label>
  );
}
