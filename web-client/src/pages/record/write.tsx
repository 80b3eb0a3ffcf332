// SPDX-License-Identifier: BSD-3-Clause
// A note from the page: weather, rain, a repair, a joint remade, the box opened.
import { useState } from "preact/hooks";
import type { NoteSent } from "../../api/messages";
import { typedMoment } from "../../moments";
import * as record from "../../state/record";
import { Triangle } from "../../widgets/triangle";

type Kind = NonNullable<NoteSent["kind"]>;

const DOES: Partial<Record<Kind, string>> = {
  rain: "Sweeps of the next 24 hours count as wet.",
  repair: "The ring is another build from then on; trends start anew.",
  joint: "The ring is another build from then on; trends start anew.",
};

export function WriteNote() {
  const [text, setText] = useState("");
  const [kind, setKind] = useState<Kind>("other");
  const [at, setAt] = useState("");
  const [refused, setRefused] = useState<string | null>(null);
  const table = record.table.value;
  const write = async () => {
    const why = await record.writeNote({ text, kind, at: typedMoment(at) });
    setRefused(why);
    if (why === null) setText("");
  };
  return (
    <form
      class="write-note"
      onSubmit={(event) => {
        event.preventDefault();
        void write();
      }}
    >
      <h2>Write down what happens</h2>
      <label>
        What
        <textarea class="field" rows={3} maxLength={2000} required value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      <div class="two-fields">
        <label>
          About
          <select value={kind} onChange={(event) => setKind(event.currentTarget.value as Kind)}>
            {(table?.kinds ?? ["other"]).map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </label>
        <label>
          When <span class="quiet">(now if empty)</span>
          <input class="field" type="datetime-local" value={at} onInput={(event) => setAt(event.currentTarget.value)} />
        </label>
      </div>
      {DOES[kind] && <p class="small quiet">{DOES[kind]}</p>}
      <button type="submit" class="chief" disabled={text.trim() === ""}>
        Write it down
      </button>
      {refused !== null && (
        <p class="refusal" role="alert">
          {refused}
        </p>
      )}
      {table && (
        <ul class="cautions small" aria-label="Before you touch it">
          {[table.before_touching, table.authority].map((caution) => (
            <li key={caution} class="caution">
              <Triangle />
              {caution}
            </li>
          ))}
        </ul>
      )}
    </form>
  );
}
