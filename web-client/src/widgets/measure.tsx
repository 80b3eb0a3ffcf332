// SPDX-License-Identifier: BSD-3-Clause
// One quantity drawn against another: a bar on a track, with a mark where it should end.
import type { ComponentChildren } from "preact";

interface Props {
  label: string;
  /** What the bar says, for those who hear the page. */
  words: string;
  /** Share of the track, 0 to 1; more is cut off and says so by an open end. */
  share: number;
  mark?: number;
  isOver?: boolean;
  children: ComponentChildren;
}

export function Measure({ label, words, share, mark, isOver = false, children }: Props) {
  const length = Math.min(Math.max(share, 0), 1);
  return (
    <div class="measure">
      <span class="measure-label">{label}</span>
      <span class={`measure-track${share > 1 ? " cut" : ""}`} role="img" aria-label={`${label}: ${words}`}>
        <span class={`measure-bar${isOver ? " over" : ""}`} style={{ width: `${100 * length}%` }} />
        {mark !== undefined && <span class="measure-mark" style={{ left: `${100 * mark}%` }} />}
      </span>
      <span class="measure-value">{children}</span>
    </div>
  );
}
