// SPDX-License-Identifier: BSD-3-Clause
// Somebody else changed the same: both texts side by side, and nothing is written before the person decides.
import { conflict, isMergeable, settle } from "../state/saving";
import { Modal } from "./modal";
import { NameForm } from "./name_dialog";

export function ConflictDialog() {
  const found = conflict.value;
  if (!found) return null;
  const close = () => (conflict.value = null);
  return (
    <Modal title={`${found.name}.toml was changed elsewhere, too`} close={close}>
      <p>
        Nothing has been written. In dispute: <strong>{found.keys.join(", ")}</strong>.
      </p>
      <div class="both-texts">
        <Text title="The file as it stands now" text={found.theirs} other={found.yours} />
        <Text title="Yours" text={found.yours} other={found.theirs} />
      </div>
      <div class="ways">
        {isMergeable.value && (
          <>
            <button type="button" onClick={() => void settle("mine")}>
              Mine in dispute, the rest as it stands
            </button>
            <button type="button" onClick={() => void settle("theirs")}>
              Theirs in dispute, my other changes beside
            </button>
          </>
        )}
        <button type="button" onClick={close}>
          Decide later
        </button>
      </div>
      <NameForm wanted={`${found.name}-mine`} action="Keep both: save mine as a new file" />
    </Modal>
  );
}

/** A text with the lines marked that the other does not have. */
function Text({ title, text, other }: { title: string; text: string; other: string }) {
  const known = new Set(other.split("\n"));
  return (
    <section>
      <h3>{title}</h3>
      <pre tabIndex={0} aria-label={title}>
        {text.split("\n").map((line, index) => (
          <span key={index} class={known.has(line) ? "line" : "line differs"}>
            {line || " "}
          </span>
        ))}
      </pre>
    </section>
  );
}
