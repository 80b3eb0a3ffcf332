// SPDX-License-Identifier: BSD-3-Clause
import { useState } from "preact/hooks";
import { designs } from "../state/bench";
import * as draft from "../state/draft";
import { isNaming, refusal, saveAs } from "../state/saving";
import { Refusal } from "../widgets/quantity_slider";
import { Modal } from "./modal";

/** The first of `wanted`, `wanted-2`, `wanted-3` ... that no file has. */
export function freeName(wanted: string, taken: readonly string[]): string {
  for (let number = 1; ; number++) {
    const name = number === 1 ? wanted : `${wanted}-${number}`;
    if (!taken.includes(name)) return name;
  }
}

export function NameDialog() {
  if (!isNaming.value) return null;
  return (
    <Modal title="Save as a design file" close={() => (isNaming.value = false)}>
      <NameForm wanted={draft.start.value?.name ?? "ring"} action="Save" />
      <button type="button" onClick={() => (isNaming.value = false)}>
        Cancel
      </button>
    </Modal>
  );
}

export function NameForm({ wanted, action }: { wanted: string; action: string }) {
  const taken = designs.value.map((design) => design.name);
  const [name, setName] = useState(() => freeName(wanted, taken));
  const isTaken = taken.includes(name.trim());
  return (
    <form
      class="name-form"
      onSubmit={(event) => {
        event.preventDefault();
        if (!isTaken) void saveAs(name.trim());
      }}
    >
      <label>
        <span>Name of the file, without .toml</span>
        <input class="field" required value={name} onInput={(event) => setName(event.currentTarget.value)} />
      </label>
      <button type="submit" class="chief" disabled={isTaken}>
        {action}
      </button>
      {isTaken && <Refusal text="A design of this name is in the folder already; choose another name." />}
      {refusal.value !== null && <Refusal text={refusal.value} />}
    </form>
  );
}
