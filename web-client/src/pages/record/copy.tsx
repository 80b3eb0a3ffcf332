// SPDX-License-Identifier: BSD-3-Clause
// A copy of the record: out as one file of plain files, in after the person was asked.
import { useRef } from "preact/hooks";
import { ARCHIVE } from "../../api/http";
import { Modal } from "../../frame/modal";
import * as record from "../../state/record";
import { broughtIn } from "./words";

export function Copy() {
  const input = useRef<HTMLInputElement>(null);
  return (
    <div class="copy">
      <h2>Keep a copy</h2>
      {record.isEmpty.value ? (
        <p class="small quiet">There is nothing to copy yet.</p>
      ) : (
        <a class="button" href={ARCHIVE} download>
          Download all as plain files
        </a>
      )}
      <p class="small quiet">One zip file: lines of JSON, tables for a spreadsheet, the sweeps as they were delivered. The record can be rebuilt from it exactly.</p>
      <button type="button" onClick={() => input.current?.click()}>
        Take in a copy…
      </button>
      <input
        ref={input}
        type="file"
        hidden
        accept=".zip"
        aria-label="copy of a record"
        onChange={({ currentTarget }) => {
          const [archive] = currentTarget.files ?? [];
          if (archive) void record.offer(archive);
          currentTarget.value = "";
        }}
      />
      {record.copyProblem.value && (
        <p class="refusal" role="alert">
          {record.copyProblem.value}
        </p>
      )}
      <Ask />
    </div>
  );
}

function Ask() {
  const asked = record.offered.value;
  if (!asked) return null;
  const words = broughtIn(asked.brings);
  const isNothing = words === "";
  const close = () => (record.offered.value = null);
  return (
    <Modal title={asked.archive.name} close={close}>
      <p>
        {isNothing
          ? "It brings nothing that is not in this record already."
          : `It brings what is not in this record: ${words}. What is here stays as it is.`}
      </p>
      <div class="ways">
        {!isNothing && (
          <button type="button" class="chief" onClick={() => void record.takeIn()}>
            Take them in
          </button>
        )}
        <button type="button" onClick={close}>
          {isNothing ? "Close" : "Leave it"}
        </button>
      </div>
    </Modal>
  );
}
