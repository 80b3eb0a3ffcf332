// SPDX-License-Identifier: BSD-3-Clause
// A new drive is brought up: the step that is being done beside the plot, all of them in a list below.
import { useState } from "preact/hooks";
import type { TuneBringUp } from "../../api/messages";
import * as tune from "../../state/tune";

type Step = TuneBringUp["steps"][number];

const say = (what: "begin" | "again" | "answer" | "leave", more: { step?: Step["name"]; answer?: string } = {}) =>
  tune.ask({ type: "tune_commission", what, ...more });

/** The step that is being done, its question or what was not seen. */
export function BringUpNow() {
  const now = tune.bringUp.value;
  const step = now?.steps.find((one) => one.name === now.step);
  if (!now || !step || !(now.is_running || now.refusal)) return null;
  const number = now.steps.indexOf(step) + 1;
  const isHeld = tune.isHeldElsewhere.value;
  const isStopped = tune.standing.value?.stopped ?? false;
  return (
    <section class="bring-up-now" aria-label="Bringing the drive up">
      <h2>
        {step.title} <span class="quiet small">{`step ${number} of ${now.steps.length}`}</span>
      </h2>
      <p class="small">{step.expects}</p>
      {now.refusal && (
        <p class="refusal" role="alert">
          {now.refusal}
        </p>
      )}
      {now.question && <Question now={now} isHeld={isHeld} />}
      <p class="bring-up-actions">
        {now.is_running && !now.question && <span class="quiet">Under way.</span>}
        {!now.is_running && (
          <button type="button" class="chief" disabled={isHeld || isStopped} onClick={() => say("begin")}>
            Do the step again
          </button>
        )}
        <button type="button" disabled={isHeld} onClick={() => say("leave")}>
          Leave it for now
        </button>
      </p>
    </section>
  );
}

function Question({ now, isHeld }: { now: TuneBringUp; isHeld: boolean }) {
  const [text, setText] = useState("");
  const choices = now.choices.map((choice) => (
    <button key={choice} type="button" disabled={isHeld} onClick={() => say("answer", { answer: choice })}>
      {choice}
    </button>
  ));
  return (
    <>
      <p class="bring-up-question" role="status">
        {now.question}
      </p>
      {choices.length > 0 ? (
        <div class="bring-up-choices">{choices}</div>
      ) : (
        <form
          class="bring-up-choices"
          onSubmit={(event) => {
            event.preventDefault();
            say("answer", { answer: text.trim() });
            setText("");
          }}
        >
          <input class="field" type="text" inputMode="decimal" autocomplete="off" maxLength={12} aria-label="your answer" value={text} onInput={(event) => setText(event.currentTarget.value)} />
          <span class="unit">{now.unit}</span>
          <button type="submit" class="chief" disabled={isHeld || text.trim() === ""}>
            Say so
          </button>
        </form>
      )}
    </>
  );
}

/** All steps, what was found, and where to begin. */
export function BringUpList() {
  const now = tune.bringUp.value;
  if (!now) return null;
  const isHeld = tune.isHeldElsewhere.value || (tune.standing.value?.stopped ?? false);
  const done = now.steps.filter((one) => one.is_done).length;
  return (
    <details>
      <summary>
        Bring the drive up, {done} of {now.steps.length} steps done
      </summary>
      <ol class="bring-up-list">
        {now.steps.map((one) => (
          <li key={one.name}>
            <span>
              <strong>{one.title}</strong> <span class="quiet small">{one.is_done ? `done${one.found ? `: ${one.found}` : ""}` : "not done yet"}</span>
            </span>
            {one.is_done && (
              <button type="button" disabled={isHeld || now.is_running} aria-label={`${one.title}: do it again`} onClick={() => say("again", { step: one.name })}>
                Again
              </button>
            )}
          </li>
        ))}
      </ol>
      {!now.is_done && !now.is_running && (
        <button type="button" class="chief" disabled={isHeld} onClick={() => say("begin")}>
          {done === 0 ? "Begin" : "Go on"}
        </button>
      )}
    </details>
  );
}
