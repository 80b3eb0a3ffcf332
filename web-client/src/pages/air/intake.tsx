// SPDX-License-Identifier: BSD-3-Clause
// What comes in: files chosen or dropped, columns that no heading tells, one's own place; and what lies on the table.
import { useRef, useState } from "preact/hooks";
import * as air from "../../state/air";

const ENDINGS = ".adi,.adif,.adx,.csv,.tsv,.txt";

export function Intake() {
  return (
    <aside class="intake" aria-label="Reports">
      <h2>Reports and logs</h2>
      <ChooseFiles />
      <OwnPlace />
      <OnTheTable />
      {air.refusals.value.map((refusal) => (
        <Refused key={refusal.name} refusal={refusal} />
      ))}
      <p class="small quiet">
        To compare two antennas fairly, alternate them in short slots whose order is drawn by lot: the command <code>ringwright slots</code> writes such a plan. Change antennas only with the transmitter
        off.
      </p>
    </aside>
  );
}

function ChooseFiles() {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" class="chief choose-files" disabled={air.isReading.value} onClick={() => input.current?.click()}>
        {air.isReading.value ? "Reading…" : "Choose files…"}
      </button>
      <input
        ref={input}
        type="file"
        multiple
        hidden
        accept={ENDINGS}
        aria-label="report files"
        onChange={({ currentTarget }) => {
          void air.addFiles([...(currentTarget.files ?? [])]);
          currentTarget.value = ""; // the same file, mended, can be chosen again
        }}
      />
      <p class="small quiet">or drop them anywhere on this page: ADIF logs (.adi, .adx) or tables (.csv, .tsv, .txt).</p>
    </>
  );
}

function OwnPlace() {
  const [text, setText] = useState(air.locator.value);
  const found = air.seen.value;
  return (
    <form
      class="own-place"
      onSubmit={(event) => {
        event.preventDefault();
        air.locator.value = text;
      }}
    >
      <label>
        Your own locator
        <input class="field" value={text} maxLength={10} spellcheck={false} placeholder={found?.locator ?? ""} aria-describedby="place-hint" onInput={(event) => setText(event.currentTarget.value)} onBlur={() => (air.locator.value = text)} />
      </label>
      <p id="place-hint" class="small quiet">
        4 to 10 characters. Left empty, that of the log, then that of the workspace&apos;s designs.
      </p>
      {found?.locator_problem && (
        <p class="refusal" role="alert">
          {found.locator_problem}
        </p>
      )}
    </form>
  );
}

function OnTheTable() {
  const files = air.seen.value?.files ?? [];
  if (files.length === 0) return null;
  return (
    <ul class="on-the-page" aria-label="Files on the table">
      {files.map(({ name }) => (
        <li key={name}>
          <span class="sweep-name">{name}</span>
          <button type="button" aria-label={`Take off ${name}`} onClick={() => void air.remove(name)}>
            Take off
          </button>
        </li>
      ))}
    </ul>
  );
}

/** A file that could not be read; the columns of a table can be named here, once for all of its kind. */
function Refused({ refusal }: { refusal: air.Refusal }) {
  const [text, setText] = useState("");
  const { name, file } = refusal;
  const isTable = /\.(csv|tsv|txt)$/i.test(name);
  return (
    <div class="refused-file" role="alert">
      <p class="refusal">{refusal.text}</p>
      {isTable && file && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            void air.addFiles([file], text.split(/\n/).map((line) => line.trim()).filter(Boolean));
          }}
        >
          <label class="small">
            Columns, one a line: what it is = its heading or number
            <textarea class="field" rows={5} spellcheck={false} value={text} placeholder={"time=1\nreceiver=call\nfrequency=3\nfrequency_unit=kHz\nsnr=5"} onInput={(event) => setText(event.currentTarget.value)} />
          </label>
          <button type="submit" disabled={text.trim() === ""}>
            Read it so
          </button>
        </form>
      )}
      <button type="button" aria-label={`Close the word on ${name}`} onClick={() => air.dismiss(name)}>
        Close
      </button>
    </div>
  );
}
