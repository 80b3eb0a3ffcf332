// SPDX-License-Identifier: BSD-3-Clause
// What comes in: files chosen or dropped, one's own place; what lies on the table, and what the record holds.
import { useRef, useState } from "preact/hooks";
import * as air from "../../state/air";
import { Mapper } from "./mapper";
import { PlanMaker } from "./plan";
import { thousands } from "./words";

const ENDINGS = ".adi,.adif,.adx,.csv,.tsv,.txt";

export function Intake() {
  return (
    <aside class="intake" aria-label="Reports">
      <h2>Reports and logs</h2>
      <ChooseFiles />
      <OwnPlace />
      <OnTheTable />
      <InTheRecord />
      {air.refusals.value.map((refusal) => (
        <Refused key={refusal.name} refusal={refusal} />
      ))}
      <PlanMaker />
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
      <p class="small quiet">or drop them anywhere on this page: ADIF logs (.adi, .adx), tables (.csv, .tsv, .txt), or the plan you kept.</p>
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
  const [named, name] = useState<string | null>(null);
  const seen = air.seen.value;
  const files = seen?.files ?? [];
  if (!seen || (files.length === 0 && seen.plan === null)) return null;
  const file = named === null ? undefined : air.given.value.get(named);
  return (
    <>
      <ul class="on-the-page" aria-label="Files on the table">
        {files.map((each) => (
          <li key={each.name}>
            <span class="sweep-name">{each.name}</span>
            {isTable(each.name) && air.given.value.has(each.name) && (
              <button type="button" aria-expanded={named === each.name} aria-label={`Columns of ${each.name}`} onClick={() => name(named === each.name ? null : each.name)}>
                Columns
              </button>
            )}
            <TakeOff name={each.name} />
          </li>
        ))}
        {seen.plan && (
          <li>
            <span class="sweep-name">{seen.plan.name}</span> <span class="small quiet">plan of {seen.plan.slots} slots</span>
            <TakeOff name={seen.plan.name} />
          </li>
        )}
      </ul>
      {file && <Mapper key={file.name} file={file} />}
    </>
  );
}

function TakeOff({ name }: { name: string }) {
  return (
    <button type="button" aria-label={`Take off ${name}`} onClick={() => void air.remove(name)}>
      Take off
    </button>
  );
}

/** What the workspace has kept, and keeping what has come in. */
function InTheRecord() {
  const seen = air.seen.value;
  if (!seen || (seen.recorded === 0 && seen.kept === 0)) return null;
  return (
    <section class="in-the-record" aria-label="Record">
      {seen.kept > 0 && (
        <button type="button" disabled={seen.unkept === 0} onClick={() => void air.keep()}>
          {seen.unkept === 0 ? "All kept in the record" : `Keep ${thousands(seen.unkept)} in the record`}
        </button>
      )}
      {seen.recorded > 0 && (
        <label class="small check">
          <input type="checkbox" checked={air.withRecord.value} onChange={(event) => (air.withRecord.value = event.currentTarget.checked)} />
          with the {thousands(seen.recorded)} of the record
        </label>
      )}
    </section>
  );
}

function isTable(name: string): boolean {
  return /\.(csv|tsv|txt)$/i.test(name);
}

/** A file that could not be read; the columns of a table can be named here, once for all of its kind. */
function Refused({ refusal }: { refusal: air.Refusal }) {
  const { name, file, text } = refusal;
  return (
    <div class="refused-file" role="alert">
      <p class="refusal">{text}</p>
      {isTable(name) && file && <Mapper file={file} />}
      <button type="button" aria-label={`Close the word on ${name}`} onClick={() => air.dismiss(name)}>
        Close
      </button>
    </div>
  );
}
