// SPDX-License-Identifier: BSD-3-Clause
// STOP, on every page while a drive is connected: the button, Esc, and Space outside text fields. Buttons then answer to
// Enter.
import { useEffect } from "preact/hooks";
import * as tune from "../state/tune";

const TYPED = "textarea, select, [contenteditable], input:not([type=range], [type=checkbox], [type=radio], [type=button])";

export function StopBar() {
  const isThere = tune.drive.value !== null;
  useEffect(() => {
    if (!isThere) return;
    document.documentElement.dataset.drive = "connected";
    const onKey = (event: KeyboardEvent) => {
      const isSpace = event.key === " ";
      if (event.key !== "Escape" && !(isSpace && !isTyped(event.target))) return;
      if (isSpace) event.preventDefault(); // else it would press the button that has the focus, or scroll
      if (event.type === "keydown" && !event.repeat) tune.stop();
    };
    addEventListener("keydown", onKey, true);
    addEventListener("keyup", onKey, true);
    return () => {
      delete document.documentElement.dataset.drive;
      removeEventListener("keydown", onKey, true);
      removeEventListener("keyup", onKey, true);
    };
  }, [isThere]);
  if (!isThere) return null;
  const state = tune.standing.value;
  return (
    <aside class="stop-bar" aria-label="The drive">
      {tune.lost.value && (
        <p class="lost" role="alert">
          {tune.lost.value}
        </p>
      )}
      <button type="button" class="stop" aria-keyshortcuts="Escape Space" onPointerDown={() => tune.stop()} onClick={() => tune.stop()}>
        <span class="stop-word">STOP</span>
        <span class="stop-says">{tune.lost.value ? "stop transmitting" : state?.stopped ? "holds" : state?.moving ? "the drive turns" : "Esc or Space"}</span>
      </button>
    </aside>
  );
}

export function isTyped(target: EventTarget | null): boolean {
  return target instanceof Element && target.matches(TYPED);
}
